"""Templates that anyone may write: few words, no reach, an end to everything.

A template sees only what it is handed (`facts.Facts`, numbers, text, tuples). It can look those
up, compare, add, choose and go through them; it can't import, include, define, reach an
attribute of a Python object, or run for long. The bounds:

    loops       three deep, a budget of work for all templates of a file
    output      500,000 characters, for all templates of a file
    one value   100,000 characters
    numbers     up to 10^15
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jinja2 import Template
from jinja2.exceptions import TemplateError, TemplateSyntaxError
from jinja2.runtime import LoopContext, StrictUndefined, Undefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import pass_context

from stripewright.catalogue import say
from stripewright.problems import nearest
from stripewright.words.facts import Ask, Facts, Hinted, fact_text
from stripewright.words.filters import FILTERS, TESTS
from stripewright.words.grammar import (
    COUNTED,
    MOST_NUMBER,
    PAID,
    TemplateFault,
    TemplateMarks,
    meter_and_mark,
    refusals,
)
from stripewright.words.template_faults import fault_told, line_of_fault, syntax_fault

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

MOST_OUTPUT = 500_000
MOST_VALUE = 100_000
MOST_WORK = 2_000_000
MOST_RANGE = 1_000

_METER = "#meter"
"""The meter's name in a template's context; no template can spell it."""

_LOOP = ("index", "index0", "first", "last", "length", "revindex")


class TooMuch(TemplateError):
    """A template went over one of its bounds."""


class Meter:
    """Counts down the work of a file's templates, and what they write: one for all of them."""

    __slots__ = ("left", "room")

    def __init__(self) -> None:
        self.left = MOST_WORK
        self.room = MOST_OUTPUT

    def write(self, size: int) -> None:
        """Take characters off the room there is. Raises TooMuch when there is none."""
        self.room -= size
        if self.room < 0:
            raise TooMuch("the templates of this file write more than any page needs")

    def spend(self, work: int) -> None:
        """Take work off what is left. Raises TooMuch when there is none."""
        self.left -= work
        if self.left < 0:
            raise TooMuch("this template does more work than any page needs")


@pass_context
def _counted(context: Any, items: object, work: int) -> Iterator[object]:
    """What a loop goes through, each turn paid for."""
    if not isinstance(items, (tuple, list, range)):
        raise Hinted(
            say("{items} is not a list, so it can't be gone through", fact_text(items)),
            "go through a plan or changes, like {% for line in cover.plan %}",
        )
    meter: Meter = context.parent[_METER]
    for item in items:
        meter.spend(work)
        yield item


@pass_context
def _paid(context: Any, value: object) -> object:
    """A list, or what goes into a filter or comes out of it, paid for by its length."""
    size = len(value) if isinstance(value, (str, tuple, list)) else 1
    context.parent[_METER].spend(size)
    if size > MOST_VALUE:
        raise TooMuch("this value is longer than any page needs")
    # Lists of lists of lists would double with every line of a template.
    if isinstance(value, (tuple, list)) and any(isinstance(o, (tuple, list, range)) for o in value):
        raise Hinted("a list can't hold a list")
    return value


def _range(*ends: object) -> range:
    whole = [end for end in ends if isinstance(end, int) and abs(end) <= MOST_NUMBER]
    if not 1 <= len(ends) <= 3 or len(whole) != len(ends) or whole[2:] == [0]:
        raise Hinted("range wants whole numbers", "write it like range(1, 5)")
    numbers = range(*whole)
    if len(numbers) > MOST_RANGE:
        raise TooMuch(
            say("range gives {numbers} numbers; {most_range} is the most", len(numbers), MOST_RANGE)
        )
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
        raise Hinted(say("{obj} has nothing called {attribute}", fact_text(obj), attribute))

    def getitem(self, obj: Any, argument: Any) -> Any:
        """An item of a list by its number, or a fact by its name."""
        if isinstance(obj, Facts) and isinstance(argument, str):
            return obj.get(argument)
        if isinstance(obj, (tuple, list, range)) and isinstance(argument, int):
            if -len(obj) <= argument < len(obj):
                return obj[argument]
            raise Hinted(
                say(
                    "there is no item {argument}: the list has {obj}, counted from 0",
                    argument,
                    len(obj),
                )
            )
        raise Hinted(
            say("{obj} has nothing called {argument}", fact_text(obj), fact_text(argument))
        )

    def call(self, _context: Any, what: Any, /, *args: Any, **_own: Any) -> Any:
        """Call one of the few things that can be called; `_own` are Jinja's notes to itself."""
        if what is _range:
            return _range(*args)
        if isinstance(what, Ask):
            return what.ask(*args)
        raise Hinted(
            say("{what} can't be called", fact_text(what)), "leave out the brackets after it"
        )

    def call_binop(self, _context: Any, operator: str, left: Any, right: Any) -> Any:
        """Arithmetic on numbers, and on nothing else."""
        for side in (left, right):
            if isinstance(side, Undefined):
                str(side)
            if isinstance(side, bool) or not isinstance(side, (int, float)):
                what = say(
                    "{side} is not a number, so {operator} can't be done with it",
                    fact_text(side),
                    operator,
                )
                raise Hinted(what, "texts stand beside each other as {{ one }} {{ two }}")
        if operator in ("/", "//", "%") and right == 0:
            raise Hinted("this divides by nothing")
        result = self.binop_table[operator](left, right)
        if abs(result) > MOST_NUMBER:
            raise TooMuch("this number is larger than any pattern needs")
        return result

    def call_unop(self, _context: Any, operator: str, arg: Any) -> Any:
        """A sign before a number."""
        if isinstance(arg, bool) or not isinstance(arg, (int, float)):
            raise Hinted(say("{arg} is not a number", fact_text(arg)))
        return self.unop_table[operator](arg)


def _environment(finalize: Callable[[Any, object], str]) -> Narrow:
    env = Narrow(
        undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, optimized=False,
        keep_trailing_newline=True, finalize=pass_context(finalize), cache_size=0,
    )  # fmt: skip
    env.globals = {"range": _range}
    env.filters = {**FILTERS, COUNTED: _counted, PAID: _paid}
    env.tests = dict(TESTS)
    return env


@dataclass(frozen=True, slots=True)
class Compiled:
    """A template ready to be filled in, or what is wrong with it."""

    template: Template | None
    faults: tuple[TemplateFault, ...]
    names: tuple[tuple[int, str, str | None], ...] = ()
    """Line, name and (where there is one) the fact asked of it; its own names left out."""


class Language:
    """Templates in one kind of text; `escape` guards what they insert."""

    def __init__(self, escape: Callable[[str], str], marks: TemplateMarks | None = None) -> None:
        """Make the environment once.

        Args:
            escape: makes inserted text harmless where it will stand.
            marks: what to put before a line break that stood at the end of a line of the source.
        """

        def finalize(context: Any, value: object) -> str:
            if isinstance(value, Undefined):
                return str(value)  # raises: it is strict
            text = escape(fact_text(value))
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
            return Compiled(None, (syntax_fault(fault),))
        except RecursionError:
            return Compiled(None, (TemplateFault(1, "this template is nested too deeply to read"),))
        except ValueError:
            return Compiled(
                None, (TemplateFault(1, "a number in this template is too long to read"),)
            )
        faults, names = refusals(tree)
        if faults:
            return Compiled(None, tuple(faults), tuple(names))
        meter_and_mark(tree, self._marks)
        code = self._env.compile(tree, "text", "<text>")
        return Compiled(Template.from_code(self._env, code, {}), (), tuple(names))


def fill_in(
    compiled: Compiled, facts: Mapping[str, object], meter: Meter | None = None
) -> tuple[str, TemplateFault | None]:
    """Fill a sound template in. Gives what was written, and the mistake that ended it, if any.

    Args:
        compiled: the template.
        facts: what it may name.
        meter: what is left to the templates of its file; one of its own when left out.
    """
    template = compiled.template
    if template is None:
        raise ValueError("a template with faults can't be filled in")
    meter = meter or Meter()
    context = template.new_context({"range": _range, **facts, _METER: meter}, shared=True)
    chunks: list[str] = []
    try:
        for chunk in template.root_render_func(context):
            meter.write(len(chunk))
            chunks.append(chunk)
    except (Hinted, TemplateError, ArithmeticError, TypeError, ValueError, RecursionError) as fault:
        line = line_of_fault(fault, template)
        hint = fault.hint if isinstance(fault, Hinted) else ""
        return "".join(chunks), TemplateFault(line, fault_told(fault), hint)
    return "".join(chunks), None


def unknown_names(compiled: Compiled, facts: Mapping[str, object]) -> list[TemplateFault]:
    """Every name in a template that there is no fact for, each with the nearest known one."""
    faults = []
    for line, name, wanted in compiled.names:
        if name == "range":
            continue
        if name not in facts:
            faults.append(
                TemplateFault(
                    line,
                    say("there is nothing called {name} here", name),
                    nearest(name, sorted(facts)),
                )
            )
        elif wanted is not None and isinstance(known := facts[name], Facts):
            found = known.missing(wanted)
            if found is not None:
                faults.append(TemplateFault(line, found.message, found.hint))
    return faults
