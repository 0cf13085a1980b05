"""Yarns and supplies, as a list to shop by."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.paper.ink import letter_on

if TYPE_CHECKING:
    from stripewright.compute.worked import BallCount, WorkedPattern, WorkedYarn
    from stripewright.paper.amounts import Amounts
    from stripewright.pattern.settings import Settings

WEIGHTS = ("lace", "super fine", "fine", "light", "medium", "bulky", "super bulky", "jumbo")
"""Names of the yarn weight classes 0 to 7: Craft Yarn Council, Standard Yarn Weight System."""

FIRMNESS = {"light": "lightly filled", "medium": "medium firm", "firm": "firmly filled"}


def yarns(worked: WorkedPattern, settings: Settings, amounts: Amounts) -> list[dict[str, Any]]:
    """Each yarn: letter, role, name, what it is, how much of it, and what to buy."""
    return [
        {
            "letter": yarn.letter,
            "role": yarn.role,
            "name": yarn.name,
            "colour": yarn.colour,
            "ink": letter_on(yarn.colour),
            "about": _about(yarn),
            "amount": _amount(yarn, amounts),
            "buy": _buy(yarn.balls, settings, amounts) if yarn.balls else "",
        }
        for yarn in worked.yarns
    ]


def _about(yarn: WorkedYarn) -> str:
    weight = "" if yarn.weight is None else f"weight {yarn.weight} ({WEIGHTS[yarn.weight]})"
    return ", ".join(part for part in (yarn.fibre, weight) if part)


def _amount(yarn: WorkedYarn, amounts: Amounts) -> str:
    about = "about " if yarn.length_m.estimated else ""
    length = amounts.yarn(yarn.length_m.value)
    mass = f", {amounts.mass(yarn.mass_g.value)}" if yarn.mass_g else ""
    return f"{about}{length}{mass}"


def _buy(count: BallCount, settings: Settings, amounts: Amounts) -> str:
    noun = "ball" if count.balls == 1 else "balls"
    buy = f"{count.balls} {noun} of {amounts.mass(count.mass_g)}, {amounts.yarn(count.length_m)}"
    if count.cost is None:
        return buy
    return f"{buy}: {amounts.money(count.cost, count.currency or settings.currency)}"


def supplies(worked: WorkedPattern, amounts: Amounts) -> list[list[str]]:
    """What to have at hand besides yarn: name and amount."""
    found = []
    if worked.filling:
        filling = worked.filling
        name = f"Filling: {filling.material}" if filling.material else "Filling"
        about = "" if filling.weighed else "about "
        mass = filling.mass_g.value if filling.weighed else -(-filling.mass_g.value // 10) * 10
        found.append([f"{name}, {FIRMNESS[filling.firmness]}", f"{about}{amounts.mass(mass)}"])
    if worked.waste_m > 0:
        waste = -(-worked.waste_m // 5) * 5
        found.append(["Waste yarn in a colour that stands out", f"about {amounts.yarn(waste)}"])
    if any(end.edge != "open" for piece in worked.pieces for end in piece.ends):
        found.append(["Blunt yarn needle, or a crochet hook for the seams", ""])
    found.append(["Scissors and a tape measure", ""])
    return found
