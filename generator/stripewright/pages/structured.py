"""Structured data for search engines: schema.org in JSON-LD.

Types and their properties: schema.org's HowTo, Product, Offer, BlogPosting, BreadcrumbList and
WebSite.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from markupsafe import Markup

from stripewright import addresses
from stripewright.catalogue import _
from stripewright.in_script import in_script
from stripewright.pages import links
from stripewright.times import minutes_told

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.view.views import OfferView, PatternView, PostView, SiteView

LinkedData = dict[str, Any]

CONTEXT = "https://schema.org"


def as_script(data: Sequence[LinkedData]) -> Markup:
    """Data as the text of a script element: nothing in it can end the element, or a line."""
    graph = {"@context": CONTEXT, "@graph": list(data)}
    return Markup(in_script(graph))  # noqa: S704  # the marks that matter are escaped


def _without_nothing(data: LinkedData) -> LinkedData:
    return {key: value for key, value in data.items() if value not in (None, "", [])}


def website(site: SiteView) -> LinkedData:
    """The site as a whole, for its home page."""
    return _without_nothing(
        {
            "@type": "WebSite",
            "name": site.title,
            "description": site.summary,
            "inLanguage": site.language,
            "url": site.address,
            "author": _person(site.maker),
        }
    )


def _person(name: str) -> LinkedData:
    return {"@type": "Person", "name": name}


def breadcrumbs(site: SiteView, trail: Sequence[tuple[str, str]]) -> list[LinkedData]:
    """Where a page stands: title and path of each page from home. Nothing without an address."""
    if site.address is None:
        return []
    items = [
        {
            "@type": "ListItem",
            "position": number,
            "name": title,
            "item": links.absolute(site.address, path),
        }
        for number, (title, path) in enumerate(trail, 1)
    ]
    return [{"@type": "BreadcrumbList", "itemListElement": items}]


def pattern(view: PatternView, site: SiteView) -> LinkedData:
    """A free pattern as a HowTo, a paid one as a Product with its Offer."""
    return _product(view, view.offer, site) if view.offer else _how_to(view, site)


def _common(view: PatternView, site: SiteView) -> LinkedData:
    path = addresses.pattern_path(view.slug)
    return {
        "name": view.title,
        "description": view.summary,
        "image": links.absolute(site.address, addresses.pattern_path(view.slug, addresses.SHARE)),
        "url": links.absolute(site.address, path),
    }


def _how_to(view: PatternView, site: SiteView) -> LinkedData:
    numbers = view.numbers
    supplies = [
        {
            "@type": "HowToSupply",
            "name": m.name,
            "requiredQuantity": str(m.length) if m.length else None,
        }
        for m in numbers.materials
    ]
    supplies += [{"@type": "HowToSupply", "name": supply.name} for supply in numbers.supplies]
    tool = _(
        "Knitting machine, {machine}", machine=numbers.machine[:1].lower() + numbers.machine[1:]
    )
    data = {
        "@type": "HowTo",
        **_common(view, site),
        "inLanguage": site.language,
        "author": _person(view.credit),
        "datePublished": view.published,
        "dateModified": view.updated,
        "totalTime": iso_duration(minutes_told(numbers.minutes)),
        "supply": [_without_nothing(supply) for supply in supplies],
        "tool": [{"@type": "HowToTool", "name": tool}],
        "step": _sections(view, site),
    }
    return _without_nothing(data)


def iso_duration(minutes: int) -> str:
    """Minutes as an ISO 8601 duration: `PT3H30M`."""
    hours, rest = divmod(minutes, 60)
    return "PT" + (f"{hours}H" if hours else "") + (f"{rest}M" if rest or not hours else "")


def _sections(view: PatternView, site: SiteView) -> list[LinkedData]:
    page = links.absolute(site.address, addresses.pattern_path(view.slug))
    sections = []
    for group in view.groups:
        steps = [
            _without_nothing(
                {
                    "@type": "HowToStep",
                    "name": step.title,
                    "text": step.text,
                    "url": f"{page}#step-{step.key}" if page else None,
                }
            )
            for step in view.shown_steps[group.key]
        ]
        section = {"@type": "HowToSection", "name": group.title, "itemListElement": steps}
        sections.append(section)
    return sections


def _product(view: PatternView, offer: OfferView, site: SiteView) -> LinkedData:
    offered = {
        "@type": "Offer",
        "price": f"{offer.amount:.2f}",
        "priceCurrency": offer.currency,
        "url": offer.shop,
        "availability": f"{CONTEXT}/InStock",
    }
    data = {
        "@type": "Product",
        **_common(view, site),
        "category": _("Knitting pattern: {kind}", kind=_(view.kind)),
        "sku": view.slug,
        "brand": {"@type": "Brand", "name": site.title},
        "offers": offered,
    }
    return _without_nothing(data)


def post(view: PostView, site: SiteView) -> LinkedData:
    """A post as a BlogPosting."""
    url = links.absolute(site.address, view.path)
    return _without_nothing(
        {
            "@type": "BlogPosting",
            "headline": view.title,
            "description": view.summary,
            "inLanguage": site.language,
            "author": _person(site.maker),
            "datePublished": view.published,
            "dateModified": view.updated or view.published,
            "url": url,
            "mainEntityOfPage": url,
            "keywords": ", ".join(view.tags),
        }
    )
