"""Templates that anyone may write: few words, no reach, an end to everything.

A template sees only what it is handed (`facts.Facts`, numbers, text, tuples). It can look those
up, compare, add, choose and go through them; it can't import, include, define, reach an
attribute of a Python object, or run for long. The bounds:

    loops       three deep, a budget of work for the whole template
    output      1 MB
    one value   100,000 characters
    numbers     up to 10^15
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from jinja2 import Template, nodes
from jinja2.exceptions import SecurityError, TemplateError, TemplateSyntaxError, UndefinedError
from jinja2.runtime import LoopContext, StrictUndefined, Undefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import pass_context

from stripewright.words.facts import Ask, Facts, Hinted, shown
from stripewright.words.filters import FILTERS, TESTS

MOST_OUTPUT = 1_000_000
MOST_VALUE = 100_000
MOST_NUMBER = 10**15
MOST_WORK = 2_000_000
MOST_LOOPS = 3
MOST_DEPTH = 40
MOST_NODES = 20_000
MOST_RANGE = 1_000

_METER = "#meter"
"""The meter's name in a template's context; no template can spell it."""

_STRUCTURE = (
    nodes.Output, nodes.TemplateData, nodes.Name, nodes.Const, nodes.Getattr, nodes.Getitem,
    nodes.Call, nodes.Filter, nodes.Test, nodes.For, nodes.If, nodes.CondExpr, nodes.Compare,
    nodes.Operand, nodes.And, nodes.Or, nodes.Not, nodes.Add, nodes.Sub, nodes.Mul, nodes.Div,
    nodes.FloorDiv, nodes.Mod, nodes.Neg, nodes.Pos, nodes.Assign, nodes.Tuple, nodes.List,
)  # fmt: skip
"""All that a template may be built from. What isn't here is refused by name."""

_LOOP = ("index", "index0", "first", "last", "length", "revindex")

Marks = Callable[[int], str]


class TooMuch(TemplateError):
    """A template went over one of its bounds."""


class Meter:
    """Counts a template's work down."""

    __slots__ = ("left",)

    def __init__(self) -> None:
        self.left = MOST_WORK

    def spend(self, work: int) -> None:
        """Take work off what is left. Raises TooMuch when there is none."""
        self.left -= work
        if self.left < 0:
            raise TooMuch("this template does more work than any page needs")


@pass_context
def _counted(context: Any, items: object, work: int) -> Iterator[object]:
    """What a loop goes through, each turn paid for."""
    if not isinstance(items, (tuple, list, range)):
        raise Hinted(f"{shown(items)} is not a list, so it can't be gone through",
                     "go through a plan, changes or yarns, like {% for line in cover.plan %}")  # fmt: skip
    meter: Meter = context.parent[_METER]
    for item in items:
        meter.spend(work)
        yield item


@pass_context
def _paid(context: Any, value: object) -> object:
    """A filter's result, paid for by its length."""
    size = len(value) if isinstance(value, (str, tuple, list)) else 1
    context.parent[_METER].spend(size)
    if size > MOST_VALUE:
        raise TooMuch("this value is longer than any page needs")
    return value


def _range(*ends: object) -> range:
    whole = [end for end in ends if isinstance(end, int) and abs(end) <= MOST_NUMBER]
    if not 1 <= len(ends) <= 3 or len(whole) != len(ends) or whole[2:] == [0]:
        raise Hinted("range wants whole numbers", "write it like range(1, 5)")
    numbers = range(*whole)
    if len(numbers) > MOST_RANGE:
        raise TooMuch(f"range gives {len(numbers)} numbers; {MOST_RANGE} is the most")
    return numbers


class Narrow(ImmutableSandboxedEnvironment):
    """Jinja's sandbox, narrowed to plain facts: no attribute of a Python object can be reached."""

    intercepted_binops = frozenset(["+", "-", "*", "/", "//", "%"])
    intercepted_unops = frozenset(["+", "-"])

    def getattr(self, obj: Any, attribute: str) -> Any:
        """A fact by its name. Raises Hinted for a name that isn't one."""
        if isinstance(obj, Facts):
            return obj.get(attribute)
        if isinstance(obj, LoopContext) and attribute in _LOOP:
            return getattr(obj, attribute)
        raise Hinted(f"{shown(obj)} has nothing called {attribute}")

    def getitem(self, obj: Any, argument: Any) -> Any:
        """An item of a list by its number, or a fact by its name."""
        if isinstance(obj, Facts) and isinstance(argument, str):
            return obj.get(argument)
        if isinstance(obj, (tuple, list, range)) and isinstance(argument, int):
            if -len(obj) <= argument < len(obj):
                return obj[argument]
            raise Hinted(f"there is no item {argument}: the list has {len(obj)}, counted from 0")
        raise Hinted(f"{shown(obj)} has nothing called {shown(argument)}")

    def call(__self, __context: Any, __obj: Any, *args: Any, **kwargs: Any) -> Any:  # noqa: N805  # Jinja's own signature
        """Call one of the few things that can be called."""
        if __obj is _range and not kwargs:
            return _range(*args)
        if isinstance(__obj, Ask) and not kwargs:
            return __obj.ask(*args)
        raise Hinted(f"{shown(__obj)} can't be called", "leave out the brackets after it")

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """Arithmetic on numbers, and on nothing else."""
        for side in (left, right):
            if isinstance(side, Undefined):
                str(side)
            if isinstance(side, bool) or not isinstance(side, (int, float)):
                raise Hinted(f"{shown(side)} is not a number, so {operator} can't be done with it",
                             "texts stand beside each other as {{ one }} {{ two }}")  # fmt: skip
        if operator in ("/", "//", "%") and right == 0:
            raise Hinted("this divides by nothing")
        result = self.binop_table[operator](left, right)
        if abs(result) > MOST_NUMBER:
            raise TooMuch("this number is larger than any pattern needs")
        return result

    def call_unop(self, context: Any, operator: str, arg: Any) -> Any:
        """A sign before a number."""
        if isinstance(arg, bool) or not isinstance(arg, (int, float)):
            raise Hinted(f"{shown(arg)} is not a number")
        return self.unop_table[operator](arg)


def _environment(finalize: Callable[[Any, object], str]) -> Narrow:
    env = Narrow(
        undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, optimized=False,
        keep_trailing_newline=True, finalize=pass_context(finalize), cache_size=0,
    )  # fmt: skip
    env.globals = {"range": _range}
    env.filters = {**FILTERS, "#counted": _counted, "#paid": _paid}
    env.tests = dict(TESTS)
    return env


@dataclass(frozen=True, slots=True)
class Fault:
    """A mistake in a template; `line` is counted from 1 in its own text."""

    line: int
    message: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Compiled:
    """A template ready to be filled in, or what is wrong with it."""

    template: Template | None
    faults: tuple[Fault, ...]
    names: tuple[tuple[int, str, str | None], ...] = ()
    """Line, name and (where there is one) the fact asked of it; names that it sets itself left out."""


class Language:
    """Templates in one kind of text; `escape` guards what they insert."""

    def __init__(self, escape: Callable[[str], str], marks: Marks | None = None) -> None:
        """Make the environment once.

        Args:
            escape: makes inserted text harmless where it will stand.
            marks: what to put before a line break that stood at the end of a line of the source.
        """

        def finalize(context: Any, value: object) -> str:
            if isinstance(value, Undefined):
                return str(value)  # raises: it is strict
            text = escape(shown(value))
            context.parent[_METER].spend(len(text))
            if len(text) > MOST_VALUE:
                raise TooMuch("this value is longer than any page needs")
            return text

        self._marks = marks
        self._env = _environment(finalize)

    def compile(self, text: str) -> Compiled:
        """Read a template; what is wrong with it is told, never raised."""
        try:
            tree = self._env.parse(text)
        except TemplateSyntaxError as fault:
            return Compiled(None, (Fault(fault.lineno, _sentence(fault.message or "")),))
        except RecursionError:
            return Compiled(None, (Fault(1, "this template is nested too deeply to read"),))
        except ValueError as fault:
            return Compiled(None, (Fault(1, f"this template can't be read: {fault}"),))
        faults, names = _look_through(tree, self._env)
        if faults:
            return Compiled(None, tuple(faults), tuple(names))
        _meter_and_mark(tree, self._marks)
        code = self._env.compile(tree, "text", "<text>")
        return Compiled(Template.from_code(self._env, code, {}), (), tuple(names))


def fill_in(compiled: Compiled, facts: Mapping[str, object]) -> tuple[str, Fault | None]:
    """Fill a sound template in. Gives what was written, and the mistake that ended it, if any."""
    template = compiled.template
    assert template is not None  # noqa: S101  # the caller told the faults instead
    context = template.new_context({"range": _range, **facts, _METER: Meter()}, shared=True)
    chunks: list[str] = []
    size = 0
    try:
        for chunk in template.root_render_func(context):
            size += len(chunk)
            if size > MOST_OUTPUT:
                raise TooMuch("this template writes more than 1 MB")  # noqa: TRY301  # told as the others are
            chunks.append(chunk)
    except (Hinted, TemplateError, ArithmeticError, TypeError, ValueError, RecursionError) as fault:
        line = _line_of(fault, template)
        hint = fault.hint if isinstance(fault, Hinted) else ""
        return "".join(chunks), Fault(line, _told(fault), hint)
    return "".join(chunks), None


def unknown_names(
    compiled: Compiled, facts: Mapping[str, object], nearest: Callable[[str, Iterable[str]], str]
) -> list[Fault]:
    """Every name in a template that there is no fact for, each with the nearest known one."""
    faults = []
    for line, name, wanted in compiled.names:
        if name == "range":
            continue
        if name not in facts:
            faults.append(Fault(line, f"there is nothing called {name} here", nearest(name, facts)))
        elif wanted is not None and isinstance(known := facts[name], Facts):
            found = known.missing(wanted)
            if found is not None:
                faults.append(Fault(line, str(found), found.hint))
    return faults


def _told(fault: Exception) -> str:
    if isinstance(fault, Hinted):
        return str(fault)
    if isinstance(fault, UndefinedError):
        return (
            _sentence(fault.message or "something here is not defined")
            .replace("'", "“", 1)
            .replace("'", "”", 1)
        )
    if isinstance(fault, SecurityError):
        return "this can't be done in a template"
    return _sentence(str(fault))


def _sentence(text: str) -> str:
    text = text.strip().rstrip(".")
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def _line_of(fault: BaseException, template: Template) -> int:
    line = 1
    trace = fault.__traceback__
    while trace is not None:
        if trace.tb_frame.f_code.co_filename == "<text>":
            line = template.get_corresponding_lineno(trace.tb_lineno)
        trace = trace.tb_next
    return line


def _children(node: nodes.Node) -> list[nodes.Node]:
    return list(node.iter_child_nodes())


def _look_through(
    tree: nodes.Template, env: Narrow
) -> tuple[list[Fault], list[tuple[int, str, str | None]]]:
    """Refuse all that isn't allowed, with its line, and list the names that are asked for."""
    faults: list[Fault] = []
    asked: list[tuple[int, str, str | None]] = []
    own: set[str] = {"loop"}
    count = 0
    waiting: list[tuple[nodes.Node, int, int]] = [(node, 1, 0) for node in tree.body]
    while waiting:
        node, depth, loops = waiting.pop()
        count += 1
        loops += isinstance(node, nodes.For)
        fault = _refusal(node, env)
        if depth > MOST_DEPTH or loops > MOST_LOOPS:
            fault = "this template is nested too deeply to read"
        if count > MOST_NODES:
            fault = "this template is too long to read"
        if fault:
            faults.append(Fault(node.lineno, fault, _HINTS.get(type(node), "")))
            if count > MOST_NODES:
                break
            continue
        if isinstance(node, nodes.Name) and node.ctx != "load":
            own.add(node.name)
        elif isinstance(node, nodes.Name):
            asked.append((node.lineno, node.name, None))
        elif isinstance(node, nodes.Getattr) and isinstance(node.node, nodes.Name):
            asked.append((node.lineno, node.node.name, node.attr))
            continue
        waiting += [(child, depth + 1, loops) for child in _children(node)]
    names = sorted({(line, name, fact or "") for line, name, fact in asked if name not in own})
    return sorted(faults, key=lambda fault: fault.line), [(l, n, f or None) for l, n, f in names]


_WORDS: dict[type[nodes.Node], str] = {
    nodes.Include: "include", nodes.Import: "import", nodes.FromImport: "import",
    nodes.Extends: "extends", nodes.Block: "block", nodes.Macro: "macro",
    nodes.CallBlock: "call", nodes.FilterBlock: "filter", nodes.With: "with",
    nodes.AssignBlock: "set without a value", nodes.Pow: "**", nodes.Concat: "~",
    nodes.Slice: "a slice", nodes.Dict: "a dictionary", nodes.NSRef: "namespace",
    nodes.ScopedEvalContextModifier: "autoescape", nodes.ExprStmt: "do",
}  # fmt: skip

_HINTS: dict[type[nodes.Node], str] = {
    nodes.Concat: "texts stand beside each other as {{ one }}{{ two }}",
}


def _refusal(node: nodes.Node, env: Narrow) -> str:
    """Why a node isn't allowed, or nothing."""
    if isinstance(node, nodes.Const):
        huge = isinstance(node.value, (int, float)) and not abs(node.value) <= MOST_NUMBER
        return "this number is larger than any pattern needs" if huge else ""
    if isinstance(node, nodes.For) and node.recursive:
        return "a loop can't be recursive"
    if isinstance(node, nodes.Call) and (node.kwargs or node.dyn_args or node.dyn_kwargs):
        return "named and spread arguments can't be used here"
    if isinstance(node, nodes.Filter):
        if node.name not in FILTERS:
            return f"there is no filter called {node.name}; there are {', '.join(sorted(FILTERS))}"
        if node.kwargs or node.dyn_args or node.dyn_kwargs:
            return "named and spread arguments can't be used here"
    if isinstance(node, nodes.Test) and node.name not in TESTS:
        return f"there is no test called {node.name}; there are {', '.join(sorted(TESTS))}"
    if not isinstance(node, _STRUCTURE):
        what = _WORDS.get(type(node), type(node).__name__.lower())
        return f"{what} can't be used in a template here"
    return ""


def _weight(node: nodes.Node) -> int:
    """How much work one turn through a node is; looking for something in a list is a lot."""
    total = 0
    waiting = [node]
    while waiting:
        one = waiting.pop()
        dear = isinstance(one, nodes.Operand) and one.op in ("in", "notin")
        total += 2000 if dear else 1
        waiting += _children(one)
    return total


def _meter_and_mark(tree: nodes.Template, marks: Marks | None) -> None:
    """Put a meter into every loop and behind every filter, and mark the ends of source lines."""
    for loop in list(tree.find_all(nodes.For)):
        work = sum(map(_weight, loop.body)) + (_weight(loop.test) if loop.test else 0) + 1
        arguments: list[nodes.Expr] = [nodes.Const(work, lineno=loop.lineno)]
        loop.iter = nodes.Filter(
            loop.iter, "#counted", arguments, [], None, None, lineno=loop.lineno
        )
    for holder in list(tree.find_all(nodes.Node)):
        if isinstance(holder, nodes.TemplateData) and marks:
            holder.data = _marked(holder.data, holder.lineno, marks)
        for field, value in list(holder.iter_fields()):
            if isinstance(value, nodes.Filter) and not value.name.startswith("#"):
                setattr(holder, field, _wrapped(value))
            elif isinstance(value, list):
                value[:] = [
                    _wrapped(one) if isinstance(one, nodes.Filter) and one.name[0] != "#" else one
                    for one in value
                ]


def _wrapped(node: nodes.Filter) -> nodes.Filter:
    return nodes.Filter(node, "#paid", [], [], None, None, lineno=node.lineno)


def _marked(data: str, line: int, marks: Marks) -> str:
    first, *rest = data.split("\n")
    return first + "".join(f"{marks(line + n)}\n{part}" for n, part in enumerate(rest))
