"""Nothing that a paid pattern keeps is in its studio's site, texts or record of versions.

A dozen patterns of `support.paid`, fixed; `tests/bench/leaks.py` takes 500 through the same.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import stripewright.pipeline.checked as checked_stage
import stripewright.pipeline.make as make_stage
import stripewright.pipeline.texts as texts_stage
from support.leaks import leaks
from support.paid import MARK, paid
from support.public_side import public_side

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

MANY = 12
LOTS = range(1000, 1000 + MANY)
RECORD = "packs/versions.json"


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("paid")


@pytest.fixture(scope="module")
def files(folder) -> Mapping[str, bytes]:
    return public_side(folder / "one", [paid(number) for number in LOTS])


def test_nothing_private_is_on_the_public_side(files):
    """Of what is looked through: pages, drawings, data, share pictures, feed, search, texts."""
    patterns = [paid(number) for number in LOTS]
    assert leaks(files, patterns) == []
    for one in patterns:
        assert {f"texts/{one.slug}/{name}.txt" for name in ("film", "listing", "note")} <= {*files}
        for name in ("index.html", "finished.svg", "strip.svg", "share.jpg"):
            assert f"patterns/{one.slug}/{name}" in files
        assert not any(
            path.startswith(f"patterns/{one.slug}/") and path.endswith((".pdf", ".zip", ".txt"))
            for path in files
        )
    assert {"feed.xml", "sitemap.xml", ".stripewright-told", RECORD} <= {*files}


@pytest.mark.slow
def test_nor_does_any_of_it_depend_on_what_is_private(files, folder):
    """Other rows, words and marks: the same bytes, but for the digests of what packs tell."""
    twins = public_side(folder / "two", [paid(number, twin=True) for number in LOTS])
    assert files.keys() == twins.keys()
    assert [path for path in files if files[path] != twins[path]] == [RECORD]


class TestBrokenOnPurpose:
    """The same search finds what is private once it is let through."""

    @pytest.fixture
    def few(self):
        return [paid(number) for number in LOTS[:2]]

    @pytest.fixture
    def broken_view(self, monkeypatch):
        """Everyone is shown what a buyer is shown."""
        monkeypatch.setattr(make_stage.Sound, "public", property(lambda sound: sound))

    @pytest.fixture
    def broken_guards(self, monkeypatch):
        monkeypatch.setattr(checked_stage, "find_leaks", lambda *_: [])
        monkeypatch.setattr(texts_stage, "find_leaks", lambda *_: [])

    def test_the_search_finds_it(self, few, broken_view, broken_guards, tmp_path):
        found = leaks(public_side(tmp_path, few, packs=0), few)
        for one in few:
            page = [leak for leak in found if leak.startswith(f"patterns/{one.slug}/")]
            assert any(MARK.search(leak) for leak in page)
            assert any(not MARK.search(leak) for leak in page)
            assert any(leak.startswith(f"texts/{one.slug}/") for leak in found)
