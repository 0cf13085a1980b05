"""Pieces inside sentences: their titles, and what a brim that is turned up shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.figures import counted, listed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece


def small(title: str) -> str:
    """A piece's title inside a sentence: `Cover` is cover, `ABC` stays as it is."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def the(title: str) -> str:
    """A piece's title inside a sentence, with its article."""
    own = title[:1].isdigit() or title.lower().startswith("the ")
    return small(title) if own else _("the {piece}", piece=small(title))


def brim_shows(piece: WorkedPiece, worked: WorkedPattern) -> str:
    """The stripes of a brim from its upper edge down: `A Pine 8 rows and B Foam 4 rows`."""
    return shows(piece, {yarn.key: yarn.name for yarn in worked.yarns})


def shows(piece: WorkedPiece, names: Mapping[str, str]) -> str:
    """The same, by the yarns' names."""
    if piece.brim is None:
        return ""
    return listed(
        _(
            "{yarn} {rows}",
            yarn=f"{one.letter} ({names[one.yarn]})",
            rows=counted(one.rows, "row", "rows"),
        )
        for one in piece.brim.bands
    )
