"""What a template may be built from, and what is put into it before it runs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from jinja2 import nodes

from stripewright.catalogue import say
from stripewright.words.filters import FILTERS, TESTS

MOST_LOOPS = 3
_MOST_DEPTH = 40
MOST_NODES = 20_000
MOST_NUMBER = 10**15

COUNTED, PAID = "#counted", "#paid"
"""Names of the two filters that meter a template's work; no template can spell them."""

TemplateMarks = Callable[[int], str]
"""What to put before a line break that stood at the end of a line of the source."""

_STRUCTURE = (
    nodes.Output, nodes.TemplateData, nodes.Name, nodes.Const, nodes.Getattr, nodes.Getitem,
    nodes.Call, nodes.Filter, nodes.Test, nodes.For, nodes.If, nodes.CondExpr, nodes.Compare,
    nodes.Operand, nodes.And, nodes.Or, nodes.Not, nodes.Add, nodes.Sub, nodes.Mul, nodes.Div,
    nodes.FloorDiv, nodes.Mod, nodes.Neg, nodes.Pos, nodes.Assign, nodes.Tuple, nodes.List,
)  # fmt: skip
"""All that a template may be built from. What isn't here is refused by name."""


@dataclass(frozen=True, slots=True)
class TemplateFault:
    """A mistake in a template; `line` is counted from 1 in its own text."""

    line: int
    message: str
    hint: str = ""


def _children(node: nodes.Node) -> list[nodes.Node]:
    return list(node.iter_child_nodes())


def refusals(
    tree: nodes.Template,
) -> tuple[list[TemplateFault], list[tuple[int, str, str | None]]]:
    """Refuse all that isn't allowed, with its line, and list the names that are asked for."""
    faults: list[TemplateFault] = []
    asked: list[tuple[int, str, str | None]] = []
    own: set[str] = {"loop"}
    count = 0
    waiting: list[tuple[nodes.Node, int, int]] = [(node, 1, 0) for node in tree.body]
    while waiting:
        node, depth, loops = waiting.pop()
        count += 1
        loops += isinstance(node, nodes.For)
        fault = _refusal(node)
        if depth > _MOST_DEPTH or loops > MOST_LOOPS:
            fault = say("this template is nested too deeply to read")
        if count > MOST_NODES:
            fault = say("this template is too long to read")
        if fault:
            faults.append(TemplateFault(node.lineno, fault, _HINTS.get(type(node), "")))
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
    return sorted(faults, key=lambda fault: fault.line), [
        (line, name, fact or None) for line, name, fact in names
    ]


_WORDS: dict[type[nodes.Node], str] = {
    nodes.Include: "include", nodes.Import: "import", nodes.FromImport: "import",
    nodes.Extends: "extends", nodes.Block: "block", nodes.Macro: "macro",
    nodes.CallBlock: "call", nodes.FilterBlock: "filter", nodes.With: "with",
    nodes.AssignBlock: say("set without a value"), nodes.Pow: "**", nodes.Concat: "~",
    nodes.Slice: "a slice", nodes.Dict: "a dictionary", nodes.NSRef: "namespace",
    nodes.ScopedEvalContextModifier: "autoescape", nodes.ExprStmt: "do",
}  # fmt: skip

_HINTS: dict[type[nodes.Node], str] = {
    nodes.Concat: say("texts stand beside each other as {{ one }}{{ two }}"),
}


def _refusal(node: nodes.Node) -> str:
    """Why a node isn't allowed, or nothing."""
    if isinstance(node, nodes.Const):
        huge = isinstance(node.value, (int, float)) and not abs(node.value) <= MOST_NUMBER
        return say("this number is larger than any pattern needs") if huge else ""
    if isinstance(node, nodes.Tuple) and node.ctx != "load":
        return say("one name at a time can be set")
    if isinstance(node, nodes.For) and node.recursive:
        return say("a loop can't be recursive")
    if isinstance(node, nodes.Call) and (node.kwargs or node.dyn_args or node.dyn_kwargs):
        return say("named and spread arguments can't be used here")
    if isinstance(node, nodes.Filter):
        if node.name not in FILTERS:
            return say(
                "there is no filter called {name}; there are {filters}",
                node.name,
                ", ".join(sorted(FILTERS)),
            )
        if node.kwargs or node.dyn_args or node.dyn_kwargs:
            return say("named and spread arguments can't be used here")
    if isinstance(node, nodes.Test) and node.name not in TESTS:
        return say(
            "there is no test called {name}; there are {tests}", node.name, ", ".join(sorted(TESTS))
        )
    if not isinstance(node, _STRUCTURE):
        what = _WORDS.get(type(node), type(node).__name__.lower())
        return say("{what} can't be used in a template here", what)
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


def meter_and_mark(tree: nodes.Template, marks: TemplateMarks | None) -> None:
    """Put a meter into every loop and behind every filter, and mark the ends of source lines."""
    for loop in list(tree.find_all(nodes.For)):
        work = sum(map(_weight, loop.body)) + (_weight(loop.test) if loop.test else 0) + 1
        arguments: list[nodes.Expr] = [nodes.Const(work, lineno=loop.lineno)]
        loop.iter = nodes.Filter(loop.iter, COUNTED, arguments, [], None, None, lineno=loop.lineno)
    for holder in list(tree.find_all(nodes.Node)):
        if isinstance(holder, nodes.TemplateData) and marks:
            holder.data = _marked(holder.data, holder.lineno, marks)
        for field, value in list(holder.iter_fields()):
            if isinstance(value, nodes.Node):
                setattr(holder, field, _wrapped(value))
            elif isinstance(value, list):
                value[:] = [_wrapped(one) for one in value]


def _wrapped(node: Any) -> Any:
    """A filter is paid for by the length of what it takes and gives, a list by its own."""
    if isinstance(node, nodes.Filter) and not node.name.startswith("#"):
        node.node = _paid(node.node)
        return _paid(node)
    if isinstance(node, nodes.List) or (isinstance(node, nodes.Tuple) and node.ctx == "load"):
        return _paid(node)
    return node


def _paid(node: nodes.Expr | None) -> nodes.Filter:
    return nodes.Filter(node, PAID, [], [], None, None, lineno=node.lineno if node else 1)


def _marked(data: str, line: int, marks: TemplateMarks) -> str:
    first, *rest = data.split("\n")
    return first + "".join(f"{marks(line + n)}\n{part}" for n, part in enumerate(rest))
