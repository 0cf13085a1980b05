"""A hat against a head."""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.tables import head_sizes
from stripewright.compute.worked import WorkedFit
from stripewright.problems import nearest

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
    piece = next((piece for piece in pieces if piece.girth_cm is not None), None)
    girth = None if piece is None else piece.girth_cm
    if head is None:
        notes.error(
            ("fit", "wearer"),
            say("no head size is known for {wearer}", fit.wearer),
            nearest(str(fit.wearer), head_sizes()),
        )
    elif piece is None or girth is None:
        notes.error(
            ("fit",),
            "no piece goes around a head",
            "fit needs a tube, or a panel with sides: seamed",
        )
    else:
        wanted = head * (1 + fit.ease)
        worked = WorkedFit(head, fit.ease, girth, wanted, fit.wearer)
        _warn_of_ease(worked, piece.stitches, notes)
        return worked
    return None


def _warn_of_ease(fit: WorkedFit, stitches: int, notes: Notes) -> None:
    """Tell of a hat that would be loose, tight or far from what was wished for."""
    if TIGHTEST <= fit.actual_ease <= LOOSEST and abs(fit.actual_ease - fit.ease) <= FAR:
        return
    told = notes.figures.own_length
    notes.warning(
        ("fit",),
        say(
            "{girth} around is {loose} on a head of {head}",
            told(fit.girth_cm),
            say("loose") if fit.girth_cm > fit.head_cm else say("tight"),
            told(fit.head_cm),
        ),
        say(
            "aim at {wanted_girth_cm}: {needles} at this gauge, or other yarn or gauge",
            told(fit.wanted_girth_cm),
            _needles(stitches, fit),
        ),
    )


def _needles(stitches: int, fit: WorkedFit) -> str:
    """The needle counts that come within a twentieth of the girth wished for."""
    per_cm = stitches / fit.girth_cm
    least = ceil(fit.wanted_girth_cm * 0.95 * per_cm)
    most = max(floor(fit.wanted_girth_cm * 1.05 * per_cm), least)
    return (
        say("{least} to {most} needles", least, most)
        if most > least
        else say("{least} needles", least)
    )
