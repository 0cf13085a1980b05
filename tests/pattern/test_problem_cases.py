"""Every case file gives the problems written in it, and no other."""

import pytest

from support.problem_cases import CASES, read_case, split_case


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_case_gives_what_it_says(path):
    text, expected = split_case(path.read_text(encoding="utf-8"))
    _, model, problems = read_case(path, text)
    told = "\n".join(f"{problem} (column {problem.place.column})" for problem in problems)
    left = list(problems)
    for expectation in expected:
        found = next((problem for problem in left if expectation.meets(problem)), None)
        assert found is not None, f"{expectation} is not among\n{told}"
        left.remove(found)
    assert not left, "not expected:\n" + "\n".join(map(str, left))
    if not any(problem.severity == "error" for problem in problems):
        assert model is not None


def test_there_are_cases_of_every_kind():
    kinds = {path.stem.split("-")[0] for path in CASES}
    assert {"settings", "post", "page", "sheets", "good"} <= kinds
    assert len(CASES) > 40


def test_an_unmet_expectation_is_noticed():
    text, expected = split_case("---\ntitle: x  # ! error: never said\n---\n")
    assert text == "---\ntitle: x\n---\n"
    [expectation] = expected
    assert (expectation.line, expectation.message) == (2, "never said")
