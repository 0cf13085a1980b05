"""The demo studio's patterns, worked out one by one."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.pipeline.context import whole_settings
from stripewright.pipeline.make import work_source
from stripewright.pipeline.sources import SourceFile, read_sources
from stripewright.studio import Studio
from support.demo_tables import TABLES

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.make import WorkedSource
    from stripewright.words.written import PatternText

DEMO = Studio(Path(__file__).resolve().parents[2])
CONTENT = DEMO.content
SLUGS = sorted(path.stem for path in DEMO.sources("patterns"))


@cache
def demo_settings() -> Settings:
    """The demo's settings with its stash; they must be without a problem."""
    sources, _ = read_sources(DEMO)
    assert sources.settings is not None
    settings, _document, problems = whole_settings(sources.settings, sources.stash)
    assert problems == []
    assert settings is not None
    return settings


def through(data: bytes, slug: str, settings: Settings | None = None) -> WorkedSource:
    """A pattern file's bytes, read, worked out and written."""
    source = SourceFile(f"content/patterns/{slug}.md", data, TABLES)
    return work_source(source, settings or demo_settings())


@cache
def demo(slug: str) -> tuple[WorkedPattern, PatternText]:
    """A pattern of the demo with its words; it must be without an error or a warning."""
    done = through((CONTENT / "patterns" / f"{slug}.md").read_bytes(), slug)
    assert done.problems == ()
    assert done.sound is not None
    return done.sound.worked, done.sound.written
