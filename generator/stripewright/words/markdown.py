"""Markdown -> tokens -> HTML. CommonMark with tables and strikethrough; HTML is text unless allowed.

A text's tokens keep the lines of the source file (`token.map`, 1-based), so that whatever is
found wrong with them later can still be placed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, MutableMapping, Sequence
from functools import lru_cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.common.utils import escapeHtml
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import OptionsDict

from stripewright.problems import Place, Problem, error, warning
from stripewright.source.document import Document
from stripewright.words.facts import nearest
from stripewright.words.links import link_fault, photo_fault, resolved
from stripewright.words.written import Prose

ID = "h-"
"""Headings' ids begin with it, so that they never meet one of the page's own."""

HTML_TAGS = frozenset(
    "a abbr b blockquote br caption code dd del details div dl dt em figcaption figure h1 h2 h3 h4 h5 h6 "
    "hr i img ins kbd li mark ol p pre q s samp small span strong sub summary sup table tbody td "
    "th thead tr u ul".split()
)
HTML_ATTRIBUTES = {
    "a": {"href", "title", "rel"},
    "abbr": {"title"},
    "code": {"class"},
    "div": {"class", "tabindex", "role", "aria-label"},
    "img": {"src", "alt", "title", "width", "height", "loading"},
    "ol": {"start"},
    "pre": {"tabindex"},
    "td": {"style"},
    "th": {"style"},
    **{f"h{n}": {"id"} for n in range(1, 7)},
}
_STYLES = re.compile(r"text-align:(?:left|right|center)\Z")


@lru_cache(maxsize=2)
def _parser(raw_html: bool) -> MarkdownIt:  # noqa: FBT001  # the cache's key
    parser = MarkdownIt("commonmark", {"html": raw_html}).enable(["table", "strikethrough"])
    # Every address is let through here and judged in `_check`, which can name its line.
    parser.validateLink = lambda _url: True  # type: ignore[method-assign]  # the library's own way to set it
    return parser


def prose(
    text: str,
    file: str,
    line: int = 1,
    *,
    raw_html: bool = False,
    lines: Sequence[int] | None = None,
    sponsored: frozenset[str] = frozenset(),
) -> tuple[Prose, list[Problem]]:
    """Read a text.

    Args:
        text: Markdown.
        file: where it stands, for problems.
        line: the file's line (1-based) that the text begins on.
        raw_html: whether HTML is let through (filtered when shown), rather than shown as text.
        lines: the file's line of each line of the text, when they don't simply follow `line`.
        sponsored: hosts whose links are marked as sponsored.

    Returns:
        The text with its tokens, and what is wrong with its links and pictures.
    """
    where = lines if lines is not None else range(line, line + text.count("\n") + 1)
    tokens = _parser(raw_html).parse(text)
    problems: list[Problem] = []
    _place(tokens, where)
    _rank(tokens)
    ids = _name(tokens)
    for token in tokens:
        if token.children:
            _check(
                token, Place(file, token.map[0] if token.map else line, 1), ids, sponsored, problems
            )
    return Prose(text, tuple(tokens)), problems


def _place(tokens: Sequence[Token], where: Sequence[int]) -> None:
    last = len(where) - 1
    for token in tokens:
        if token.map:
            begin, end = token.map
            token.map = [where[min(begin, last)], where[min(max(end - 1, begin), last)]]


def _rank(tokens: Sequence[Token]) -> None:
    """Give each heading its depth in this text, from 0, without a step left out."""
    levels: list[int] = []
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            level = int(token.tag[1])
            if token.type == "heading_open":
                while levels and levels[-1] >= level:
                    levels.pop()
                levels.append(level)
            token.meta = {**token.meta, "rank": len(levels) - 1}


def _slug(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "part"


def _name(tokens: Sequence[Token]) -> dict[str, str]:
    """Give each heading an id of its own; returns the ids by the anchor that a text writes."""
    ids: dict[str, str] = {}
    for token, inline in zip(tokens, tokens[1:], strict=False):
        if token.type == "heading_open":
            base = _slug("".join(child.content for child in inline.children or ()))
            name, number = base, 2
            while name in ids:
                name, number = f"{base}-{number}", number + 1
            ids[name] = ID + name
            token.attrSet("id", ID + name)
    return ids


def _check(
    block: Token, place: Place, ids: Mapping[str, str], sponsored: frozenset[str],
    problems: list[Problem],
) -> None:  # fmt: skip
    line = place.line
    for token in block.children or ():
        here = Place(place.file, line, 1)
        if token.type in ("softbreak", "hardbreak"):
            line += 1
        elif token.type == "link_open":
            href = str(token.attrGet("href") or "")
            fault = link_fault(href)
            if fault is None and href.startswith("#"):
                fault = _anchor(token, href, ids)
            elif fault is None and _host(href) in sponsored:
                token.attrSet("rel", "sponsored")
            if fault:
                problems.append(error(here, *fault))
        elif token.type == "image":
            fault = photo_fault(str(token.attrGet("src") or ""))
            if fault:
                problems.append(error(here, *fault))
            elif not token.content.strip():
                problems.append(
                    warning(here, "this picture has no words for those who can't see it",
                            "say what it shows, like ![a folded hat](hat.jpg)")
                )  # fmt: skip


def _anchor(token: Token, href: str, ids: Mapping[str, str]) -> tuple[str, str] | None:
    name = href[1:].removeprefix(ID)
    if name not in ids:
        return f"there is no heading “{name}” in this text", nearest(name, ids)
    token.attrSet("href", "#" + ids[name])
    return None


def _host(href: str) -> str:
    match = re.match(r"https?://(?:[^/?#@]*@)?([^/?#:]+)", href, re.IGNORECASE)
    return match[1].lower() if match else ""


def images_in(prose: Prose, document: Document) -> dict[str, Place]:
    """The pictures that a text shows: file name -> where it is first named."""
    found: dict[str, Place] = {}
    for block in prose.tokens:
        line = block.map[0] if block.map else document.body_line
        for token in block.children or ():
            if token.type in ("softbreak", "hardbreak"):
                line += 1
            elif token.type == "image":
                found.setdefault(str(token.attrGet("src")), Place(document.file, line, 1))
    return found


class _Html(RendererHTML):
    """The library's renderer, with headings under the page's own, tables that scroll, own links."""

    def heading_open(
        self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any
    ) -> str:
        token = tokens[idx]
        return f'<{_heading(token, env)} id="{escapeHtml(str(token.attrGet("id")))}">'

    def heading_close(
        self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any
    ) -> str:
        return f"</{_heading(tokens[idx], env)}>\n"

    def table_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return '<div class="scroll" tabindex="0" role="group" aria-label="Table"><table>\n'

    def table_close(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return "</table></div>\n"

    def link_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        token = tokens[idx]
        attributes = {**token.attrs, "href": resolved(str(token.attrGet("href")), env["root"])}
        return f"<a{_attributes(attributes)}>"

    def image(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        token = tokens[idx]
        name = str(token.attrGet("src"))
        attributes: dict[str, str | int | float] = {
            "src": f"{env['root']}photos/{name}",
            "alt": self.renderInlineAsText(token.children or [], options, env),
        }
        if title := token.attrGet("title"):
            attributes["title"] = title
        if name in env["photos"]:
            attributes["width"], attributes["height"] = env["photos"][name]
        return f'<img{_attributes(attributes)} loading="lazy">'

    def fence(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: Any) -> str:
        return f'<pre tabindex="0"><code>{escapeHtml(tokens[idx].content)}</code></pre>\n'

    code_block = fence


def _heading(token: Token, env: Mapping[str, Any]) -> str:
    return f"h{min(6, env['top'] + token.meta['rank'])}"


def _attributes(attributes: Mapping[str, str | int | float]) -> str:
    return "".join(f' {name}="{escapeHtml(str(value))}"' for name, value in attributes.items())


@lru_cache(maxsize=1)
def _renderer() -> tuple[_Html, OptionsDict]:
    return _Html(), _parser(raw_html=False).options


def to_html(
    prose: Prose,
    *,
    root: str = "../../",
    top: int = 2,
    photos: Mapping[str, tuple[int, int]] | None = None,
) -> str:
    """A text as HTML that is safe to show as it is.

    Args:
        prose: the text.
        root: the way from the page that shows it to the site's root.
        top: the level of its highest heading.
        photos: width and height in pixels by file name, so that nothing moves while they load.
    """
    if prose.empty:
        return ""
    renderer, options = _renderer()
    env: MutableMapping[str, Any] = {"root": root, "top": top, "photos": photos or {}}
    html = renderer.render(list(prose.tokens), options, env)
    return _filtered(html, root) if _has_html(prose.tokens) else html


def _has_html(tokens: Sequence[Token]) -> bool:
    return any(
        token.type == "html_block"
        or any(child.type == "html_inline" for child in token.children or ())
        for token in tokens
    )


def _filtered(html: str, root: str) -> str:
    """The author's HTML, with all but an allow-list taken out."""
    import nh3  # noqa: PLC0415  # only studios that let HTML through pay for it

    def attribute(tag: str, name: str, value: str) -> str | None:
        if name == "src":
            inside = value.removeprefix(f"{root}photos/")
            return value if inside != value and photo_fault(inside) is None else None
        if name == "style":
            return value if _STYLES.match(value) else None
        if name == "class":
            return value if value == "scroll" else None
        if name == "id":
            return value if value.startswith(ID) else None
        return value

    return nh3.clean(
        html,
        tags=set(HTML_TAGS),
        attributes={tag: set(names) for tag, names in HTML_ATTRIBUTES.items()},
        attribute_filter=attribute,
        url_schemes={"http", "https", "mailto", "tel"},
        link_rel=None,
    )
