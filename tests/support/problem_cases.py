"""Case files: a source with the problems that it should give written beside its lines.

    colour: "blue"    # ! error: is not a colour | six hex digits
    title: "Foo
    # ! error: a quote opens here

An expectation ends a line, or stands on lines of its own under the line that it is about. It is
taken out before the source is read, so it may stand anywhere, inside broken YAML too. The message
and the hint are parts of what must be said; `error@9` also states the column. The first word of
the file's name says what kind of file it is (settings, post, page, sheets); else it is a pattern.
A case without expectations must give no problem at all.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Page, Post, Settings
from stripewright.pattern.sheets import Sheets
from stripewright.pattern.stash import Stash
from stripewright.problems import in_order
from stripewright.source.reader import read_document, read_settings

CASES = sorted((Path(__file__).parent.parent / "cases" / "problems").glob("*.*"))
_EXPECTED = re.compile(r"\s*# ! (error|warning)(?:@(\d+))?: (.*?)(?: \| (.*))?")
_AT_END = re.compile(r"^(.*?)(\s*# ! (?:error|warning).*)$")


@dataclass(frozen=True)
class Expected:
    line: int
    column: int | None
    severity: str
    message: str
    hint: str

    def meets(self, problem):
        return (
            problem.place.line == self.line
            and self.column in (None, problem.place.column)
            and problem.severity == self.severity
            and self.message in problem.message
            and self.hint in problem.hint
        )


def split_case(text):
    """The source without its expectations, and the expectations."""
    lines, expected = [], []
    for line in text.split("\n"):
        match = _AT_END.match(line)
        if match is None:
            lines.append(line)
            continue
        if match[1].strip():
            lines.append(match[1])
        severity, column, message, hint = _EXPECTED.fullmatch(match[2]).groups()
        expected.append(
            Expected(len(lines), int(column) if column else None, severity, message, hint or "")
        )
    return "\n".join(lines), expected


def kind_of(path):
    first = path.stem.split("-")[0]
    return {"settings": Settings, "stash": Stash, "post": Post, "page": Page, "sheets": Sheets}.get(
        first, Pattern
    )


def read_case(path, text):
    """The model and all problems of a case's source."""
    read = read_settings if path.suffix == ".yaml" else read_document
    document, problems = read(text.encode(), f"content/{path.name}")
    model, found = as_model(document, kind_of(path))
    return document, model, in_order([*problems, *found])
