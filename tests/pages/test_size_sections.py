"""Each size's part of a page: whole, under its own heading, with what the written size has."""

from __future__ import annotations

import itertools
import re
from functools import cache

import pytest

from stripewright.pages.marks import in_size
from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.view.make import pattern_view
from stripewright.view.site import site_view
from support.demo import DEMO, demo_settings
from support.papers import made_from

# Two greens that nobody tells apart, and a film.
TEXT = (DEMO.content / "patterns" / "two-tides-hat.md").read_text().replace("#dfeee4", "#24493f")


@cache
def page() -> str:
    made, settings = made_from(TEXT.encode(), "two-tides-hat"), demo_settings()
    view = pattern_view(made.worked, made.written, made.drawings, settings)
    (html,) = (
        Renderer(site_view(settings), Theme("tideline", DEMO.theme_files("tideline")))
        .pattern(view)
        .values()
    )
    return html.decode()


def sizes() -> list[str]:
    return re.split(r'(?=<section class="size")', page())[1:]


def test_headings_go_down_by_one():
    """WCAG technique G141: headings in their order, none skipped; the size's own alone at its level."""
    assert len(sizes()) == 2
    for one in sizes():
        levels = [int(level) for level in re.findall(r"<h([1-6])[ >]", one)]
        assert levels[0] == 2
        assert levels.count(2) == 1
        assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


@pytest.mark.parametrize(
    "part",
    ["lie side by side and look alike to", "Video at 14:30", 'class="strip"', "<dt>Level</dt>",
     'figure class="plate" data-piece="hat"', "hat.1", 'data-tool="hatches"', 'class="plan-lead"'],
)  # fmt: skip
def test_each_has_what_the_written_one_has(part):
    whole = page()
    assert part in whole[: whole.index('<section class="size"')]
    for one in sizes():
        assert part in one


def test_contents_lead_into_each():
    """The script puts `KEY-` before the name that a link of the contents leads to."""
    named = set(re.findall(r'<li><a href="#([\w-]+)"', page()[: page().index('class="tools"')]))
    assert {"materials", "plan", "steps", "drawings", "group-making-up"} <= named
    for key, one in zip(("child", "slouchy"), sizes(), strict=True):
        for name in ("materials", "plan", "steps", "drawings", "group-making-up", "cautions"):
            assert f'id="{key}-{name}"' in one


def test_an_author_s_headings_stand_under_the_size():
    html = '<h2 id="h-one">One</h2><p><a href="#h-one">h2</a></p><h3 id="h-two">Two</h3><hr>'
    assert in_size(html, "child") == (
        '<h3 id="child-h-one">One</h3><p><a href="#child-h-one">h2</a></p>'
        '<h4 id="child-h-two">Two</h4><hr>'
    )
