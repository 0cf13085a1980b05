"""Every case file gives the problems written in it, and no other: see support/problem_cases.py."""

from pathlib import Path

import pytest

from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pipeline.make import work_source
from stripewright.pipeline.sources import SourceFile
from stripewright.problems import has_errors
from stripewright.source.reader import read_document
from stripewright.words.write import write
from support.patterns import SETTINGS
from support.problem_cases import split_case

CASES = sorted((Path(__file__).parent / "cases" / "mistakes").glob("*.md"))


def written(text):
    """The words of a pattern file, and their problems; the file must be sound up to them."""
    document, problems = read_document(text.encode(), "content/patterns/case.md")
    pattern, more = as_model(document, Pattern)
    assert not has_errors([*problems, *more]), [*problems, *more]
    worked, problems = work(pattern, document, SETTINGS, "case")
    assert not has_errors(problems), problems
    return write(worked, document, SETTINGS)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_case_gives_what_it_says(path):
    text, expected = split_case(path.read_text(encoding="utf-8"))
    words, problems = written(text)
    left = list(problems)
    for expectation in expected:
        found = next((problem for problem in left if expectation.meets(problem)), None)
        assert found is not None, f"{expectation} is not among\n" + "\n".join(map(str, problems))
        left.remove(found)
    assert not left, "not expected:\n" + "\n".join(map(str, left))
    assert (words is None) == has_errors(problems)


def test_there_are_cases():
    assert len(CASES) > 15
    assert any(path.stem.startswith("good") for path in CASES)


FRONT = """\
---
title: Harbour cushion
summary: Five broad stripes and a plain lining.
access: free
kind: cushion
machine: {bed: circular, needles: 40}
swatch: {stitches: 40, rows: 60, width: 30 cm, length: 29 cm, mass: 62 g}
yarns:
  deep: {name: Deep water, colour: "#1f3d5c", weight: 5, ball: 100 g / 120 m, price: 4.50}
pieces:
  cover: {form: tube, ends: [seamed, seamed], stripes: [%s]}
---
"""
WITHOUT_NUMBERS = {
    "no pattern": "deep -16",
    "no numbers": "deep 9], fold: 40, openings: [",
}


@pytest.mark.parametrize("rows", WITHOUT_NUMBERS.values(), ids=WITHOUT_NUMBERS.keys())
@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("Knit {{ cover.worked_rows }}.\n\n## Then\n{% include 'x' %}", (16, "include can't be")),
        ("Knit {{ cover.worked_rows.", (13, "")),
        ("A [link](javascript:alert).\n\n[To it](#then)\n\n## Then\nMore.", (13, "javascript")),
        ("[To it](#then) {{ nothing.known }}\n\n## Then\nMore.", None),
    ],
    ids=["refused", "unclosed", "link", "nothing yet"],
)
def test_a_front_matter_s_mistake_hides_none_of_the_body_s(rows, body, told):
    source = SourceFile("content/patterns/case.md", (FRONT % rows + body).encode())
    done = work_source(source, SETTINGS)
    assert done.worked is None
    assert any(problem.place.line == 11 for problem in done.problems)
    of_body = [problem for problem in done.problems if problem.place.line > 12]
    if told is None:
        assert not of_body
    else:
        assert [(problem.place.line, told[1] in problem.message) for problem in of_body] == [
            (told[0], True)
        ]
