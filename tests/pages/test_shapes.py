"""Shapes that come again are written once, in pages that carry everything with them."""

from __future__ import annotations

import re

from stripewright.pages.shapes import drawn_once

BAND = "M0 0" + "h9v9h-9z" * 20


def page(*paths: str) -> str:
    return f'<!DOCTYPE html>\n<html><body class="x">\n<svg>{"".join(paths)}</svg></body></html>'


def test_a_shape_that_comes_again_is_named_and_keeps_what_else_is_said_of_it():
    colour = f'<path d="{BAND}" fill="#1f3d5c" class="yarn-a" />'
    hatch = f'<path class="hatch" d="{BAND}" fill="url(#h-a)" />'
    made = drawn_once(page(colour, hatch))
    assert made.count(BAND) == 1
    assert f'<path id="_s1" d="{BAND}"/>' in made.split("</defs>")[0]
    assert '<use href="#_s1" fill="#1f3d5c" class="yarn-a"/>' in made
    assert '<use href="#_s1" class="hatch" fill="url(#h-a)"/>' in made
    assert made.index("<body") < made.index("<defs>") < made.index("<use")


def test_what_comes_once_is_short_or_has_no_filling_stays():
    clip = f'<clipPath id="c"><path d="{BAND}"/></clipPath>'
    other = BAND.replace("9", "8")
    short = '<path d="M0 0h9" fill="#1f3d5c"/>'
    paths = (clip, clip, f'<path d="{other}" fill="#1f3d5c"/>', short, short)
    assert drawn_once(page(*paths)) == page(*paths)


def test_the_names_are_the_same_each_time():
    paths = [f'<path d="{BAND}{n}" fill="#1f3d5c"/>' * 2 for n in range(5)]
    made = drawn_once(page(*paths))
    assert made == drawn_once(page(*paths))
    assert re.findall(r'href="#(\w+)"', made) == [f"_s{n}" for n in range(1, 6) for _ in "ab"]
