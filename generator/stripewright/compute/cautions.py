"""Which cautions a pattern needs, from its own facts. Their texts live in `words`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.tables import head_sizes

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pattern import Pattern

KEYS = ("machine", "steam", "filled", "small_parts", "cords", "infant", "child", "pet")
"""Every caution, in the order it is shown."""

INFANT_WORDS = frozenset(
    {"baby", "babies", "infant", "infants", "newborn", "newborns", "cot", "pram"}
)
CHILD_WORDS = frozenset({"child", "children", "kids", "toddler", "toddlers", "toy", "toys"})
PET_WORDS = frozenset({"pet", "pets", "cat", "cats", "dog", "dogs", "catnip"})


def cautions_of(pattern: Pattern, pieces: Iterable[WorkedPiece]) -> tuple[str, ...]:
    """The cautions' keys, in the order of `KEYS`.

    They follow from facts, not only from what the author ticks: a filled piece, a table wearer
    who is an infant, a title, summary or tag that speaks of babies, or a step that sews a button
    on, is enough. So leaving `audience` or `fill` out of the file takes no caution away.
    Source: common practice, no source; local rules and qualified advice come first.
    """
    tags = _words(*pattern.tags)
    said = tags | _words(pattern.title, pattern.summary)
    wearer = head_sizes().get(pattern.fit.wearer or "") if pattern.fit else None
    facts = {
        "machine": True,
        "steam": pattern.steam,
        "filled": pattern.fill is not None or any(piece.filled for piece in pieces),
        "small_parts": pattern.small_parts or _names_parts(pattern),
        "cords": pattern.cords,
        "infant": pattern.audience == "infant"
        or bool(said & INFANT_WORDS)
        or (wearer is not None and wearer.infant),
        "child": pattern.audience == "child" or pattern.kind == "toy" or bool(tags & CHILD_WORDS),
        "pet": pattern.audience == "pet" or bool(tags & PET_WORDS),
    }
    return tuple(key for key in KEYS if facts[key])


PARTS_WORDS = frozenset(
    f"{word}{ending}"
    for word in ("button", "bead", "eye", "bell", "sequin", "toggle", "popper")
    for ending in ("", "s")
)


def _names_parts(pattern: Pattern) -> bool:
    """Whether making up, a technique, notions, title, summary or tags speak of small parts."""
    steps = pattern.making_up or ()
    told = [text for step in steps for text in (step.do.replace("_", " "), step.note or "")]
    told += [pattern.title, pattern.summary, *pattern.tags, *pattern.techniques.values()]
    told += pattern.notions
    return bool(_words(*told) & PARTS_WORDS)


def warn_of_parts(pattern: Pattern, cautions: Collection[str], notes: Notes) -> None:
    """Warn where something for a child or an infant has small parts."""
    who = next((who for who in ("infant", "child") if who in cautions), None)
    if who and "small_parts" in cautions:
        notes.warning(
            ("small_parts" if pattern.small_parts else "title",),
            say(
                "this is for {wearer} and has small parts, such as buttons, beads or eyes, which "
                "can come off and choke",
                say("an infant") if who == "infant" else say("a child"),
            ),
            "embroider them instead; the caution “Small parts” stands on the page until then",
        )


def _words(*texts: str) -> set[str]:
    return set(re.findall(r"\w+", " ".join(texts).lower()))
