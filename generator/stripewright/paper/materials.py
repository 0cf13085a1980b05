"""Yarns and supplies, as a list to shop by."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.paper.ink import letter_on
from stripewright.words import supplies as at_hand

if TYPE_CHECKING:
    from stripewright.compute.worked import BallCount, WorkedPattern, WorkedYarn
    from stripewright.figures import Figures
    from stripewright.pattern.settings import Settings


def yarns(worked: WorkedPattern, settings: Settings, figures: Figures) -> list[dict[str, Any]]:
    """Each yarn: letter, role, name, what it is, how much of it, and what to buy."""
    return [
        {
            "letter": yarn.letter,
            "role": yarn.role,
            "name": yarn.name,
            "colour": yarn.colour,
            "ink": letter_on(yarn.colour),
            "about": _about(yarn),
            "amount": _amount(yarn, figures),
            "buy": _buy(yarn.balls, settings, figures) if yarn.balls else "",
        }
        for yarn in worked.yarns
    ]


def _about(yarn: WorkedYarn) -> str:
    names = at_hand.WEIGHTS
    weight = "" if yarn.weight is None else f"weight {yarn.weight} ({names[yarn.weight]})"
    return ", ".join(part for part in (yarn.fibre, weight) if part)


def _amount(yarn: WorkedYarn, figures: Figures) -> str:
    if yarn.length_m is None:
        return ""
    about = "about " if yarn.length_m.estimated else ""
    mass = f", {figures.mass(yarn.mass_g.value)}" if yarn.mass_g else ""
    return f"{about}{figures.yarn(yarn.length_m.value)}{mass}"


def _buy(count: BallCount, settings: Settings, figures: Figures) -> str:
    noun = "ball" if count.balls == 1 else "balls"
    each = f"{figures.mass(count.mass_g)}, {figures.yarn(count.length_m)}"
    buy = f"{count.balls} {noun} of {each} each"
    if count.cost is not None:
        buy += f", {figures.price(count.cost, count.currency or settings.currency)} in all"
    return f"{buy}; left over: {figures.mass(count.leftover_g)}" if count.leftover_g else buy


def supplies(worked: WorkedPattern, figures: Figures) -> list[list[str]]:
    """What to have at hand besides yarn: name and amount."""
    found = []
    for one in at_hand.supplies(worked):
        amount = figures.mass(one.mass_g) if one.mass_g else ""
        if one.length_m:
            amount = figures.yarn(one.length_m)
        found.append([one.name, f"about {amount}" if one.estimated else amount])
    return found
