"""What to have at hand besides yarn, and what yarns and fillings are called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.figures import filling_told, up_to
from stripewright.words.making_up import techniques_of
from stripewright.words.techniques import technique
from stripewright.words.titles import capital

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedFilling, WorkedPattern

WEIGHTS = ("lace", "super fine", "fine", "light", "medium", "bulky", "super bulky", "jumbo")
"""Names of the yarn weight classes 0 to 7: Craft Yarn Council, Standard Yarn Weight System."""

_FIRMNESS = {"light": "lightly filled", "medium": "medium", "firm": "firmly filled"}
EITHER = "blunt yarn needle, or a crochet hook"
"""What sews or crochets a seam; not listed beside one that something else takes."""

WASTE_STEP_M = 5
"""Waste yarn is told to this, rounded up: nobody measures it."""


@dataclass(frozen=True, slots=True)
class Supply:
    """A thing to have at hand; its mass or length, rounded as it is told, where it has one."""

    name: str
    mass_g: float | None = None
    length_m: float | None = None
    estimated: bool = False


def supplies(worked: WorkedPattern) -> tuple[Supply, ...]:
    """What to have at hand besides yarn."""
    found = []
    if worked.filling:
        found.append(_filling(worked.filling))
    if worked.waste_m != 0:
        waste = None if worked.waste_m is None else up_to(worked.waste_m, WASTE_STEP_M)
        found.append(
            Supply("Waste yarn in a colour that stands out", length_m=waste, estimated=True)
        )
    tools = dict.fromkeys(t for name in techniques_of(worked) for t in technique(name).tools)
    if not tools.keys().isdisjoint(EITHER.split(", or a ")):
        tools.pop(EITHER, None)
    found += (Supply(capital(tool)) for tool in tools)
    found += (Supply(capital(notion)) for notion in worked.pattern.notions)
    return (*found, Supply("Scissors and a tape measure"))


def _filling(filling: WorkedFilling) -> Supply:
    name = f"Filling: {filling.material}" if filling.material else "Filling"
    mass = filling_told(filling.mass_g.value, weighed=filling.weighed)
    firmness = _FIRMNESS[filling.firmness]
    return Supply(f"{name}, {firmness}", mass_g=mass, estimated=not filling.weighed)
