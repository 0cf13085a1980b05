"""One picture -> one page of a sheet: which it is, and what its bands look like."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from stripewright.camera.code import read_code
from stripewright.camera.key import KeyColours, read_key
from stripewright.camera.light import PER_MM, blank_paper, white_of
from stripewright.camera.lines import follow, ink_of, still
from stripewright.camera.marks import Laid, find_marks, flattened, lay_flat
from stripewright.camera.rows import Bands, bands_of
from stripewright.catalogue import say
from stripewright.paper.sheet_code import Coded, title_digest
from stripewright.paper.sheet_plan import PAPERS_MM, pages_of
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Mask, Pixels
    from stripewright.camera.lines import Moves
    from stripewright.camera.picture import Picture
    from stripewright.paper.sheet_subject import Subject


AGAIN = say("photograph the page again: all of it, from above, in even light")
_LEAST_PIXELS = 3.4
"""Of the picture to a band."""
CURLED_MM = 0.14
"""A page whose marks stand further off than this is not flat: its printed lines must be seen."""
CLEAR, CLEAR_BY_THREE = 0.3, 0.45
"""How clearly the lines of a curled page must be seen: by all four marks, or by three of them."""
BLURRED = 0.5
"""The share of a band over which a blurred edge may run."""


@dataclass(frozen=True, slots=True, eq=False)
class PageRead:
    """A page of a sheet as a picture shows it."""

    name: str
    """Of the picture."""
    coded: Coded
    by_code: bool
    """Whether its own code said which page it is."""
    page: dict[str, Any]
    """As `paper` lays it out."""
    laid: Laid
    flat: Pixels
    moves: Moves
    panels: tuple[Bands, ...]
    """One for each panel, from the left."""
    key: KeyColours
    faults: dict[int, str] = field(default_factory=dict)
    """Worked rows that can't be trusted, and why, with what to do."""

    @property
    def exact(self) -> bool:
        """Whether the picture is a scan or painted on a screen, with little noise."""
        return self.laid.straight


def read_page(
    picture: Picture, given: Sequence[Subject] = (), part: int = 1
) -> tuple[PageRead | None, list[Problem]]:
    """Read one page.

    Args:
        picture: of a whole page.
        given: the sheets it may be of, for a page without a code.
        part: which page it is then.

    Returns:
        The page, or what keeps it from being read.
    """
    place = Place(picture.name)
    found = find_marks(picture.pixels)
    laid = lay_flat(found)
    if laid is None:
        seen = say("{found} of 4 corner marks", len(found)) if found else say("no corner marks")
        return None, [
            error(
                place,
                say("{seen} can be seen in this picture", seen),
                say("{again}; a plain painted bar is read with --rows", AGAIN),
            )
        ]
    coded = read_code(picture.pixels, laid.to_picture, laid.paper)
    by_code = coded is not None
    if coded is None:
        coded, problem = _without_code(place, laid, given, part)
        if coded is None:
            return None, [problem] if problem else []
    elif coded.paper != laid.paper:
        laid = lay_flat(found, coded.paper) or laid
    return _measured(picture, laid, coded, by_code=by_code), []


def _without_code(
    place: Place, laid: Laid, given: Sequence[Subject], part: int
) -> tuple[Coded | None, Problem | None]:
    if not given:
        return None, error(
            place,
            "the sheet's code can't be read in this picture",
            say("{again}; or name the sheet's file with --sheet FILE", AGAIN),
        )
    if len(given) > 1:
        return None, error(place, say("the sheet's code can't be read in this picture, and "
                                      "the file of --sheet has {given} sheets", len(given)),
                           "name a file that has this sheet alone")  # fmt: skip
    pages = len(pages_of(given[0], laid.paper))
    if part > pages:
        return None, error(
            place,
            say("this is picture {part} of a sheet with {pages}", part, _pages(pages)),
            "name each page once",
        )
    return Coded(given[0], part, laid.paper, title_digest(given[0].title)), None


def _pages(count: int) -> str:
    return say("one page") if count == 1 else say("{count} pages", count)


def _measured(picture: Picture, laid: Laid, coded: Coded, *, by_code: bool) -> PageRead:
    pages = pages_of(coded.subject, coded.paper)
    page = pages[min(coded.part, len(pages)) - 1]
    size = PAPERS_MM[coded.paper]
    flat = flattened(picture.pixels, laid.to_picture, size, PER_MM)
    seen = _seen(picture.pixels.shape[:2], laid, size)
    moves = still() if laid.straight else follow(flat, page, _most(laid, page))
    white, _ = white_of(flat, seen, blank_paper(page, size))
    ink = ink_of(flat)
    key = read_key(flat, white, ink, page, (1.5, 2.5) if by_code else None)
    outline = page["outline"]
    edges = [outline["x"] + x for x in (0.0, *page["panels"], outline["width"])]
    panels = tuple(bands_of(flat, white, page, moves, span) for span in pairwise(edges))
    read = PageRead(picture.name, coded, by_code, page, laid, flat, moves, panels, key)
    read.faults.update(_faults(read, seen))
    return read


def _most(laid: Laid, page: dict[str, Any]) -> float:
    """How far a row can have moved on a page whose marks stand so far off."""
    return max(0.45 * float(page["band"]), 15 * laid.residual_mm)


def _seen(shape: tuple[int, int], laid: Laid, size: tuple[float, float]) -> Mask:
    """Which cells of the page, a square mm each, the picture shows."""
    wide, high = int(size[0]), int(size[1])
    cells = np.stack(np.meshgrid(np.arange(wide) + 0.5, np.arange(high) + 0.5), axis=-1)
    at = cv2.perspectiveTransform(cells.reshape(-1, 1, 2), laid.to_picture).reshape(high, wide, 2)
    inside = (at >= 0).all(axis=2) & (at[..., 0] < shape[1]) & (at[..., 1] < shape[0])
    return np.asarray(inside)


def _faults(read: PageRead, seen: Mask) -> dict[int, str]:
    """What is wrong with the picture, by worked row."""
    page, laid = read.page, read.laid
    band = float(page["band"])
    rows = [one["row"] for one in page["bands"]]
    if band * laid.pixels_per_mm < _LEAST_PIXELS:
        few = say(
            "the picture is too small: a band has {band:.1f} pixels", band * laid.pixels_per_mm
        )
        return dict.fromkeys(rows, say("{few}; take one from nearer, or save it larger", few))
    if not laid.straight and _edge_mm(read.flat, page) > BLURRED * band:
        return dict.fromkeys(rows, say("the picture is blurred; {again}", AGAIN))
    clear = CLEAR if len(laid.found) == 4 else CLEAR_BY_THREE
    if laid.residual_mm > CURLED_MM and not laid.straight and read.moves.seen < clear:
        return dict.fromkeys(rows, say("the page is curled and its lines can't be followed; "
                                       "lay it flat and photograph it again"))  # fmt: skip
    out: dict[int, str] = {}
    outline = page["outline"]
    x0, x1 = int(outline["x"]), int(np.ceil(outline["x"] + outline["width"]))
    for one in page["bands"]:
        cells = seen[int(one["y"]) : int(np.ceil(one["y"] + band)), x0:x1]
        if not cells.all():
            out[one["row"]] = say("this row is cut off by the picture's edge; {again}", AGAIN)
    return out


def _edge_mm(flat: Pixels, page: dict[str, Any]) -> float:
    """How wide the marks' edges run from white to black: the clearest of them."""
    grey = cv2.cvtColor(flat, cv2.COLOR_RGB2GRAY).astype(np.float32)
    widths = []
    for mark in page["marks"]:
        y0, y1 = round((mark["y"] + 3) * PER_MM), round((mark["y"] + 9) * PER_MM)
        for x in (mark["x"], mark["x"] + page["mark"]):
            middle = round(x * PER_MM)
            run = grey[y0:y1, max(middle - 3 * PER_MM // 2, 0) : middle + 3 * PER_MM // 2]
            line = np.abs(np.diff(run.mean(axis=0)))
            if line.size and line.max() > 0:
                widths.append(float(line.sum() / line.max()) / PER_MM)
    return min(widths, default=0.0)
