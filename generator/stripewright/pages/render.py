"""Views -> files. One Jinja environment a site, made once; every page is one template rendered."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FunctionLoader, StrictUndefined

from stripewright import addresses
from stripewright.catalogue import locale_named, plain, plural, speaking
from stripewright.pages import clean, links, structured
from stripewright.pages.assets import TOKENS, Assets
from stripewright.pages.cards import by_day
from stripewright.pages.feed import entries, feed_id, last_day
from stripewright.pages.marks import Spans, own_language
from stripewright.pages.one_file import one_file, policy_hash
from stripewright.pages.parts import parts_of
from stripewright.pages.search import SearchIndex
from stripewright.pages.sitemap import places
from stripewright.pages.tags import tags_of
from stripewright.pages.theme import COMPILED
from stripewright.pattern.kinds import OTHERS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from stripewright.catalogue import Locale
    from stripewright.pages.cards import Card
    from stripewright.pages.parts import Part
    from stripewright.pages.structured import LinkedData
    from stripewright.pages.theme import Theme
    from stripewright.pattern.kinds import Kind
    from stripewright.view.views import PatternView, PostView, SiteView

    Page = Callable[[], bytes]
    """A page still to be made."""

HOME_CARDS = 6
HOME_POSTS = 3
SCRIPTS_SAY = ("themes/*.js", "*/view/named.py", "*/pages/families.py")
"""Where the messages stand that scripts tell: in themselves, and names on cards and in filters."""


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
            bytecode_cache=COMPILED,
        )
        jinja.policies["ext.i18n.trimmed"] = True
        jinja.add_extension("jinja2.ext.i18n")
        jinja.install_gettext_callables(plain, plural, newstyle=True)  # type: ignore[attr-defined]  # the extension's
        jinja.filters.update(self.marks.filters())
        jinja.globals.update(
            site=self.about,
            pattern_path=addresses.pattern_path,
            own_lang=partial(own_language, self.about.language),
            share=addresses.SHARE,
            share_size=links.SHARE_SIZE,
            tag_slug=links.tag_slug,
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
        views: Mapping[str, Sequence[Any]],
    ) -> dict[str, Page]:
        """Every page that is not a pattern's: home, lists, posts, tags, feed, sitemap, robots.

        Each is made when it is called for: one at a time takes less memory.

        Args:
            patterns: what lists show of the patterns.
            views: what is shown of the other kinds of content, by their folders.
        """
        cards = by_day(patterns)
        others = {kind.folder: views.get(kind.folder, ()) for kind in OTHERS}
        for kind in OTHERS:
            if kind.dated:
                others[kind.folder] = sorted(others[kind.folder], key=_day, reverse=True)
        dated = [view for kind in OTHERS if kind.dated for view in others[kind.folder]]
        tags = tags_of(cards, dated)
        files = self._home_and_catalogue(cards, others)
        for kind in OTHERS:
            files |= self._kind(kind, others[kind.folder], cards)
        files |= self._listing("tags.html", addresses.TAGS, "Tags", tags=tags)
        for tag in tags:
            path = addresses.tag_path(tag.slug)
            files |= self._in_parts("tag.html", path, tag.title, tag.cards, tag=tag)
        files[addresses.FEED] = partial(self._feed, cards, dated)
        files[addresses.ROBOTS] = partial(self._page, "robots.txt", addresses.ROBOTS)
        if self.about.address:
            files[addresses.SITEMAP] = lambda: self._page(
                "sitemap.xml", addresses.SITEMAP, places=places(cards, others, tags)
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
        return self._page(
            "404.html", addresses.MISSING, styles=styles, styles_hash=policy_hash(styles)
        )

    def _home_and_catalogue(
        self, cards: Sequence[Card], others: Mapping[str, Sequence[Any]]
    ) -> dict[str, Page]:
        home = partial(
            self._page,
            "home.html",
            addresses.HOME,
            cards=cards[:HOME_CARDS],
            total=len(cards),
            posts=others["posts"][:HOME_POSTS],
            data=[structured.website(self.about)],
        )
        files: dict[str, Page] = {addresses.HOME: home}
        index = SearchIndex(cards)
        files[index.path] = lambda: index.data
        files |= self._in_parts(
            "catalogue.html", addresses.CATALOGUE, "Patterns", cards, index=index
        )
        return files

    def _kind(self, kind: Kind, views: Sequence[Any], cards: Sequence[Card]) -> dict[str, Page]:
        """A kind's list and its own pages, by the templates called by its folder and its word."""
        files: dict[str, Page] = {}
        if kind.listed:
            template = f"{kind.folder}.html"
            files |= self._listing(template, kind.list_path, kind.title, **{kind.folder: views})
        if kind.own_page:
            files |= {view.path: partial(self._own_page, kind, view, cards) for view in views}
        return files

    def _feed(self, cards: Sequence[Card], posts: Sequence[PostView]) -> bytes:
        told = entries(self.about, cards, posts)
        return self._page(
            "feed.xml",
            addresses.FEED,
            entries=told,
            feed_id=feed_id(self.about),
            updated=last_day(told),
        )

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

    def _own_page(self, kind: Kind, view: PostView, cards: Sequence[Card]) -> bytes:
        """The page of a post, or of anything else that is a text."""
        above = [(kind.title, kind.list_path)] if kind.listed else []
        trail = (self._home, *above, (view.title, view.path))
        data = [structured.post(view, self.about)] if kind.dated else []
        data += structured.breadcrumbs(self.about, trail)
        about = [card for card in cards if card.view.slug in view.patterns]
        values = {kind.word: view, "cards": about, "data": data}
        return self._page(f"{kind.word}.html", view.path, **values)

    def _styles(self) -> str:
        """The page's styles in one text, for the page that must carry its own."""
        names = (TOKENS, "base.css", "theme.css")
        parts = (self.assets.plain.get(addresses.asset_path(name), b"") for name in names)
        return "\n".join(part.decode("utf-8") for part in parts)


def _day(post: PostView) -> tuple[str, str]:
    """What a list of texts is ordered by; a draft is the latest."""
    return (post.published or "9999", post.slug)
