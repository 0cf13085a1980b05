"""No two texts of a drawing overlap and none is cut off, as Chromium measures them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest

from stripewright.compute.public import equal_bands
from stripewright.draw.draw import draw_all
from support.drawn import KINDS, demo, kind, random_patterns, words_of
from support.patterns import worked

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from stripewright.compute.worked import WorkedPattern

pytestmark = pytest.mark.browser

WIDTHS = (320, 768, 1440)
"""CSS pixels."""

MARGIN = 16
"""CSS pixels that a page leaves at each side of a drawing on a phone."""

SMALLEST = 11
"""CSS pixels of the smallest text at 320 px."""

MEASURE = """
() => [...document.querySelectorAll('svg')].flatMap(svg => {
  const frame = svg.viewBox.baseVal, faults = [];
  const boxes = [...svg.querySelectorAll('text')].map(text => {
    const b = text.getBBox();
    const to = svg.getCTM().inverse().multiply(text.getCTM());
    const at = (x, y) => { const p = svg.createSVGPoint(); p.x = x; p.y = y; return p.matrixTransform(to); };
    const c = [at(b.x, b.y), at(b.x + b.width, b.y), at(b.x, b.y + b.height), at(b.x + b.width, b.y + b.height)];
    const xs = c.map(p => p.x), ys = c.map(p => p.y);
    return { words: text.textContent, x1: Math.min(...xs), x2: Math.max(...xs), y1: Math.min(...ys), y2: Math.max(...ys),
             px: parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a };
  });
  boxes.forEach((a, i) => {
    if (a.x1 < 0 || a.y1 < 0 || a.x2 > frame.width || a.y2 > frame.height) faults.push(['cut off', svg.id, a.words]);
    for (const b of boxes.slice(i + 1))
      if (a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2) faults.push(['overlap', a.words, b.words]);
  });
  const smallest = Math.min(...boxes.map(b => b.px));
  return faults.map(f => [svg.querySelector('title').textContent, ...f]).concat(
    boxes.length && smallest < SMALLEST ? [[svg.querySelector('title').textContent, 'too small', smallest]] : []);
})
""".replace("SMALLEST", str(SMALLEST))


def faults(browser: Browser, patterns: list[WorkedPattern]) -> list[Any]:
    """What is wrong with the texts of all drawings of the patterns, at any width of the page."""
    svgs = [
        re.sub(r"<path[^>]*>", "", drawing.svg)  # shapes don't move texts, and are most of it
        for number, pattern in enumerate(patterns)
        for drawing in draw_all(
            pattern, None if pattern.nominal else words_of(pattern), prefix=f"p{number}"
        ).everything()
        if "<text" in drawing.svg
    ]
    assert any("<text" in svg for svg in svgs)
    style = f"body {{ margin: 0 {MARGIN}px }} svg {{ display: block; width: 100%; height: auto }}"
    page = browser.new_page()
    page.set_content(f"<style>{style}</style>{''.join(svgs)}", timeout=120_000)
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        found += [(width, *fault) for fault in page.evaluate(MEASURE)]
    page.close()
    return found


def test_kinds_and_the_demo(chromium: Browser) -> None:
    assert faults(chromium, [*map(kind, KINDS), *demo()]) == []


def test_public_twins(chromium: Browser) -> None:
    assert faults(chromium, [equal_bands(one) for one in (*map(kind, KINDS), *demo())]) == []


def test_random_patterns(chromium: Browser) -> None:
    patterns = random_patterns(300)[:100]
    assert len(patterns) == 100
    assert max(len(piece.plan) for one in patterns for piece in one.pieces) > 150
    assert faults(chromium, list(patterns)) == []


def test_a_measure_that_can_fail(chromium: Browser) -> None:
    """The measuring itself finds an overlap and a text that is cut off."""
    page = chromium.new_page()
    page.set_content(
        "<svg viewBox='0 0 100 50' width='300'><title>t</title><text x='5' y='20'>one</text>"
        "<text x='10' y='25'>two</text><text x='80' y='40'>far too long</text></svg>"
    )
    kinds = {fault[1] for fault in page.evaluate(MEASURE)}
    page.close()
    assert kinds == {"overlap", "cut off"}


def test_eight_hundred_stripes_tell_their_repeats(chromium: Browser) -> None:
    stripes = ["sand 10", {"repeat": 400, "stripes": ["deep 1", "foam 1"]}, "sand 9"]
    pattern = worked(fill=None, pieces={"wrap": {"form": "panel", "stripes": stripes}})
    drawing = draw_all(pattern, words_of(pattern), prefix="p").schematics["wrap"]
    assert "× 399 more" in drawing.svg
    assert faults(chromium, [pattern]) == []
