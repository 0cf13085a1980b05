"""One figure, one text: what a pattern's page says, its PDF says too, and so do its steps."""

from __future__ import annotations

import re
from functools import cache

import pytest

from stripewright.figures import Figures, filling_told
from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.view.make import pattern_view
from stripewright.view.site import site_view
from support.demo import DEMO, demo_settings
from support.papers import PATTERNS, demo, demo_pdf, squeezed, tool

_NUMBER = r"[\d,.]*\d[⅛¼⅜½⅝¾⅞]?|[⅛¼⅜½⅝¾⅞]"
_PAIR = re.compile(
    rf"(?:{_NUMBER}) cm \((?:{_NUMBER}) in\)|(?:{_NUMBER}) m \((?:{_NUMBER}) yd\)"
    rf"|(?:{_NUMBER}) g \((?:{_NUMBER}) oz\)"
)
_OTHER = re.compile(
    r"£[\d.]+|RC \d+|[\d.]+ stitches and [\d.]+ rows to (?:10 cm|4 in)|\d+ rows?\b"
    r"|about \d+ (?:h|min)(?: \d+ min)?|\d+ (?:h|min)(?: \d+ min)? to \d+ h(?: \d+ min)?"
)


@cache
def page_text(slug: str) -> str:
    """The page as buyers see it, without its drawings and structured data."""
    made = demo(slug)
    settings = demo_settings()
    view = pattern_view(made.worked, made.written, made.drawings, settings)
    pages = Renderer(site_view(settings), Theme("tideline", DEMO.theme_files("tideline")))
    (html,) = pages.pattern(view).values()
    text = html.decode()
    text = text[text.index("<article") : text.index("</article>")]
    text = re.sub(r"<(script|svg)\b.*?</\1>", " ", text, flags=re.DOTALL)
    return squeezed(
        re.sub(r"<[^>]+>", "", re.sub(r"(?=</?(?:li|td|dd|p|b|span class=.line)\b)", " ", text))
    )


@cache
def paper_text(slug: str, tmp) -> str:
    return squeezed(tool("pdftotext", demo_pdf(slug, "a4", "tideline"), tmp, "-raw"))


@pytest.mark.parametrize("slug", PATTERNS)
def test_page_and_paper_tell_the_same(slug, tmp_path_factory):
    page, paper = page_text(slug), paper_text(slug, tmp_path_factory.getbasetemp())
    made = demo(slug)
    figures, price = Figures.of(demo_settings()), made.worked.pattern.price
    told = set(_PAIR.findall(page)) | set(_OTHER.findall(page))
    if price:
        told.discard(figures.price(price.amount, price.currency or demo_settings().currency))
    assert len(told) > 12
    # A printed plan's column says once that its readings are the counter's.
    words = set(paper.split())
    missing = {one for one in told if one not in paper and one.removeprefix("RC ") not in words}
    assert missing == set()
    if made.worked.sizes:
        return
    on_paper = set(_PAIR.findall(paper))
    fit = made.worked.fit
    head = {figures.length(fit.head_cm)} if fit else set()
    assert {one for one in on_paper - head if one not in page} == set()


@pytest.mark.parametrize("slug", [slug for slug in PATTERNS if demo(slug).worked.filling])
def test_a_step_takes_the_filling_that_the_list_buys(slug):
    made, figures = demo(slug), Figures.of(demo_settings())
    filling = made.worked.filling

    def told(grams):
        return figures.mass(filling_told(grams, weighed=filling.weighed))

    steps = [step.text for group in made.written.groups for step in group.steps]
    several = [figure.value for _, figure in filling.pieces] if len(filling.pieces) > 1 else []
    for grams in several or [filling.mass_g.value]:
        assert any(told(grams) in text for text in steps), grams
    assert told(filling.mass_g.value) in page_text(slug)
