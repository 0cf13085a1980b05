"""Settings, posts, pages and sheets -> what may be shown of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from stripewright.catalogue import _, plain, speaking
from stripewright.figures import Figures
from stripewright.pattern.settings import Page
from stripewright.view.views import OfferView, PostView, SheetView, SiteView
from stripewright.words.html import to_html

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from stripewright.pattern.quantities import Money
    from stripewright.pattern.settings import Post, Settings, ShopHost
    from stripewright.pattern.sheets import Sheets
    from stripewright.words.shown import ShownPicture
    from stripewright.words.written import Prose

    Pictures = Mapping[str, ShownPicture]


def site_view(
    settings: Settings,
    menu: Sequence[tuple[str, str]] = (),
    *,
    lists: Sequence[tuple[str, str]] = (),
    preview: bool = False,
) -> SiteView:
    """What every page knows of the site.

    Args:
        settings: the studio's.
        menu: title and path from the root of the free-standing pages that the menu shows.
        lists: title and path of the lists that the menu shows.
        preview: whether the site is built for the preview.
    """
    with speaking(settings.words):
        disclosure = plain(settings.disclosure)
    return SiteView(
        title=settings.title,
        maker=settings.maker,
        summary=settings.summary,
        address=settings.address,
        language=settings.language,
        units=settings.units,
        terms=settings.terms,
        tokens=dict(sorted(settings.tokens.items())),
        disclosure=disclosure,
        links=tuple((link.title, link.url) for link in settings.links),
        menu=tuple(menu),
        lists=tuple(lists),
        disclosed=any(shop.sponsored for shop in settings.shops),
        preview=preview,
    )


def post_view(
    post: Post | Page,
    path: str,
    slug: str,
    prose: Prose,
    *,
    held: str = "",
    pictures: Pictures | None = None,
) -> PostView:
    """A post, or a free-standing page: that has no day, no tags and no patterns.

    Args:
        post: its front matter.
        path: its page, from the site's root.
        slug: its part of the address.
        prose: its text.
        held: why it is not published yet, or "".
        pictures: width and height in pixels of the studio's pictures, by file name.
    """
    html = to_html(prose, root="../" * path.count("/"), photos=pictures)
    told = PostView(slug, path, post.title, post.summary, None, None, held_told(held), (), html)
    if isinstance(post, Page):
        return replace(told, menu=post.menu)
    return replace(
        told,
        published=post.published.isoformat() if post.published else None,
        updated=post.updated.isoformat() if post.updated else None,
        tags=post.tags,
        patterns=post.patterns,
    )


def held_told(held: str) -> str:
    """Why something is not published yet, in the words of the page."""
    until = held.removeprefix("held back until ")
    return _("held back until {day}", day=until) if until != held else held and _("draft")


def sheet_view(
    sheets: Sheets, slug: str, settings: Settings, *, pages: int, pdfs: Mapping[str, str]
) -> SheetView:
    """A file of planning sheets."""
    return SheetView(
        slug=slug,
        title=sheets.title,
        summary=sheets.summary,
        pages=pages,
        pdfs=pdfs,
        offer=offer_view(sheets.price, sheets.shop, settings),
    )


def offer_view(price: Money | None, shop: str | None, settings: Settings) -> OfferView | None:
    """What something costs and where it is sold; None of what is free."""
    if price is None or shop is None:
        return None
    currency = price.currency or settings.currency
    told = Figures.of(settings).price(price.amount, currency)
    return OfferView(price.amount, currency, told, shop, is_sponsored(shop, settings))


def is_sponsored(url: str, settings: Settings) -> bool:
    """Whether a link goes to a shop, or a host under it, that the settings mark as sponsored."""
    return shop_of(url, [shop for shop in settings.shops if shop.sponsored]) is not None


def shop_of(url: str, shops: Iterable[ShopHost]) -> ShopHost | None:
    """The shop that a link goes to, or to a host under it; of several the one that says most."""
    host = urlsplit(url).hostname or ""
    found = [one for one in shops if host == one.host or host.endswith(f".{one.host}")]
    return max(found, key=lambda one: len(one.host), default=None)
