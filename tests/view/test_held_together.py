"""What is held together, and what the machine was set to, stand wherever yarn and gauge do."""

from stripewright.view.numbers import numbers
from support.patterns import FRONT, SETTINGS, text_of, worked_from

YARNS = {
    "deep": {"name": "Deep water", "colour": "#1f3d5c", "fibre": "wool", "strands": 2},
    "foam": {"name": "Foam", "colour": "#dfe9e4"},
    "sand": {"name": "Sand", "colour": "#c2913f"},
    "wet": {"name": "Wet sand", "marl": ["foam", "sand"]},
}


def told(**overrides):
    pieces = {"tube": {"form": "tube", "stripes": ["deep 9", "foam 9", "wet 9", "sand 9"]}}
    worked = worked_from(text_of(fill=None, yarns=YARNS, pieces=pieces, **overrides))
    return numbers(worked, SETTINGS, {})


def test_strands_and_marls_are_told_with_the_yarn():
    assert {one.letter: one.fibre for one in told().materials} == {
        "A": "wool, 2 strands held together",
        "B": "",
        "C": "",
        "D": "one strand each of Foam and Sand, held together",
    }


def test_the_machine_s_setting_is_told_with_the_gauge():
    plain = told().gauge
    set_so = told(swatch={**FRONT["swatch"], "setting": "middle tension"}).gauge
    assert set_so == f"{plain}, middle tension"
