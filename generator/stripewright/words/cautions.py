"""The cautions' words: short, usual in the trade, deferring to local rules and qualified advice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _
from stripewright.words.written import CautionText

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern

TEXTS: Mapping[str, tuple[str, str]] = {
    "machine": (
        N_("The machine"),
        N_(
            "Keep hair, sleeves and small fingers away from the needles while it turns, and stop "
            "it before you reach in. Follow the machine's own instructions."
        ),
    ),
    "steam": (
        N_("Hot steam"),
        N_(
            "Steam and a hot iron burn. Try them on the swatch first, and follow the iron's "
            "instructions and the yarn's band."
        ),
    ),
    "filled": (
        N_("Filled"),
        N_(
            "Use filling that is clean and made for the purpose, close every seam firmly and mend"
            " it at once if it opens. Filled things that are sold or given to children may have "
            "to meet fire and safety rules. "
            "Local rules come first; where you are unsure, ask someone qualified."
        ),
    ),
    "small_parts": (
        N_("Small parts"),
        N_(
            "Buttons, beads and the like can come off and choke. Keep them away from children "
            "under three, and sew them on twice. "
            "Local rules come first; where you are unsure, ask someone qualified."
        ),
    ),
    "cords": (
        N_("Cords and ties"),
        N_(
            "Cords can catch and strangle. Don't put them on things for babies or small children,"
            " and keep hanging ones out of their reach. "
            "Local rules come first; where you are unsure, ask someone qualified."
        ),
    ),
    "infant": (
        N_("Near a baby"),
        N_(
            "Don't leave anything loose, filled or knitted in a cot or near a sleeping baby's "
            "face, and take hats off indoors and for sleep. Use washable yarn that doesn't shed. "
            "For safe sleep ask your midwife, health visitor or doctor. "
            "Local rules come first; where you are unsure, ask someone qualified."
        ),
    ),
    "child": (
        N_("For a child"),
        N_(
            "Check that nothing can come off, unravel or wind round a neck or a finger, and look "
            "again after each wash. Toys that are sold or given away may have to meet toy safety "
            "rules. "
            "Local rules come first; where you are unsure, ask someone qualified."
        ),
    ),
    "pet": (
        N_("For a pet"),
        N_(
            "Take it away as soon as it is chewed open: yarn and filling are dangerous when "
            "swallowed. Ask a vet when in doubt."
        ),
    ),
}
"""Title and text by key. Source: common practice, no source."""


def write_cautions(worked: WorkedPattern) -> tuple[CautionText, ...]:
    """The cautions that follow from the facts, then the author's own."""
    usual = [CautionText(key, *map(_, TEXTS[key])) for key in worked.cautions]
    own = [
        CautionText(f"own-{number}", _("From the maker"), text)
        for number, text in enumerate(worked.pattern.cautions, 1)
    ]
    return (*usual, *own)
