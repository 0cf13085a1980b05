"""How the pattern's PDF is laid out: what belongs together stays together, and nothing is empty."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from stripewright.pipeline.photos import PhotoLibrary
from stripewright.problems import Place
from support.demo import DEMO
from support.papers import PAPERS, PATTERNS, THEMES, demo, demo_pdf, elements, tool

COMBINATIONS = [(slug, *pair) for slug in PATTERNS for pair in zip(PAPERS, THEMES, strict=True)]
PHOTOGRAPHED = "winter-forecast-scarf"
_WORD = re.compile(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)</word>')


def pages_of(data: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_the_small_print_stands_apart(slug, paper, theme, tmp_path):
    """5 pt and more between the boxes of its heading's letters and of those above, if there are any."""
    pages = tool("pdftotext", demo_pdf(slug, paper, theme), tmp_path, "-bbox").split("<page ")
    words = [(float(top), float(foot), word) for top, foot, word in _WORD.findall(pages[-1])]
    texts = [word.lower() for *_, word in words]
    at = next(n for n, word in enumerate(texts) if (word, texts[n + 1]) == ("small", "print"))
    above = [foot for _, foot, _ in words if foot <= words[at][0]]
    assert not above or words[at][0] - max(above) > 5


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_the_last_page_is_never_a_few_lines(slug, paper, theme, tmp_path):
    pages = tool("pdftotext", demo_pdf(slug, paper, theme), tmp_path, "-layout").split("\f")
    lines = [line for line in pages[-2].splitlines() if line.strip()]  # a form feed ends the last
    assert len(lines) >= 12


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_a_plan_that_fits_on_a_page_stands_on_one(slug, paper, theme):
    pages = pages_of(demo_pdf(slug, paper, theme))
    worked = demo(slug).worked
    for piece in worked.pieces:
        by_yarn = any(one.piece == piece.key for one in worked.amounts)  # told over several lines
        if len(piece.plan) <= 38 and not by_yarn:
            folded = {
                at
                for block in piece.repeats
                for at in range(
                    block.first + block.stripes, block.first + block.stripes * block.times
                )
            }
            rows = [
                rf"{worked.yarn(line.yarn).name}(?:,\s.{{0,160}}?)?\s+{line.rows}\s+0*{line.last}\b"
                for at, line in enumerate(piece.plan)
                if line.rows and at not in folded
            ]
            assert any(all(re.search(row, page, re.DOTALL) for row in rows) for page in pages), (
                piece.key
            )


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_no_column_of_a_plan_is_empty(slug, paper, theme):
    """The last column tells the rows that an edge takes; a plan without any has no such column."""
    worked = demo(slug).worked
    every = [*worked.pieces, *(piece for size in worked.sizes for piece in size.worked.pieces)]
    taken = [any(line.allowance_before + line.allowance_after for line in p.plan) for p in every]
    text = "\n".join(pages_of(demo_pdf(slug, paper, theme)))
    long = any(len(piece.plan) > 38 for piece in every)  # its heads stand on each of its pages
    heads = len(re.findall(r"RC\s+Edge\b", text))
    assert heads == sum(taken) or (long and heads > sum(taken))


def test_the_introduction_has_a_heading():
    made = PdfReader(io.BytesIO(demo_pdf(PHOTOGRAPHED, "a4", "tideline")))
    assert "About this pattern" in [
        item.title for item in made.outline if not isinstance(item, list)
    ]


def test_photos_of_the_pattern_are_in_it():
    """With their words, and no larger than the site shows them."""
    made = demo(PHOTOGRAPHED)
    (photo,) = made.worked.pattern.photos
    shelf = PhotoLibrary({photo.file: DEMO.content / "photos" / photo.file})
    clean, problems = shelf.take(photo.file, Place("x"))
    assert (problems, clean is not None) == ([], True)
    pdf = PdfReader(io.BytesIO(made.pdf(pictures={photo.file: clean.data})))
    assert photo.alt in [str(figure["/Alt"]) for figure in elements(pdf, "/Figure")]
    sizes = [image.image.size for page in pdf.pages for image in page.images]
    assert (clean.width, clean.height) in sizes
