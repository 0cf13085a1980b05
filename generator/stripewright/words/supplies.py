"""What to have at hand besides yarn, and what yarns and fillings are called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _
from stripewright.figures import filling_told, up_to
from stripewright.phrases import capital
from stripewright.words.making_up import techniques_of
from stripewright.words.techniques import technique

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedFilling, WorkedPattern

_FIRMNESS = {"light": N_("lightly filled"), "medium": N_("medium"), "firm": N_("firmly filled")}
EITHER = N_("blunt yarn needle, or a crochet hook")
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
    what: str = ""
    """filling or waste, whose amounts follow a reader's own machine; else empty."""


def supplies(worked: WorkedPattern) -> tuple[Supply, ...]:
    """What to have at hand besides yarn."""
    found = []
    if worked.filling:
        found.append(_filling(worked.filling))
    if worked.waste_m != 0:
        waste = None if worked.waste_m is None else up_to(worked.waste_m, WASTE_STEP_M)
        found.append(
            Supply(
                _("Waste yarn in a colour that stands out"),
                length_m=waste,
                estimated=True,
                what="waste",
            )
        )
    tools = dict.fromkeys(t for name in techniques_of(worked) for t in technique(name).tools)
    one_of_them = {_("blunt yarn needle"), _("crochet hook")}
    if not tools.keys().isdisjoint(one_of_them):
        tools.pop(_(EITHER), None)
    found += (Supply(capital(tool)) for tool in tools)
    found += (Supply(capital(notion)) for notion in worked.pattern.notions)
    return (*found, Supply(_("Scissors and a tape measure")))


def _filling(filling: WorkedFilling) -> Supply:
    name = _("Filling")
    if filling.material:
        name = _("Filling: {material}", material=filling.material)
    mass = filling_told(filling.mass_g.value, weighed=filling.weighed)
    firmness = _(_FIRMNESS[filling.firmness])
    return Supply(f"{name}, {firmness}", mass_g=mass, estimated=not filling.weighed, what="filling")
