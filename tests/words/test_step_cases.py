"""Steps, told to the letter: every case file under `cases` (their dialect: support/step_cases.py).

The wording is common practice, no source.
"""

import pytest

from support.step_cases import CASES, expectations, told


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_what_a_knitter_is_told(path):
    text = path.read_text(encoding="utf-8")
    expected = expectations(text)
    assert expected, f"{path.name} expects nothing"
    steps, groups, at_hand = told(path, text)
    for one in expected:
        one.check(steps, groups, at_hand)
