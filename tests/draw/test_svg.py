"""Every drawing is well formed, self-contained, told in words, and safe whatever a title holds."""

from __future__ import annotations

import gzip
import re
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.draw.draw import draw_all
from support.drawn import KINDS, demo, kind, random_patterns, words_of
from support.patterns import worked

if TYPE_CHECKING:
    from stripewright.draw.drawing import Drawing

SVG = "{http://www.w3.org/2000/svg}"
DRAWN = {f"{SVG}{name}" for name in ("path", "g", "text", "title", "desc", "defs", "clipPath",
                                     "pattern", "linearGradient", "radialGradient", "stop", "svg")}  # fmt: skip


def everything() -> list[Drawing]:
    patterns = [*map(kind, KINDS), *demo(), *random_patterns(300)[:40]]
    return [
        drawing
        for number, one in enumerate(patterns)
        for drawing in draw_all(one, words_of(one), prefix=f"p{number}").everything()
    ]


def test_all_are_valid_and_self_contained() -> None:
    """Nothing but shapes, text and what they refer to inside the same drawing."""
    ids: set[str] = set()
    for drawing in everything():
        root = ET.fromstring(drawing.svg)
        elements = list(root.iter())
        assert {element.tag for element in elements} <= DRAWN
        own = [element.get("id") for element in elements if element.get("id")]
        assert len(own) == len(set(own))
        assert not ids & set(own)
        assert all(part.startswith(drawing.name) for part in own)
        ids |= set(own)
        referred = set(re.findall(r"url\(#([^)]*)\)", drawing.svg))
        referred |= set(root.get("aria-labelledby", "").split())
        assert referred == set(own)
        assert "href" not in drawing.svg
        assert not re.search(r"\son\w+=", drawing.svg)
        numbers = " ".join(element.get("d", "") for element in elements)
        assert not re.search(r"nan|inf|e", numbers)


def test_words_come_first_and_are_the_drawing_s_own() -> None:
    for drawing in everything():
        root = ET.fromstring(drawing.svg)
        title, description = root[0], root[1]
        assert (title.tag, description.tag) == (f"{SVG}title", f"{SVG}desc")
        assert (title.text, description.text) == (drawing.title, drawing.description)
        assert root.get("role") == "img"
        assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
        assert (
            root.get("viewBox") == f"0 0 {drawing.width:g} {drawing.height:g}"
            or drawing.height > 1e4
        )
        assert len(description.text or "") > 20


def test_description_says_what_is_drawn() -> None:
    drawing = draw_all(worked(), None, prefix="p").schematics["cover"]
    assert drawing.description == (
        "A tube, laid flat, 15 cm wide and 28.5 cm long, 40 stitches and 61 rows, from the cast-on "
        "edge up: A (Deep water) 17 rows to RC 017; B (Foam) 9 rows to RC 026; C (Sand) 9 rows to "
        "RC 035; B (Foam) 9 rows to RC 044; A (Deep water) 17 rows to RC 061."
    )


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=60))
def test_any_title_is_text(title: str) -> None:
    """Markup in a title stays text, and characters that XML can't hold are left out."""
    base = worked()
    pattern = base.pattern.model_copy(update={"title": title})
    from dataclasses import replace

    pieces = tuple(replace(piece, title=title) for piece in base.pieces)
    hostile = replace(base, pattern=pattern, pieces=pieces)
    for drawing in draw_all(hostile, None, prefix="p").everything():
        root = ET.fromstring(drawing.svg)
        assert {element.tag for element in root.iter()} <= DRAWN


@pytest.mark.parametrize(
    "title",
    [
        "</title><script>alert(1)</script>",
        "<![CDATA[x",
        "a & b < c",
        '"><img src=x>',
        "\x00\x0b\ufffe!",
    ],
)
def test_hostile_titles(title: str) -> None:
    base = worked()
    from dataclasses import replace

    hostile = replace(base, pattern=base.pattern.model_copy(update={"title": title}))
    drawing = draw_all(hostile, None, prefix="p").finished
    root = ET.fromstring(drawing.svg)
    kept = "".join(character for character in title if character >= " " and character != "\ufffe")
    assert root[0].text == f"{kept}, finished"
    assert "<script" not in drawing.svg
    assert "<img" not in drawing.svg


def test_hatches_show_only_when_wanted() -> None:
    base = worked()
    for quiet, shown in zip(
        draw_all(base, None, prefix="p").everything(),
        draw_all(base, None, prefix="p", hatched=True).everything(),
        strict=True,
    ):
        assert 'class="hatch" visibility="hidden"' in quiet.svg
        assert "visibility" not in shown.svg
        assert quiet.svg.replace(' visibility="hidden"', "") == shown.svg


def test_every_fill_of_a_yarn_has_its_hatch() -> None:
    """Colour is never alone: the same shapes again, with the letter's hatch."""
    for name in KINDS:
        for drawing in draw_all(kind(name), words_of(kind(name)), prefix="p").everything():
            root = ET.fromstring(drawing.svg)
            fills = sorted(
                (e.get("d"), e.get("class", "").removeprefix("yarn-"))
                for e in root.iter(f"{SVG}path")
                if e.get("class", "").startswith("yarn-") and e.get("fill") != "none"
            )
            hatched = sorted(
                (e.get("d"), e.get("fill", "").rpartition("-h-")[2].rstrip(")"))
                for e in root.iter(f"{SVG}path")
                if "-h-" in e.get("fill", "")
            )
            assert fills
            assert fills == hatched


def test_same_pattern_same_bytes() -> None:
    first = draw_all(worked(), words_of(worked()), prefix="p").everything()
    assert first == draw_all(worked(), words_of(worked()), prefix="p").everything()


def test_drawings_are_small() -> None:
    """Gzipped: a card's picture in 4 KB, every other drawing of the demo in 6 KB."""
    for one in (*map(kind, KINDS), *demo()):
        drawings = draw_all(one, words_of(one), prefix=one.slug)
        assert len(gzip.compress(drawings.finished.svg.encode())) < 4096
        for drawing in drawings.everything():
            assert len(gzip.compress(drawing.svg.encode())) < 6144, drawing.name


def test_a_piece_may_be_called_like_a_drawing() -> None:
    piece = {"form": "panel", "stripes": ["deep 4", "foam 4"]}
    one = worked(fill=None, pieces=dict.fromkeys(("finished", "strip", "assembly"), piece))
    names = [drawing.name for drawing in draw_all(one, None, prefix="p").everything()]
    assert len(names) == 6
    assert len(set(names)) == 6
