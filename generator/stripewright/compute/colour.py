"""Colour: whether neighbouring stripes can be told apart, and by whom."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import N_, _, say
from stripewright.compute.marl import shown_colours
from stripewright.compute.worked import Clash
from stripewright.figures import listed

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.yarns import Yarn
    from stripewright.source.places import Path

VIEWS = ("normal", "protan", "deutan", "tritan", "grey")
"""How a colour is seen: normally, with each colour-vision deficiency, in lightness alone."""

TOLD_APART = 10.0
"""CIEDE2000 that two stripes side by side need to be told apart at arm's length, in colour
(common practice, no source)."""

TOLD_APART_GREY = 6.0
"""The same in lightness alone, where stripes have sharp edges and letters besides (common
practice, no source)."""

_STEP = 0.01
"""Step of OKLCH lightness in which a proposal is sought."""

WHO = {
    "normal": N_("most readers"),
    "protan": N_("readers who see little red"),
    "deutan": N_("readers who see little green"),
    "tritan": N_("readers who see little blue"),
    "grey": N_("a black-and-white print"),
}


@cache
def colour_type() -> Any:
    """Coloraide's class of colours, imported when the first is needed."""
    from coloraide import Color

    return Color


@lru_cache(maxsize=4096)
def seen(colour: str, view: str) -> Any:
    """A colour (#rrggbb) as one of `VIEWS` sees it, in CIE Lab under D65.

    Deficiencies are simulated in full. Grey keeps the lightness L* and drops the rest.
    Source: Machado, Oliveira and Fernandes 2009 for protan and deutan; Brettel, Viénot and Mollon
    1997 for tritan, where Machado's is known to fail; both by coloraide.
    """
    exact = colour_type()(colour)
    if view == "grey":
        return exact.convert("lab-d65").set({"a": 0, "b": 0})
    if view != "normal":
        method = "brettel" if view == "tritan" else "machado"
        exact = exact.filter(view, method=method)
    return exact.convert("lab-d65")


@lru_cache(maxsize=1 << 16)
def difference(first: str, second: str, view: str = "normal") -> float:
    """CIEDE2000 between two colours (#rrggbb) in one of `VIEWS`.

    Source: CIE 142-2001, by coloraide; checked against the data of Sharma, Wu and Dalal 2005.
    """
    return apart(seen(first, view), seen(second, view))


def apart(one: Any, two: Any) -> float:
    """CIEDE2000 between two of coloraide's colours, weights kL = kC = kH = 1."""
    return float(one.delta_e(two, method="2000"))


def enough(view: str) -> float:
    """The least difference that tells two stripes apart in a view."""
    return TOLD_APART_GREY if view == "grey" else TOLD_APART


@lru_cache(maxsize=1 << 14)
def unseen_by(first: str, second: str) -> tuple[str, ...]:
    """The views in which two colours (#rrggbb) can't be told apart."""
    return tuple(view for view in VIEWS if difference(first, second, view) < enough(view))


def _seen_by_all(first: str, second: str) -> bool:
    # Grey first: it is the view that most colours of about the same lightness fail in.
    return all(difference(first, second, view) >= enough(view) for view in reversed(VIEWS))


@lru_cache(maxsize=1 << 14)
def proposal(first: str, second: str) -> str | None:
    """The second colour with the smallest change of lightness that tells it from the first."""
    return lightness_apart((first,), second)


def lightness_apart(others: Sequence[str], colour: str) -> str | None:
    """A colour with the smallest change of lightness that tells it from all others.

    Sought in steps of `_STEP` of OKLCH lightness, darker and lighter in turn, hue and chroma kept
    as far as sRGB holds them. None when no lightness will do.
    """
    tried = colour_type()(colour).convert("oklch")
    begun = tried["lightness"]
    for step in range(1, round(1 / _STEP)):
        for way in (-1, 1):
            lightness = begun + way * step * _STEP
            if not 0 <= lightness <= 1:
                continue
            tried["lightness"] = lightness
            found = str(tried.convert("srgb").to_string(hex=True))
            if all(_seen_by_all(other, found) for other in others):
                return found
    return None


def clashes_of(piece: WorkedPiece, colours: Mapping[str, str]) -> list[Clash]:
    """Neighbouring stripes of a piece that some can't tell apart, one a pair of yarns.

    Args:
        piece: whose plan is looked through.
        colours: #rrggbb by yarn key.
    """
    found: dict[frozenset[str], Clash] = {}
    neighbours = zip(piece.plan, piece.plan[1:], strict=False)
    for number, (one, two) in enumerate(neighbours, start=1):
        pair = frozenset((one.yarn, two.yarn))
        first, second = colours[one.yarn], colours[two.yarn]
        if pair in found or not (views := unseen_by(first, second)):
            continue
        found[pair] = Clash(
            piece=piece.key,
            first=one.yarn,
            second=two.yarn,
            stripes=(number, number + 1),
            seen_by=views,
            difference=min(difference(first, second, view) for view in views),
            proposal=proposal(first, second),
        )
    return list(found.values())


def find_clashes(pieces: Iterable[WorkedPiece], yarns: Mapping[str, Yarn]) -> tuple[Clash, ...]:
    """The clashes of all pieces, in order."""
    colours = shown_colours(yarns)
    return tuple(clash for piece in pieces for clash in clashes_of(piece, colours))


def warn_of(clashes: Iterable[Clash], notes: Notes, within: Path = ()) -> None:
    """Warn once for each pair of yarns that clash, at the colour of the second.

    Args:
        clashes: what clashes.
        notes: where it is noted.
        within: the path to the colourway that it clashes in; empty for the pattern's own yarns.
    """
    told: set[frozenset[str]] = set()
    for clash in clashes:
        pair = frozenset((clash.first, clash.second))
        if pair not in told:
            told.add(pair)
            _warn(clash, notes, within)


def _warn(clash: Clash, notes: Notes, within: Path) -> None:
    above, below = clash.stripes
    everyone = "normal" in clash.seen_by
    who = "anyone" if everyone else listed(WHO[view] for view in clash.seen_by)
    notes.warning(
        (*within, "yarns", clash.second, "colour"),
        say(
            "stripes {above} ({first}) and {below} ({second}) of {piece} can hardly be told "
            "apart by {who}",
            above,
            clash.first,
            below,
            clash.second,
            clash.piece,
            who,
        ),
        say('colour "{proposal}" for {second} would do', clash.proposal, clash.second)
        if clash.proposal
        else _("no lightness of this colour would do; take another colour"),
    )
