"""A hat against a head."""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.notes import known_as
from stripewright.compute.tables import head_sizes
from stripewright.compute.worked import WorkedFit

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pattern import Pattern

LOOSEST, TIGHTEST = 0.0, -0.3
"""Ease beyond which a hat slips off, or pinches: knitting gives by about a third (common practice,
no source)."""

FAR = 0.12
"""Off the ease wished for by more than this, a hat isn't the one meant (common practice, no
source)."""


def fit_of(pattern: Pattern, pieces: Iterable[WorkedPiece], notes: Notes) -> WorkedFit | None:
    """How the first piece that goes around a head fits it; None without a `fit`.

    The girth wanted is head × (1 + ease), in cm; ease is negative where knitting is stretched.
    A girth over the head, under it by more than `TIGHTEST`, or `FAR` from the one wanted, is
    warned of, with the needle counts that fit.
    Source: the table of head sizes names its own; the ease is common practice, no source.
    """
    fit = pattern.fit
    if fit is None:
        return None
    table = head_sizes().get(fit.wearer or "")
    head = fit.head if table is None else table.head_cm
    if head is None:
        notes.error(
            ("fit", "wearer"),
            say("no head size is known for {wearer}", fit.wearer),
            known_as(str(fit.wearer), head_sizes()),
        )
        return None
    piece = next((piece for piece in pieces if piece.girth_cm is not None), None)
    girth = None if piece is None else piece.girth_cm
    if piece is None or girth is None:
        notes.error(
            ("fit",),
            "no piece goes around a head",
            "fit needs a tube, or a panel with sides: seamed",
        )
        return None
    worked = WorkedFit(
        head_cm=head,
        ease=fit.ease,
        girth_cm=girth,
        wanted_girth_cm=head * (1 + fit.ease),
        wearer=fit.wearer,
        source=table.source if table is not None else None,
    )
    if not TIGHTEST <= worked.actual_ease <= LOOSEST or abs(worked.actual_ease - fit.ease) > FAR:
        notes.warning(
            ("fit",),
            say(
                "{girth} around is {loose} on a head of {head}",
                notes.figures.own_length(girth),
                say("loose") if girth > head else say("tight"),
                notes.figures.own_length(head),
            ),
            say(
                "aim at {wanted_girth_cm}: {needles} at this gauge, or other yarn or gauge",
                notes.figures.own_length(worked.wanted_girth_cm),
                _needles(piece.stitches, girth, worked),
            ),
        )
    return worked


def _needles(stitches: int, girth: float, worked: WorkedFit) -> str:
    """The needle counts that come within a twentieth of the girth wished for."""
    per_cm = stitches / girth
    least = ceil(worked.wanted_girth_cm * 0.95 * per_cm)
    most = max(floor(worked.wanted_girth_cm * 1.05 * per_cm), least)
    return (
        say("{least} to {most} needles", least, most)
        if most > least
        else say("{least} needles", least)
    )
