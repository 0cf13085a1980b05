"""Tokens -> HTML that is safe to show as it is."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from markdown_it import MarkdownIt
from markdown_it.common.utils import escapeHtml
from markdown_it.renderer import RendererHTML

from stripewright.words.links import photo_fault, resolved
from stripewright.words.shown import with_widths

if TYPE_CHECKING:
    from collections.abc import Mapping, MutableMapping, Sequence

    from markdown_it.token import Token
    from markdown_it.utils import OptionsDict

    from stripewright.words.shown import ShownPicture
    from stripewright.words.written import Prose

_TAGS = """
    a abbr b blockquote br caption code dd del details div dl dt em figcaption figure
    h1 h2 h3 h4 h5 h6 hr i img ins kbd li mark ol p pre q s samp small span strong sub summary sup
    table tbody td th thead tr u ul
"""
_TOP = 2
"""The level of an author's highest heading: a page has one above it."""
HTML_TAGS = frozenset(_TAGS.split())
"""All that the author's own HTML may be made of."""

HTML_ATTRIBUTES = {
    "a": {"href", "title", "rel"},
    "abbr": {"title"},
    "code": {"class"},
    "div": {"class", "tabindex", "role", "aria-label"},
    "img": {"src", "alt", "title", "width", "height", "loading"},
    "ol": {"start"},
    "pre": {"tabindex"},
    "td": {"class"},
    "th": {"class"},
    **{f"h{n}": {"id"} for n in range(1, 7)},
}
_ALIGNED = re.compile(r"to-(?:left|right|center)\Z")


class _Html(RendererHTML):
    """The library's renderer, with headings under the page's own, tables that scroll, own links."""

    def heading_open(self, tokens: Sequence[Token], idx: int, *_: object) -> str:
        token = tokens[idx]
        return f'<{_heading(token)} id="{escapeHtml(str(token.attrGet("id")))}">'

    def heading_close(self, tokens: Sequence[Token], idx: int, *_: object) -> str:
        return f"</{_heading(tokens[idx])}>\n"

    def table_open(self, *_: object) -> str:
        return '<div class="scroll" tabindex="0" role="group" aria-label="Table"><table>\n'

    def table_close(self, *_: object) -> str:
        return "</table></div>\n"

    def th_open(self, tokens: Sequence[Token], idx: int, *_: object) -> str:
        return _cell(tokens[idx])

    td_open = th_open

    def link_open(self, tokens: Sequence[Token], idx: int, _: OptionsDict, env: Any) -> str:
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
        return f'<img{_attributes(attributes)} loading="lazy">'

    def fence(self, tokens: Sequence[Token], idx: int, *_: object) -> str:
        return f'<pre tabindex="0"><code>{escapeHtml(tokens[idx].content)}</code></pre>\n'

    def code_block(self, tokens: Sequence[Token], idx: int, *_: object) -> str:
        return self.fence(tokens, idx)


def _heading(token: Token) -> str:
    return f"h{min(6, _TOP + token.meta['rank'])}"


def _cell(token: Token) -> str:
    """A cell's tag. Its alignment is a class: the pages' policy lets no style attribute in."""
    side = str(token.attrGet("style") or "").removeprefix("text-align:")
    return f'<{token.tag} class="to-{side}">' if side else f"<{token.tag}>"


def _attributes(attributes: Mapping[str, str | int | float]) -> str:
    return "".join(f' {name}="{escapeHtml(str(value))}"' for name, value in attributes.items())


@lru_cache(maxsize=1)
def _renderer() -> tuple[_Html, OptionsDict]:
    return _Html(), MarkdownIt("commonmark").options


def to_html(
    prose: Prose,
    *,
    root: str = "../../",
    photos: Mapping[str, ShownPicture] | None = None,
) -> str:
    """A text as HTML that is safe to show as it is.

    Args:
        prose: the text.
        root: the way from the page that shows it to the site's root.
        photos: what is published of its pictures, by file name.
    """
    if prose.empty:
        return ""
    renderer, options = _renderer()
    env: MutableMapping[str, Any] = {"root": root}
    html = renderer.render(list(prose.tokens), options, env)
    safe = _filtered(html, root) if _has_html(prose.tokens) else html
    return with_widths(safe, root, photos or {})


def _has_html(tokens: Sequence[Token]) -> bool:
    return any(
        token.type == "html_block"
        or any(child.type == "html_inline" for child in token.children or ())
        for token in tokens
    )


def _filtered(html: str, root: str) -> str:
    """The author's HTML, with all but an allow-list taken out."""
    import nh3

    def attribute(_tag: str, name: str, value: str) -> str | None:
        if name == "src":
            inside = value.removeprefix(f"{root}photos/")
            return value if inside != value and photo_fault(inside) is None else None
        if name == "class":
            return value if value == "scroll" or _ALIGNED.match(value) else None
        if name == "id":
            return value if value.startswith("h-") else None
        return value

    return nh3.clean(
        html,
        tags=set(HTML_TAGS),
        attributes={tag: set(names) for tag, names in HTML_ATTRIBUTES.items()},
        attribute_filter=attribute,
        url_schemes={"http", "https", "mailto", "tel"},
        link_rel=None,
    )
