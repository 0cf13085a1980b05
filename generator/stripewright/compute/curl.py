"""Edges of plain knitting that roll up, where a thing is meant to lie flat."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import say

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pattern import Pattern

FLAT_KINDS = ("scarf", "blanket")
"""Kinds of things that are meant to lie flat."""

HELPS = ("edg", "border", "crochet", "hem", "block", "line")
"""What the name of a technique in `making_up` holds that keeps an edge down."""


def warn_of_curl(pattern: Pattern, pieces: Iterable[WorkedPiece], notes: Notes) -> None:
    """Warn once of a scarf or blanket with an open edge, unless its making up sees to it.

    A tube's sides don't roll, and the weight of a fringe holds an end down. Panels that are joined
    still have their outermost sides open. Source: common practice, no source.
    """
    if pattern.kind not in FLAT_KINDS:
        return
    if any(word in step.do for step in pattern.making_up or () for word in HELPS):
        return
    lined = {piece.lining_of for piece in pieces}
    for piece in pieces:
        if piece.lining_of is None and piece.key not in lined and (edge := _open_edge(piece)):
            notes.warning(
                ("pieces", piece.key),
                say("{edge} of {key} are plain knitting, which rolls up", edge, piece.key),
                "say in making_up how they are kept down, like a crocheted border (crochet_edge), "
                "or write hemmed ends, a fringe or a lining",
            )
            return


def _open_edge(piece: WorkedPiece) -> str:
    """Which edges of a piece roll; empty for none."""
    if piece.form == "panel" and piece.sides != "seamed" and piece.fold is None:
        return say("the open sides")
    bare = any(end.edge == "open" for end in piece.ends)
    return say("the open ends") if bare and piece.fringe is None else ""
