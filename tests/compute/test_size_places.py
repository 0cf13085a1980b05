"""What is wrong with a size is told where that size says it."""

from __future__ import annotations

import pytest

from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Settings
from stripewright.source.reader import read_document

TEXT = """---
title: Hats
summary: Hats.
kind: hat
machine: {bed: circular, needles: 60}
gauge: 12.5 sts x 20 rows / 10 cm
yarns:
  pine: {name: Pine, colour: "#20453c", weight: 5}
pieces:
  hat: {title: Hat, form: tube, ends: [open, gathered], brim: {turned_up: 12}, stripes: [pine 60]}
fit: {head: 54 cm, ease: -10 %}
sizes:
  small:
    title: Small
    SAID
    keep: size
---
"""
STUDIO = Settings(title="Studio", maker="The maker", summary="A studio.")


@pytest.mark.parametrize(
    ("said", "message", "line", "column"),
    [
        ("fit:\n      head: 70 cm", "tight on a head of 70 cm", 15, 5),
        ("machine:\n      bed: flat\n      needles: 60", "knits no tube", 15, 5),
        ("pieces:\n      hat:\n        brim:\n          turned_up: 40", "40 rows cover 40", 18, 11),
        ("fit: {wearer: giant}", "no head size is known for giant", 15, 11),
    ],
)
def test_at_the_value_itself(said, message, line, column):
    document, _ = read_document(TEXT.replace("SAID", said).encode(), "hats.md")
    pattern, found = as_model(document, Pattern)
    assert pattern is not None, found
    problems = [one for one in work(pattern, document, STUDIO, "hats")[1] if message in one.message]
    (problem,) = problems
    assert problem.message.startswith("size small: ")
    assert (problem.place.line, problem.place.column) == (line, column)


def test_at_the_size_s_key_where_it_says_nothing_of_the_value():
    """Five needles of another gauge: nothing in the size speaks of the head."""
    said = "gauge: 30 sts x 40 rows / 10 cm"
    document, _ = read_document(TEXT.replace("SAID", said).encode(), "hats.md")
    pattern, _ = as_model(document, Pattern)
    pattern = pattern.model_copy(
        update={"sizes": {"small": pattern.sizes["small"].model_copy(update={"fit": pattern.fit})}}
    )
    (problem,) = [
        one for one in work(pattern, document, STUDIO, "hats")[1] if "tight" in one.message
    ]
    assert (problem.place.line, problem.place.column) == (13, 3)
