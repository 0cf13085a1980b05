"""Pattern files with what is expected beside it. Adding a case takes no Python.

`cases/refused`: a comment `#! severity: words` on each line that causes a problem; its words are
the start of the message and, after a semicolon, of the hint. There is no other problem.

`cases/worked`: the body holds `NAME: value` lines; a name is a path through the worked pattern, a
piece's or yarn's key first. `PIECE.plan` is written as letters with their worked rows,
`PIECE.events` as readings of the counter with what happens at them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from support.patterns import try_work

CASES = Path(__file__).parent / "cases"
REFUSED = sorted((CASES / "refused").glob("*.md"))
WORKED = sorted((CASES / "worked").glob("*.md"))


def wanted_problems(text):
    for number, line in enumerate(text.splitlines(), start=1):
        for severity, words in re.findall(r"#! (error|warning): ([^#]+(?:#[^#!]+)*)", line):
            yield number, severity, words.strip()


@pytest.mark.parametrize("path", REFUSED, ids=lambda path: path.stem)
def test_problems_are_told_at_their_lines(path):
    text = path.read_text("utf-8")
    wanted = sorted(wanted_problems(text))
    worked, problems = try_work(text)
    found = sorted((p.place.line, str(p.severity), p.message, p.hint) for p in problems)
    assert [one[:2] for one in found] == [one[:2] for one in wanted], found
    for (_, _, message, hint), (line, _, words) in zip(found, wanted, strict=True):
        start, _, rest = words.partition("; ")
        assert message.startswith(start), f"line {line}: {message}"
        assert hint.startswith(rest), f"line {line}: {hint}"
        assert hint, f"line {line} has no hint"
    assert (worked is None) == any(severity == "error" for _, severity, _ in wanted)


def looked_up(worked, name):
    first, *rest = name.split(".")
    value = {piece.key: piece for piece in worked.pieces} | {
        yarn.key: yarn for yarn in worked.yarns
    }
    found = value.get(first) if first in value else getattr(worked, first)
    for part in rest:
        if isinstance(found, Mapping):
            found = found[part]
        else:
            found = found[int(part)] if part.isdigit() else getattr(found, part)
    if name.endswith(".plan"):
        return ", ".join(f"{line.letter} {line.rows}" for line in found)
    if name.endswith(".events"):
        return ", ".join(map(told, found))
    return found


def told(event):
    often = f"×{event.times}" if event.times > 1 else ""
    words = (f"{event.row:03d}", event.kind, event.what, event.side, often)
    return " ".join(word for word in words if word)


@pytest.mark.parametrize("path", WORKED, ids=lambda path: path.stem)
def test_numbers_come_out_as_worked_by_hand(path):
    text = path.read_text("utf-8")
    worked, problems = try_work(text)
    assert worked is not None, problems
    assert not problems
    body = text.split("\n---\n", 1)[1]
    lines = re.findall(r"^([a-z_0-9.]+): ([^#\n]+)", body, flags=re.MULTILINE)
    assert lines, "a case says what it expects"
    for name, wanted in lines:
        found = looked_up(worked, name)
        if isinstance(found, float):
            assert found == pytest.approx(float(wanted), rel=1e-4), name
        else:
            assert str(found) == wanted.strip(), name
