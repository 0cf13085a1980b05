"""Patterns' pages for a reader's own machine: opened, typed into and read; and the program's answers."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

from stripewright.pipeline.own_machine import OwnMachine, on_own_machine
from support.browser import until
from support.demo import DEMO, through
from support.studio_here import run

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Page

    from stripewright.pipeline.output import Sound

SLUG = "lamplit-bolster"


def opened(page: Page, site: Path, slug: str = SLUG, ending: str = "") -> None:
    page.goto((site / "patterns" / slug / "index.html").as_uri() + ending)


def typed_in(page: Page, needles: str, stitches: str, rows: str, keep: str) -> None:
    summary = page.get_by_text("Work it for my needles")
    summary.click()
    page.get_by_label("Needles", exact=True).fill(needles)
    page.get_by_label("Stitches in 10 cm", exact=True).fill(stitches)
    page.get_by_label("Rows in 10 cm", exact=True).fill(rows)
    page.get_by_label("Keep", exact=True).select_option(keep)
    page.get_by_role("button", name="Work it out").click()
    until(lambda: page.locator(".own-banner").is_visible())


def plan_of(page: Page, piece: str) -> list[list[Any]]:
    rows = page.locator(
        f'table.plan[data-piece="{piece}"]:not([data-size]) [data-letter][data-first]'
    )
    told: list[list[Any]] = rows.evaluate_all(
        "rows => rows.map((r) => [r.dataset.letter, Number(r.dataset.first), Number(r.dataset.last)])"
    )
    return told


def worksheet(slug: str, *typed: str) -> dict[str, Any]:
    file = str(DEMO.root / "content" / "patterns" / f"{slug}.md")
    done = run("worksheet", file, "--studio", str(DEMO.root), "--json", *typed)
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def written_anew(slug: str, own: OwnMachine, size: str = "base") -> Sound:
    """The demo's pattern, or one size of it, worked and written by the program."""
    done = through((DEMO.content / "patterns" / f"{slug}.md").read_bytes(), slug)
    assert done.sound is not None
    assert done.settings is not None
    return on_own_machine(own, done.sound.of_size(size), done.document, done.settings)[0]


def plainly(text: str) -> str:
    """A step's words without their line breaks."""
    return re.sub(r"\s+", " ", text).strip()
