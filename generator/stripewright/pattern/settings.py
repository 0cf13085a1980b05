"""content/studio.yaml, and the other kinds of files, as written."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from stripewright.pattern.base import Written
from stripewright.pattern.pattern import SLUG, Pace
from stripewright.pattern.pieces import Fill, Piece
from stripewright.pattern.quantities import Day, GaugeText, Price
from stripewright.pattern.yarns import Machine, Swatch


class Link(Written):
    """A link of the site's head or foot."""

    title: str = Field(min_length=1, max_length=60)
    """What it says."""
    url: str = Field(pattern=r"^(https://|mailto:)")
    """Where it goes."""


class ShopHost(Written):
    """A shop that the site links to."""

    host: str = Field(pattern=r"^[a-z0-9.-]+$")
    """The host name, like shop.example.org."""
    sponsored: bool = False
    """Whether the maker earns by links to it: they are marked and a line says so."""


class Settings(Written):
    """The studio's settings."""

    title: str = Field(min_length=1, max_length=80)
    """The site's name."""
    maker: str = Field(min_length=1, max_length=80)
    """Who makes it."""
    summary: str = Field(min_length=1, max_length=300)
    """One sentence about the site."""
    address: str | None = Field(default=None, pattern=r"^https://[^\s]+/$")
    """Where the site will stand, ending in a slash; feeds and share pictures need it."""
    language: str = Field(default="en", pattern=r"^[a-z]{2}(-[A-Z]{2})?$")
    """Language of the content, like en or en-GB."""
    currency: str = Field(default="EUR", pattern=r"^[A-Z]{3}$")
    """ISO 4217 code of prices without one."""
    units: Literal["metric", "imperial"] = "metric"
    """Which units come first."""
    terms: Literal["uk", "us"] = "uk"
    """tension, cast off, colour; or gauge, bind off, color."""
    theme: str = Field(default="tideline", pattern=r"^[a-z][a-z0-9-]*$")
    """A shipped theme, or a folder in themes/."""
    tokens: dict[str, str] = {}
    """The theme's tokens that the studio sets otherwise."""
    pace: Pace = Pace()
    """The maker's usual pace."""
    techniques: dict[str, str] = {}
    """The studio's own words for a technique, by its name."""
    licence: str = Field(default="For personal use; please do not copy or resell the pattern.", max_length=500)
    """What readers may do with the patterns."""
    disclosure: str = Field(default="Some links to shops earn the maker a share of the sale, at no cost to you.", max_length=300)
    """The line shown where a link is sponsored."""
    shops: tuple[ShopHost, ...] = ()
    """Shops linked to."""
    links: tuple[Link, ...] = ()
    """Links in the foot of every page."""
    raw_html: bool = False
    """Whether HTML in Markdown is let through an allow-list filter; otherwise it is shown as text."""


class Post(Written):
    """A post's front matter."""

    title: str = Field(min_length=1, max_length=120)
    """Its title."""
    summary: str = Field(min_length=1, max_length=300)
    """One sentence for lists."""
    slug: str | None = Field(default=None, pattern=SLUG, max_length=80)
    """Its address; left out, the file's name."""
    published: Day | None = None
    """The day it appears: a day ahead is held back, none at all is a draft."""
    updated: Day | None = None
    """The day of the last change."""
    tags: tuple[str, ...] = Field(default=(), max_length=20)
    """Words to find it by."""
    patterns: tuple[str, ...] = ()
    """Slugs of patterns it is about."""


class Page(Written):
    """A free-standing page's front matter."""

    title: str = Field(min_length=1, max_length=120)
    """Its title."""
    summary: str = Field(min_length=1, max_length=300)
    """One sentence for search engines."""
    slug: str | None = Field(default=None, pattern=SLUG, max_length=80)
    """Its address; left out, the file's name."""
    menu: bool = True
    """Whether the site's menu shows it."""


class SheetOf(Written):
    """One blank planning sheet."""

    title: str = Field(min_length=1, max_length=120)
    """What the sheet is for."""
    form: Literal["tube", "panel", "filled", "hat", "blanket"]
    """The form to plan."""
    machine: Machine
    """The bed."""
    gauge: GaugeText | None = None
    """The gauge."""
    swatch: Swatch | None = None
    """A swatch, instead of the gauge."""
    rows: int = Field(ge=1, le=5000)
    """Visible rows to plan."""
    needles: int | None = Field(default=None, ge=2, le=1000)
    """Needles in work; left out, the whole bed."""
    panels: int = Field(default=1, ge=1, le=40)
    """Panels of a blanket."""


class Sheets(Written):
    """A file of planning sheets: one sheet, or a book of several."""

    title: str = Field(min_length=1, max_length=120)
    """The title."""
    summary: str = Field(min_length=1, max_length=300)
    """One sentence for lists."""
    slug: str | None = Field(default=None, pattern=SLUG, max_length=80)
    """Its address; left out, the file's name."""
    access: Literal["free", "paid"] = "free"
    """Free sheets are offered on the site; paid ones go into packs only."""
    price: Price | None = None
    """A paid book's price."""
    shop: str | None = Field(default=None, pattern=r"^https://")
    """Where a paid book is sold."""
    published: Day | None = None
    """The day they appear."""
    sheets: tuple[SheetOf, ...] = Field(min_length=1, max_length=200)
    """The sheets, one each."""


__all__ = ["Fill", "Link", "Page", "Piece", "Post", "Settings", "SheetOf", "Sheets", "ShopHost"]
