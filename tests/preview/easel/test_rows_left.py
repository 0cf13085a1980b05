"""The easel tells rows left of each yarn while it is coloured with, and shows stripes by yarn."""

from __future__ import annotations

import pytest

from stripewright.pattern.settings import Settings
from stripewright.pattern.stash import Stash
from stripewright.preview.easel.working import answer
from support.browser import DESK, PHONE, Complaints, until
from support.previews import previewing
from support.studio_here import studio

# A stitch takes 2.5 cm: a round of 40 takes 1 m. Deep is 1 m to the gram, foam 2 m.
STASH = """\
yarns:
  deep: {name: Deep, colour: "#1f3d5c", ball: 100 g / 100 m, left: 30 g}
"""
PATTERN = """\
---
title: Ring
summary: A ring.
machine: {bed: circular, needles: 40}
swatch: {stitches: 20, rows: 30, width: 10 cm, length: 10 cm, unravelled: {stitches: 100, length: 250 cm}}
margin: 0 %
yarns:
  deep: {from: stash.deep}
  foam: {name: Foam, colour: "#dfe9e4", ball: 50 g / 100 m}
  sand: {name: Sand, colour: "#8c5a1f"}
pieces:
  ring: {form: tube, stripes: [deep 20, foam 10, sand 4, foam 5 m]}
  cuff: {form: tube, make: 2, needles: 40, stripes: [foam 2]}
---
Text.
"""


def test_rows_left_by_hand():
    from stripewright.source.reader import read_document

    document, _ = read_document(PATTERN.encode(), "ring.md")
    settings = Settings(title="T", maker="M", summary="S.").beside(
        Stash.model_validate({"yarns": {"deep": {
            "name": "Deep", "colour": "#1f3d5c", "ball": "100 g / 100 m", "left": "30 g"}}})
    )  # fmt: skip
    said = answer(document.front, document.body, settings, name="ring.md")
    assert said["sound"], said["problems"]
    # deep: 20 rows, tails of 0.75 and 0.14 m: 20.89 of 30 m, 9.11 left, 9 rows.
    # foam, a ball of 100 m: 10 rows and 0.28; 5 m knit 4 rows (5 - 0.14 - 0.75 = 4.11) and 0.89;
    # two cuffs of 2 rows, each with two tails of 0.75: 4 + 3. 10.28 + 4.89 + 7 = 22.17, 77.83 left.
    # of sand nothing says how much there is
    assert said["pieces"]["ring"]["left"] == {"deep": 9, "foam": 77}
    # a row of both cuffs takes 2 m: 4.5 rows of deep, 38.9 of foam
    assert said["pieces"]["cuff"]["left"] == {"deep": 4, "foam": 38}
    assert said["pieces"]["ring"]["parts"][-1][:2] == ["foam", 4]
    assert said["yarns"]["deep"]["name"] == "Deep"


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    made = studio(tmp_path_factory.mktemp("easel"), {"ring": PATTERN})
    (made.content / "stash.yaml").write_text(STASH)
    with previewing(made.root) as preview:
        yield preview


@pytest.mark.browser
@pytest.mark.parametrize("size", [DESK, PHONE], ids=["live", "phone"])
def test_they_are_told_while_colouring(chromium, shown, size):
    context = chromium.new_context(**size)
    page = context.new_page()
    complaints = Complaints(page)
    page.goto(f"{shown.url}-/easel/pattern/ring")
    page.wait_for_selector('body[data-state="open"]')
    until(lambda: page.locator("#left-deep").inner_text(), "9 rows left")
    assert page.locator("#hand-deep").inner_text().startswith("A")
    assert page.locator("#left-foam").inner_text() == "77 rows left"
    assert page.locator("#left-sand").count() == 0
    # colour five rows of foam in deep: five rows fewer are left of it, less the tails of a change
    page.evaluate(
        "Easel.act((front) => Easel.gestures.paint(front, 'ring', Easel.S.made, 20, 25, 'deep'), '')"
    )
    until(lambda: page.locator("#left-deep").inner_text(), "4 rows left")
    # and more than there is
    page.evaluate(
        "Easel.act((front) => Easel.gestures.paint(front, 'ring', Easel.S.made, 25, 30, 'deep'), '')"
    )
    until(lambda: page.locator("#left-deep").inner_text(), "1 row too many")
    # the stripe given by its yarn has its rows, and tells how it is given
    assert page.evaluate("Easel.shown().map(({yarn, rows}) => `${yarn} ${rows}`)")[-1] == "foam 4"
    assert not complaints.found
    context.close()
