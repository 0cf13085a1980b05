"""The smallest changes of front matter: a value, an entry more, an entry less, another order.

Each is told as splices of the text, made from the node that stands there, and touches nothing else:
comments, quotes, order and blank lines stay. What is written is in the style of what is around it.
"""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any, NamedTuple

from stripewright.source.yaml_tree import read_yaml

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stripewright.preview.easel.nodes import EventNode

LONG = 88
"""Characters of one line after which a list is written with one entry a line."""

_COMMA = re.compile(r"[ \t]*,[ \t]*")
_NEWLINE = re.compile(r"\r\n|\r|\n")
_REST = re.compile(r"[ \t]*(,?)[ \t]*(?:#[^\r\n]*)?(?=[\r\n])")
"""Behind a last entry that stands on a line of its own."""


class Splice(NamedTuple):
    """What stands between two offsets of a text gives way to something else."""

    start: int
    end: int
    new: str


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """A text with splices made that don't overlap; those at one place in the order given."""
    for start, end, new in sorted(splices, key=lambda splice: splice[:2])[::-1]:
        text = text[:start] + new + text[end:]
    return text


def spelt(value: Any, quote: str = "") -> str:
    """A value as YAML on one line; a text in the quotes asked for, or in those that it needs."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{spelt(k)}: {spelt(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(spelt, value)) + "]"
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if not isinstance(value, str):
        return str(value)
    if quote == "'" and value.isprintable():
        return "'" + value.replace("'", "''") + "'"
    if not quote and _is_plain(value):
        return value
    return json.dumps(value, ensure_ascii=False)


def _is_plain(value: str) -> bool:
    """Whether a text means itself without quotes, in brackets as in lines."""
    if not value.isprintable() or value.startswith(("---", "...")):
        return False
    tree, problems = read_yaml(f"{{a: {value}, {value}: [{value}]}}", "", 1)
    return not problems and tree.front == {"a": value, value: [value]}


def set_value(text: str, node: EventNode, value: Any) -> Splice:
    """Put a value in another's place."""
    start, end = node.start, _content_end(text, node.start, node.end)
    new = spelt(value, node.quote if node.kind == "scalar" and node.quote in ("'", '"') else "")
    if start == end and text[start - 1 : start] == ":":
        new = " " + new
    return Splice(start, end, new)


def add_entries(text: str, node: EventNode, at: int, values: Sequence[Any]) -> list[Splice]:
    """Add entries to a list, before its entry `at`."""
    if not node.values:
        return [Splice(node.start, node.end, spelt(list(values)))]
    if node.flow and at < len(node.values):
        start = node.entry(at)[0]
        return [Splice(start, start, "".join(f"{spelt(value)}, " for value in values))]
    if node.flow:
        return _add_in_brackets(text, node, [spelt(value) for value in values])
    return _add_lines(text, node, at, [f"- {spelt(value)}" for value in values])


def add_key(text: str, node: EventNode, key: str, value: Any) -> list[Splice]:
    """Add a key with its value at the end of a mapping."""
    if not node.values:
        return [Splice(node.start, node.end, spelt({key: value}))]
    if node.flow:
        return _add_in_brackets(text, node, [spelt({key: value})[1:-1]])
    lines = _keyed(key, value, like=node.values[-1])
    return _add_lines(text, node, len(node.values), lines)


def _add_in_brackets(text: str, node: EventNode, entries: Sequence[str]) -> list[Splice]:
    start, end = node.entry(-1)
    line = _line_start(text, start)
    rest = _REST.match(text, end)
    if rest is None or text[line:start].strip() or line < node.start:
        return [Splice(end, end, "".join(f", {entry}" for entry in entries))]
    margin = _line_break(text) + text[line:start]
    comma = [] if rest[1] else [Splice(end, end, ",")]
    return [*comma, Splice(rest.end(), rest.end(), margin + f",{margin}".join(entries))]


def _add_lines(text: str, node: EventNode, at: int, lines: Sequence[str]) -> list[Splice]:
    first = entry_start(text, node, 0)
    margin = _line_break(text) + " " * (first - _line_start(text, first))
    if at == 0:
        return [Splice(first, first, "".join(line + margin for line in lines))]
    end = _line_end(text, _content_end(text, *node.entry(at - 1)))
    return [Splice(end, end, "".join(margin + line for line in lines))]


def _keyed(key: str, value: Any, like: EventNode) -> list[str]:
    """The lines of a key with its value: several where it is long, or where others have several."""
    head = spelt(key) + ":"
    block = like.kind == "mapping" and not like.flow
    if isinstance(value, dict) and value and block:
        inner = (_keyed(k, v, like.values[-1]) for k, v in value.items())
        return [head, *(f"  {line}" for lines in inner for line in lines)]
    line = f"{head} {spelt(value)}"
    if isinstance(value, list) and len(line) > LONG:
        return [head, *(f"  - {spelt(one)}" for one in value)]
    return [line]


def remove_entry(text: str, node: EventNode, at: int) -> Splice:
    """Take an entry out: its own lines of a block; of what is in brackets, itself and a comma."""
    if len(node.values) == 1:
        start = node.start if node.flow else entry_start(text, node, 0)
        end = node.end if node.flow else _content_end(text, *node.entry(0))
        return Splice(start, end, "{}" if node.kind == "mapping" else "[]")
    if not node.flow:
        return _remove_lines(text, node, at)
    start, end = node.entry(at)
    if comma := _COMMA.match(text, end):
        end = comma.end()
        before, after = _line_start(text, start), _line_end(text, end)
        alone = not text[before:start].strip() and not text[end:after].strip()
        if alone and before > node.start:
            return Splice(before, _over_newline(text, after), "")
    elif at == len(node.values) - 1:
        gap = text[node.entry(at - 1)[1] : start]
        start -= len(gap) if gap.strip() == "," else 0
    return Splice(start, end, "")


def _remove_lines(text: str, node: EventNode, at: int) -> Splice:
    start = entry_start(text, node, at)
    line = _line_start(text, start)
    if text[line:start].strip():  # behind the dash of the list that this stands in
        return Splice(start, entry_start(text, node, at + 1), "")
    end = _line_end(text, _content_end(text, *node.entry(at)))
    return Splice(line, _over_newline(text, end), "")


def move_entries(text: str, node: EventNode, order: Sequence[int]) -> list[Splice]:
    """Put a mapping's entries into another order; what stands between them stays where it is."""
    spans = []
    for number in range(len(node.values)):
        start, end = node.entry(number)
        end = _content_end(text, start, end)
        spans.append((start, end if node.flow else _line_end(text, end)))
    return [
        Splice(*span, text[slice(*spans[number])])
        for span, number in zip(spans, order, strict=True)
    ]


def entry_start(text: str, node: EventNode, at: int) -> int:
    """Where an entry of a block begins: at its key or its dash."""
    start = node.entry(at)[0]
    return start if node.kind == "mapping" else text.rindex("-", 0, start)


def _content_end(text: str, start: int, end: int) -> int:
    """The end without line ends and blanks: a block of lines claims those behind it."""
    return start + len(text[start:end].rstrip())


def _line_break(text: str) -> str:
    found = _NEWLINE.search(text)
    return found[0] if found else "\n"


def _line_start(text: str, at: int) -> int:
    return max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) + 1


def _line_end(text: str, at: int) -> int:
    found = _NEWLINE.search(text, at)
    return found.start() if found else len(text)


def _over_newline(text: str, at: int) -> int:
    found = _NEWLINE.match(text, at)
    return found.end() if found else at
