"""Bytes -> text: encodings, byte order marks, line ends, and characters that no text has."""

from __future__ import annotations

import re

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error

MOST_BYTES = 1 << 20
_MOST_TOLD = 10
"""After so many bad bytes or characters the rest is counted, not listed."""

_CONTROLS = bytes([*range(9), 11, 12, *range(14, 32), 127])
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff]")
_SAVE = say("save it from your editor as UTF-8")


def decode(data: bytes, file: str) -> tuple[str | None, list[Problem]]:
    r"""A file's text with `\n` line ends, or None when it can't be read as text at all.

    Bad bytes and control characters are told and replaced, so that the rest can still be read.
    """
    whole = Place(file, 1, 1)
    if len(data) > MOST_BYTES:
        size = f"{len(data) / MOST_BYTES:.1f} MiB"
        return None, [
            error(
                whole,
                say("the file is {size}; at most 1 MiB is read", size),
                "put pictures in content/photos/",
            )
        ]
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None, [error(whole, "the file is saved as UTF-16", _SAVE)]
    if b"\x00" in data[:4096]:
        return None, [error(whole, "this is not a text file", "a source file is plain text, UTF-8")]
    text, problems = _text(data.removeprefix(b"\xef\xbb\xbf"), file)
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not data.isascii() or len(data.translate(None, _CONTROLS)) != len(data):
        text = _without_controls(text, file, problems)
    return text, problems


def _text(data: bytes, file: str) -> tuple[str, list[Problem]]:
    try:
        return data.decode(), []
    except UnicodeDecodeError:
        pass
    problems: list[Problem] = []
    lines = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n")
    bad = 0
    for number, line in enumerate(lines, 1):
        try:
            line.decode()
        except UnicodeDecodeError as fault:
            bad += 1
            if bad <= _MOST_TOLD:
                problems.append(_bad_byte(line, fault, Place(file, number)))
            elif bad == _MOST_TOLD + 1:
                problems.append(error(Place(file, number, 1), "more lines are not UTF-8", _SAVE))
    return b"\n".join(lines).decode(errors="replace"), problems


def _bad_byte(line: bytes, fault: UnicodeDecodeError, where: Place) -> Problem:
    byte = line[fault.start : fault.start + 1]
    column = len(line[: fault.start].decode()) + 1
    guess = byte.decode("cp1252", errors="ignore")
    likely = (
        say("; it is likely a “{guess}” saved by an older program", guess)
        if guess.isprintable() and guess
        else ""
    )
    return error(
        Place(where.file, where.line, column),
        say("byte {byte:#04x} is not UTF-8{likely}", byte[0], likely),
        _SAVE,
    )


def _without_controls(text: str, file: str, problems: list[Problem]) -> str:
    told = 0
    line, line_start = 1, 0
    for match in _FORBIDDEN.finditer(text):
        told += 1
        if told > _MOST_TOLD + 1:
            break
        line += text.count("\n", line_start, match.start())
        line_start = max(line_start, text.rfind("\n", 0, match.start()) + 1)
        place = Place(file, line, match.start() - line_start + 1)
        if told > _MOST_TOLD:
            problems.append(error(place, "more control characters follow", "delete them"))
        else:
            name = f"U+{ord(match[0]):04X}"
            problems.append(
                error(
                    place,
                    say("there is a control character here ({name}), which can't be seen", name),
                    "delete it, or retype the line",
                )
            )
    return _FORBIDDEN.sub("\ufffd", text) if told else text
