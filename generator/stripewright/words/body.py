"""The author's body: a template over the numbers, then Markdown, parted at the first heading."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from stripewright.figures import Figures
from stripewright.problems import Place, Problem, error, warning
from stripewright.words.facts import nearest
from stripewright.words.markdown import first_heading, prose
from stripewright.words.namespace import namespace
from stripewright.words.sandbox import Compiled, Language, fill_in, unknown_names
from stripewright.words.written import Prose

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.source.document import Document
    from stripewright.words.grammar import Fault

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


def write_body(
    worked: WorkedPattern, document: Document, settings: Settings
) -> tuple[Prose, Prose, list[Problem]]:
    """The public introduction, the rest, and what is wrong with either.

    A paid pattern's introduction is filled in from public facts alone.
    """
    raw_html = settings.raw_html
    text = document.body.replace(_OPEN, "").replace(_CLOSE, "")
    lines = text.split("\n")
    split = first_heading(_without_comments(text), raw_html=raw_html)
    at = len(lines) if split is None else split
    paid = worked.pattern.access == "paid"
    shared: dict[str, Any] = {}
    problems: list[Problem] = []

    def part(begin: int, end: int, *, public: bool) -> Prose:
        first = document.body_line + begin
        filled, where, found = fill_text(
            "\n".join(lines[begin:end]), document.file, first,
            lambda: namespace(worked, Figures.of(settings), public=public),
        )  # fmt: skip
        read, more = prose(filled, document.file, first, raw_html=raw_html, lines=where,
                           sponsored=sponsored_hosts(settings), shared=shared)  # fmt: skip
        problems.extend([*found, *more])
        return read

    # The rest comes first: the introduction may use its link references and point to its headings.
    body = part(at, len(lines), public=False)
    intro, body = _parted(part(0, at, public=paid), body)
    if paid and body.empty and not intro.empty:
        problems.append(
            warning(Place(document.file, document.body_line, 1),
                    "all of this paid pattern's text is public: it has no heading",
                    "what stands from the first heading on is for buyers only")
        )  # fmt: skip
    return intro, body, problems


def _without_comments(text: str) -> str:
    return _COMMENT.sub(lambda match: re.sub(r"[^\n]", " ", match[0]), text)


def sponsored_hosts(settings: Settings) -> frozenset[str]:
    """The shops whose links earn the maker something."""
    return frozenset(shop.host for shop in settings.shops if shop.sponsored)


def _parted(intro: Prose, body: Prose) -> tuple[Prose, Prose]:
    """Move what stands from a heading on out of the introduction.

    A template can bring a heading forth where its text showed none; it is private all the same.
    """
    for index, token in enumerate(intro.tokens):
        if token.type == "heading_open" and token.level == 0:
            lines = intro.source.split("\n")
            at = token.meta["at"]
            rest = "\n".join([*lines[at:], body.source])
            return (
                Prose("\n".join(lines[:at]), intro.tokens[:index]),
                Prose(rest, intro.tokens[index:] + body.tokens),
            )
    return intro, body


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
