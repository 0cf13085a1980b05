"""Where everything on a planning sheet stands, in mm from the page's top left corner.

The print template only draws what it is told here, and `camera` looks for it in the same places.
Rows go upwards, as they come off the machine: the first row of a page is its lowest band.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _
from stripewright.figures import reading
from stripewright.paper.marks import INSET_MM, SIDE_MM, corner_marks
from stripewright.paper.sheet_code import CODE_MM, coded_gauge, packed_code

if TYPE_CHECKING:
    from stripewright.paper.sheet_subject import Subject

PAPERS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""ISO 216 A4; Letter, 8½ × 11 in."""

LEAST_BAND, MOST_BAND = 2.5, 5.0
"""A band's height in mm: under 2.5 a pencil doesn't stay in it."""
MARGIN, TOP, BOTTOM = 12.0, 35.0, 37.0
NUMBERS, READINGS = 12.0, 14.0
"""Room for row numbers left of the outline, and for counter readings right of it."""
SIDEBAR, GAP = 46.0, 5.0
HEADER = 26.0
"""From the paper's side to the head of the page, clear of the corner marks."""
LEAST_PANEL = 6.0
"""A panel narrower than this can't be coloured in."""
KEY_ROWS, KEY_Y, KEY_STEP, KEY_BOX = 8, 141.0, 8.2, (7.0, 6.0)
"""Boxes to colour in, one a letter: where the first begins, from one to the next, their size."""
KEY_LINE = 17.0
"""From a box's left side to the line for its yarn's name."""
TICK = 1.0
"""How far the line of each fifth row stands out of the outline: a camera finds its place by it."""
LABEL = 3.0
"""A label's height and a little air: nearer than this two would print over each other."""
NOTE = 8.0
"""Between lines to write on."""
THUMB = (40.0, 46.0)
"""The room for the whole piece drawn small."""
DENOMINATORS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 300, 500)

SheetPage = dict[str, Any]


@dataclass(frozen=True, slots=True)
class SheetScale:
    """How the bands are drawn: `band` mm a row, and whether the width is cut by a break line."""

    band: float
    rows_a_page: int
    share: float
    """Paper over knitting: 0.5 is half size."""
    width: float
    """Of the outline on paper."""
    broken: bool


def scale_of(subject: Subject, paper: str) -> SheetScale:
    """The largest bands that still fill few pages and keep the outline in its room."""
    width, height = PAPERS_MM[paper]
    room = width - 2 * MARGIN - NUMBERS - READINGS - GAP - SIDEBAR
    rows = subject.rows
    pages = ceil(rows / floor((height - TOP - BOTTOM) / LEAST_BAND))
    rows_a_page = ceil(rows / pages)
    if pages > 1:
        rows_a_page = min(-(-rows_a_page // 10) * 10, floor((height - TOP - BOTTOM) / LEAST_BAND))
    row_mm = 10 / subject.gauge.rows_per_cm
    tallest = min(MOST_BAND, (height - TOP - BOTTOM) / rows_a_page)
    fitting = row_mm * room / (subject.width_cm * 10)
    band = floor(min(tallest, max(fitting, LEAST_BAND)) * 10 + 1e-5) / 10
    share = band / row_mm
    drawn = subject.width_cm * 10 * share
    least = LEAST_PANEL * subject.panels
    return SheetScale(band, rows_a_page, share, min(max(drawn, least), room), drawn > room + 1e-9)


def pages_of(subject: Subject, paper: str) -> list[SheetPage]:
    """Every page of a sheet, the rows going on from one to the next.

    They follow from what the pages' codes say, and from nothing else: who reads a code has the
    same pages.
    """
    printed = replace(subject, gauge=coded_gauge(subject.gauge))
    scale = scale_of(printed, paper)
    firsts = range(1, subject.rows + 1, scale.rows_a_page)
    return [
        _page(printed, paper, scale, first) | _numbered(printed, paper, number, len(firsts))
        for number, first in enumerate(firsts, 1)
    ]


def _numbered(subject: Subject, paper: str, number: int, of: int) -> SheetPage:
    """Which page it is, for people and for a machine; the code stands away from thumbs."""
    x = PAPERS_MM[paper][0] - HEADER - CODE_MM
    code = {"x": x, "y": INSET_MM, "side": CODE_MM, "text": packed_code(subject, number, paper)}
    return {"number": number, "of": of, "code": code}


def _page(subject: Subject, paper: str, scale: SheetScale, first: int) -> SheetPage:
    width, height = PAPERS_MM[paper]
    last = min(first + scale.rows_a_page - 1, subject.rows)
    left = MARGIN + NUMBERS
    foot = TOP + (last - first + 1) * scale.band
    side = width - MARGIN - SIDEBAR
    return {
        "alt": _(
            "Rows {first} to {last} of {rows} as blank bands, one a row, from below.",
            first=first,
            last=last,
            rows=subject.rows,
        ),
        "first": first,
        "last": last,
        "starts": first == 1,
        "ends": last == subject.rows,
        "marks": corner_marks(width, height),
        "mark": SIDE_MM,
        "outline": {"x": left, "y": TOP, "width": scale.width, "height": foot - TOP},
        "broken": scale.broken,
        "band": scale.band,
        "bands": [
            _band(subject, row, foot - (row - first + 1) * scale.band, scale.band)
            for row in range(first, last + 1)
        ],
        "panels": [scale.width * n / subject.panels for n in range(1, subject.panels)],
        "side": {"x": side, "y": TOP, "width": SIDEBAR},
        "tick": TICK,
        "header": {"x": HEADER, "y": INSET_MM, "width": width - 2 * HEADER - CODE_MM - 3},
        "ruler": {"x": (width - 101.6) / 2, "y": height - 24.0},
        "thumb": thumbnail(subject, first, last),
        "key": key_boxes(side),
        "reads": height - 12.5,
        "notes": _notes(foot, height - BOTTOM, side - GAP - MARGIN),
        "share": scale.share,
    }


def key_boxes(side: float) -> list[dict[str, Any]]:
    """The key's boxes, each with its letter and its line; `side` is the column's left edge."""
    wide, high = KEY_BOX
    return [
        {
            "letter": "ABCDEFGH"[n],
            "x": side,
            "y": KEY_Y + n * KEY_STEP,
            "width": wide,
            "height": high,
            "line": {"x": side + KEY_LINE, "width": SIDEBAR - KEY_LINE},
        }
        for n in range(KEY_ROWS)
    ]


def _notes(foot: float, end: float, width: float) -> dict[str, Any]:
    """Lines to write on, in what is left of the page under the outline."""
    y = foot + 10
    return {"x": MARGIN, "y": y, "width": width, "lines": max(floor((end - y) / NOTE), 0)}


def _band(subject: Subject, row: int, y: float, band: float) -> dict[str, Any]:
    """A band: its top, what stands beside it, and whether it is an allowance row."""
    allowance = subject.is_allowance(row)
    visible = row - subject.ends[0].rows
    last = row == subject.rows
    crowded = not last and (subject.rows - row) * band < LABEL
    return {
        "row": row,
        "y": round(y, 3),
        "allowance": allowance,
        "number": str(visible) if not allowance and (visible % 5 == 0 or visible == 1) else "",
        "reading": reading(row, subject.rows) if last or (row % 5 == 0 and not crowded) else "",
        "five": row % 5 == 0,
        "fold": row == subject.fold,
        "brim": row == subject.turned,
    }


def thumbnail(subject: Subject, first: int, last: int) -> dict[str, Any]:
    """The whole piece, small and to a round scale, with the rows of this page marked in it."""
    width, length = subject.width_cm * 10, subject.length_cm * 10
    needed = max(width / THUMB[0], length / THUMB[1])
    scale = next((d for d in DENOMINATORS if d >= needed), ceil(needed))
    row = length / subject.rows / scale
    return {
        "scale": scale,
        "width": width / scale,
        "height": length / scale,
        "from": (subject.rows - last) * row,
        "to": (subject.rows - first + 1) * row,
        "panels": [width / scale * n / subject.panels for n in range(1, subject.panels)],
    }
