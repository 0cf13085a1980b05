"""What a new studio gets is read without a word, as its author will read it first."""

import pytest

from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Page, Post, Settings
from stripewright.source.reader import read_document, read_settings
from stripewright.studio import SETTINGS, starter

FILES = [
    (SETTINGS, read_settings, Settings),
    ("content/patterns/first-scarf.md", read_document, Pattern),
    ("content/posts/what-the-swatch-said.md", read_document, Post),
    ("content/pages/about.md", read_document, Page),
]


@pytest.mark.parametrize(("name", "read", "model"), FILES)
def test_nothing_is_told_but_what_waits_for_its_author(name, read, model):
    document, problems = read((starter() / name).read_bytes(), name)
    made, found = as_model(document, model)
    waiting = ["title is still “My stripes”", "maker is still “Your name”"]
    told = [problem.message for problem in [*problems, *found]]
    assert told == (waiting if model is Settings else [])
    assert made is not None


def test_a_studio_with_a_name_of_its_own_is_read_without_a_word():
    text = (starter() / SETTINGS).read_text("utf-8").replace("My stripes", "Tar and twine")
    document, problems = read_settings(text.replace("Your name", "Ines Calder").encode(), SETTINGS)
    made, found = as_model(document, Settings)
    assert [*problems, *found] == []
    assert made is not None


def test_the_scarfs_figures_follow_from_its_rows():
    document, _ = read_document((starter() / FILES[1][0]).read_bytes(), FILES[1][0])
    pattern, _ = as_model(document, Pattern)
    plum, repeat, last = pattern.pieces["scarf"].stripes
    rows = plum.count + repeat.repeat * sum(run.count for run in repeat.stripes) + last.count
    assert rows == 12 + 7 * (20 + 8 + 20) + 12 == 360
    swatch = pattern.swatches[0]
    assert rows / (swatch.rows / swatch.length) == pytest.approx(160)  # cm long
    grams = rows * pattern.machine.needles * swatch.mass / (swatch.stitches * swatch.rows)
    assert grams == pytest.approx(230)  # 360 rows × 46 stitches × 13 g / 936 stitches


def test_nothing_made_by_use_is_kept():
    for folder in ("site", "packs"):
        ignored = (starter() / folder / ".gitignore").read_text(encoding="utf-8").split("\n")
        assert "*" in ignored
        assert "!.gitignore" in ignored
