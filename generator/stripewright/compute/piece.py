"""One piece: its plan, its ends and its sizes."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.brim import check_brim, turned_up
from stripewright.compute.filling import solid
from stripewright.compute.piece_context import edges_of, ends_of, sides_of
from stripewright.compute.plan import (
    carried,
    fold_row,
    knittable,
    lay_out,
    worked_ends,
    worked_openings,
)
from stripewright.compute.recorded import worked_tables
from stripewright.compute.rows import StripeRows
from stripewright.compute.size import (
    SEAM_STITCHES,
    flat_width,
    is_bag,
    made_up_length,
    made_up_width,
    needles_to_width,
    panels_to_width,
)
from stripewright.compute.worked_piece import WorkedAttachment, WorkedFringe, WorkedPiece
from stripewright.phrases import capital

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.piece_context import PieceContext
    from stripewright.compute.worked_piece import Solid, WorkedEnd
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Piece

STUFFED = ("cushion", "draught excluder", "toy")
"""Kinds of things whose closed tubes are filled, whether the author says so or not."""

FRINGE_KNOT_CM = 3.0
"""Yarn that a strand's knot and trimming take (common practice, no source)."""


def work_piece(context: PieceContext, key: str) -> WorkedPiece | None:
    """Work one piece out: rows, stitches, lengths in cm; None after an error, which is noted.

    Args:
        context: the pattern, its gauge and letters, and where problems are noted.
        key: the piece's key.
    """
    stripes = context.stripes(key)
    if stripes is None:
        return None
    knitted = _knitted(context, key, stripes)
    _check_graft(context, knitted)
    _check_lining(context, knitted)
    made = _made_up(context, knitted)
    brim, edges = context.source(key, "brim").brim, edges_of(context.pattern.pieces, key)
    if brim is None or not check_brim(made, brim, edges, key, context.notes):
        return made
    return turned_up(made, brim.turned_up) if brim.turned_up else made


def _knitted(context: PieceContext, key: str, stripes: Sequence[StripeRows]) -> WorkedPiece:
    """A piece as it comes off the machine: its plan, its ends and its flat sizes."""
    pattern, notes, gauge = context.pattern, context.notes, context.gauge
    piece, path = pattern.pieces[key], ("pieces", key)
    machine = context.source(key, "machine").machine or pattern.machine
    stitches = context.source(key, "needles").needles or machine.in_work
    stripes, ends = _between_ends(context, key, stripes)
    visible, before = sum(stripe.rows for stripe in stripes), ends[0].rows - ends[0].grafted
    sides, folded_at = sides_of(pattern.pieces, key)
    most = context.source(key, "carry").carry
    attach = context.source(key, "attach").attach  # in visible rows until that piece is worked
    plan = carried(lay_out(stripes, ends, context.letters), most, tube=piece.form == "tube")
    fold = fold_row(folded_at, before, visible, path, notes)
    gaps = worked_openings(context.source(key, "openings"), before, visible, path, notes)
    return WorkedPiece(
        key=key,
        title=capital(piece.title or key.replace("_", " ")),
        form=piece.form,
        make=piece.make,
        machine=machine,
        stitches=stitches,
        ends=ends,
        sides=sides,
        plan=plan,
        flat_width_cm=flat_width(piece.form, stitches, gauge),
        girth_cm=None,
        finished_length_cm=visible / gauge.rows_per_cm,
        worked_length_cm=plan[-1].last / gauge.rows_per_cm,
        asked_length_cm=_asked(context, key, piece),
        filled=_filled(context, key, piece, ends),
        lining_of=piece.like if piece.yarn is not None else None,
        fold=fold,
        openings=tuple(replace(gap, last=min(gap.last, plan[-1].last)) for gap in gaps),
        attachment=WorkedAttachment(attach.to, attach.at) if attach else None,
        tables=worked_tables(pattern.pieces, key, stripes, before, context.letters),
    )


def _made_up(context: PieceContext, piece: WorkedPiece) -> WorkedPiece:
    """The piece with its sizes once it is sewn up, its fringe, and its shape once filled."""
    form, stitches, gauge = piece.form, piece.stitches, context.gauge
    bag = is_bag(form, piece.sides, piece.folded, piece.visible_rows)
    width = made_up_width(form, piece.sides, stitches, piece.make, gauge, bag=bag)
    length = made_up_length(piece.visible_rows, piece.folded, gauge)
    wished = context.source(piece.key, "width").width
    return replace(
        piece,
        girth_cm=2 * width if form == "tube" or piece.sides == "seamed" else None,
        fringe=_fringe(context, piece),
        solid=_solid(context, piece, width, length) if piece.filled else None,
        wished_width_cm=wished,
        least_stitches=None if wished is None else needles_to_width(form, wished, gauge),
        panels_to_width=None
        if wished is None or form == "tube"
        else panels_to_width(stitches, wished, gauge),
        made_up_width_cm=width,
        made_up_length_cm=length,
    )


def _between_ends(
    context: PieceContext, key: str, stripes: Sequence[StripeRows]
) -> tuple[Sequence[StripeRows], tuple[WorkedEnd, WorkedEnd]]:
    """The stripes that show, those of a lining as long as its cover shows, and both ends."""
    pattern, piece = context.pattern, context.pattern.pieces[key]
    ends = worked_ends(ends_of(pattern.pieces, key), context.gauge, waste=pattern.waste.rows > 0)
    if piece.like is not None and piece.yarn is not None:
        stripes = [_lining(stripes[0], ends)]
    return stripes, knittable(ends, stripes)


def _lining(plain: StripeRows, ends: tuple[WorkedEnd, WorkedEnd]) -> StripeRows:
    """What shows of a lining: it is knitted as long as its cover shows, or as its author says.

    So what its ends take up comes off that: sewn at both it sits inside without strain.
    Source: common practice, no source.
    """
    return StripeRows(plain.yarn, max(plain.rows - ends[0].rows - ends[1].rows, 1))


def _asked(context: PieceContext, key: str, piece: Piece) -> float | None:
    """The length that the rows were shared out of, in cm."""
    if piece.stripes is not None:
        return piece.length
    return None if piece.rows is not None else context.source(key, "length").length


def is_stuffed(pattern: Pattern) -> bool:
    """Whether closed tubes of this pattern hold filling unless a piece says otherwise."""
    return pattern.fill is not None or pattern.kind in STUFFED


def _filled(
    context: PieceContext, key: str, piece: Piece, ends: tuple[WorkedEnd, WorkedEnd]
) -> bool:
    """Whether a piece holds filling; warns where its end stripes have no row to spare."""
    said = context.source(key, "filled").filled
    closed = all(end.edge in ("seamed", "gathered", "grafted") for end in ends)
    lining = piece.like is not None and piece.yarn is not None
    filled = (
        said
        if said is not None
        else (is_stuffed(context.pattern) and piece.form == "tube" and closed and not lining)
    )
    if filled and not lining:
        for index, end in enumerate(ends):
            if end.edge in ("seamed", "gathered") and end.rows == 0:
                which = "first" if index == 0 else "last"
                context.notes.warning(
                    ("pieces", key, "ends", index),
                    say(
                        "the {which} stripe of a filled piece has no extra row, so filling "
                        "pulls its last row into the closing",
                        which,
                    ),
                    say("write {{edge: {edge}, rows: 1}}, or 2 for a firm filling", end.edge),
                )
    return filled


def _solid(context: PieceContext, piece: WorkedPiece, width: float, length: float) -> Solid | None:
    edges = piece.ends[0].edge, piece.ends[1].edge
    shape = solid(width, length, edges)
    if shape is None:
        ring = edges == ("grafted", "grafted")
        figures = context.notes.figures
        what, least = ("ring", 2 * width) if ring else (say("gathered tube"), 2 * width / pi)
        context.notes.warning(
            ("pieces", piece.key),
            say(
                "a {what} {length} long and {value} around is too short to close and be filled",
                what,
                figures.own_length(length),
                figures.own_length(2 * width),
            ),
            say("make it longer than {least}, or seam its ends", figures.own_length(least)),
        )
    return shape


def _check_lining(context: PieceContext, piece: WorkedPiece) -> None:
    """Warn of a lining that can't be put into its cover."""
    if piece.lining_of is None or piece.form == "tube" or piece.sides == "seamed":
        return
    if context.pattern.pieces[piece.lining_of].form == "tube":
        context.notes.warning(
            ("pieces", piece.key, "form"),
            "a panel with open sides can't line a tube",
            "write form: tube, or sides: seamed",
        )


def _check_graft(context: PieceContext, piece: WorkedPiece) -> None:
    """Refuse a graft where nothing is live; warn of a panel's end that is grafted to nothing."""
    edges = [end.edge for end in piece.ends]
    if edges[0] == "grafted" and not piece.ends[0].live:
        context.notes.error(
            ("pieces", piece.key, "ends", 0),
            "without waste yarn the cast-on end has no live stitches to graft",
            "write waste: {rows: 5}, or seamed for grafted",
        )
    if piece.form == "panel" and edges.count("grafted") == 1 and context.pattern.making_up is None:
        context.notes.warning(
            ("pieces", piece.key, "ends", edges.index("grafted")),
            "a panel's end can't be grafted by itself, and nothing says what it is joined to",
            "write [grafted, grafted] to join its two ends, or give making_up: with that step",
        )


def _fringe(context: PieceContext, piece: WorkedPiece) -> WorkedFringe | None:
    """The fringe: a tassel every so many stitches of an end, through all the layers it has."""
    fringe = context.source(piece.key, "fringe").fringe
    if fringe is None:
        return None
    layers = 2 if piece.form == "tube" or piece.sides == "seamed" else 1
    seamed = piece.form == "panel" and layers == 2
    across = max(piece.stitches - SEAM_STITCHES * seamed, 2) // layers
    yarn = fringe.yarn
    return WorkedFringe(
        every=fringe.every,
        layers=layers,
        tassels=(across - 1) // fringe.every + 1,
        strands=fringe.strands,
        cut_cm=2 * fringe.length + FRINGE_KNOT_CM,
        finished_cm=fringe.length,
        yarns=(yarn or piece.plan[0].yarn, yarn or piece.plan[-1].yarn),
    )
