"""YAML text -> plain values, with a place for every one of them.

Where the text is broken by a usual slip, the slip is told and mended in memory, and the text is
read again, so that whatever else is wrong can be told in the same run.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import yaml

from stripewright.problems import Place, Problem, error
from stripewright.source.builder import Builder, QuoteLeftOpen
from stripewright.source.places import Lines, Places, Spot
from stripewright.source.slips import Fault, find_slip, in_plain_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.source.document import Path

MOST_SLIPS = 20
"""Slips mended in one file, one reading each."""
MOST_MENDED = 64 * 1024
"""Characters of front matter up to which slips are mended and the text is read again."""


@dataclass(frozen=True, slots=True)
class Tree:
    """What could be read, where it stands, and whether that is all of it."""

    front: dict[str, Any]
    places: Mapping[Path, Place]
    key_places: Mapping[Path, Place]
    whole: bool


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
    lines = Lines(text, file, first_line)
    builder, fault = _events(text, lines)
    if fault is None:
        return _tree(builder, whole=not builder.refused), builder.problems
    told: list[Problem] = []
    mended = list(lines.all())
    touched: set[int] = set()
    while fault is not None and len(told) < MOST_SLIPS and len(text) <= MOST_MENDED:
        slip = find_slip(mended, fault, touched)
        if slip is None:
            break
        told.append(error(lines.place(slip.line, slip.column), slip.message, slip.hint))
        mended[slip.line] = slip.mended
        touched.add(slip.line)
        builder, fault = _events("\n".join(mended), lines)
    if fault is not None:
        told.append(error(lines.place(fault.line, fault.column), *in_plain_words(fault)))
    whole = fault is None and not builder.refused
    return _tree(builder, whole=whole), told + builder.problems


def _tree(builder: Builder, *, whole: bool) -> Tree:
    value: Any = builder.root
    root: Spot = builder.root_spot
    if value is None:
        value = {}
    elif not isinstance(value, dict):
        what = "a list" if isinstance(value, list) else "a single text"
        message = f"this is {what}, not keys with values"
        builder.tell(root[0], root[1], message, "write key: value, one a line")
        value, root, whole = {}, (0, 0, None, -1, -1), False
    places = Places(root, builder.lines)
    return Tree(value, places, Places(root, builder.lines, keys=True), whole)


def _events(text: str, lines: Lines) -> tuple[Builder, Fault | None]:
    """Read a text as far as it goes."""
    builder = Builder(text, lines)
    parser = yaml.CBaseLoader(text)
    try:
        next_event = parser.get_event
        take = builder.take
        while (event := next_event()) is not None and take(event):
            pass
    except yaml.MarkedYAMLError as fault:
        mark = fault.problem_mark or fault.context_mark
        start = fault.context_mark or mark
        line, column = (mark.line, mark.column) if mark else (0, 0)
        said = f"{fault.context or ''} {fault.problem or ''}".strip()
        return builder, Fault(line, column, said, start.line if start else line)
    except QuoteLeftOpen as fault:
        return builder, fault.fault
    except yaml.YAMLError as fault:
        return builder, Fault(0, 0, str(fault).split("\n", maxsplit=1)[0], 0)
    finally:
        parser.dispose()
    return builder, None
