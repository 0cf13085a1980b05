"""The front-matter reference: what may be written in each kind of file, made from the models."""

from __future__ import annotations

import inspect
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from pydantic_core import PydanticUndefined

from stripewright.catalogue import N_, _, plain
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.base import fields_by_key
from stripewright.pattern.beside import Change, Chapter, Correction, Photo, Video
from stripewright.pattern.check import RESERVED
from stripewright.pattern.colourways import Colourway, ColourwayYarn
from stripewright.pattern.describe import field_texts
from stripewright.pattern.edge import Edge
from stripewright.pattern.fields import choices, example_of, models_in, unit_of
from stripewright.pattern.kinds import OTHERS, PATTERNS, Kind
from stripewright.pattern.making import MakingUp, Pace, Tails, Waste
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.pieces import Attach, Brim, Fill, Fit, Fringe, Opening, Piece
from stripewright.pattern.run import Run
from stripewright.pattern.settings import Link, Settings, ShopHost
from stripewright.pattern.sizes import Base, Size
from stripewright.pattern.stash import Stash, StashYarn
from stripewright.pattern.stripes import (
    Drawn,
    Faded,
    Fibonacci,
    FromData,
    Graded,
    Limit,
    Mirror,
    Repeat,
)
from stripewright.pattern.yarns import BallOnSale, Machine, Swatch, Unravelled, Yarn
from stripewright.phrases import capital

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from stripewright.pattern.base import AuthorModel

Vocabulary = Mapping[str, Sequence[str]]
"""Words to choose from that a later stage holds, by the name of the key that takes them."""


def _heading(kind: Kind) -> str:
    """What one is and where, as a heading: "A post: `content/posts/NAME.md`"."""
    what, file = kind.told.split(", ")
    return f"{capital(what)}: `{file}`"


SECTIONS: tuple[tuple[str, tuple[tuple[str, type[AuthorModel]], ...]], ...] = (
    (
        _heading(PATTERNS),
        (
            ("", Pattern),
            ("`machine:`", Machine),
            ("`swatch:`, one or a list of several", Swatch),
            ("`unravelled:` of a swatch", Unravelled),
            ("`yarns:`, each under its key", Yarn),
            ("`balls:` of a yarn, a list", BallOnSale),
            ("`pieces:`, each under its key", Piece),
            ("An end of a piece, in `ends:`", Edge),
            ("A stripe, in `stripes:` and `parts:`", Run),
            ("A stripe by its yarn, in `stripes:`", ByYarn),
            ("Stripes again and again", Repeat),
            ("Stripes there and back", Mirror),
            ("Stripes that grow by Fibonacci's numbers", Fibonacci),
            ("Stripes that grow or shrink step by step", Graded),
            ("Two colours trading rows", Faded),
            ("Stripes drawn by lot", Drawn),
            ("Stripes from data", FromData),
            ("`limits:` of data, a list", Limit),
            ("`openings:` of a piece, a list", Opening),
            ("`fringe:` of a piece", Fringe),
            ("`attach:` of a piece", Attach),
            ("`brim:` of a piece", Brim),
            ("`fill:`", Fill),
            ("`fit:`", Fit),
            ("`tails:`", Tails),
            ("`waste:`", Waste),
            ("`pace:`", Pace),
            ("`making_up:`, a list", MakingUp),
            ("`base:`", Base),
            ("`sizes:`, each under its key", Size),
            ("`colourways:`, each under its key", Colourway),
            ("`yarns:` of a colourway, each under its key", ColourwayYarn),
            ("`video:`", Video),
            ("`chapters:` of a video, a list", Chapter),
            ("`photos:`, a list", Photo),
            ("`corrections:`, a list", Correction),
            ("`changes:`, a list", Change),
        ),
    ),
    *((_heading(kind), (("", kind.model), *kind.parts)) for kind in OTHERS),
    ("The stash: `content/stash.yaml`", (("", Stash), ("`yarns:`, each under its key", StashYarn))),
    (
        "The studio: `content/studio.yaml`",
        (
            ("", Settings),
            ("`shops:`, a list", ShopHost),
            ("`links:`, a list", Link),
        ),
    ),
)
"""What is told, in order: each kind of file, with the parts that it is made of."""

*_most, _last = (f"`{name}`" for name in sorted(RESERVED))
_RESERVED = f"{', '.join(_most)} or {_last}, which the texts' templates use"
_QUANTITIES = (
    "Quantities are written with their unit, as on a label: lengths `38 cm`, `15 in`, "
    '`7 1/2 in`, `7½"`, `0.5 m`; masses `62 g`, `3.5 oz`; balls `100 g / 120 m` or '
    "`3.5 oz / 131 yd`; gauge `14 sts x 21 rows / 10 cm`; shares `10 %`; prices `4.50` (in the "
    "studio's currency) or `4.50 EUR`; days `2026-09-05`; times in a film `2:30`. Yes and no may "
    "be written yes, no, on, off, true or false. A key of a yarn or a piece begins with a small "
    "letter, then small letters, digits and `_`; it can't be " + _RESERVED + "."
)
_RULES = ("ge", "le", "max_length")

ROOTS: Mapping[str, tuple[str, type[AuthorModel]]] = {
    "": (PATTERNS.told, PATTERNS.model),
    **{kind.word: (kind.told, kind.model) for kind in OTHERS},
    "studio": (N_("the studio's settings, content/studio.yaml"), Settings),
}
"""Kinds of file: what stands before their keys' paths -> where that is, and its model."""


@dataclass(frozen=True, slots=True)
class KeyReference:
    """What is told of one key.

    Attributes:
        name: the key.
        what: what it is, what may be chosen, and its limits.
        example: as it is written.
        left_out: what holds when it isn't there.
        holds: the models of what stands below it.
        within: the model that it is a key of.
    """

    name: str
    what: str
    example: str
    left_out: str
    holds: tuple[type[AuthorModel], ...] = ()
    within: type[AuthorModel] | None = None


def key_reference(words: Vocabulary) -> str:
    """The reference as Markdown: a table for each kind of file and each of its parts."""
    parts = [_QUANTITIES]
    for title, models in SECTIONS:
        parts.append(f"### {title}")
        for heading, model in models:
            if heading:
                parts.append(f"**{heading}.** {about(model)}")
            parts.append(_table(model, words))
    return "\n\n".join(parts) + "\n"


def about(model: type[AuthorModel]) -> str:
    """What a model is, as its own words say."""
    return plain(" ".join(inspect.cleandoc(model.__doc__ or "").split()))


def keys_of(model: type[AuthorModel], words: Vocabulary) -> tuple[KeyReference, ...]:
    """What is told of each key of a model, in its order."""
    texts = field_texts(model)
    return tuple(
        replace(_key(key, field, texts[key], words), within=model)
        for key, field in fields_by_key(model).items()
    )


def all_keys(words: Vocabulary) -> Iterator[tuple[str, str, KeyReference]]:
    """Every key with its path from its kind of file (`pieces.ends`), and where that is."""
    for prefix, (where, model) in ROOTS.items():
        yield from _below(prefix, where, model, words, (model,))


def _below(
    path: str,
    where: str,
    model: type[AuthorModel],
    words: Vocabulary,
    within: tuple[type[AuthorModel], ...],
) -> Iterator[tuple[str, str, KeyReference]]:
    for key in keys_of(model, words):
        below = f"{path}.{key.name}" if path else key.name
        yield below, where, key
        for inner in key.holds:
            if inner not in within:  # stripes can hold stripes
                yield from _below(below, where, inner, words, (*within, inner))


def _key(name: str, field: FieldInfo, text: str, known: Vocabulary) -> KeyReference:
    words = choices(field) or known.get(name, ())
    what = f"{plain(text)}{_choices(words, text)}{_limits(field, text)}"
    return KeyReference(
        name, what, f"{name}: {example_of(field)}", _left_out(field), models_in(field)
    )


def _table(model: type[AuthorModel], known: Vocabulary) -> str:
    rows = ["| key | what it is | for example | left out |", "| --- | --- | --- | --- |"]
    for key in keys_of(model, known):
        cells = (f"`{key.name}`", key.what, _code(key.example), key.left_out)
        rows.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(rows)


def _code(text: str) -> str:
    return f"``{text}``" if "`" in text else f"`{text}`"


def _choices(words: Sequence[str], text: str) -> str:
    """The words to choose from, where the field's own text doesn't name them."""
    if not words or all(word in text for word in words):
        return ""
    if len(words) == 1:
        return " " + _("Or {word}.", word=f"`{words[0]}`")
    return " " + _("One of {words}.", words=", ".join(f"`{word}`" for word in words))


def _limits(field: FieldInfo, text: str) -> str:
    """The least and the most that is taken, for numbers; the longest, for texts."""
    rules = {
        name: getattr(rule, name)
        for rule in field.metadata
        for name in _RULES
        if hasattr(rule, name)
    }
    if rules.get("max_length") is not None and field.annotation in (str, str | None):
        return " " + _("Up to {number} characters.", number=rules["max_length"])
    if "ge" not in rules or "le" not in rules:
        return ""
    unit, scale = unit_of(field), 1
    if unit == "share":
        unit, scale = "%", 100
    least, most = f"{rules['ge'] * scale:g}", f"{rules['le'] * scale:g} {unit}".strip()
    return "" if f"{least} (" in text else " " + _("{least} to {most}.", least=least, most=most)


def _left_out(field: FieldInfo) -> str:
    """What holds when the key isn't there."""
    default = field.default
    if default is PydanticUndefined:
        return _("must be there")
    if default is None or default in ((), {}) or hasattr(default, "model_fields_set"):
        return "–"
    if isinstance(default, bool):
        return _("yes") if default else _("no")
    if isinstance(default, int | float):
        unit = unit_of(field)
        return f"{default * 100:g} %" if unit == "share" else f"{default:g} {unit}".strip()
    if isinstance(default, tuple):
        return "open, open"
    return f"`{default}`" if len(str(default)) < 24 else str(default)
