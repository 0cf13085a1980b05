"""The list that the catalogue is searched by tells of a paid pattern what its card tells."""

from __future__ import annotations

import json
from datetime import date
from typing import TYPE_CHECKING

from stripewright.addresses import SEARCH
from stripewright.pages import search
from stripewright.pipeline.build import Built, build
from stripewright.pipeline.context import Options
from stripewright.pipeline.sources import SourceFile, Sources
from stripewright.problems import has_errors
from support.demo import DEMO
from support.paid import MARK, paid

if TYPE_CHECKING:
    import pytest

PAID = [paid(number) for number in range(6)]
KEPT = "Hide the slanted toggle behind the seventeenth lamp."


def built() -> Built:
    """A studio of paid patterns, one of which has a sentence for its buyers."""
    texts = {one.slug: one.text for one in PAID}
    texts[PAID[0].slug] += f"\n\n{KEPT}\n"
    sources = [
        SourceFile(f"content/patterns/{slug}.md", text.encode()) for slug, text in texts.items()
    ]
    settings = SourceFile("content/studio.yaml", (DEMO.content / "studio.yaml").read_bytes())
    everything = Sources(
        settings, {"patterns": tuple(sources), "posts": (), "pages": (), "sheets": ()}
    )
    return build(DEMO, everything, Options(date(2026, 11, 1), paper=False))


def test_it_names_paid_patterns_and_keeps_what_they_keep():
    site = built()
    assert not has_errors(site.problems), site.problems[:3]
    data = site.files[SEARCH].decode()
    rows = json.loads(data.removeprefix("document.patternIndex=").rstrip(";\n"))["rows"]
    assert {row.split("\t")[0] for row in rows.splitlines()} == {one.slug for one in PAID}
    assert not MARK.search(data)
    assert KEPT not in data
    numbers = {str(number) for one in PAID for number in one.numbers}
    assert not [number for number in numbers if number in data]


def test_the_guard_looks_at_it_as_at_any_page(monkeypatch: pytest.MonkeyPatch):
    plain = search._plain
    monkeypatch.setattr(search, "_plain", lambda text: f"{plain(text)} {KEPT}")
    found = [one for one in built().problems if one.place.file == SEARCH]
    assert len(found) == 1
    assert PAID[0].slug in found[0].message
    assert "a sentence" in found[0].message
