"""Patterns to draw: one of each kind, the demo's, and any number of random ones."""

from __future__ import annotations

import random
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import yaml

from stripewright.source.reader import read_document
from stripewright.studio import Studio
from stripewright.words.write import write
from support.patterns import SETTINGS, text_of, try_work, worked_from

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.words.written import PatternText

ROOT = Path(__file__).parents[2]

COLOURS = {
    "deep": ("Deep water", "#1f3d5c"),
    "foam": ("Foam", "#dfe9e4"),
    "sand": ("Sand", "#c2913f"),
    "coral": ("Coral", "#d9604c"),
    "moss": ("Moss", "#5b7a4a"),
    "plum": ("Plum", "#5a2b4d"),
    "ink": ("Ink", "#15171c"),
    "milk": ("Milk", "#fbfaf6"),
}


def yarns(*keys: str) -> dict[str, Any]:
    """Yarns of `COLOURS`, for a pattern's front matter."""
    return {
        key: {"name": COLOURS[key][0], "colour": COLOURS[key][1], "ball": "100 g / 120 m"}
        for key in keys
    }


KINDS: dict[str, dict[str, Any]] = {
    name: own | ({"yarns": yarns(*own["yarns"])} if "yarns" in own else {})
    for name, own in yaml.safe_load(
        Path(__file__).with_name("kinds.yaml").read_text(encoding="utf-8")
    ).items()
}
"""What a pattern of each kind has other than `FRONT`."""


@cache
def kind(name: str) -> WorkedPattern:
    """A small pattern of a kind."""
    slug = name.replace(" ", "-")
    about = {"title": f"Some {name}", "kind": thing(name), **KINDS[name]}
    return worked_from(text_of(**about), slug)


def thing(name: str) -> str:
    """The kind of pattern that a name of `KINDS` shows a shape of."""
    return "cushion" if name.endswith(" cushion") else name


def words_of(worked: WorkedPattern, body: str = "") -> PatternText:
    """A pattern's words; its own front matter isn't read again."""
    document, _ = read_document(f"---\ntitle: x\n---\n{body}".encode(), f"{worked.slug}.md")
    written, problems = write(worked, document, SETTINGS)
    assert written is not None, problems
    return written


@lru_cache(maxsize=1)
def demo() -> tuple[WorkedPattern, ...]:
    """The demo studio's patterns."""
    return tuple(
        worked_from(path.read_text(encoding="utf-8"), path.stem)
        for path in Studio(ROOT).sources("patterns")
    )


@lru_cache(maxsize=4)
def random_patterns(count: int, seed: str = "stripes") -> tuple[WorkedPattern, ...]:
    """Any number of patterns that work out, the same ones for the same seed."""
    lot = random.Random(seed)
    found: list[WorkedPattern] = []
    for _ in range(20 * count):
        worked, _ = try_work(text_of(**random_front(lot)), f"random-{len(found)}")
        if worked is not None:
            found.append(worked)
        if len(found) == count:
            return tuple(found)
    raise AssertionError(f"only {len(found)} of the random patterns work out")


def random_front(lot: random.Random) -> dict[str, Any]:
    """What to replace in `FRONT`, by lot: bed, gauge, one to eight yarns, one to three pieces of any making."""
    keys = lot.sample(list(COLOURS), lot.randint(1, len(COLOURS)))
    bed = lot.choice(["circular", "flat"])
    needles = lot.choice([8, 20, 40, 48, 90, 200])
    names = lot.sample(["cover", "lower_half_of_the_long_back", "strap", "x", "inner_piece"], 3)
    stitches, rows = lot.randint(6, 40), lot.randint(8, 60)
    return {
        "title": lot.choice(["Wrack", "A title so long that it would never fit on a single line"]),
        "kind": thing(lot.choice(list(KINDS))),
        "machine": {"bed": bed, "needles": needles},
        "swatch": None,
        "gauge": f"{stitches} sts x {rows} rows / 10 cm",
        "yarns": yarns(*keys),
        "fill": lot.choice(["medium", None]),
        "pieces": {
            name: _random_piece(lot, keys, bed, needles) for name in names[: lot.randint(1, 3)]
        },
    }


def _random_piece(lot: random.Random, keys: list[str], bed: str, needles: int) -> dict[str, Any]:
    form = lot.choice(["tube", "panel"]) if bed == "circular" else "panel"
    count = lot.choice([1, 2, 3, 5, 9, 17, 40, 80, lot.randint(100, 200)])
    most = lot.choice([1, 2, 5, 20, 80]) if count < 100 else lot.choice([1, 3, 10])
    ends = ["open", "seamed", "gathered", "hemmed", "grafted"]
    piece: dict[str, Any] = {
        "form": form,
        "ends": [lot.choice(ends), lot.choice(ends)],
        "stripes": [f"{lot.choice(keys)} {lot.randint(1, most)}" for _ in range(count)],
        "make": lot.choice([1, 1, 1, 2, 6]),
    }
    if form == "panel":
        piece["sides"] = lot.choice(["open", "seamed", "joined"])
        piece["needles"] = lot.randint(2, needles)
    if lot.random() < 0.2:
        piece["fold"] = "half"
    if lot.random() < 0.2:
        piece["fringe"] = {"length": f"{lot.randint(2, 20)} cm"}
    if lot.random() < 0.2:
        piece["openings"] = [
            {"what": lot.choice(["thumb", "a place to turn it and to fill it"]), "after": 1,
             "rows": 1, "side": lot.choice(["left", "right", "both"])}
        ]  # fmt: skip
    return piece
