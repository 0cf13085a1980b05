"""A text of a technique as plain data, for a script that fills it in again with other figures.

What a template writes is a list of parts, each a text or

    ["=", VALUE]                    a value, written out
    ["if", [[TEST, PARTS]...], PARTS]   the parts of the first test that holds, else the last

and a value is one of

    ["name", NAME]  ["is", CONSTANT]  ["not", VALUE]  ["and" | "or", VALUE, VALUE]
    ["compare", VALUE, [[OPERATOR, VALUE]...]]  ["+" | "-" | "*" | "%", VALUE, VALUE]
    ["sentence" | "capital" | "upper" | "lower", VALUE]  ["either", TEST, VALUE, VALUE]

`sentence` is Jinja's own capitalize, which makes the rest small; `capital` leaves the rest alone.
"""

from __future__ import annotations

import re
from typing import Any

from jinja2 import nodes

Data = list[Any]
"""A template, a part or a value of one, as JSON has it."""

_OPERATORS = {"eq": "==", "ne": "!=", "gt": ">", "gteq": ">=", "lt": "<", "lteq": "<="}
_SUMS: dict[type[nodes.BinExpr], str] = {
    nodes.Add: "+",
    nodes.Sub: "-",
    nodes.Mul: "*",
    nodes.Mod: "%",
}


class _Beyond(Exception):
    """A template that does what a script isn't told how to do."""


def as_data(tree: nodes.Template, capital: str = "sentence") -> Data | None:
    """A template as data; None where it does more than choose and insert (loops, questions).

    Args:
        tree: what it is built from.
        capital: what its `capitalize` is.
    """
    for one in list(tree.find_all(nodes.Filter)):
        one.name = {"capitalize": capital}.get(one.name, one.name)
    try:
        return _parts(tree.body)
    except _Beyond:
        return None


def _parts(body: list[nodes.Node]) -> Data:
    found: Data = []
    for node in body:
        if isinstance(node, nodes.If):
            choices = [node, *node.elif_]
            tests = [[_value(one.test), _parts(one.body)] for one in choices]
            found.append(["if", tests, _parts(node.else_)])
        elif isinstance(node, nodes.Output):
            found += map(_written, node.nodes)
        else:
            raise _Beyond
    return found


def _written(node: nodes.Expr) -> str | Data:
    if isinstance(node, nodes.TemplateData):
        return re.sub(r"\s+", " ", node.data)
    return ["=", _value(node)]


_FILTERS = frozenset({"sentence", "capital", "upper", "lower"})


def _value(node: nodes.Node | None) -> Data:
    match node:
        case nodes.Name():
            return ["name", node.name]
        case nodes.Const():
            return ["is", node.value]
        case nodes.Not():
            return ["not", _value(node.node)]
        case nodes.And() | nodes.Or():
            name = "and" if isinstance(node, nodes.And) else "or"
            return [name, _value(node.left), _value(node.right)]
        case nodes.Compare() if all(one.op in _OPERATORS for one in node.ops):
            others = [[_OPERATORS[one.op], _value(one.expr)] for one in node.ops]
            return ["compare", _value(node.expr), others]
        case nodes.Add() | nodes.Sub() | nodes.Mul() | nodes.Mod():
            return [_SUMS[type(node)], _value(node.left), _value(node.right)]
        case nodes.Filter() if node.name in _FILTERS and not node.args:
            return [node.name, _value(node.node)]
        case nodes.CondExpr() if node.expr2 is not None:
            return ["either", _value(node.test), _value(node.expr1), _value(node.expr2)]
    raise _Beyond
