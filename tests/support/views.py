"""Views for tests of pages: a free and a paid pattern, a post, a site, a theme."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from stripewright.draw.draw import draw_all
from stripewright.pages.theme import Theme
from stripewright.pattern.settings import Settings
from stripewright.pipeline.output import Sound
from stripewright.source.reader import read_document
from stripewright.studio import Studio, shipped_themes
from stripewright.view.make import pattern_view
from stripewright.view.site import site_view
from stripewright.view.views import PostView
from stripewright.words.write import write
from support.patterns import worked_from

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.view.views import PatternView, SiteView
    from stripewright.words.written import PatternText

SETTINGS = Settings(
    title="Salt Loft",
    maker="Ines Marram",
    summary="Striped things from a loft by the sea.",
    address="https://saltloft.example.org/knits/",
    shops=({"host": "shop.example.org", "sponsored": True}, {"host": "stall.example.org"}),
)

FREE = """\
---
title: Breakwater bolster
summary: A long stuffed cushion in three sea colours.
kind: cushion
access: free
published: 2026-09-05
updated: 2026-09-20
tags: [sea, first projects]
machine: {bed: circular, needles: 40}
swatch: {stitches: 40, rows: 60, width: 30 cm, length: 29 cm, mass: 62 g}
yarns:
  deep: {name: Deep water, colour: "#1f3d5c", weight: 5, ball: 100 g / 120 m, price: 4.50}
  foam: {name: Foam, colour: "#dfe9e4", weight: 5, ball: 100 g / 120 m, price: 4.50}
pieces:
  cover: {form: tube, ends: [seamed, seamed], stripes: [deep 16, foam 9, deep 11, foam 7, deep 17]}
  lining: {form: tube, like: cover, yarn: foam}
fill: medium
corrections:
  - {date: 2026-10-01, text: The third stripe had one row too many.}
  - {date: 2026-11-03, text: The lining was missing.}
video:
  url: https://films.example.org/breakwater
  title: Breakwater, from the first row
  chapters:
    - {at: "0:40", title: Setting up, step: cover}
    - {at: "12:05", title: Closing the end, step: making up}
    - {at: "1:02:00", title: Talk}
---
What it is, for everyone.

## Before you start

Knit {{ cover.worked_rows }} rows.

{{ steps }}

## When it is done

Air it under the crooked lantern.
"""

PAID = (
    FREE.replace("Breakwater bolster", "Groyne bolster")
    .replace("access: free", "access: paid\nprice: 6.50\nshop: https://shop.example.org/groyne")
    .replace(
        "## Before you start", "## The private part\n\nHide the slanted toggle behind the lamp."
    )
)


@cache
def made(text: str, slug: str) -> tuple[WorkedPattern, PatternText]:
    """A pattern text, worked and written."""
    document, problems = read_document(text.encode(), f"content/patterns/{slug}.md")
    assert not problems, problems
    worked = worked_from(text, slug, SETTINGS)
    written, problems = write(worked, document, SETTINGS)
    assert written is not None, problems
    return worked, written


def view_of(text: str, slug: str, *, whole: bool | None = None, **options: Any) -> PatternView:
    """A pattern text as it may be shown: a paid one by its twin, unless it is asked for whole."""
    sound = Sound(*made(text, slug))
    if whole is None:
        whole = sound.worked.pattern.access == "free"
    worked, written, _ = sound if whole else sound.public
    drawings = draw_all(worked, written, prefix=slug)
    return pattern_view(worked, written, drawings, SETTINGS, **options)


@cache
def pattern_views() -> tuple[PatternView, PatternView]:
    """A free pattern and a paid one of the same rows."""
    return view_of(FREE, "breakwater-bolster"), view_of(PAID, "groyne-bolster")


def site() -> SiteView:
    """What every page knows."""
    return site_view(SETTINGS, [("About", "about/index.html")])


@cache
def theme(name: str = "tideline") -> Theme:
    """A shipped theme."""
    return Theme(name, Studio(shipped_themes().parent).theme_files(name))


def post(**changes: Any) -> PostView:
    """A post."""
    said: dict[str, Any] = {
        "slug": "first-swatch",
        "path": "posts/first-swatch/index.html",
        "title": "The first swatch",
        "summary": "How to begin.",
        "published": "2026-09-01",
        "updated": None,
        "held": "",
        "tags": ("notes",),
        "html": "<p>Begin.</p>",
        "patterns": ("breakwater-bolster",),
    }
    return PostView(**(said | changes))
