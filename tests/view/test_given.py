"""What a stripe is knitted from, and what is left of it, as page, paper and worksheet tell it."""

from __future__ import annotations

from stripewright.view.numbers import numbers
from support.patterns import SETTINGS, text_of, try_work

FRONT = {
    "machine": {"bed": "circular", "needles": 40},
    "swatch": {"stitches": 20, "rows": 30, "width": "10 cm", "length": "10 cm",
               "unravelled": {"stitches": 100, "length": "250 cm"}},
    "yarns": {
        "deep": {"name": "Deep", "colour": "#1f3d5c", "ball": "100 g / 100 m"},
        "foam": {"name": "Foam", "colour": "#dfe9e4"},
        "grey": {"name": "Grey", "colour": "#777777", "ball": "100 g / 20 m"},
    },
    "pieces": {"cowl": {"form": "tube", "rows": 90, "stripes": [
        "deep 23 g", "foam 12 m", "grey 200 g", "foam rest"]}},
}  # fmt: skip


def told(settings=SETTINGS):
    worked, problems = try_work(text_of(**FRONT))
    assert worked is not None, problems
    [piece] = numbers(worked, settings).pieces
    return [str(row.given) if row.given else "" for row in piece.plan]


def test_amounts_are_told_as_they_were_given_and_small_leftovers_in_metres():
    # deep: 23 m less 0.89 of tails, 22 rows, 0.11 m left; foam: 12 m less 0.28, 11 rows, 0.72 m left;
    # grey: 40 m, two joins of 0.28 after 20 and 40 m are not reached twice: 40 - 0.28 - 0.28 = 39.44,
    # 39 rows, 0.44 m left; the rest of 90 rows are 18
    assert told()[:2] == [
        "from 23 g (0.8 oz), 0.1 m (0.1 yd) left over",
        "from 12 m (13 yd), 0.7 m (0.8 yd) left over",
    ]


def test_the_studio_s_own_units_come_first():
    imperial = SETTINGS.model_copy(update={"units": "imperial"})
    assert told(imperial)[0] == "from 0.8 oz (23 g), 0.1 yd (0.1 m) left over"
    assert told(imperial)[3] == ""
