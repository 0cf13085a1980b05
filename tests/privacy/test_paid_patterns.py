"""Nothing that a paid pattern keeps for its buyers is anywhere in the site.

Two ways of asking: no mark and no number of it stands in any file; and, stronger, two studios whose
paid patterns differ only in what they keep give the same site, byte for byte.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

import pytest

import stripewright.pipeline.checked as checked_stage
import stripewright.pipeline.output as output_stage
from stripewright.pipeline.build import build
from stripewright.pipeline.context import Options
from stripewright.pipeline.sources import SourceFile, Sources
from stripewright.problems import has_errors
from support.demo import DEMO
from support.leaks import leaks
from support.paid import MARK, Paid, paid
from support.papers import THEMES
from support.patterns import text_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

MANY = 100
FEW = 6


def site_of(patterns: Iterable[Paid], theme: str, *, paper: bool = False) -> Mapping[str, bytes]:
    """A studio of paid patterns and one gift, made whole in memory."""
    settings = (
        (DEMO.content / "studio.yaml").read_text().replace("theme: tideline", f"theme: {theme}")
    )
    gift = text_of(
        title="A gift", published="2026-01-01", body="Free for all.\n\n## Knit it\n\nKnit."
    )
    sources = [SourceFile(f"content/patterns/{one.slug}.md", one.text.encode()) for one in patterns]
    sources.append(SourceFile("content/patterns/gift.md", gift.encode()))
    everything = Sources(
        SourceFile("content/studio.yaml", settings.encode()),
        {"patterns": tuple(sources), "posts": (), "pages": (), "sheets": ()},
    )
    options = Options(date(2026, 11, 1), paper=paper)
    built = build(DEMO, everything, options)
    assert not has_errors(built.problems), "\n".join(map(str, built.problems[:5]))
    return {path: built.files[path] for path in built.files}


@pytest.fixture(scope="module")
def many() -> list[Paid]:
    return [paid(number) for number in range(MANY)]


@pytest.fixture(scope="module")
def sites(many) -> dict[str, Mapping[str, bytes]]:
    """All of them, published in every theme."""
    return {theme: site_of(many, theme) for theme in THEMES}


@pytest.mark.slow
@pytest.mark.parametrize("theme", THEMES)
def test_nothing_private_is_anywhere(many, sites, theme):
    """Paid patterns, marked in every private place, in every theme; `tests/bench/leaks.py` takes 500."""
    files = sites[theme]
    assert sum(path.startswith("patterns/quiet-thing-") for path in files) >= 3 * MANY
    assert leaks(files, many) == []


@pytest.mark.slow
def test_the_site_does_not_depend_on_what_is_private(sites):
    """Other rows, other words, other marks: the same site. Sizes of bands and files included."""
    before = sites["tideline"]
    after = site_of([paid(number, twin=True) for number in range(MANY)], "tideline")
    assert before.keys() == after.keys()
    assert [path for path in before if before[path] != after[path]] == []


def test_nor_do_its_pictures():
    """Share pictures and everything else that a publish with paper makes."""
    few = [paid(number) for number in range(FEW)]
    before = site_of(few, "ledger", paper=True)
    after = site_of([paid(number, twin=True) for number in range(FEW)], "ledger", paper=True)
    assert any(path.endswith("share.jpg") for path in before)
    assert not any(path.endswith(".pdf") and "quiet" in path for path in before)
    assert leaks(before, few) == []
    assert [path for path in before if before[path] != after[path]] == []


def test_drawings_that_reveal_heights_show_no_number():
    few = [paid(number) for number in range(4)]
    told = [one.__class__(one.slug, one.text.replace('"access": "paid",',
            '"access": "paid",\n "reveal": "heights",'), one.rows) for one in few]  # fmt: skip
    assert all('"reveal"' in one.text for one in told)
    assert leaks(site_of(told, "tideline"), told) == []


def test_twins_do_differ():
    """Of the same things in public, and of nothing else: else the test above could not fail."""
    one, other = paid(3), paid(3, twin=True)
    assert one.rows != other.rows
    assert [sum(plan) for plan in one.rows] == [sum(plan) for plan in other.rows]
    assert MARK.findall(one.text) != MARK.findall(other.text)


def test_paid_planning_sheets_have_no_files_on_the_site():
    sheet = {"title": "One", "form": "tube", "rows": 40, "gauge": "14 sts x 21 rows / 10 cm",
             "machine": {"bed": "circular", "needles": 40}}  # fmt: skip
    book = {"title": "Book", "summary": "To colour in.", "sheets": [sheet],
            "published": "2026-01-01"}  # fmt: skip
    sold = book | {"access": "paid", "price": 3, "shop": "https://stall.example.org/book"}
    made = tuple(
        SourceFile(f"content/sheets/{name}.md", f"---\n{json.dumps(front)}\n---\n".encode())
        for name, front in (("gift", book), ("sold", sold))
    )
    settings = SourceFile("content/studio.yaml", (DEMO.content / "studio.yaml").read_bytes())
    kinds = {"patterns": (), "posts": (), "pages": (), "sheets": made}
    options = Options(date(2026, 11, 1))
    built = build(DEMO, Sources(settings, kinds), options)
    assert not has_errors(built.problems), "\n".join(map(str, built.problems))
    assert [path for path in built.files if path.endswith(".pdf")] == [
        "sheets/gift-a4.pdf",
        "sheets/gift-letter.pdf",
    ]
    page = built.files["sheets/index.html"].decode()
    assert "Buy the sheets for" in page
    assert "sold-a4" not in page


class TestBrokenOnPurpose:
    """The same search finds what is private once the view lets it through."""

    @pytest.fixture
    def few(self) -> list[Paid]:
        return [paid(number) for number in range(FEW)]

    @pytest.fixture
    def broken_view(self, monkeypatch):
        """Everyone is shown what a buyer is shown."""
        monkeypatch.setattr(output_stage.Sound, "public", property(lambda sound: sound))

    @pytest.fixture
    def broken_bands(self, monkeypatch):
        """Public drawings are of the true rows."""
        real = output_stage.equal_bands
        monkeypatch.setattr(
            output_stage,
            "equal_bands",
            lambda worked: replace(real(worked), pieces=worked.pieces, nominal=False),
        )

    @pytest.fixture
    def broken_guard(self, monkeypatch):
        monkeypatch.setattr(checked_stage, "find_leaks", lambda *_: [])

    def test_the_search_finds_it(self, few, broken_view, broken_guard):
        found = leaks(site_of(few, "tideline"), few)
        assert {MARK.search(leak)[0][2:6] for leak in found if MARK.search(leak)} >= {
            "body",
            "item",
        }
        for one in few:
            assert any(one.slug in leak and not MARK.search(leak) for leak in found)

    def test_the_twins_tell_bands_apart(self, few, broken_bands, broken_guard):
        twins = [paid(number, twin=True) for number in range(FEW)]
        before, after = site_of(few, "tideline"), site_of(twins, "tideline")
        changed = [path for path in before if before[path] != after[path]]
        for one in few:
            assert f"patterns/{one.slug}/strip.svg" in changed

    def test_the_guard_refuses_the_page(self, few, broken_view):
        """It names the pattern, the file, and says what it found, for each of them."""
        with pytest.raises(AssertionError) as refused:
            site_of(few, "tideline")
        assert "paid pattern “quiet-thing-0”" in str(refused.value)
        assert "a sentence" in str(refused.value)

    def test_the_guard_refuses_the_bands(self, few, broken_bands):
        with pytest.raises(AssertionError, match=r"bands as high as its row plan|a row plan"):
            site_of(few, "tideline")
