"""Names that patterns have in their front matter, and that pages and paper tell in their own words.

Each is looked up by its name: `_(pattern.kind)`.
"""

from __future__ import annotations

from stripewright.catalogue import N_

_KINDS = (
    N_("cushion"), N_("draught excluder"), N_("hat"), N_("cowl"), N_("scarf"), N_("wrist warmers"),
    N_("blanket"), N_("bag"), N_("bunting"), N_("toy"), N_("other"),
)  # fmt: skip
LEVELS = (N_("basic"), N_("easy"), N_("intermediate"), N_("complex"))
_BEDS = (N_("circular"), N_("flat"))
_FORMS = (N_("tube"), N_("panel"))
ACCESS = (N_("free"), N_("paid"))
_SIZES = (N_("small"), N_("medium"), N_("large"))
