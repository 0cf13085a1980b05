"""One piece: its plan, its ends and its sizes."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.bench import edges_of, ends_of, sides_of
from stripewright.compute.brim import check_brim, turned_up
from stripewright.compute.filling import solid
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

if TYPE_CHECKING:
    from stripewright.compute.bench import PieceContext
    from stripewright.compute.worked_piece import PlanLine, Solid, WorkedEnd
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Piece

STUFFED = ("cushion", "draught excluder", "toy")
"""Kinds of things whose closed tubes are filled, whether the author says so or not."""

FRINGE_KNOT_CM = 3.0
"""Yarn that a strand's knot and trimming take (common practice, no source)."""


def work_piece(bench: PieceContext, key: str) -> WorkedPiece | None:
    """Work one piece out: rows, stitches, lengths in cm; None after an error, which is noted.

    Args:
        bench: the pattern, its gauge and letters, and where problems are noted.
        key: the piece's key.
    """
    piece, notes, gauge = bench.pattern.pieces[key], bench.notes, bench.gauge
    path = ("pieces", key)
    stripes = bench.stripes(key)
    if stripes is None:
        return None
    machine = bench.source(key, "machine").machine or bench.pattern.machine
    stitches = bench.source(key, "needles").needles or machine.in_work
    waste = bench.pattern.waste.rows > 0
    ends = worked_ends(ends_of(bench.pattern.pieces, key), gauge, waste=waste)
    if piece.like is not None and piece.yarn is not None:
        stripes = [_lining(stripes[0], ends)]
    ends = knittable(ends, stripes)
    visible = sum(stripe.rows for stripe in stripes)
    sides, folded_at = sides_of(bench.pattern.pieces, key)
    most = bench.source(key, "carry").carry
    plan = carried(lay_out(stripes, ends, bench.letters), most, tube=piece.form == "tube")
    before = ends[0].rows - ends[0].grafted
    fold = fold_row(folded_at, before, visible, path, notes)
    gaps = worked_openings(bench.source(key, "openings"), before, visible, path, notes)
    openings = tuple(replace(gap, last=min(gap.last, plan[-1].last)) for gap in gaps)
    filled = _filled(bench, key, piece, ends)
    _check_graft(bench, key, piece.form, ends)
    _check_lining(bench, key, piece, sides)
    width = flat_width(piece.form, stitches, gauge)
    folded = None if fold is None else fold - before
    bag = is_bag(piece.form, sides, folded, visible)
    up_width = made_up_width(piece.form, sides, stitches, piece.make, gauge, bag=bag)
    up_length = made_up_length(visible, folded, gauge)
    wished = bench.source(key, "width").width
    made = WorkedPiece(
        key=key,
        title=_title(piece.title or key.replace("_", " ")),
        form=piece.form,
        make=piece.make,
        stitches=stitches,
        ends=ends,
        sides=sides,
        plan=plan,
        flat_width_cm=width,
        girth_cm=2 * up_width if piece.form == "tube" or sides == "seamed" else None,
        finished_length_cm=visible / gauge.rows_per_cm,
        worked_length_cm=plan[-1].last / gauge.rows_per_cm,
        asked_length_cm=_asked(bench, key, piece),
        filled=filled,
        lining_of=piece.like if piece.yarn is not None else None,
        fold=fold,
        openings=openings,
        fringe=_fringe(bench, key, plan, stitches, sides),
        solid=_solid(bench, key, ends, up_width, up_length) if filled else None,
        wished_width_cm=wished,
        least_stitches=None if wished is None else needles_to_width(piece.form, wished, gauge),
        panels_to_width=panels_to_width(stitches, wished, gauge)
        if wished is not None and piece.form == "panel"
        else None,
        made_up_width_cm=up_width,
        made_up_length_cm=up_length,
        machine=machine,
        attachment=_attachment(bench, key),
        tables=worked_tables(bench.pattern.pieces, key, stripes, before, bench.letters),
    )
    brim = bench.source(key, "brim").brim
    if brim is None or not check_brim(made, brim, edges_of(bench.pattern.pieces, key), key, notes):
        return made
    return turned_up(made, brim.turned_up) if brim.turned_up else made


def _lining(plain: StripeRows, ends: tuple[WorkedEnd, WorkedEnd]) -> StripeRows:
    """What shows of a lining: it is knitted as long as its cover shows, or as its author says.

    So what its ends take up comes off that: sewn at both it sits inside without strain.
    Source: common practice, no source.
    """
    return StripeRows(plain.yarn, max(plain.rows - ends[0].rows - ends[1].rows, 1))


def _attachment(bench: PieceContext, key: str) -> WorkedAttachment | None:
    """Where it is sewn on, told in visible rows until the piece that it is sewn to is worked."""
    attach = bench.source(key, "attach").attach
    return None if attach is None else WorkedAttachment(attach.to, attach.at)


def _title(written: str) -> str:
    """A piece's title as it stands in a heading; sentences write it small."""
    return written[:1].upper() + written[1:]


def _asked(bench: PieceContext, key: str, piece: Piece) -> float | None:
    """The length that the rows were shared out of, in cm."""
    if piece.stripes is not None:
        return piece.length
    return None if piece.rows is not None else bench.source(key, "length").length


def is_stuffed(pattern: Pattern) -> bool:
    """Whether closed tubes of this pattern hold filling unless a piece says otherwise."""
    return pattern.fill is not None or pattern.kind in STUFFED


def _filled(bench: PieceContext, key: str, piece: Piece, ends: tuple[WorkedEnd, WorkedEnd]) -> bool:
    """Whether a piece holds filling; warns where its end stripes have no row to spare."""
    said = bench.source(key, "filled").filled
    closed = all(end.edge in ("seamed", "gathered", "grafted") for end in ends)
    lining = piece.like is not None and piece.yarn is not None
    filled = (
        said
        if said is not None
        else (is_stuffed(bench.pattern) and piece.form == "tube" and closed and not lining)
    )
    if filled and not lining:
        for index, end in enumerate(ends):
            if end.edge in ("seamed", "gathered") and end.rows == 0:
                which = "first" if index == 0 else "last"
                bench.notes.warning(
                    ("pieces", key, "ends", index),
                    say(
                        "the {which} stripe of a filled piece has no extra row, so filling "
                        "pulls its last row into the closing",
                        which,
                    ),
                    say("write {{edge: {edge}, rows: 1}}, or 2 for a firm filling", end.edge),
                )
    return filled


def _solid(
    bench: PieceContext, key: str, ends: tuple[WorkedEnd, WorkedEnd], width: float, length: float
) -> Solid | None:
    edges = ends[0].edge, ends[1].edge
    shape = solid(width, length, edges)
    if shape is None:
        ring = edges == ("grafted", "grafted")
        figures = bench.notes.figures
        what, least = ("ring", 2 * width) if ring else (say("gathered tube"), 2 * width / pi)
        bench.notes.warning(
            ("pieces", key),
            say(
                "a {what} {length} long and {value} around is too short to close and be filled",
                what,
                figures.own_length(length),
                figures.own_length(2 * width),
            ),
            say("make it longer than {least}, or seam its ends", figures.own_length(least)),
        )
    return shape


def _check_lining(bench: PieceContext, key: str, piece: Piece, sides: str) -> None:
    """Warn of a lining that can't be put into its cover."""
    if piece.like is None or piece.yarn is None or piece.form == "tube" or sides == "seamed":
        return
    if bench.pattern.pieces[piece.like].form == "tube":
        bench.notes.warning(
            ("pieces", key, "form"),
            "a panel with open sides can't line a tube",
            "write form: tube, or sides: seamed",
        )


def _check_graft(
    bench: PieceContext, key: str, form: str, ends: tuple[WorkedEnd, WorkedEnd]
) -> None:
    """Refuse a graft where nothing is live; warn of a panel's end that is grafted to nothing."""
    edges = [end.edge for end in ends]
    if edges[0] == "grafted" and not ends[0].live:
        bench.notes.error(
            ("pieces", key, "ends", 0),
            "without waste yarn the cast-on end has no live stitches to graft",
            "write waste: {rows: 5}, or seamed for grafted",
        )
    if form == "panel" and edges.count("grafted") == 1 and bench.pattern.making_up is None:
        bench.notes.warning(
            ("pieces", key, "ends", edges.index("grafted")),
            "a panel's end can't be grafted by itself, and nothing says what it is joined to",
            "write [grafted, grafted] to join its two ends, or give making_up: with that step",
        )


def _fringe(
    bench: PieceContext, key: str, plan: tuple[PlanLine, ...], stitches: int, sides: str
) -> WorkedFringe | None:
    """The fringe: a tassel every so many stitches of an end, through all the layers it has."""
    fringe = bench.source(key, "fringe").fringe
    if fringe is None:
        return None
    form = bench.pattern.pieces[key].form
    layers = 2 if form == "tube" or sides == "seamed" else 1
    across = max(stitches - SEAM_STITCHES * (form == "panel" and layers == 2), 2) // layers
    yarn = fringe.yarn
    return WorkedFringe(
        every=fringe.every,
        layers=layers,
        tassels=(across - 1) // fringe.every + 1,
        strands=fringe.strands,
        cut_cm=2 * fringe.length + FRINGE_KNOT_CM,
        finished_cm=fringe.length,
        yarns=(yarn or plan[0].yarn, yarn or plan[-1].yarn),
    )
