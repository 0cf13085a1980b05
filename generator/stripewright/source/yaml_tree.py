"""YAML text -> plain values, with the marks of every one of them.

Where the text is broken by a usual slip, the slip is told and mended in memory, and the text is
read again, so that whatever else is wrong can be told in the same run.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import yaml

from stripewright.catalogue import say
from stripewright.problems import Problem, error
from stripewright.source.fault import Fault, Slip
from stripewright.source.nodes import QuoteLeftOpen, Values
from stripewright.source.places import SourceLines, Tree
from stripewright.source.scalars import short
from stripewright.source.slips import fault_in_words, find_slip

MOST_SLIPS = 20
"""Slips mended in one file, one reading each."""
MOST_MENDED = 64 * 1024
"""Characters of front matter up to which slips are mended and the text is read again."""
MOST_LINE = 2_000
"""Characters of a line up to which slips are looked for: some rules try each place with each."""
MOST_FRONT = 200_000
"""Characters of front matter that are read."""


def read_yaml(text: str, file: str, first_line: int) -> tuple[Tree, list[Problem]]:
    r"""The values of a YAML text, their places, and what is wrong with it.

    Args:
        text: YAML with `\n` line ends.
        file: the file's name in problems.
        first_line: the 1-based line of the file that the text begins on.

    Returns:
        The tree and the problems. After a mistake that can't be mended the tree holds what was
        read before it, and is not whole.
    """
    lines = SourceLines(text, file, first_line)
    if len(text) > MOST_FRONT:
        return Tree({}, None, lines, whole=False), [_too_long(text, lines)]
    read, fault = _compose(text, lines)
    told: list[Problem] = []
    mended, touched = text.split("\n") if fault else [], dict[int, str]()
    while fault is not None:
        alias = _alias_slip(mended, fault, first_line)
        slip = alias
        if slip is None and max(map(len, mended)) <= MOST_LINE:
            slip = find_slip(mended, fault, touched)
        said = (slip.message, slip.hint) if slip else fault_in_words(fault)
        at = slip or fault
        told.append(error(lines.place(at.line, at.column), *said))
        if slip is None or len(told) > MOST_SLIPS or len(text) > MOST_MENDED:
            break
        if alias is None:
            touched[slip.line] = mended[slip.line]
        mended[slip.line] = slip.mended
        read, fault = _compose("\n".join(mended), lines)
    whole = fault is None and not read.values.refused
    if fault is not None:
        read = _before(mended, fault, lines)
    tree = _tree(read, lines, whole=whole, mended=bool(told))
    return tree, told + read.values.problems


def _too_long(text: str, lines: SourceLines) -> Problem:
    what = say("there are {text:,} characters of keys and values here", len(text))
    hint = say("at most {most_front:,} are read; long texts go under the front matter", MOST_FRONT)
    return error(lines.place(0, 0), what, hint)


@dataclass(frozen=True, slots=True)
class _Read:
    """What one reading gave."""

    value: Any
    root: yaml.Node | None
    values: Values


def _tree(read: _Read, lines: SourceLines, *, whole: bool, mended: bool) -> Tree:
    value, root = read.value, read.root
    if value is None:
        value = {}
    elif not isinstance(value, dict):
        what = "a list" if isinstance(value, list) else say("a single text")
        message = say("this is {what}, not keys with values", what)
        if root is not None:
            read.values.tell(root.start_mark, message, "write key: value, one a line")
        value, root, whole = {}, None, False
    return Tree(value, root, lines, whole=whole, mended=mended)


def _before(mended: list[str], fault: Fault, lines: SourceLines) -> _Read:
    """What stands above a mistake that can't be mended."""
    end: int = fault.line if "block" in fault.message else fault.start
    for _ in range(MOST_SLIPS if len(lines.text) <= MOST_MENDED else 1):
        text = "\n".join(mended[:end])
        read, again = _compose(text, lines, cut=True)
        if again is None:
            return read
        end = min(end - 1, again.line if "block" in again.message else again.start)
    return _compose("", lines, cut=True)[0]


class _Loader(yaml.CBaseLoader):
    """Composes nodes without a tag but where one is written."""

    def resolve(self, *_: object) -> str:
        return ""


def _compose(text: str, lines: SourceLines, *, cut: bool = False) -> tuple[_Read, Fault | None]:
    """Read a text, or say where the parser stopped."""
    values = Values(text, lines, cut=cut)
    value: Any = None
    root = None
    fault = None
    loader = _Loader(text)
    try:
        if loader.check_node() and (root := loader.get_node()) is not None:
            value = values.value(root)
        while not values.refused and loader.check_node():
            more = loader.get_node()
            if more is not None and more.value != "":
                what = say("a second document begins here")
                values.refuse(more, what, "keep one, without a line --- between")
    except yaml.MarkedYAMLError as found:
        mark = found.problem_mark or found.context_mark
        start = found.context_mark or mark
        line, column = (mark.line, mark.column) if mark else (0, 0)
        said = f"{found.context or ''} {found.problem or ''}".strip()
        fault = Fault(line, column, said, start.line if start else line)
    except QuoteLeftOpen as found:
        fault = found.fault
    except yaml.YAMLError as found:
        fault = Fault(0, 0, str(found).split("\n", maxsplit=1)[0], 0)
    finally:
        loader.dispose()
    return _Read(value, root, values), fault


_NAME = re.compile(r"[&*][0-9A-Za-z_-]+")


def _alias_slip(lines: list[str], fault: Fault, first: int) -> Slip | None:
    """An alias of nothing, or a name given twice; told and mended where it stands."""
    undefined = "undefined alias" in fault.message
    if not undefined and "duplicate anchor" not in fault.message:
        return None
    found = _NAME.search(lines[fault.line], fault.column)
    if found is None:
        return None
    name, (start, end) = found[0], found.span()
    if undefined:
        message = say("{name} repeats something that is not there", short(name))
        hint = say(
            "put text that begins with * in quotes, or name it first with &{name}", short(name[1:])
        )
        put = f"\N{ASTERISK OPERATOR}{name[1:]}"  # looks the same, and is as long
    else:
        message = say(
            "{name} is the name of something else, on line {first}",
            short(name),
            first + fault.start,
        )
        hint = say("give each & a name of its own")
        put = " " * len(name)
    line = lines[fault.line]
    return Slip(fault.line, start, message, hint, line[:start] + put + line[end:])
