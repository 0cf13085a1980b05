"""Small pages that follow the markup agreed between templates and scripts.

The demo site shows the scripts at work for viewers; these pages hold the corners that no demo
pattern has: several pieces made alike, a piece of one-row stripes, a page without a plan.
"""

from __future__ import annotations

import shutil
from pathlib import Path

ASSETS = Path(__file__).resolve().parents[2] / "themes" / "shared" / "assets"
SCRIPTS = (
    "keep",
    "difference",
    "units",
    "hatches",
    "ticks",
    "copy",
    "colours",
    "counter",
    "signals",
    "filters",
    "offline",
)
POLICY = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'none'"

YARNS = {"A": ("Deep water", "#1f3d5c"), "B": ("Foam", "#dfe9e4"), "C": ("Kelp", "#5c6b2f")}
COVER = [("A", 17), ("B", 9), ("C", 1), ("B", 9), ("A", 17)]
CUFF = [("C", 4), ("B", 3)]
MITT = [("B", 6), ("A", 2), ("B", 2), ("A", 2), ("B", 2), ("A", 2), ("B", 2), ("C", 10)]
MITT_EVENTS = [
    ("repeat", 6, 18, 3, "Repeat", "Knit these two stripes three times."),
    ("slit", 20, 25, 1, "Thumb: the slit begins", "Knit back and forth from here to row 25."),
    ("slit_end", 25, 25, 1, "Thumb: the slit ends", "Knit in the round again."),
]
"""Kind, reading, until, times, title, what to do."""


def _lines(plan: list[tuple[str, int]]) -> list[tuple[str, int, int]]:
    lines, done = [], 0
    for letter, rows in plan:
        lines.append((letter, done + 1, done + rows))
        done += rows
    return lines


def _table(
    key: str, title: str, plan: list[tuple[str, int]], make: int = 1, events: list[tuple] = ()
) -> str:
    rows = "".join(
        f'<tr data-event="{kind}" data-at="{at}" data-until="{until}" data-times="{times}" '
        f'data-title="{head}"><th scope="row">{at:03d}</th><td colspan="3">{text}</td></tr>'
        for kind, at, until, times, head, text in events
    )
    rows += "".join(
        f'<tr data-letter="{letter}" data-yarn="{letter.lower()}yarn" data-first="{first}" data-last="{last}" '
        f'data-rows="{last - first + 1}"><th scope="row">{letter}</th><td>{YARNS[letter][0]}</td>'
        f"<td>{last - first + 1}</td><td>{last:03d}</td></tr>"
        for letter, first, last in _lines(plan)
    )
    return (
        f'<table class="plan" data-piece="{key}" data-title="{title}" data-make="{make}">'
        f"<caption>{title}</caption><tbody>{rows}</tbody></table>"
    )


def _drawing(plan: list[tuple[str, int]]) -> str:
    lines = _lines(plan)
    tall = lines[-1][2]
    bands = "".join(
        f'<rect class="yarn-{letter.lower()}" fill="{YARNS[letter][1]}" x="0" y="{tall - last}" width="60" '
        f'height="{last - first + 1}"/>'
        f'<rect class="hatch hatch-{letter.lower()}" visibility="hidden" fill="url(#made-cover-h-{letter.lower()})" '
        f'x="0" y="{tall - last}" width="60" height="{last - first + 1}"/>'
        for letter, first, last in lines
    )
    patterns = "".join(
        f'<pattern id="made-cover-h-{letter.lower()}" width="{4 + at}" height="{4 + at}" patternUnits="userSpaceOnUse">'
        f'<path d="M0 0L{4 + at} {4 + at}" stroke="#888"/></pattern>'
        for at, letter in enumerate(YARNS)
    )
    return f'<svg viewBox="0 0 60 {tall}" width="180" role="img"><title>Cover</title><defs>{patterns}</defs>{bands}</svg>'


def pattern_page(*, plan: bool = True) -> str:
    """A pattern's page; without its plan, as a paid pattern shows it."""
    materials = "".join(
        f'<li data-letter="{letter}" data-name="{name}" data-colour="{colour}">{letter} {name}: '
        f'<span class="measure" data-g="96">96 g (3.4 oz)</span>, '
        f'<span class="measure" data-m="115">115 m (126 yd)</span></li>'
        for letter, (name, colour) in YARNS.items()
    )
    steps = "".join(
        f'<li id="step-cover.{number}"><label><input type="checkbox" data-step="cover.{number}"> Step {number}</label></li>'
        for number in (1, 2, 3)
    )
    tables = _table("cover", "Cover", COVER) + _table("cuff", "Cuff", CUFF, make=2) if plan else ""
    if plan:
        tables += _table("mitt", "Mitt", MITT, events=MITT_EVENTS)
    scripts = "".join(f'<script defer src="../assets/{name}.js"></script>' for name in SCRIPTS)
    return f"""<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Breakwater bolster</title>
<link rel="icon" href="data:,"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<link rel="stylesheet" href="../assets/tools.css">{scripts}</head>
<body data-page="pattern" data-slug="breakwater-bolster"><main><h1>Breakwater bolster</h1>
<div data-tool="units"></div><div data-tool="hatches"></div>
<p>Size <span class="measure" data-cm="38.2" data-kind="length">38.2 cm (15 in)</span>,
<span class="term" data-term="tension">Tension</span> 13 stitches; then
<span class="term" data-term="cast_off">cast off</span> in any <span class="term" data-term="colour">colour</span>.</p>
<ul class="materials">{materials}</ul><div data-tool="copy-materials"></div>
<div data-tool="own-colours"></div><div data-tool="keep-count"></div>
<figure class="strip">{_drawing(COVER)}</figure>{tables}<ol class="steps">{steps}</ol></main></body></html>
"""


CARDS = (
    ("free", "scarf", "flat", "60", "4", "blue red", "large", 300, "Quay scarf", "2026-10-10", 0),
    ("free", "cushion", "circular", "40", "5", "blue white", "large", 180, "Wave bolster", "2026-09-05", 0),
    ("paid", "hat", "circular", "48", "4", "red", "small", 90, "Lantern hat", "2026-12-01", 4.5),
    ("free", "hat", "circular", "48", "4", "green", "small", 60, "Gorse hat", "2026-07-01", 0),
)  # fmt: skip
"""In the order of a catalogue, the newest first; the third was corrected last."""


def catalogue_page() -> str:
    """A catalogue of four cards."""
    cards = "".join(
        f'<li class="card" data-access="{a}" data-kind="{k}" data-bed="{b}" data-needles="{n}" data-weight="{w}" '
        f'data-colours="{c}" data-size="{s}" data-minutes="{m}" data-title="{t}" data-updated="{u}" data-price="{p}">'
        f'<a href="../patterns/x.html">{t}</a></li>'
        for a, k, b, n, w, c, s, m, t, u, p in CARDS
    )
    scripts = "".join(f'<script defer src="../assets/{name}.js"></script>' for name in SCRIPTS)
    return f"""<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Patterns</title>
<link rel="icon" href="data:,"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<link rel="stylesheet" href="../assets/tools.css">{scripts}</head>
<body data-page="catalogue"><main><h1>Patterns</h1><div data-tool="catalogue-filters"></div>
<ul class="cards">{cards}</ul></main></body></html>
"""


def write_made_site(folder: Path) -> Path:
    """Writes the pages with the shared assets beside them, as a published site lays them out."""
    (folder / "made").mkdir(parents=True)
    shutil.copytree(ASSETS, folder / "assets")
    (folder / "assets" / "sw.js").rename(folder / "sw.js")
    (folder / "made" / "pattern.html").write_text(pattern_page(), encoding="utf-8")
    (folder / "made" / "paid.html").write_text(pattern_page(plan=False), encoding="utf-8")
    (folder / "made" / "catalogue.html").write_text(catalogue_page(), encoding="utf-8")
    return folder
