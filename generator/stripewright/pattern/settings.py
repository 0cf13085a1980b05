"""content/studio.yaml, and what posts and pages say before their text, as written."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field, PrivateAttr, StringConstraints

from stripewright.catalogue import N_, locale_named
from stripewright.pattern.base import (
    ADDRESS,
    CURRENCY,
    HOST,
    LANGUAGE,
    LINK,
    STYLE,
    VARIABLE,
    AuthorModel,
    Key,
    OneLine,
    Slug,
    Whole,
    Yes,
)
from stripewright.pattern.making import Pace
from stripewright.pattern.pattern import Tagged, TechniqueWords
from stripewright.pattern.quantity_types import Day
from stripewright.pattern.stash import Stash
from stripewright.problems import Place
from stripewright.studio import SETTINGS

if TYPE_CHECKING:
    from stripewright.pattern.pattern import Pattern
    from stripewright.source.document import Document

TokenName = Annotated[str, StringConstraints(pattern=VARIABLE)]
TokenValue = Annotated[str, StringConstraints(pattern=STYLE, max_length=300)]


class Link(AuthorModel):
    """A link of the site's head or foot."""

    title: OneLine = Field(max_length=60, examples=["Films"])
    """What it says."""
    url: Annotated[str, StringConstraints(pattern=LINK, max_length=500)] = Field(
        examples=["https://video.example.org/"]
    )
    """Where it goes."""


class ShopHost(AuthorModel):
    """A shop that the site links to."""

    host: Annotated[str, StringConstraints(pattern=HOST, max_length=200)] = Field(
        examples=["shop.example.org"]
    )
    """The host name, like shop.example.org."""
    sponsored: Yes = Field(default=False, examples=["yes"])
    """Whether the maker earns by links to it: they are marked and a line says so."""
    title_length: Whole | None = Field(default=None, ge=10, le=1000, examples=["100"])
    """Characters that a listing's title may have there; left out, 140."""
    tags: Whole | None = Field(default=None, ge=0, le=100, examples=["13"])
    """Tags that a listing may have there; left out, all."""
    tag_length: Whole | None = Field(default=None, ge=1, le=200, examples=["20"])
    """Characters that a tag may have there; left out, any."""


class Settings(AuthorModel):
    """The studio's settings."""

    title: OneLine = Field(max_length=80, examples=["Harbour stripes"])
    """The site's name."""
    maker: OneLine = Field(max_length=80, examples=["Ines Calder"])
    """Who makes it."""
    summary: OneLine = Field(
        max_length=300, examples=["Striped projects for a hand-cranked knitting machine."]
    )
    """One sentence about the site."""
    address: Annotated[str, StringConstraints(pattern=ADDRESS, max_length=200)] | None = Field(
        default=None, examples=["https://stripes.example.org/"]
    )
    """Where the site will stand, ending in a slash; feeds and share pictures need it."""
    language: Annotated[str, StringConstraints(pattern=LANGUAGE)] = Field(
        default="en", examples=["en-GB"]
    )
    """Language of the content, like en or en-GB. The program's own words are English, British or
    American as the terms are."""
    currency: Annotated[str, StringConstraints(pattern=CURRENCY)] = Field(
        default="EUR", examples=["GBP"]
    )
    """ISO 4217 code of prices without one."""
    units: Literal["metric", "imperial"] = Field(default="metric", examples=["imperial"])
    """Which units come first."""
    terms: Literal["uk", "us"] = Field(default="uk", examples=["us"])
    """tension, cast off, colour; or gauge, bind off, color."""
    theme: Slug = Field(default="tideline", examples=["ledger"])
    """A shipped theme, or a folder in themes/."""
    tokens: dict[TokenName, TokenValue] = Field(
        default={}, max_length=200, examples=['{accent: "#1f5c4d"}']
    )
    """The theme's tokens that the studio sets otherwise."""
    pace: Pace = Field(default=Pace(), examples=["{rows_per_minute: 12}"])
    """The maker's usual pace."""
    techniques: dict[Key, TechniqueWords] = Field(
        default={}, max_length=100, examples=["{seam_end: Sew the end with a long tail.}"]
    )
    """The studio's own words for a technique, by its name."""
    licence: str = Field(
        default=N_("For personal use; please do not copy or resell the pattern."),
        max_length=500,
        examples=["You may sell what you knit from it, but not the pattern."],
    )
    """What readers may do with the patterns."""
    disclosure: OneLine = Field(
        default=N_("Some links to shops earn the maker a share of the sale, at no cost to you."),
        max_length=300,
        examples=["I earn a little when you buy from these shops."],
    )
    """The line shown where a link is sponsored."""
    shops: tuple[ShopHost, ...] = Field(
        default=(), max_length=100, examples=["[{host: shop.example.org, sponsored: yes}]"]
    )
    """Shops linked to."""
    links: tuple[Link, ...] = Field(
        default=(), max_length=20, examples=["[{title: Films, url: 'https://video.example.org/'}]"]
    )
    """Links in the foot of every page."""
    raw_html: Yes = Field(default=False, examples=["yes"])
    """Whether HTML in Markdown is let through a filter of safe tags; else it is shown as text."""

    _technique_places: dict[str, Place] = PrivateAttr(default_factory=dict)
    _stash: Stash | None = PrivateAttr(default=None)

    @property
    def words(self) -> str:
        """The locale of the program's own words, like en_GB."""
        return locale_named(self.language, self.terms)

    def of_pattern(self, pattern: Pattern) -> Settings:
        """The settings that a pattern is told by: with its own units and terms, if it has any."""
        own = {"units": pattern.units, "terms": pattern.terms}
        said = {name: value for name, value in own.items() if value is not None}
        return self.model_copy(update=said) if said else self

    def written_in(self, document: Document) -> Self:
        """Remember where each of the studio's techniques stands, for problems found in it later."""
        for name in self.techniques:
            self._technique_places[name] = document.place("techniques", name)
        return self

    @property
    def stash(self) -> Stash | None:
        """The yarns that there are; None where the studio has no stash."""
        return self._stash

    def beside(self, stash: Stash | None) -> Self:
        """Remember the studio's stash, which stands in a file of its own."""
        self._stash = stash
        return self

    def technique_place(self, name: str) -> Place:
        """The place of one of the studio's own techniques."""
        return self._technique_places.get(name, Place(SETTINGS))


class Post(AuthorModel):
    """A post's front matter."""

    title: OneLine = Field(max_length=120, examples=["First rows"])
    """Its title."""
    summary: OneLine = Field(max_length=300, examples=["What it is about, in one sentence."])
    """One sentence for lists."""
    slug: Slug | None = Field(default=None, examples=["first-rows"])
    """Its address; left out, the file's name."""
    formerly: tuple[Slug, ...] = Field(default=(), max_length=20, examples=["[one-row]"])
    """Addresses that it had before: they go on leading here."""
    published: Day | None = None
    """The day it appears: a day ahead is held back, none at all is a draft."""
    updated: Day | None = None
    """The day of the last change."""
    tags: tuple[Tagged, ...] = Field(default=(), max_length=20, examples=["[yarn, colour]"])
    """Words to find it by."""
    patterns: tuple[Slug, ...] = Field(default=(), max_length=50, examples=["[breakwater-bolster]"])
    """Slugs of patterns it is about."""


class Page(AuthorModel):
    """A free-standing page's front matter."""

    title: OneLine = Field(max_length=120, examples=["About"])
    """Its title."""
    summary: OneLine = Field(max_length=300, examples=["What it is about, in one sentence."])
    """One sentence for search engines."""
    slug: Slug | None = Field(default=None, examples=["about"])
    """Its address; left out, the file's name."""
    menu: Yes = Field(default=True, examples=["no"])
    """Whether the site's menu shows it."""
