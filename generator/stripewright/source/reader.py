"""One source file's bytes -> a Document and what is wrong with it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error
from stripewright.source.decode import decode
from stripewright.source.document import Document
from stripewright.source.yaml_tree import read_yaml

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST_BODY = 200_000
"""Characters under the front matter that are read."""
_FENCE = re.compile(r"^---[ \t]*$", re.MULTILINE)
_NEARLY_FENCE = re.compile(r"[ \t]*[-–—−]{2,6}[ \t]*")
_FRONT_LINE = re.compile(r"\s|$|[\w\"'-]+\s*:|- |[\]})#]")
_BREAKS = re.compile("[\x85\u2028\u2029]")


def read_document(
    data: bytes, file: str, tables: Iterable[tuple[str, bytes]] = ()
) -> tuple[Document, list[Problem]]:
    """Take a pattern, post, page or sheets file apart. Never raises for what is in it.

    Args:
        data: the file's bytes.
        file: its name in problems, relative to the studio.
        tables: names and bytes of the tables that it may be made with.

    Returns:
        The document (with what could be read) and the problems found.
    """
    document, problems = _read_text(data, file)
    return replace(document, tables=dict(tables)), problems


def _read_text(data: bytes, file: str) -> tuple[Document, list[Problem]]:
    text, problems = decode(data, file)
    if text is None:
        return _nothing(file), problems
    if not text.strip():
        what = say("the file is empty")
        return _nothing(file), [*problems, error(Place(file, 1, 1), what, _BEGIN)]
    if text.startswith("---") and (opening := _FENCE.match(text)):
        closing = _FENCE.search(text, opening.end())
        if closing is not None:
            start, end = opening.end() + 1, closing.start()
            body_line = text.count("\n", 0, closing.end()) + 2
            parts = _Parts(text[start:end], 2, text[closing.end() + 1 :], body_line)
            return _document(file, parts, problems)
    return _unfenced(file, text, problems)


def read_settings(data: bytes, file: str) -> tuple[Document, list[Problem]]:
    """Read a file that is YAML and nothing else, like content/studio.yaml."""
    text, problems = decode(data, file)
    if text is None:
        return _nothing(file), problems
    return _document(file, _Parts(text, 1, "", text.count("\n") + 1), problems)


_BEGIN = say("begin with a line ---, then title: and the other keys, then another line ---")


def _nothing(file: str) -> Document:
    return Document(file, {}, whole=False)


class _Parts(NamedTuple):
    """A file's front matter and body, and the 1-based lines that they begin on."""

    front: str
    front_line: int
    body: str
    body_line: int


def _document(file: str, parts: _Parts, problems: list[Problem]) -> tuple[Document, list[Problem]]:
    front, first_line, body, body_line = parts
    if not front.isascii() and (match := _BREAKS.search(front)):
        # YAML takes these for line ends, editors don't: the lines would no longer be the same.
        line = front.count("\n", 0, match.start())
        column = match.start() - (front.rfind("\n", 0, match.start()) + 1)
        place = Place(file, first_line + line, column + 1)
        what = say("there is an invisible line break here (U+{ord:04X})", ord(match[0]))
        problems.append(error(place, what, "delete it, or retype the line"))
        front = _BREAKS.sub(" ", front)
    tree, found = read_yaml(front, file, first_line)
    if len(body) > MOST_BODY:
        line = body_line + body.count("\n", 0, MOST_BODY)
        what = say(
            "there is more text here than any page needs: over {most_body:,} characters", MOST_BODY
        )
        found = [*found, error(Place(file, line, 1), what, "part it into several files")]
        body = ""
    return Document(file, tree.front, tree, body, body_line, tree.whole), problems + found


def _unfenced(file: str, text: str, problems: list[Problem]) -> tuple[Document, list[Problem]]:
    """Read a file whose opening or closing line is missing or misspelt, guessing where it is."""
    lines = text.split("\n")
    first = next(n for n, line in enumerate(lines) if line.strip())
    start = first
    if _fence(lines[first]):
        start = first + 1
        if first > 0:
            problems.append(
                error(
                    Place(file, first + 1, 1),
                    "there are lines above the opening ---",
                    "make --- the first line of the file",
                )
            )
        elif lines[first].rstrip() != "---":
            problems.append(_misspelt(file, lines, first))
    elif not re.match(r"[\w-]+\s*:", lines[first]):
        problems.append(error(Place(file, 1, 1), "the file has no front matter", _BEGIN))
        return Document(file, {}, None, text, 1, whole=False), problems
    else:
        problems.append(
            error(
                Place(file, first + 1, 1),
                "the file doesn't begin with a line ---",
                "put a line of three dashes above the keys",
            )
        )
    end, body_start = _front_end(file, lines, start, problems)
    front = "\n".join(lines[start:end])
    body = "\n".join(lines[body_start:])
    front_line = min(start + 1, len(lines))
    return _document(file, _Parts(front, front_line, body, body_start + 1), problems)


def _front_end(file: str, lines: list[str], start: int, problems: list[Problem]) -> tuple[int, int]:
    """Where the front matter ends and the body starts, told when it has to be guessed."""
    for number in range(start, len(lines)):
        line = lines[number]
        if not line:
            continue
        if _fence(line):
            if line.rstrip() != "---":
                problems.append(_misspelt(file, lines, number))
            return number, number + 1
        if line.startswith("##") or not _FRONT_LINE.match(line):
            return _unclosed(file, number, number, problems)
    return _unclosed(file, len(lines), len(lines) - 1, problems)


def _unclosed(file: str, end: int, line: int, problems: list[Problem]) -> tuple[int, int]:
    problems.append(
        error(
            Place(file, line + 1, 1),
            "the front matter is not closed before this line",
            "put a line of three dashes --- after the last key",
        )
    )
    return end, end


def _misspelt(file: str, lines: list[str], number: int) -> Problem:
    return error(
        Place(file, number + 1, 1),
        say("this line is “{lines}”", lines[number].strip()),
        "write three plain dashes, from the start of the line: ---",
    )


def _fence(line: str) -> bool:
    return _NEARLY_FENCE.fullmatch(line) is not None
