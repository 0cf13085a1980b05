"""Colourways, through the whole line: worked by hand, page, worksheet, paid page, and mistakes."""

from __future__ import annotations

import json
import re

import pytest

from support.demo import demo
from support.studio_here import built, pattern, run, studio

WAYS = """\
colourways:
  dusk:
    title: Dusk
    yarns:
      deep: {name: Plum, colour: "#5b2a4e"}
      foam: {name: Peach, colour: "#eba77c", ball: 25 g / 40 m, price: 1.50}
pieces:
"""


def coloured(ways=WAYS, **options):
    return pattern(**options).replace("pieces:\n", ways, 1)


def test_yarn_and_cost_are_worked_by_hand():
    """The cowl's heather takes 57 m, 63 with the tenth: of 56 m balls 2, at 3.10 each 6.20."""
    worked, _ = demo("counting-waves-cowl")
    dune, lamplight = worked.colourways
    heather = lamplight.worked.yarn("heather")
    assert (heather.name, heather.balls.balls, heather.balls.cost) == ("Lit window", 2, 6.2)
    # The second ball is joined with two tails of 14 cm.
    before = worked.yarn("heather").length_m.value
    assert heather.length_m.value == pytest.approx(before + 0.28)
    # What a colourway doesn't say stays: Dune's yarns are sold as the pattern's are.
    assert [one.balls for one in dune.worked.yarns] == [one.balls for one in worked.yarns]
    assert [one.name for one in dune.worked.yarns] == ["Peat brown", "Marram", "Sea holly"]
    # Rows stay.
    assert [piece.plan for piece in dune.worked.pieces] == [piece.plan for piece in worked.pieces]


def test_page_shows_each(tmp_path):
    here = studio(tmp_path, {"one": coloured()})
    page = built(here).files["patterns/one/index.html"].decode()
    assert 'data-title="Dusk" data-colours="a.5b2a4e_b.eba77c"' in page
    assert 'id="one-way-dusk-finished' in page
    assert "Plum" in page


SIZED = coloured(
    WAYS.replace("pieces:", "sizes:\n  dusk: {machine: {bed: circular, needles: 60}}\npieces:")
)
"""A size called as a colourway is: neither takes the other's names."""


def test_page_shows_a_size_in_each(tmp_path):
    here = studio(tmp_path, {"one": SIZED})
    page = built(here).files["patterns/one/index.html"].decode()
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert '<section class="colourways" data-in-size="base"' in page
    assert "dusk-colourways" in ids


def test_worksheet_tells_each(tmp_path):
    here = studio(tmp_path, {"one": coloured()})
    path = str(here.content / "patterns/one.md")
    told = run("worksheet", path, "--studio", str(here.root))
    assert "Dusk: A Plum" in told.stdout
    done = run("worksheet", path, "--studio", str(here.root), "--json")
    [way] = json.loads(done.stdout)["colourways"]
    assert (way["name"], [yarn["key"] for yarn in way["yarns"]]) == ("dusk", ["deep", "foam"])


def test_a_paid_page_shows_its_colours_and_no_balls(tmp_path):
    here = studio(tmp_path, {"one": coloured(paid=True)})
    done = built(here)
    page = done.files["patterns/one/index.html"].decode()
    section = page[page.index('id="colourways"') :]
    section = section[: section.index("</section>")]
    assert "Peach" in section
    assert "ball" not in section.lower().replace("eyeball", "")
    assert "25 g" not in page


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("      deep: {name: Plum", "      depe: {name: Plum", "no yarn is called depe"),
        (
            "25 g / 40 m, price: 1.50",
            "25 g / 40 m, balls: [{ball: 50 g / 80 m}]",
            "balls and ball both",
        ),
        ('colour: "#5b2a4e"', "colour: plum", "colour"),
        ('colour: "#5b2a4e"', 'colour: "#eba77c"', "can hardly be told apart"),
    ],
)
def test_what_is_wrong_is_told_at_its_line(tmp_path, old, new, what):
    text = coloured().replace(old, new, 1)
    assert text != coloured()
    here = studio(tmp_path, {"one": text})
    found = [one for one in built(here).problems if what in one.message]
    assert found
    line = text.split("\n").index(next(row for row in text.split("\n") if new.strip() in row)) + 1
    assert any(abs(one.place.line - line) <= 1 for one in found), (found, line)
