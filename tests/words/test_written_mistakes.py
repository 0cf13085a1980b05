"""Every case file gives the problems written in it, and no other: see support/problem_cases.py."""

from pathlib import Path

import pytest

from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
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
