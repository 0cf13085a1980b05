"""Pictures -> the stripes of the sheets they show, and every doubt.

The easel and the command line call `read_pictures`; nothing here touches the disk.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stripewright.camera.bar import read_bar
from stripewright.camera.joined import Joined, join_pages
from stripewright.camera.page import PageRead, read_page
from stripewright.camera.picture import load
from stripewright.camera.told import pieces_of
from stripewright.catalogue import say, tell
from stripewright.paper.sheet_code import title_digest
from stripewright.paper.sheet_plan import pages_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stripewright.camera.told import PieceRead
    from stripewright.paper.sheet_subject import Subject
    from stripewright.problems import Problem


@dataclass(frozen=True, slots=True, order=True)
class Doubt:
    """A row that may be wrong, and what to do about it."""

    row: int
    """Visible row, 1 at the cast-on end; 0 for a whole picture."""
    message: str
    piece: int = 0
    """Which of the pieces, from 0."""


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """What some pictures say."""

    pieces: tuple[PieceRead, ...]
    colours: dict[str, str]
    """Letter -> `#rrggbb`."""
    doubts: tuple[Doubt, ...]

    def as_json(self) -> dict[str, Any]:
        """The whole as one JSON object; each piece tells its sheet where there are several."""
        facts = [piece.facts() for piece in self.pieces]
        several = any(one != facts[0] for one in facts)
        return {
            "sheet": facts[0] if facts else {},
            "pieces": [
                {
                    "title": piece.title,
                    "stripes": [{"colour": c, "rows": n} for c, n in piece.stripes],
                }
                | ({"sheet": own} if several else {})
                for piece, own in zip(self.pieces, facts, strict=True)
            ],
            "colours": self.colours,
            "doubts": [{"row": doubt.row, "message": self.said(doubt)} for doubt in self.doubts],
        }

    def said(self, doubt: Doubt) -> str:
        """A doubt's message, with its piece where there are several."""
        if len(self.pieces) < 2 or not doubt.row:
            return tell(doubt.message)
        return f"{self.pieces[doubt.piece].title}: {tell(doubt.message)}"


def read_pictures(
    pictures: Iterable[tuple[str, bytes]], given: Sequence[Subject] = (), rows: int | None = None
) -> tuple[Reading, list[Problem]]:
    """Read coloured sheets, or plain painted bars.

    Args:
        pictures: name and bytes of each: photo, scan, painted picture or PDF; the parts of one
            sheet in any order, or several sheets.
        given: the sheets they may be of, for their titles and for pages without a code.
        rows: read each picture as a plain bar of so many rows, along its longer side.

    Returns:
        Sheet facts, stripes, colours and doubts; and the pictures that can't be read at all. Any
        such picture is a doubt of row 0, too.
    """
    problems: list[Problem] = []
    pages: list[PageRead] = []
    bars: list[Joined] = []
    for name, data in pictures:
        opened, found = load(data, name)
        problems += found
        for picture in opened:
            if rows is not None:
                bar, found = read_bar(picture, rows)
                bars += [bar] if bar else []
            else:
                page, found = read_page(picture, given, 1 + sum(not p.by_code for p in pages))
                pages += [page] if page else []
            problems += found
    whole = bars if rows is not None else join_pages([_named(page, given) for page in pages])
    pieces, colours, doubts = pieces_of(whole)
    told_doubts = [Doubt(row, message, piece) for piece, row, message in doubts]
    told_doubts += [Doubt(0, say("{place}: {message}; {hint}", one.place, one.message, one.hint))
                    for one in problems]  # fmt: skip
    return Reading(pieces, colours, tuple(sorted(set(told_doubts), key=_order))), problems


def _order(doubt: Doubt) -> tuple[int, int, str]:
    return doubt.piece, doubt.row, doubt.message


def _named(page: PageRead, given: Sequence[Subject]) -> PageRead:
    """With the title that the sheet's file gives it."""
    coded = page.coded
    shape = len(pages_of(coded.subject, coded.paper)), coded.subject.rows
    for subject in given:
        own = title_digest(subject.title) == coded.digest
        if own and shape[1] == subject.rows:
            named = replace(coded.subject, title=subject.title)
            return replace(page, coded=replace(coded, subject=named))
    return page
