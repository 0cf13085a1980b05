"""The author's body: a template over the numbers, then Markdown, parted at the first heading."""

from __future__ import annotations

import re
from functools import lru_cache, partial
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import say
from stripewright.compute.public import equal_bands
from stripewright.figures import Figures
from stripewright.problems import Place, Problem, error, warning
from stripewright.words.boundary import check_introduction
from stripewright.words.markdown import first_heading, prose
from stripewright.words.namespace import namespace
from stripewright.words.sandbox import Compiled, Language, Meter, fill_in, unknown_names
from stripewright.words.shown_blocks import BOLD, PLAIN
from stripewright.words.written import Prose

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from markdown_it.token import Token

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.source.document import Document
    from stripewright.words.grammar import TemplateFault

_OPEN, _CLOSE = "\ue000", "\ue001"
"""Private characters that carry a line's number through the template; no text keeps its own."""

STEPS = "\ue002"
"""What `{{ steps }}` becomes until the text is read; no text keeps its own."""

_STEPS = re.compile(r" {0,3}\{\{\s*steps\s*\}\}\s*", re.ASCII)
_MARK = re.compile(f"{_OPEN}(\\d+){_CLOSE}\n")
_ASKED = re.compile(r"(?<!\{)(\{\{ *[A-Za-z]\w*(?:\.\w+(?:\([0-9]*\))?)? *\}\})", re.ASCII)
"""A place that asks for one fact, like `{{ cover.stitches }}` or `{{ cover.change(2) }}`."""
_COMMENT = re.compile(r"\{#.*?#\}", re.DOTALL)
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>()#+\-.!|~&=:^$@])")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ue000\ue001\ue003\ue004]+")
_PRIVATE = str.maketrans("", "", _OPEN + _CLOSE + STEPS + BOLD + PLAIN)


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
    worked: WorkedPattern, document: Document, settings: Settings, meter: Meter
) -> tuple[Prose, Prose, int | None, list[Problem]]:
    """The public introduction, the rest, where in that the steps stand, and what is wrong.

    A paid pattern's introduction is filled in from public facts alone. It ends at the first
    heading, or at the steps if they stand above it.
    """
    lines, at = _split(document, raw_html=settings.raw_html)
    paid = worked.pattern.access == "paid"
    read_part = _reader(settings)
    problems: list[Problem] = []

    def part(begin: int, end: int, *, public: bool) -> Prose:
        first = document.body_line + begin
        source = "\n".join(lines[begin:end])
        given = partial(_names, worked, Figures.of(settings), public=public)
        filled, where, found = fill_text(source, document.file, first, given, meter)
        read, more = read_part(filled, document.file, first, lines=where)
        problems.extend([*found, *more])
        return read

    # The rest comes first: the introduction may use its link references and point to its headings.
    body = part(at, len(lines), public=False)
    intro, body = _parted(part(0, at, public=paid), body)
    body, steps_at, found = _steps_taken_out(intro, body, document.file)
    problems += found
    if paid:
        problems += check_introduction(intro, document.file)
    # A rest that is empty for a mistake in its template is a rest all the same.
    if paid and body.empty and not intro.empty and at == len(lines):
        what = say("all of this paid pattern's text is public: it has no heading")
        hint = say("what stands from the first heading on is for buyers only")
        problems.append(warning(Place(document.file, document.body_line, 1), what, hint))
    return intro, body, steps_at, problems


def _names(worked: WorkedPattern, figures: Figures, *, public: bool) -> dict[str, Any]:
    """What a text's template may name: for everyone, what the equal bands say."""
    shown = equal_bands(worked) if public else worked
    return {**namespace(shown, figures), "steps": STEPS}


def check_body(document: Document, settings: Settings) -> list[Problem]:
    """What is wrong with a body whatever its numbers are, told while there are none yet."""
    lines, at = _split(document, raw_html=settings.raw_html)
    filled_in, read_part = _is_template(document.body), _reader(settings)
    problems: list[Problem] = []
    for begin, end in ((at, len(lines)), (0, at)):
        source, first = "\n".join(lines[begin:end]), document.body_line + begin
        if _is_template(source):
            problems += _told(_language().compile(source).faults, document.file, first)
        elif not filled_in:
            # Links may lead to headings that only a filled template has, so then none is read.
            read, found = read_part(source, document.file, first)
            problems += found
            if begin == 0 and document.front.get("access") == "paid":
                problems += check_introduction(read, document.file)
    return problems


def _reader(settings: Settings) -> Callable[..., tuple[Prose, list[Problem]]]:
    """`prose` for the parts of one text, which share their link references and headings' ids."""
    sponsored = sponsored_hosts(settings)
    return partial(prose, raw_html=settings.raw_html, sponsored=sponsored, shared={})


def _split(document: Document, *, raw_html: bool) -> tuple[list[str], int]:
    """The body's lines, and the first that is not the introduction's."""
    text = document.body.translate(_PRIVATE)
    lines = text.split("\n")
    bare = _without_comments(text)
    heading = first_heading(bare, raw_html=raw_html)
    at = len(lines) if heading is None else heading
    if "steps" in bare:
        placed = (n for n, line in enumerate(bare.split("\n")[:at]) if _STEPS.fullmatch(line))
        at = next(placed, at)
    return lines, at


def _stand_alone(tokens: Sequence[Token], index: int) -> bool:
    """Whether the steps stand here, in a paragraph of their own."""
    token = tokens[index]
    return token.type == "paragraph_open" and not token.level and tokens[index + 1].content == STEPS


def _steps_taken_out(
    intro: Prose, body: Prose, file: str
) -> tuple[Prose, int | None, list[Problem]]:
    """The body without the place of the steps, the token that it stood before, what is wrong."""
    tokens = body.tokens
    places = [index for index in range(len(tokens)) if _stand_alone(tokens, index)]
    problems = [
        error(
            Place(file, (tokens[index].map or [0])[0], 1),
            "the steps stand here a second time",
            "write {{ steps }} once",
        )
        for index in places[1:]
    ]
    problems += [
        error(
            Place(file, (token.map or [0])[0], 1),
            "the steps can't stand inside other text",
            "write {{ steps }} on a line of its own, with an empty line above and below it",
        )
        for number, token in enumerate((*tokens, *intro.tokens))
        if STEPS in token.content and number - 1 not in places
    ]
    if not places:
        return body, None, problems
    at = places[0]
    return Prose(body.source.replace(STEPS, ""), tokens[:at] + tokens[at + 3 :]), at, problems


def _without_comments(text: str) -> str:
    if "#}" not in text:
        return text
    end = text.rindex("#}") + 2  # behind it none is closed, and each would be looked for in vain
    return _COMMENT.sub(lambda match: re.sub(r"[^\n]", " ", match[0]), text[:end]) + text[end:]


def sponsored_hosts(settings: Settings) -> frozenset[str]:
    """The shops whose links earn the maker something."""
    return frozenset(shop.host for shop in settings.shops if shop.sponsored)


def _parted(intro: Prose, body: Prose) -> tuple[Prose, Prose]:
    """Move what stands from a heading, or the steps, on out of the introduction.

    A template can bring a heading forth where its text showed none; it is private all the same.
    """
    for index, token in enumerate(intro.tokens):
        heading = token.type == "heading_open" and token.level == 0
        if heading or _stand_alone(intro.tokens, index):
            lines = intro.source.split("\n")
            at = token.meta["at"] if heading else lines.index(STEPS)
            rest = "\n".join([*lines[at:], body.source])
            return (
                Prose("\n".join(lines[:at]), intro.tokens[:index]),
                Prose(rest, intro.tokens[index:] + body.tokens),
            )
    return intro, body


def fill_text(
    source: str, file: str, first: int, facts: Callable[[], Mapping[str, object]], meter: Meter
) -> tuple[str, list[int] | None, list[Problem]]:
    """Fill a text's template in.

    Args:
        source: the text.
        file: where it stands.
        first: the file's line (1-based) that it begins on.
        facts: gives what it may name; asked only when there is something to fill in.
        meter: what is left to the templates of the file.

    Returns:
        The filled text, the file's line of each of its lines (None when they follow `first`), and
        what is wrong. After a mistake the text is what was written up to it.
    """
    if not _is_template(source):
        return source, None, []
    known = facts()
    if (plainly := _plainly_filled(source, known, meter)) is not None:
        return plainly, None, []
    compiled: Compiled = _language().compile(source)
    if compiled.template is None:
        return "", None, _told(compiled.faults, file, first)
    unknown = unknown_names(compiled, known)
    if unknown:
        return "", None, _told(unknown, file, first)
    marked, fault = fill_in(compiled, known, meter)
    lines = [first + int(number) - 1 for number in _MARK.findall(marked)]
    last = lines[-1] + 1 if lines else first
    filled = _MARK.sub("\n", marked)
    return filled, [*lines, last], _told([fault] if fault else [], file, first)


def _plainly_filled(source: str, known: Mapping[str, object], meter: Meter) -> str | None:
    """A text filled in that does no more than ask for facts; None for others and after mistakes.

    Texts ask for the same facts over and over, and a template takes longest to compile.
    """
    parts = _ASKED.split(source)
    if any(map(_is_template, parts[::2])):
        return None
    for at in range(1, len(parts), 2):
        asked = _asked(parts[at])
        if asked.template is None or unknown_names(asked, known):
            return None
        parts[at], fault = fill_in(asked, known, meter)
        if fault:
            return None
    return "".join(parts)


@lru_cache(maxsize=1024)
def _asked(source: str) -> Compiled:
    return _language().compile(source)


def _is_template(source: str) -> bool:
    return "{{" in source or "{%" in source or "{#" in source


def _told(faults: Iterable[TemplateFault], file: str, first: int) -> list[Problem]:
    """A template's mistakes; `first` is the file's line that the template begins on."""
    return [
        error(Place(file, first + fault.line - 1, 1), fault.message, fault.hint) for fault in faults
    ]
