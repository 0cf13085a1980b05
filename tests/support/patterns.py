"""Worked patterns for everybody's tests, from a few words.

    worked()                                        a filled bolster with its lining
    worked(pieces={"wrap": {"form": "panel", ...}}) the same pattern with other pieces
    worked_from(text)                               a whole pattern file

Each raises AssertionError, with the problems, when the pattern has an error (warnings pass).
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Settings
from stripewright.pattern.stash import taken_from
from stripewright.problems import has_errors
from stripewright.source.reader import read_document
from support.demo_tables import TABLES

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.problems import Problem

SETTINGS = Settings(
    title="Salt Loft", maker="Ines Marram", summary="Striped things from a loft by the sea."
)

FRONT: dict[str, Any] = {
    "title": "Breakwater bolster",
    "summary": "A long stuffed cushion in three sea colours.",
    "kind": "cushion",
    "machine": {"bed": "circular", "needles": 40},
    "swatch": {"stitches": 40, "rows": 60, "width": "30 cm", "length": "29 cm", "mass": "62 g"},
    "yarns": {
        "deep": {
            "name": "Deep water",
            "colour": "#1f3d5c",
            "weight": 5,
            "ball": "100 g / 120 m",
            "price": 4.50,
        },
        "foam": {
            "name": "Foam",
            "colour": "#dfe9e4",
            "weight": 5,
            "ball": "100 g / 120 m",
            "price": 4.50,
        },
        "sand": {
            "name": "Sand",
            "colour": "#c2913f",
            "weight": 5,
            "ball": "100 g / 120 m",
            "price": 4.50,
        },
    },
    "pieces": {
        "cover": {
            "form": "tube",
            "ends": ["seamed", "seamed"],
            "stripes": ["deep 16", "foam 9", "sand 9", "foam 9", "deep 16"],
        },
        "lining": {"form": "tube", "like": "cover", "yarn": "foam"},
    },
    "fill": "medium",
}
"""The front matter that `worked` starts from."""


def front(**overrides: Any) -> dict[str, Any]:
    """`FRONT` with some keys replaced; None takes a key away."""
    return {key: value for key, value in (FRONT | overrides).items() if value is not None}


def text_of(body: str = "", **overrides: Any) -> str:
    """A pattern file's text, from `FRONT` with some keys replaced (JSON is YAML)."""
    return f"---\n{json.dumps(front(**overrides), indent=1, ensure_ascii=False)}\n---\n{body}"


def try_work(
    text: str, slug: str = "breakwater-bolster", settings: Settings = SETTINGS
) -> tuple[WorkedPattern | None, list[Problem]]:
    """A pattern file worked out, with every problem on the way: reading, validating, working."""
    document, problems = read_document(text.encode(), f"content/patterns/{slug}.md", TABLES)
    if has_errors(problems):
        return None, problems
    pattern, more = as_model(document, Pattern)
    problems = [*problems, *more]
    if pattern is None:
        return None, problems
    if any(yarn.source for yarn in pattern.yarns.values()):  # the demo's own stash
        from support.demo import demo_settings

        settings = settings.model_copy()
        settings.beside(demo_settings().stash)
        pattern, found = taken_from(pattern, document, settings.stash)
        problems += found
        assert pattern is not None
    result, more = work(pattern, document, settings, slug)
    return result, [*problems, *more]


def worked_from(
    text: str, slug: str = "breakwater-bolster", settings: Settings = SETTINGS
) -> WorkedPattern:
    """A pattern file worked out; it must have no error."""
    result, problems = try_work(text, slug, settings)
    assert result is not None, "\n".join(map(str, problems))
    return result


def worked(slug: str = "breakwater-bolster", **overrides: Any) -> WorkedPattern:
    """`FRONT` with some keys replaced, worked out; it must have no error."""
    return worked_from(text_of(**overrides), slug)


def problems_of(**overrides: Any) -> list[Problem]:
    """Every problem of `FRONT` with some keys replaced."""
    return try_work(text_of(**overrides))[1]
