"""Views -> files. One Jinja environment a site, made once; every page is one template rendered."""

from __future__ import annotations

import base64
from dataclasses import replace
from functools import cached_property, partial
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from jinja2 import BytecodeCache, Environment, FunctionLoader, StrictUndefined

from stripewright import addresses
from stripewright.catalogue import locale_named, plain, plural, speaking
from stripewright.pages import clean, links, structured
from stripewright.pages.assets import TOKENS, Assets
from stripewright.pages.catalogue import by_day
from stripewright.pages.feed import entries, feed_id, last_day
from stripewright.pages.marks import Spans, own_language
from stripewright.pages.one_file import one_file
from stripewright.pages.parts import parts_of
from stripewright.pages.search import SearchIndex
from stripewright.pages.sitemap import places
from stripewright.pages.tags import tags_of
from stripewright.view.runs import in_runs

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from types import CodeType

    from jinja2.bccache import Bucket

    from stripewright.catalogue import Locale
    from stripewright.pages.cards import Card
    from stripewright.pages.parts import Part
    from stripewright.pages.structured import LinkedData
    from stripewright.pages.theme import Theme
    from stripewright.view.views import PatternView, PostView, SheetView, SiteView

    Page = Callable[[], bytes]
    """A page still to be made."""

HOME_CARDS = 6
HOME_POSTS = 3
SCRIPTS_SAY = ("themes/*.js", "*/view/named.py")
"""Where the messages stand that scripts tell: in themselves, and the names on cards."""


class _Compiled(BytecodeCache):
    """Templates, compiled once in a process by their name and text.

    What depends on a site is asked for when a page is made (see `Spans.filters`): they serve every
    site, such as the next one of a preview whose settings changed.
    """

    MOST = 500

    def __init__(self) -> None:
        self.kept: dict[tuple[str, str], CodeType | None] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self.kept.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        if len(self.kept) == self.MOST:
            self.kept.clear()
        self.kept[bucket.key, bucket.checksum] = bucket.code


_COMPILED = _Compiled()


class Renderer:
    """A site's pages in a theme.

    Args:
        site: what every page knows.
        theme: the templates and styles.
        lasting: whether the names of styles and scripts carry fingerprints.
    """

    def __init__(self, site: SiteView, theme: Theme, *, lasting: bool = False) -> None:
        self.about = site
        self.theme = theme
        self.assets = Assets(theme, site.tokens, lasting=lasting)
        self.marks = Spans.of(site)

    @cached_property
    def _jinja(self) -> Environment:
        jinja = Environment(
            loader=FunctionLoader(self.theme.source),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
            bytecode_cache=_COMPILED,
        )
        jinja.policies["ext.i18n.trimmed"] = True
        jinja.add_extension("jinja2.ext.i18n")
        jinja.install_gettext_callables(plain, plural, newstyle=True)  # type: ignore[attr-defined]  # the extension's
        jinja.filters.update(self.marks.filters())
        jinja.globals.update(
            site=self.about,
            pattern_path=addresses.pattern_path,
            post_path=addresses.post_path,
            own_lang=partial(own_language, self.about.language),
            share=addresses.SHARE,
            share_size=links.SHARE_SIZE,
            tag_slug=links.tag_slug,
            in_runs=in_runs,
            scripts=frozenset(self.theme.under("assets/")),
        )
        return jinja

    def _page(self, template: str, path: str, **values: Any) -> bytes:
        with speaking(locale_named(self.about.language, self.about.terms)) as words:
            return self._told(template, path, words, **values)

    def _told(self, template: str, path: str, words: Locale, **values: Any) -> bytes:
        here = links.Links(
            path,
            self.about.address,
            self._start if path == addresses.MISSING else None,
            named=self.assets.names,
        )
        values.setdefault("data", ())
        text = self._jinja.get_template(template).render(
            here=here,
            link=here.to,
            lang=words.tag,
            messages=words.of(*SCRIPTS_SAY),
            structured=structured.as_script,
            **values,
        )
        return clean.clean_document(text)

    def pattern(self, view: PatternView) -> dict[str, bytes]:
        """A pattern's page. Its drawings, PDFs and pictures are files that others write."""
        path = addresses.pattern_path(view.slug)
        trail = (self._home, ("Patterns", addresses.CATALOGUE), (view.title, path))
        data = [
            structured.pattern(view, self.about),
            *structured.breadcrumbs(self.about, trail),
        ]
        return {path: self._page("pattern.html", path, pattern=view, data=data)}

    def pack(self, view: PatternView, pictures: Mapping[str, bytes]) -> bytes:
        """The page of a pattern's pack: the whole pattern in one file.

        Args:
            view: the pattern, as its buyers see it.
            pictures: path from the site's root -> bytes, of the pictures that it shows.
        """
        path = addresses.pattern_path(view.slug)
        page = self._page("pack.html", path, pattern=replace(view, pdfs={}))
        return one_file(page, path, {**self.assets.files(), **pictures}, self.about.address)

    @property
    def _start(self) -> str | None:
        """Where the site stands, for the page that is shown at any address."""
        return "/" if self.about.preview else self.about.address

    @property
    def _home(self) -> tuple[str, str]:
        return (self.about.title, addresses.HOME)

    def site(
        self,
        patterns: Sequence[Card],
        posts: Sequence[PostView],
        pages: Sequence[PostView],
        sheets: Sequence[SheetView],
    ) -> dict[str, Page]:
        """Every page that is not a pattern's: home, lists, posts, tags, feed, sitemap, robots.

        Each is made when it is called for: one at a time takes less memory.
        """
        cards = by_day(patterns)
        posts = sorted(posts, key=lambda post: (post.published or "9999", post.slug), reverse=True)
        tags = tags_of(cards, posts)
        lists = {"cards": cards, "posts": posts, "pages": pages, "sheets": sheets, "tags": tags}
        files = self._lists(lists, cards, posts)
        for post in posts:
            files[addresses.post_path(post.slug)] = partial(self._post, post, cards)
        for tag in tags:
            path = addresses.tag_path(tag.slug)
            files |= self._in_parts("tag.html", path, tag.title, tag.cards, tag=tag)
        for page in pages:
            files |= self._listing(
                "page.html", addresses.page_path(page.slug), page.title, page=page
            )
        files[addresses.MISSING] = self._missing
        return files

    def text(self, template: str, **values: Any) -> str:
        """A plain text for elsewhere: beside a film, in a shop, in a newsletter."""
        return self._jinja.get_template(template).render(**values)

    def moved(self, path: str, to: str, title: str) -> bytes:
        """The page at an address that another page had before: it leads on there."""
        return self._page("moved.html", path, to=to, title=title)

    def _missing(self) -> bytes:
        styles = self._styles()
        return self._page("404.html", "404.html", styles=styles, styles_hash=_policy_hash(styles))

    def _lists(
        self, lists: Mapping[str, Any], cards: Sequence[Card], posts: Sequence[PostView]
    ) -> dict[str, Page]:
        home = partial(
            self._page,
            "home.html",
            addresses.HOME,
            cards=cards[:HOME_CARDS],
            total=len(cards),
            posts=posts[:HOME_POSTS],
            data=[structured.website(self.about)],
        )
        files: dict[str, Page] = {addresses.HOME: home}
        index = SearchIndex(cards)
        files[index.path] = lambda: index.data
        files |= self._in_parts(
            "catalogue.html", addresses.CATALOGUE, "Patterns", cards, index=index
        )
        files |= self._listing("posts.html", addresses.POSTS, "Posts", posts=posts)
        files |= self._listing("tags.html", addresses.TAGS, "Tags", tags=lists["tags"])
        files |= self._listing(
            "sheets.html", addresses.SHEETS, "Planning sheets", sheets=lists["sheets"]
        )
        files["feed.xml"] = partial(self._feed, cards, posts)
        files["robots.txt"] = partial(self._page, "robots.txt", "robots.txt")
        if self.about.address:
            files["sitemap.xml"] = partial(self._sitemap, lists)
        return files

    def _feed(self, cards: Sequence[Card], posts: Sequence[PostView]) -> bytes:
        told = entries(self.about, cards, posts)
        return self._page(
            "feed.xml",
            "feed.xml",
            entries=told,
            feed_id=feed_id(self.about),
            updated=last_day(told),
        )

    def _sitemap(self, lists: Mapping[str, Any]) -> bytes:
        found = places(lists["cards"], lists["posts"], lists["pages"], lists["tags"])
        return self._page("sitemap.xml", "sitemap.xml", places=found)

    def _listing(self, template: str, path: str, title: str, **values: Any) -> dict[str, Page]:
        trail = (self._home, (title, path))
        data: list[LinkedData] = structured.breadcrumbs(self.about, trail)
        return {path: partial(self._page, template, path, data=data, **values)}

    def _in_parts(
        self, template: str, path: str, title: str, cards: Sequence[Card], **values: Any
    ) -> dict[str, Page]:
        """A list of patterns, of which a long one has several pages."""
        return {
            part.path: partial(self._part, template, title, part, **values)
            for part in parts_of(path, cards)
        }

    def _part(self, template: str, title: str, part: Part, **values: Any) -> bytes:
        trail = [self._home, (title, part.list_path)]
        if part.number > 1:
            trail.append((f"{title}, {part.number}", part.path))
        data = structured.breadcrumbs(self.about, trail)
        return self._page(template, part.path, data=data, part=part, cards=part.cards, **values)

    def _post(self, post: PostView, cards: Sequence[Card]) -> bytes:
        path = addresses.post_path(post.slug)
        trail = (self._home, ("Posts", addresses.POSTS), (post.title, path))
        data = [structured.post(post, self.about), *structured.breadcrumbs(self.about, trail)]
        about = [card for card in cards if card.view.slug in post.patterns]
        return self._page("post.html", path, post=post, cards=about, data=data)

    def _styles(self) -> str:
        """The page's styles in one text, for the page that must carry its own."""
        names = (TOKENS, "base.css", "theme.css")
        parts = (self.assets.plain.get(addresses.asset_path(name), b"") for name in names)
        return "\n".join(part.decode("utf-8") for part in parts)


def _policy_hash(text: str) -> str:
    """What a content security policy calls an inline style by (CSP level 2)."""
    return "sha256-" + base64.b64encode(sha256(text.encode("utf-8")).digest()).decode("ascii")
