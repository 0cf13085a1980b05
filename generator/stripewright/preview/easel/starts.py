"""New patterns: what each kind of thing begins with, before its first stripe is coloured."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, get_args

from stripewright.catalogue import N_, _
from stripewright.compute.gauge import gauge_of
from stripewright.compute.piece_context import whole
from stripewright.pattern.pattern import Pattern, ThingKind
from stripewright.pattern.read import as_model
from stripewright.preview.easel.asked import Unfit, in_a_sentence
from stripewright.source.document import Document

if TYPE_CHECKING:
    from collections.abc import Mapping

START_KINDS: tuple[str, ...] = get_args(ThingKind)
FIRST: Mapping[str, Mapping[str, Any]] = {
    "main": {"name": N_("Main colour"), "colour": "#2f4858", "weight": 5}
}
"""The yarn that a new piece is all of."""
SPARE: Mapping[str, Mapping[str, Any]] = {
    "contrast": {"name": N_("Contrast colour"), "colour": "#e8d9b5", "weight": 5}
}
"""A second one, at hand until a stripe takes it."""


@dataclass(frozen=True, slots=True)
class Start:
    """One piece of a kind of thing: how it begins on each bed, and how long such a thing is.

    Lengths and finishes are common practice, no source; the maker changes what isn't meant.
    """

    piece: str
    length_cm: float
    tube: Mapping[str, Any] | None
    panel: Mapping[str, Any]
    beside: Mapping[str, Any] = field(default_factory=dict)


_SEWN: Mapping[str, Any] = {"ends": ["seamed", "seamed"]}
_SEWN_PANEL: Mapping[str, Any] = {"ends": ["seamed", "seamed"], "sides": "seamed", "filled": True}
_OPEN: Mapping[str, Any] = {"ends": ["open", "open"]}
_ROUND: Mapping[str, Any] = {"ends": ["open", "open"], "sides": "seamed"}

STARTS: Mapping[str, Start] = {
    "cushion": Start("cover", 40, _SEWN, _SEWN_PANEL, {"fill": "medium"}),
    "draught excluder": Start("cover", 85, _SEWN, _SEWN_PANEL, {"fill": "firm"}),
    "hat": Start("hat", 24, {"ends": ["open", "gathered"]},
                 {"ends": ["open", "gathered"], "sides": "seamed"}),
    "cowl": Start("ring", 60, {"ends": ["grafted", "grafted"]}, {"ends": ["grafted", "grafted"]}),
    "scarf": Start("scarf", 150, _SEWN, _OPEN),
    "wrist warmers": Start("warmer", 18, {"make": 2, **_OPEN}, {"make": 2, **_ROUND}),
    "blanket": Start("panel", 100, None, {"make": 4, **_OPEN, "sides": "joined"}),
    "bag": Start("body", 40, {"ends": ["seamed", "hemmed"]},
                 {"ends": ["hemmed", "hemmed"], "sides": "seamed", "fold": "half"}),
    "bunting": Start("flag", 15, {"make": 8, "ends": ["seamed", "open"]}, {"make": 8, **_OPEN}),
    "toy": Start("body", 30, {"ends": ["gathered", "gathered"]}, _SEWN_PANEL,
                 {"fill": "light", "audience": "child"}),
    "other": Start("piece", 30, _OPEN, _OPEN),
}  # fmt: skip


def start_yarns(yarns: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, Any]]:
    """Yarns with their names in the locale spoken."""
    names = {key: yarn["name"] for key, yarn in yarns.items()}
    return {key: {**yarn, "name": _(names[key])} for key, yarn in yarns.items()}


def started(asked: Mapping[str, Any], gauges: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """The front matter that a new pattern begins with: one piece, one yarn from end to end.

    Args:
        asked: title, kind, bed and needles; and `gauge` (text), `swatch` (its measures), or `like`,
            the file of a past pattern.
        gauges: the gauge or swatch of each past pattern, by its file's name.

    Raises:
        Unfit: something is missing, or is none of what there is to choose from.
    """
    kind, bed = str(asked.get("kind")), str(asked.get("bed"))
    if kind not in STARTS or bed not in ("circular", "flat"):
        raise Unfit(_("Choose what it is, and the bed it is knitted on."))
    start = STARTS[kind]
    tube = start.tube if bed == "circular" else None
    piece = {"form": "panel" if tube is None else "tube", **(start.panel if tube is None else tube)}
    named = kind != "other"
    summary = _("A striped {kind}.", kind=_(kind)) if named else _("Something striped.")
    front = {
        "title": _title(asked),
        "summary": summary,
        "kind": kind,
        "access": "free",
        "level": "easy",
        "machine": {"bed": bed, "needles": asked.get("needles")},
        **_gauge(asked, gauges),
        "yarns": start_yarns(FIRST),
        "pieces": {start.piece: {**piece, "stripes": ["main 60"]}},
        **start.beside,
    }
    rows = _rows(front, start.length_cm)
    front["pieces"][start.piece]["stripes"] = [f"main {rows}"]
    return front


def _title(asked: Mapping[str, Any]) -> str:
    title = re.sub(r"\s+", " ", str(asked.get("title") or "")).strip()
    if not title:
        raise Unfit(_("Give it a title; it can be changed at any time."))
    return title


def _gauge(asked: Mapping[str, Any], gauges: Mapping[str, Mapping[str, Any]]) -> Mapping[str, Any]:
    if asked.get("like"):
        found = gauges.get(str(asked["like"]))
        if found is None:
            raise Unfit(_("That pattern is not there any more."))
        return found
    if isinstance(asked.get("swatch"), dict):
        return {"swatch": asked["swatch"]}
    return {"gauge": asked.get("gauge")}


def _rows(front: Mapping[str, Any], length_cm: float) -> int:
    """Rows of a length at the pattern's gauge.

    Raises:
        Unfit: the gauge, or something else, can't be read; the text says what.
    """
    pattern, problems = as_model(Document("new.md", front), Pattern)
    if pattern is None:
        raise Unfit(in_a_sentence(problems[0]))
    gauge = gauge_of(pattern.swatches, pattern.gauge)
    return max(2, whole(length_cm * gauge.rows_per_cm))
