"""Small studios for tests of the whole line."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from click.testing import CliRunner

from stripewright.cli import main
from stripewright.pipeline.build import Built, build
from stripewright.pipeline.commands import publish
from stripewright.pipeline.context import Options
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.sources import read_sources
from stripewright.studio import Studio

if TYPE_CHECKING:
    from pathlib import Path

    from click.testing import Result

DAY = date(2026, 11, 25)

SETTINGS = """\
title: The lee shore
maker: Ansel Varrow
summary: Striped things from a lee shore.
address: https://lee.example.org/
"""

PATTERN = """\
---
title: {title}
summary: A small thing.
kind: cushion
published: {published}
{more}machine: {{bed: circular, needles: 22}}
gauge: 14 sts x 20 rows / 10 cm
yarns:
  deep: {{name: Deep, colour: "#12304d", weight: 5, ball: 100 g / 120 m}}
  foam: {{name: Foam, colour: "#f4efe2", weight: 5, ball: 100 g / 120 m}}
pieces:
  cover:
    form: tube
    ends: [seamed, seamed]
    stripes: [{stripes}]
fill: light
---
Said to everyone.

## Before you start

{body}
"""


def pattern(
    title="Small thing",
    stripes="deep 10, foam 4, deep 10, foam 5, deep 9",
    body="Wind the yarn first.",
    published="2026-01-05",
    paid=False,
):
    """The text of a small, sound pattern file."""
    more = "access: paid\nprice: 5\nshop: https://shop.example.org/x\n" if paid else ""
    return PATTERN.format(title=title, stripes=stripes, body=body, published=published, more=more)


def studio(folder: Path, patterns: dict[str, str], settings: str = SETTINGS) -> Studio:
    """A studio of these patterns, by slug."""
    (folder / "content" / "patterns").mkdir(parents=True, exist_ok=True)
    (folder / "content" / "studio.yaml").write_text(settings, encoding="utf-8")
    for slug, text in patterns.items():
        (folder / "content" / "patterns" / f"{slug}.md").write_text(text, encoding="utf-8")
    return Studio(folder)


def built(here: Studio, on: date = DAY, **options) -> Built:
    """The site in memory, made from nothing."""
    sources, problems = read_sources(here)
    assert problems == []
    return build(here, sources, Options(on, paper=options.pop("paper", False), **options))


def published(here: Studio, on: date = DAY, workers: int | None = 1, **options):
    """Publish into the studio's own site folder, with its cache."""
    return publish(here, here.site, Options(on, paper=False, **options), quiet, workers)


def edit(here: Studio, old: str, new: str, slug: str = "one") -> None:
    """Change one place in a pattern's file."""
    path = here.content / "patterns" / f"{slug}.md"
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def run(*args: object) -> Result:
    """The command line, with these words."""
    return CliRunner().invoke(main, [str(arg) for arg in args])


def tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, hidden ones left out, by its path."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.startswith(".")
    }
