"""The computation's table of contents: one pattern in, one worked pattern out."""

from __future__ import annotations

from dataclasses import replace
from string import ascii_uppercase
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.by_yarn import rows_by_yarn
from stripewright.compute.cautions import cautions_of, warn_of_parts
from stripewright.compute.colour import find_clashes, warn_of
from stripewright.compute.curl import warn_of_curl
from stripewright.compute.events import along
from stripewright.compute.filling import filling
from stripewright.compute.fit import fit_of
from stripewright.compute.gauge import check_class, gauge_of
from stripewright.compute.joined import fringed, joined_of
from stripewright.compute.marl import knitted_yarns
from stripewright.compute.notes import Notes
from stripewright.compute.piece import work_piece
from stripewright.compute.piece_context import PieceContext
from stripewright.compute.size import finished_sizes
from stripewright.compute.sizes import recoloured, resized
from stripewright.compute.tails import all_tails, long_tails
from stripewright.compute.time import work_time
from stripewright.compute.worked import WorkedColourway, WorkedPattern, WorkedSize
from stripewright.compute.yarn import check_unravelled, loop_of, uses_of, waste_metres, work_yarns
from stripewright.figures import Figures
from stripewright.pattern.pieces import Fill
from stripewright.pattern.stripes import MOST_STRIPES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.compute.yarn import Loop
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.settings import Settings
    from stripewright.pattern.sizes import Size
    from stripewright.problems import Problem
    from stripewright.source.document import Document

_OWN = "own"
"""What problems call the size of somebody's own machine."""


def work(
    pattern: Pattern, document: Document, settings: Settings, slug: str
) -> tuple[WorkedPattern | None, list[Problem]]:
    """Work a pattern out.

    Args:
        pattern: what the author wrote.
        document: where they wrote it, for the places of problems.
        settings: the studio's (pace, currency).
        slug: the pattern's address.

    Returns:
        The worked pattern (None after an error) and every problem found.
    """
    notes = Notes(document, figures=Figures.of(settings))
    worked = _work(pattern, settings, slug, notes)
    if worked is not None:
        _check_stripes(worked, notes)
    if worked is None or notes.failed:
        return None, notes.problems
    warn_of(worked.clashes, notes)
    for one in worked.colourways:
        warn_of(one.worked.clashes, notes, ("colourways", one.key))
    warn_of_parts(pattern, worked.cautions, notes)
    for size in worked.sizes:
        inner = Notes(document, size=size.key, figures=notes.figures)
        warn_of_parts(size.worked.pattern, size.worked.cautions, inner)
        notes.problems += inner.beyond(notes)
    warn_of_curl(pattern, worked.pieces, notes)
    return worked, notes.problems


def work_anew(
    base: WorkedPattern, size: Size, document: Document, settings: Settings
) -> tuple[WorkedPattern | None, list[Problem]]:
    """Work a pattern for somebody's own machine: other needles, another gauge.

    Args:
        base: the pattern as it was designed.
        size: what is otherwise, and what is kept.
        document: where it was written, for the places of problems.
        settings: the studio's.

    Returns:
        The pattern worked anew, without sizes of its own (None after an error), and every problem.
    """
    notes = Notes(document, figures=Figures.of(settings))
    worked = _work(resized(base, _OWN, size, notes), settings, base.slug, notes)
    if worked is not None:
        _check_stripes(worked, notes)
    return (None if notes.failed else worked), notes.problems


def _work(pattern: Pattern, settings: Settings, slug: str, notes: Notes) -> WorkedPattern | None:
    gauge = gauge_of(pattern.swatches, pattern.gauge)
    check_class(pattern, gauge, notes)
    left = settings.stash.left_of(pattern) if settings.stash else {}
    letters = dict(zip(pattern.yarns, ascii_uppercase, strict=False))
    found = rows_by_yarn(pattern, gauge, letters, left, notes)
    pieces = _pieces(PieceContext(pattern, gauge, letters, notes, stated=found.rows))
    if notes.failed:
        return None
    whole = joined_of(pattern.join, pieces, gauge, notes)
    pieces = fringed(whole, pieces)
    fit = fit_of(pattern, pieces, notes)
    loop = _loop(pattern, pieces, gauge)
    check_unravelled(pattern, loop, notes)
    tails = long_tails(pieces, pattern.tails)
    uses = uses_of(pattern.yarns, pieces, all_tails(pieces, tails))
    yarns = work_yarns(pattern, uses, letters, loop, settings.currency)
    stuffing = filling(pattern.fill or Fill(), pieces)
    pace = pattern.pace or settings.pace
    base = WorkedPattern(
        slug=slug,
        pattern=pattern,
        gauge=gauge,
        pieces=tuple(pieces),
        yarns=yarns,
        time=work_time(pieces, pattern.waste.rows, stuffing, pace),
        loop_cm=loop.length_cm,
        loop_source=loop.source,
        waste_m=waste_metres(pattern, pieces, loop),
        finished=finished_sizes(pattern.kind, pieces, whole),
        joined=whole,
        filling=stuffing,
        fit=fit,
        clashes=find_clashes(pieces, pattern.yarns),
        cautions=cautions_of(pattern, pieces),
        tails_cm=tails,
        pace=pace,
        amounts=found.amounts,
    )
    return _with_sizes(_with_colourways(base, settings, notes), settings, notes)


def _pieces(context: PieceContext) -> list[WorkedPiece]:
    worked = (work_piece(context, key) for key in context.pattern.pieces)
    return along([piece for piece in worked if piece is not None], context.notes)


def _loop(pattern: Pattern, pieces: Sequence[WorkedPiece], gauge: WorkedGauge) -> Loop:
    """The yarn in one stitch, of the yarns that are knitted."""
    used = {line.yarn for piece in pieces for line in piece.plan}
    return loop_of(gauge, pattern.swatches, knitted_yarns(pattern.yarns, used))


def _check_stripes(worked: WorkedPattern, notes: Notes) -> None:
    """Refuse more stripes than anyone prints: their sheets would take minutes and gigabytes."""
    whole = [worked, *(size.worked for size in worked.sizes)]
    stripes = sum(len(piece.plan) for one in whole for piece in one.pieces)
    if stripes > MOST_STRIPES:
        sized = say(" and sizes") if worked.sizes else ""
        notes.error(
            ("sizes",) if worked.sizes else ("pieces",),
            say(
                "all pieces{sized} come to {stripes} stripes, and no pattern has more than "
                "{most_stripes}",
                sized,
                stripes,
                MOST_STRIPES,
            ),
            "make it two patterns, or repeat less often",
        )


def _with_colourways(base: WorkedPattern, settings: Settings, notes: Notes) -> WorkedPattern:
    """The pattern with its colourways; what is wrong with one is wrong with all, and told once."""
    colourways = []
    for key, written in base.pattern.colourways.items():
        inner = Notes(notes.document, figures=notes.figures)
        worked = _work(recoloured(base.pattern, written), settings, base.slug, inner)
        if worked is not None:
            title = written.title or key.replace("_", " ").capitalize()
            colourways.append(WorkedColourway(key, title, worked))
    return replace(base, colourways=tuple(colourways))


def _with_sizes(base: WorkedPattern, settings: Settings, notes: Notes) -> WorkedPattern:
    if not base.pattern.sizes:
        return base
    sizes, found = [], []
    for key, size in base.pattern.sizes.items():
        inner = Notes(notes.document, size=key, figures=notes.figures)
        worked = _work(resized(base, key, size, inner), settings, base.slug, inner)
        found += inner.beyond(notes)
        if worked is not None:
            title = size.title or key.replace("_", " ")
            sizes.append(WorkedSize(key, title, worked))
    notes.problems += found
    return replace(base, sizes=tuple(sizes))
