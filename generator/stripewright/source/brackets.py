"""Slips inside brackets: a quote left open, a comma left out, a bracket too many."""

from __future__ import annotations

import re

from stripewright.catalogue import say
from stripewright.source.fault import Slip, Suspect
from stripewright.source.scalars import short

_ENTRY = re.compile(r"\s*[\w-]+\s*:(?:\s|$)|\s*[}\]]|\s*$")
_CLOSED = {'"': re.compile(r'"(?:[^"\\]|\\.)*"'), "'": re.compile(r"'(?:[^']|'')*'")}
_COMMENT = re.compile(r"\s#")


def _values(line: str) -> tuple[list[int], int | None]:
    """Columns of the brackets outside quotes, and of a quote that is not closed on the line."""
    brackets, at, before = list[int](), 0, ":"
    while at < len(line):
        sign = line[at]
        # A value begins the line, or stands behind one of these; inside brackets a comma too.
        begins = before in ":[{" or (before == "-" and at > 1) or (before == "," and brackets)
        if sign in _CLOSED and begins:
            closed = _CLOSED[sign].match(line, at)
            if closed is None:
                return brackets, at
            at, before = closed.end(), sign
            continue
        if _COMMENT.match(line, at):
            break
        if sign in "[]{}":
            brackets.append(at)
        if not sign.isspace():
            before = sign
        at += 1
    return brackets, None


def open_quote(at: Suspect) -> Slip | None:
    """A quote that opens inside brackets, and is not closed on its line."""
    _, column = _values(at.line)
    below = at.lines[at.number + 1] if at.number + 1 < len(at.lines) else ""
    if column is None or at.number > at.fault.line or not _ENTRY.match(below):
        return None  # a text may go on in the next line, but not with a key
    mark, rest = at.line[column], at.line[column + 1 :]
    inside = re.match(r"[^,\]}]*", rest)
    text = (inside[0] if inside else rest).rstrip()
    end = column + 1 + len(text)
    mended = f"{at.line[:end]}{mark}{at.line[end:]}"
    return Slip(
        at.number,
        column,
        "a quote opens here and is not closed on its line",
        say("close it: {mark}{text}{mark}", mark, short(text)),
        mended,
    )


def missing_comma(at: Suspect) -> Slip | None:
    """Two entries in brackets with nothing between them."""
    if "',' or" not in at.fault.message or at.number != at.fault.line:
        return None
    line, column = at.line, at.fault.column
    if line[column : column + 1] == ":":
        while column and (line[column - 1].isalnum() or line[column - 1] in "_-"):
            column -= 1
    before = line[:column].rstrip()
    if not before or before[-1] in "[{,:" or column >= len(line):
        return None
    entry = re.match(r"[\w-]+|[\"'][^\"']*[\"']?", line[column:])
    if entry is None:
        return None
    return Slip(
        at.number,
        column,
        say("a comma is missing before {entry}", short(entry[0])),
        "part the entries with commas, like [seamed, open] or {bed: circular, needles: 40}",
        f"{before}, {line[column:]}",
    )


_KEYS_UNOPENED = re.compile(r"(?P<head>\s*(?:- )?[\w-]+:\s+)(?P<keys>[\w-]+:\s.*\})\s*(?:#.*)?")


def unopened(at: Suspect) -> Slip | None:
    """`oat: name: Oat, colour: pale}`: keys of a mapping whose brace was left out."""
    match = _KEYS_UNOPENED.fullmatch(at.line)
    if match is None or match["keys"].count("}") != match["keys"].count("{") + 1:
        return None
    column = match.end("head")
    mended = f"{at.line[:column]}{{{at.line[column:]}"
    return Slip(
        at.number,
        column,
        "there is no { before this, though a } follows",
        say("write {mended}", short(mended.strip())),
        mended,
    )


def too_many(at: Suspect) -> Slip | None:
    """A closing bracket that closes nothing."""
    if at.number != at.fault.line:
        return None
    opened = ""
    for column in _values(at.line)[0]:
        bracket = at.line[column]
        if bracket in "[{":
            opened += "]" if bracket == "[" else "}"
        elif opened.endswith(bracket):
            opened = opened[:-1]
        else:
            return Slip(
                at.number,
                column,
                say("there is a {bracket} here that closes nothing", bracket),
                say("take the {bracket} out", bracket),
                at.line[:column] + at.line[column + 1 :],
            )
    return None
