"""Pages put together: the parts of each sheet in their order, its panels, what is missing."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stripewright.camera.colours import differences, lab_of
from stripewright.catalogue import say
from stripewright.paper.sheet_plan import pages_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Reals
    from stripewright.camera.page import PageRead
    from stripewright.paper.sheet_subject import Subject


OTHER_KEY = 12.0
"""CIEDE2000 from which on two boxes of one letter are not the same colour."""


@dataclass(frozen=True, slots=True, eq=False)
class RowSeen:
    """A row as a picture shows it."""

    light: Reals
    """Linear sRGB, 1 is paper white."""
    parts: Reals
    """Halves × segments × 3, linear sRGB; nan where nothing carries the row's colour."""
    inked: Reals
    """Segments: the share that carries the row's colour."""
    rest: Reals
    """Linear sRGB of what is seen well away from the row's own colour; nan for nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """One panel of one sheet, from the cast-on end."""

    subject: Subject | None
    """None for a plain bar."""
    title: str
    panel: int
    """From 0."""
    rows: tuple[RowSeen | None, ...]
    """Visible rows; None where no picture shows them."""
    faults: dict[int, str]
    """Visible row (from 1) -> what is wrong with its picture, or that it is missing."""
    key: dict[str, Reals] = field(default_factory=dict)
    white: str | None = None
    exact: bool = False
    row_px: float = float("inf")
    """How many pixels of a picture a row has, at the least."""
    paper: str = ""
    parts: int = 1
    pages: tuple[PageRead, ...] = ()


def join_pages(pages: Sequence[PageRead]) -> list[Joined]:
    """The sheets that pages are of, panel by panel, in the order in which they were named."""
    out: list[Joined] = []
    for sheet, mixed in _sheets(pages):
        out += _panels(sheet, mixed=mixed)
    return out


def _identity(page: PageRead) -> tuple[Any, ...]:
    coded = page.coded
    subject = coded.subject
    return (coded.digest, coded.paper, subject.form, subject.rows, subject.visible,
            subject.stitches, subject.panels, subject.bed, subject.needles,
            round(subject.gauge.rows_per_cm, 5),
            round(subject.gauge.stitches_per_cm, 5))  # fmt: skip


def _sheets(pages: Sequence[PageRead]) -> list[tuple[list[PageRead], bool]]:
    """Pages by sheet; a part that is there twice begins a second copy.

    Returns:
        Each sheet's pages, and whether it isn't sure that they belong together: two copies whose
        pages were named in turns.
    """
    sheets: list[list[tuple[int, PageRead]]] = []
    for at, page in enumerate(pages):
        for sheet in sheets:
            alike = _identity(sheet[0][1]) == _identity(page)
            if alike and page.coded.part not in {other.coded.part for _, other in sheet}:
                sheet.append((at, page))
                break
        else:
            sheets.append([(at, page)])
    out = []
    for sheet in sheets:
        copies = [s for s in sheets if _identity(s[0][1]) == _identity(sheet[0][1])]
        first, last = sheet[0][0], sheet[-1][0]
        several = len(copies) > 1 and max(len(s) for s in copies) > 1
        out.append(([page for _, page in sheet], several and last - first >= len(sheet)))
    return out


def _panels(sheet: list[PageRead], *, mixed: bool) -> list[Joined]:
    first = sheet[0].coded
    subject = first.subject
    pages = pages_of(subject, first.paper)
    before = subject.ends[0].rows
    faults: dict[int, str] = {}
    for page in sheet:
        faults |= {row - before: text for row, text in page.faults.items()}
    there = {page.coded.part for page in sheet}
    for other in pages:
        if other["number"] not in there:
            gone = say("part {number} of {parts} is missing: photograph it, too",
                       other["number"], len(pages))  # fmt: skip
            faults |= {band["row"] - before: gone for band in other["bands"]}
    key, white, clash = _key(sheet)
    if mixed or clash:
        why = (say("two copies of this sheet were named in turns: name the parts of one after "
                   "each other") if mixed else clash)  # fmt: skip
        faults = dict.fromkeys(range(1, subject.visible + 1), why) | faults
    faults = {row: text for row, text in faults.items() if 1 <= row <= subject.visible}
    row_px = min(page.laid.pixels_per_mm * page.page["band"] for page in sheet)
    return [
        Joined(subject, subject.title, panel, _rows(sheet, panel), faults, key, white,
               all(page.exact for page in sheet), row_px, first.paper, len(pages), tuple(sheet))
        for panel in range(len(sheet[0].panels))
    ]  # fmt: skip


def _rows(sheet: list[PageRead], panel: int) -> tuple[RowSeen | None, ...]:
    subject = sheet[0].coded.subject
    rows: list[RowSeen | None] = [None] * subject.visible
    for page in sheet:
        bands = page.panels[panel]
        for n, row in enumerate(bands.rows):
            at = row - subject.ends[0].rows - 1
            if 0 <= at < subject.visible:
                rows[at] = RowSeen(bands.light[n], bands.parts[n], bands.inked[n], bands.rest[n])
    return tuple(rows)


def _key(sheet: list[PageRead]) -> tuple[dict[str, Reals], str | None, str]:
    """The key of all parts together; and what is wrong where they contradict each other."""
    key: dict[str, Reals] = {}
    white, clash = None, ""
    for page in sheet:
        white = white or page.key.white
        for letter, light in page.key.light.items():
            known = key.setdefault(letter, light)
            if float(differences(lab_of(known), lab_of(light))) > OTHER_KEY:
                clash = say("box {letter} of the key has another colour on another part", letter)
    return key, (white if white not in key else None), clash
