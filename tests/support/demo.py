"""The demo studio's patterns, worked out one by one."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Settings
from stripewright.pattern.stash import Stash, taken_from
from stripewright.source.reader import read_document, read_settings
from stripewright.words.write import write
from support.demo_tables import TABLES

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.words.written import PatternText

CONTENT = Path(__file__).resolve().parents[2] / "content"
SLUGS = sorted(path.stem for path in (CONTENT / "patterns").glob("*.md"))


@cache
def demo_settings() -> Settings:
    """The demo's settings; they must be without a problem."""
    document, problems = read_settings(
        (CONTENT / "studio.yaml").read_bytes(), "content/studio.yaml"
    )
    settings, more = as_model(document, Settings)
    assert [*problems, *more] == []
    assert settings is not None
    document, problems = read_settings((CONTENT / "stash.yaml").read_bytes(), "content/stash.yaml")
    stash, more = as_model(document, Stash)
    assert [*problems, *more] == []
    return settings.beside(stash)


@cache
def demo(slug: str) -> tuple[WorkedPattern, PatternText]:
    """A pattern of the demo with its words; it must be without an error or a warning."""
    path = CONTENT / "patterns" / f"{slug}.md"
    document, problems = read_document(path.read_bytes(), f"content/patterns/{slug}.md", TABLES)
    pattern, more = as_model(document, Pattern)
    assert pattern is not None, more
    pattern, lacking = taken_from(pattern, document, demo_settings().stash)
    assert pattern is not None, lacking
    worked, found = work(pattern, document, demo_settings(), slug)
    assert worked is not None, found
    written, told = write(worked, document, demo_settings())
    assert [*problems, *more, *found, *told] == []
    assert written is not None
    return worked, written
