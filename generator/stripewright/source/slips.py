"""The usual slips of the hand in YAML: what each looks like, how it is told, how it is mended.

When YAML can't be read, the parser names a line and a state of its own. These rules look at that
line as a person would. A slip that is recognised is told in plain words, and the line is mended
in memory, so that whatever else is wrong in the file can be told in the same run.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from stripewright.catalogue import say
from stripewright.source.brackets import missing_comma, open_quote, too_many, unopened
from stripewright.source.fault import Fault, Slip, Suspect
from stripewright.source.quotes import (
    ENTRY,
    curly_quotes,
    needs_quotes,
)
from stripewright.source.scalars import short

_GLUED = re.compile(r"(?P<head>\s*(?:- )?\s*(?P<key>[A-Za-z_]\w*)):(?P<value>[^\s:/\"'].*|\".*)")
_BARE_COLOUR = re.compile(r":\s+(#[0-9A-Fa-f]{3,8})\b")
_COMMENT = re.compile(r"\s+#.*$")


def _tab(at: Suspect) -> Slip | None:
    indent = at.line[: len(at.line) - len(at.line.lstrip())]
    if "\t" not in indent:
        return None
    return Slip(
        at.number,
        indent.index("\t"),
        "there is a tab at the start of the line",
        "YAML indents with spaces only: use two spaces a level",
        " " * _depth(at, indent) + at.line.lstrip(),
    )


def _depth(at: Suspect, indent: str) -> int:
    """How far a line that begins with tabs was most likely meant to be indented."""
    above = next((line for line in reversed(at.lines[: at.number]) if line.strip()), "")
    below = next((line for line in at.lines[at.number + 1 :] if line.strip()), "")
    outer, beside = (len(line) - len(line.lstrip(" ")) for line in (above, below))
    plain = 2 * indent.count("\t") + indent.count(" ")
    if not above.rstrip().endswith(":"):
        # As deep as the line above, which may have been mended, unless there are fewer tabs.
        was = at.mended.get(at.number - 1, "")
        return outer if was[: len(was) - len(was.lstrip())] == indent else plain
    if beside <= outer or "\t" in below[: beside + 1]:
        return outer + 2
    # A line that opens a block of its own stands less deep than the line below.
    return min(outer + 2, beside - 1) if at.line.rstrip().endswith(":") else beside


_NO_COLON = re.compile(
    r"(?P<indent>\s*)(?P<key>[A-Za-z_]\w*)(?P<gap>\s*(?:=|：)\s*|\s+|$)(?P<value>(?![:=]).*)"
)
_HELD = re.compile(r"\s*[\w-]+\s*:(?:\s|$)|\s*[\[{\"'#-]|\s*$")


def _no_colon(at: Suspect) -> Slip | None:
    if not any(
        said in at.fault.message
        for said in ("mapping values", "':'", "expected key", "<document start>")
    ):
        return None
    match = _NO_COLON.fullmatch(at.line)
    if match is None or at.number > at.fault.line or _HELD.match(at.line):
        return None
    key, value = match["key"], match["value"]
    alone = not value and at.number < at.fault.line
    if at.number == at.fault.line and not value.startswith(("{", "[")) and match["gap"].isspace():
        return None
    if not value and not alone:
        return None
    mended = f"{key}: {value}".rstrip()
    sign = match["gap"].strip()
    message = (
        say("there is {sign} after {key}, not a colon", sign, key)
        if sign
        else say("there is no colon after {key}", key)
    )
    return Slip(at.number, match.end("key"), message, say("write {mended}", short(mended)),
                match["indent"] + mended)  # fmt: skip


def _bare_colour(at: Suspect) -> Slip | None:
    match = _BARE_COLOUR.search(at.line)
    if match is None:
        return None
    return Slip(
        at.number,
        match.start(1),
        say(
            "the colour {colour} is not in quotes, so the rest of the line is a comment to YAML",
            match[1],
        ),
        say('write it in quotes: "{match}"', match[1]),
        _BARE_COLOUR.sub(r': "\1"', at.line),
    )


def _glued(at: Suspect) -> Slip | None:
    match = _GLUED.fullmatch(at.line)
    if match is None:
        return None
    return Slip(
        at.number,
        match.end("head"),
        say("there is no space after the colon of {key}", match["key"]),
        say("write {key}: {value}", match["key"], short(match["value"])),
        f"{match['head']}: {match['value']}",
    )


def _open_quote(at: Suspect) -> Slip | None:
    match = ENTRY.fullmatch(at.line)
    if match is None or match["value"][0] not in "\"'":
        return None
    value, mark = match["value"].rstrip(), match["value"][0]
    if value.count(mark) - value.count("\\" + mark) != 1:
        return None
    return Slip(
        at.number,
        match.start("value"),
        say("a quote opens here and is not closed on its line ({key})", match["key"]),
        say("close it: {key}: {value}", match["key"], f"{short(value)}{mark}"),
        at.line.rstrip() + mark,
    )


def _open_bracket(at: Suspect) -> Slip | None:
    if "',' or" not in at.fault.message:
        return None
    bare = _COMMENT.sub("", at.line)
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
    return Slip(
        at.number,
        opened[-1],
        say("a {bracket} opens here and is not closed", bracket),
        say("end the line with {closing}", closing),
        bare.rstrip().rstrip(",") + closing,
    )


_Rule = Callable[[Suspect], Slip | None]

_SURE: tuple[_Rule, ...] = (_tab, _bare_colour, _glued)
"""Slips that are slips wherever they stand."""
_LIKELY: tuple[_Rule, ...] = (
    _open_quote, open_quote, unopened, too_many, _open_bracket, missing_comma, curly_quotes,
    needs_quotes, _no_colon,
)  # fmt: skip
"""Slips only where the parser had to stop near them."""


def find_slip(
    lines: Sequence[str], fault: Fault, mended: Mapping[int, str] | None = None
) -> Slip | None:
    """The slip that most likely stopped the parser, or None.

    Args:
        lines: the text, with what was mended before.
        fault: where the parser stopped. Its line is looked at first, then the line that the
            unfinished thing began on, then the lines between and the one before.
        mended: lines that were mended before, as they were; a line is mended once.
    """
    before = mended or {}
    suspects = [number for number in _suspects(lines, fault) if number not in before]

    def suspect(number: int) -> Suspect:
        return Suspect(lines[number], number, fault, lines, before)

    if "quoted scalar" in fault.message and fault.start in suspects:
        # Everything after the open quote is text to YAML, so that quote comes first.
        slip = _open_quote(suspect(fault.start))
        if slip is not None:
            return slip
    for number in range(fault.start, fault.line + 1) if "',' or" in fault.message else ():
        # It swallows what follows up to the next quote, where the parser then stops.
        if number in suspects and (slip := open_quote(suspect(number))) is not None:
            return slip
    for rule in _SURE:
        for number in suspects:
            if (slip := rule(suspect(number))) is not None:
                return slip
    for number in suspects:
        for rule in _LIKELY:
            slip = rule(suspect(number))
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


def fault_in_words(fault: Fault) -> tuple[str, str]:
    """A message and hint for a fault that no rule recognises."""
    said = fault.message
    if "block end" in said or "expected key" in said or "'-' indicator" in said:
        return (
            say("this line doesn't fit the lines above it"),
            say("check its indentation: entries that belong together start in the same column"),
        )
    if "mapping values" in said or "':'" in said:
        return (
            say("there is a colon too many here, or one missing"),
            say('write key: value; text with a colon goes in quotes, like title: "Hats: a start"'),
        )
    if "end of stream" in said or "document indicator" in said:
        return say("a quote or bracket that opens here is never closed"), say(
            "close it on the same line"
        )
    if "',' or" in said:
        return (
            say("a list in brackets goes wrong here"),
            say("part its entries with commas and close it, like [seamed, open]"),
        )
    if "escape" in said:
        return (
            say("a backslash in double quotes begins something unknown"),
            say("write \\\\ for a backslash, or use single quotes"),
        )
    return (
        say("this is not readable as YAML ({said})", said),
        say("write key: value, and put unusual text in quotes"),
    )
