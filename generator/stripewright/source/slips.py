"""The usual slips of the hand in YAML: what each looks like, how it is told, how it is mended.

When YAML can't be read, the parser names a line and a state of its own. These rules look at that
line as a person would. A slip that is recognised is told in plain words, and the line is mended
in memory, so that whatever else is wrong in the file can be told in the same run.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """Where the parser stopped, in 0-based lines and columns, and what it says."""

    line: int
    column: int
    message: str
    start: int
    """The line that the unfinished thing began on."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip, 0-based place, and the line as it should be."""

    line: int
    column: int
    message: str
    hint: str
    mended: str


_ENTRY = re.compile(r"(?P<indent>\s*(?:- )?\s*)(?P<key>[\w-]+)\s*:(?P<gap>[ \t]+)(?P<value>\S.*)")
_GLUED = re.compile(r"(?P<head>\s*(?:- )?\s*(?P<key>[A-Za-z_]\w*)):(?P<value>[^\s:/\"'].*|\".*)")
_BARE_COLOUR = re.compile(r":\s+(#[0-9A-Fa-f]{3,8})\b")
_COMMENT = re.compile(r"\s+#.*$")


def _tab(line: str, number: int, fault: Fault) -> Slip | None:
    indent = line[: len(line) - len(line.lstrip())]
    if "\t" not in indent:
        return None
    return Slip(number, indent.index("\t"), "there is a tab at the start of the line",
                "YAML indents with spaces only: use two spaces a level",
                indent.replace("\t", "  ") + line.lstrip())  # fmt: skip


def _bare_colour(line: str, number: int, fault: Fault) -> Slip | None:
    match = _BARE_COLOUR.search(line)
    if match is None:
        return None
    return Slip(number, match.start(1),
                f"the colour {match[1]} is not in quotes, so the rest of the line is a comment to YAML",
                f'write it in quotes: "{match[1]}"',
                _BARE_COLOUR.sub(r': "\1"', line))  # fmt: skip


def _glued(line: str, number: int, fault: Fault) -> Slip | None:
    match = _GLUED.fullmatch(line)
    if match is None:
        return None
    return Slip(number, match.end("head"), f"there is no space after the colon of {match['key']}",
                f"write {match['key']}: {_short(match['value'])}",
                f"{match['head']}: {match['value']}")  # fmt: skip


def _open_quote(line: str, number: int, fault: Fault) -> Slip | None:
    match = _ENTRY.fullmatch(line)
    if match is None or match["value"][0] not in "\"'":
        return None
    value, mark = match["value"].rstrip(), match["value"][0]
    if value.count(mark) - value.count("\\" + mark) != 1:
        return None
    return Slip(number, match.start("value"), f"a quote opens here and is not closed on its line ({match['key']})",
                f"close it: {match['key']}: {_short(value)}{mark}",
                line.rstrip() + mark)  # fmt: skip


def _open_bracket(line: str, number: int, fault: Fault) -> Slip | None:
    if "',' or" not in fault.message:
        return None
    bare = _COMMENT.sub("", line)
    opened: list[int] = []
    for column, letter in enumerate(bare):
        if letter in "[{":
            opened.append(column)
        elif letter in "]}" and opened:
            opened.pop()
    if not opened:
        return None
    bracket = bare[opened[-1]]
    closing = "".join("]" if bare[column] == "[" else "}" for column in reversed(opened))
    return Slip(number, opened[-1], f"a {bracket} opens here and is not closed",
                f"end the line with {closing}", bare.rstrip().rstrip(",") + closing)  # fmt: skip


def _needs_quotes(line: str, number: int, fault: Fault) -> Slip | None:
    match = _ENTRY.fullmatch(line)
    if match is None:
        return None
    value = match["value"].rstrip()
    if value[0] in "{[" and value[-1] in "}]":
        return None
    inner = value
    why = _why_quotes(value)
    if why is None:
        return None
    if value[0] in "\"'" and value.count(value[0]) >= 2:
        inner = value.replace('"', "”") if value[0] == '"' else value
    quoted = json.dumps(inner, ensure_ascii=False)
    return Slip(number, match.start("value"), f"{match['key']} holds {why}, which means something else to YAML",
                f"put the text in quotes: {match['key']}: {_short(quoted)}",
                f"{match['indent']}{match['key']}: {quoted}")  # fmt: skip


def _why_quotes(value: str) -> str | None:
    if value[0] in "@`%&*!|>[{,]}?-":
        return f"text that begins with {value[0]}"
    if value[0] in "\"'":
        return "text after a closing quote" if value.count(value[0]) >= 2 else None
    if ": " in value or value.endswith(":"):
        return "a colon"
    return None


_RULES: tuple[Callable[[str, int, Fault], Slip | None], ...] = (
    _tab, _bare_colour, _glued, _open_quote, _open_bracket, _needs_quotes)  # fmt: skip


def find_slip(lines: Sequence[str], fault: Fault) -> Slip | None:
    """The slip that most likely stopped the parser, or None.

    The line where it stopped is looked at first, then the line that the unfinished thing began
    on, then the lines between and the one before.
    """
    for number in _suspects(lines, fault):
        for rule in _RULES:
            slip = rule(lines[number], number, fault)
            if slip is not None and slip.mended != lines[number]:
                return slip
    return None


def _suspects(lines: Sequence[str], fault: Fault) -> list[int]:
    """Line numbers to look at, most suspect first."""
    last = min(fault.line, len(lines) - 1)
    start = min(fault.start, last)
    between = range(max(start, last - 20), last)
    order = [last, start, *reversed(between), last - 1, last - 2]
    return [n for n in dict.fromkeys(order) if n >= 0 and lines[n].strip()]


def in_plain_words(fault: Fault) -> tuple[str, str]:
    """A message and hint for a fault that no rule recognises."""
    said = fault.message
    if "block end" in said or "expected key" in said or "'-' indicator" in said:
        return ("this line doesn't fit the lines above it",
                "check its indentation: entries that belong together start in the same column")  # fmt: skip
    if "mapping values" in said or "':'" in said:
        return ("there is a colon too many here, or one missing", 'write key: value; text with a colon goes in quotes, like title: "Hats: a start"')
    if "end of stream" in said or "document indicator" in said:
        return "a quote or bracket that opens here is never closed", "close it on the same line"
    if "',' or" in said:
        return "a list in brackets goes wrong here", "part its entries with commas and close it, like [seamed, open]"
    if "escape" in said:
        return "a backslash in double quotes begins something unknown", "write \\\\ for a backslash, or use single quotes"
    return f"this is not readable as YAML ({said})", "write key: value, and put unusual text in quotes"


def _short(text: str) -> str:
    return text if len(text) <= 60 else text[:57] + "…"
