"""The author's body: a template over the worked numbers, then Markdown, split at the first heading."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

from markdown_it import MarkdownIt

from stripewright.compute.worked import WorkedPattern
from stripewright.pattern.settings import Settings
from stripewright.problems import Place, Problem, error
from stripewright.source.document import Document
from stripewright.words.facts import nearest
from stripewright.words.markdown import prose
from stripewright.words.namespace import namespace
from stripewright.words.sandbox import Compiled, Fault, Language, fill_in, unknown_names
from stripewright.words.written import Prose

_OPEN, _CLOSE = "\ue000", "\ue001"
"""Private characters that carry a line's number through the template; no text keeps its own."""

_MARK = re.compile(f"{_OPEN}(\\d+){_CLOSE}\n")
_COMMENT = re.compile(r"\{#.*?#\}", re.DOTALL)
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>()#+\-.!|~&=:^$@])")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ue000\ue001]+")


def escape_markdown(text: str) -> str:
    """A text as Markdown that says just that text: on one line, every special character escaped."""
    return _SPECIAL.sub(r"\\\1", " ".join(_CONTROL.sub(" ", text).split()))


def _number_stays(text: str) -> str:
    # "12.5" stands in no place where its full stop means anything; in code a backslash would show.
    return text if re.fullmatch(r"-?\d+(\.\d+)?", text) else escape_markdown(text)


@lru_cache(maxsize=1)
def _language() -> Language:
    return Language(_number_stays, lambda line: f"{_OPEN}{line}{_CLOSE}")


@lru_cache(maxsize=1)
def _blocks() -> MarkdownIt:
    return MarkdownIt("commonmark").enable("table").disable("inline")


def first_heading(text: str) -> int | None:
    """The line (from 0) of a text's first heading, headings in code and comments not counted."""
    if "#" not in text and "\n=" not in text and "\n-" not in text:
        return None
    bare = _COMMENT.sub(lambda match: re.sub(r"[^\n]", " ", match[0]), text)
    for token in _blocks().parse(bare):
        if token.type == "heading_open" and token.level == 0 and token.map:
            return token.map[0]
    return None


def write_body(
    worked: WorkedPattern, document: Document, settings: Settings
) -> tuple[Prose, Prose, list[Problem]]:
    """The public introduction, the rest, and what is wrong with either.

    A paid pattern's introduction is filled in from public facts alone.
    """
    text = document.body.replace(_OPEN, "").replace(_CLOSE, "")
    lines = text.split("\n")
    split = first_heading(text)
    at = len(lines) if split is None else split
    paid = worked.pattern.access == "paid"
    sponsored = frozenset(shop.host for shop in settings.shops if shop.sponsored)
    problems: list[Problem] = []
    parts = []
    for begin, part, public in ((0, lines[:at], paid), (at, lines[at:], False)):
        source = "\n".join(part)
        first = document.body_line + begin
        filled, where, found = fill_text(
            source,
            document.file,
            first,
            lambda public=public: _known(worked, settings, public=public),
        )
        problems += found
        read, found = prose(filled, document.file, first, raw_html=settings.raw_html,
                            lines=where, sponsored=sponsored)  # fmt: skip
        problems += found
        parts.append(read)
    return parts[0], parts[1], problems


def _known(worked: WorkedPattern, settings: Settings, *, public: bool) -> Mapping[str, object]:
    return namespace(worked, settings.units, public=public)


def fill_text(
    source: str, file: str, first: int, facts: Callable[[], Mapping[str, object]]
) -> tuple[str, list[int] | None, list[Problem]]:
    """Fill a text's template in.

    Args:
        source: the text.
        file: where it stands.
        first: the file's line (1-based) that it begins on.
        facts: gives what it may name; asked only when there is something to fill in.

    Returns:
        The filled text, the file's line of each of its lines (None when they follow `first`), and
        what is wrong. After a mistake the text is what was written up to it.
    """
    if "{{" not in source and "{%" not in source and "{#" not in source:
        return source, None, []

    def told(faults: Iterable[Fault]) -> list[Problem]:
        return [error(Place(file, first + f.line - 1, 1), f.message, f.hint) for f in faults]

    compiled: Compiled = _language().compile(source)
    if compiled.template is None:
        return "", None, told(compiled.faults)
    known = facts()
    unknown = unknown_names(compiled, known, nearest)
    if unknown:
        return "", None, told(unknown)
    marked, fault = fill_in(compiled, known)
    lines = [first + int(number) - 1 for number in _MARK.findall(marked)]
    last = lines[-1] + 1 if lines else first
    filled = _MARK.sub("\n", marked)
    return filled, [*lines, last], told([fault] if fault else [])
