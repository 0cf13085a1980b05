"""Gauge, yarn, tails, balls, filling and time: numbers worked by hand."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from stripewright.compute.balls import ball_choices, best, needed
from stripewright.compute.filling import cushion, cylinder, robin_volume, solid
from stripewright.compute.gauge import gauge_of
from stripewright.compute.size import needles_to_width, panels_to_width
from stripewright.compute.worked import Figure
from stripewright.compute.yarn import roles_of
from stripewright.pattern.yarns import BallOnSale, Swatch, Yarn
from support.patterns import FRONT, problems_of, worked

SWATCH = {"stitches": 20, "rows": 30, "width": "10 cm", "length": "10 cm"}
ONE = {"strip": {"form": "panel", "needles": 20, "stripes": ["deep 30"]}}
DEEP = {"name": "Deep water", "colour": "#1f3d5c"}


def swatch(**keys):
    return Swatch.model_validate(SWATCH | keys)


def strip(yarn=DEEP, **keys):
    """One open panel of 20 stitches by 30 rows in one yarn, on a bed of 40."""
    return worked(**{"yarns": {"deep": yarn}, "pieces": ONE, "swatch": SWATCH, "fill": None} | keys)


def test_gauge_over_4_in_is_over_10_16_cm():
    gauge = gauge_of((swatch(),), None)
    assert (gauge.stitches_10cm, gauge.rows_10cm) == pytest.approx((20, 30))
    assert (gauge.stitches_4in, gauge.rows_4in) == pytest.approx((20.32, 30.48))
    assert (gauge.swatches, gauge.stitches_spread, gauge.rows_spread) == (1, None, None)


def test_several_swatches_give_a_mean_and_a_spread():
    """20, 22 and 24 stitches: mean 22, sample standard deviation 2; rows 30, 30, 33: 31 and √3."""
    three = [swatch(), swatch(stitches=22), swatch(stitches=24, rows=33)]
    gauge = gauge_of(three, None)
    assert (gauge.stitches_10cm, gauge.rows_10cm, gauge.swatches) == pytest.approx((22, 31, 3))
    assert gauge.stitches_spread == pytest.approx(0.2)
    assert gauge.rows_spread == pytest.approx(sqrt(3) / 10)


def test_no_gauge_at_all_is_a_bug():
    with pytest.raises(ValueError, match="a gauge needs a swatch or a stated gauge"):
        gauge_of((), None)


def test_a_stated_gauge_says_so():
    gauge = strip(swatch=None, gauge="20 sts x 30 rows / 4 in").gauge
    assert gauge.swatches == 0
    assert gauge.stitches_4in == pytest.approx(20)


def test_yarn_by_mundens_relation():
    """Nothing but a gauge of 2 by 3: ℓ = √(21.6 / 6) = 1.897 cm, a fifth more or less."""
    pattern = strip()
    loop = pattern.loop_cm
    assert loop.value == pytest.approx(sqrt(3.6))
    assert (loop.low, loop.high) == pytest.approx((0.8 * sqrt(3.6), 1.2 * sqrt(3.6)))
    assert loop.estimated
    assert pattern.loop_source == "gauge"
    deep = pattern.yarn("deep")
    # 600 stitches, and two tails of 3 × 10 + 15 cm to cast on and off
    assert deep.length_m.value == pytest.approx((600 * sqrt(3.6) + 90) / 100)
    assert deep.length_m.estimated
    assert deep.mass_g is None
    assert deep.balls is None
    assert deep.choices == ()


def test_yarn_by_the_ball_band():
    """50 g / 125 m is 400 tex; d = √(4 × 0.004 / (π × 0.5)) = 0.10093 cm;
    ℓ = 2/3 + 1/2 + 5.94 × 0.10093 = 1.76617 cm, 15 % more or less."""
    pattern = strip(DEEP | {"ball": "50 g / 125 m"})
    loop = pattern.loop_cm
    assert pattern.loop_source == "band"
    assert loop.value == pytest.approx(2 / 3 + 1 / 2 + 5.94 * sqrt(0.016 / (0.5 * pi)))
    assert loop.value == pytest.approx(1.76617, abs=1e-5)
    assert (loop.low, loop.high) == pytest.approx((0.85 * loop.value, 1.15 * loop.value))
    assert loop.estimated


def test_yarn_by_what_was_unravelled():
    pattern = strip(swatch=SWATCH | {"unravelled": {"stitches": 50, "length": "90 cm"}})
    assert pattern.loop_cm.value == pytest.approx(1.8)
    assert (pattern.loop_cm.low, pattern.loop_cm.high) == pytest.approx((1.746, 1.854))
    assert pattern.loop_cm.estimated is False
    assert pattern.loop_source == "unravelled"


def test_an_unravelled_swatch_that_is_weighed_too_gives_masses_without_a_ball():
    """1.8 cm and 0.0075 g a stitch are 240 m to the 100 g: the tails weigh as much a metre."""
    unravelled = {"stitches": 50, "length": "90 cm"}
    pattern = strip(swatch=SWATCH | {"mass": "4.5 g", "unravelled": unravelled})
    assert pattern.loop_source == "unravelled"
    deep = pattern.yarn("deep")
    assert deep.length_m.value == pytest.approx((600 * 1.8 + 90) / 100)
    assert deep.mass_g.value == pytest.approx(deep.length_m.value / 2.4)


def test_a_yarn_keeps_what_its_author_says_of_it():
    yarn = strip(DEEP | {"fibre": "wool", "weight": 4, "role": "CC3"}).yarn("deep")
    assert (yarn.name, yarn.colour, yarn.fibre) == ("Deep water", "#1f3d5c", "wool")
    assert (yarn.weight, yarn.role, yarn.letter) == (4, "CC3", "A")


def test_the_weighed_swatch_comes_first():
    """4.5 g over 600 stitches is 0.0075 g; at 2.5 m to the gram 1.875 cm. Of two swatches the mean."""
    ball = DEEP | {"ball": "50 g / 125 m"}
    unravelled = {"stitches": 50, "length": "90 cm"}
    weighed = SWATCH | {"mass": "4.5 g", "unravelled": unravelled}
    assert strip(ball, swatch=weighed).loop_cm.value == pytest.approx(1.875)
    assert strip(ball, swatch=weighed).loop_source == "swatch"
    two = [weighed, SWATCH | {"mass": "5.1 g"}]
    assert strip(ball, swatch=two).loop_cm.value == pytest.approx(2.0)
    several = [
        SWATCH | {"unravelled": unravelled},
        SWATCH | {"unravelled": {"stitches": 50, "length": "94 cm"}},
    ]
    assert strip(swatch=several).loop_cm.value == pytest.approx(1.84)


def test_a_weighed_swatch_without_a_ball_gives_masses_all_the_same():
    """The length is an estimate then, the mass is not: 0.0075 g a stitch, tails in proportion."""
    deep = strip(swatch=SWATCH | {"mass": "4.5 g"}).yarn("deep")
    assert deep.length_m.estimated
    assert deep.mass_g is not None
    assert not deep.mass_g.estimated
    knitted = 600 * sqrt(3.6)
    assert deep.mass_g.value == pytest.approx(4.5 * (knitted + 90) / knitted)
    assert deep.mass_g.low == pytest.approx(0.97 * deep.mass_g.value)
    assert deep.mass_g.high == pytest.approx(1.03 * deep.mass_g.value)


def test_strands_held_together():
    """Two strands of 4 m to the gram knit as one of 2 m: 0.0075 × 2 = 1.5 cm a stitch, and twice
    that of the single strand, which weighs the same again."""
    yarn = DEEP | {"ball": "50 g / 200 m", "strands": 2}
    pattern = strip(yarn, swatch=SWATCH | {"mass": "4.5 g"})
    assert pattern.loop_cm.value == pytest.approx(1.5)
    deep = pattern.yarn("deep")
    assert deep.length_m.value == pytest.approx(2 * (600 * 1.5 + 90) / 100)
    assert deep.mass_g.value == pytest.approx(deep.length_m.value / 4)
    assert deep.mass_g.low == pytest.approx(2 * (600 * 1.455 + 90) / 400)
    assert deep.mass_g.high == pytest.approx(2 * (600 * 1.545 + 90) / 400)
    assert deep.mass_g.estimated is False


def test_each_new_ball_that_is_joined_in_takes_two_tails():
    """600 × 1.5 + 90 = 990 cm from balls of 4 m: two joins of 28 cm each."""
    yarn = DEEP | {"ball": "2 g / 4 m"}
    deep = strip(yarn, swatch=SWATCH | {"mass": "4.5 g"}).yarn("deep")
    assert deep.length_m.value == pytest.approx(9.9 + 2 * 0.28)


def test_several_yarns_each_by_their_own_ball():
    """The loop is measured with the first yarn that names a ball; masses follow each yarn's own."""
    yarns = {"deep": DEEP, "foam": {"name": "Foam", "colour": "#dfe9e4", "ball": "50 g / 100 m"},
             "sand": {"name": "Sand", "colour": "#c2913f", "ball": "50 g / 200 m"}}  # fmt: skip
    pieces = {
        "strip": {"form": "panel", "needles": 20, "stripes": ["deep 10", "foam 10", "sand 10"]}
    }
    pattern = worked(yarns=yarns, pieces=pieces, swatch=SWATCH | {"mass": "6 g"}, fill=None)
    assert pattern.loop_cm.value == pytest.approx(2.0)
    assert pattern.yarn("foam").mass_g.value == pytest.approx((400 + 28) / 100 / 2)
    assert pattern.yarn("sand").mass_g.value == pytest.approx((400 + 14 + 45) / 100 / 4)
    assert pattern.yarn("deep").mass_g.value == pytest.approx((400 + 14 + 45) / 100 * 0.5)


def test_roles_count_past_those_that_are_taken():
    made = {
        key: Yarn(name=key, colour="#123456", role=role)
        for key, role in [("a", None), ("b", "MC"), ("c", "CC2"), ("d", None), ("e", None)]
    }
    assert roles_of(made) == {"a": "CC1", "b": "MC", "c": "CC2", "d": "CC3", "e": "CC4"}
    plain = {key: Yarn(name=key, colour="#123456") for key in "abc"}
    assert roles_of(plain) == {"a": "MC", "b": "CC1", "c": "CC2"}


TUBE = {"form": "tube", "stripes": ["deep 30"]}


@pytest.mark.parametrize(
    ("piece", "first", "last"),
    [
        # 40 stitches at 2 to the cm: 20 cm around, 10 cm flat
        (TUBE | {"ends": ["seamed", "grafted"]}, 3 * 10 + 15, 4 * 10 + 15),
        (TUBE | {"ends": ["gathered", "hemmed"]}, 2 * 20 + 15, 3 * 20 + 15),
        (TUBE | {"ends": ["open", "open"]}, 75, 75),
        # a panel of 40 is 20 cm wide
        (TUBE | {"form": "panel", "ends": ["seamed", "gathered"]}, 75, 55),
    ],
)
def test_long_tails_by_edge(piece, first, last):
    tails = strip(pieces={"strip": piece}).tails_cm
    assert tails == pytest.approx({"inside": 14, "strip.first": first, "strip.last": last})


def test_a_ring_is_grafted_with_one_tail():
    """40 stitches are 20 cm around: 4 × 20 + 15 cm at the last end, at the first an ordinary tail."""
    ring = {"form": "tube", "stripes": ["deep 30"], "ends": ["grafted", "grafted"]}
    once = strip(pieces={"strip": ring})
    assert once.tails_cm == pytest.approx({"inside": 14, "strip.last": 95})
    band = strip(pieces={"strip": ring | {"form": "panel"}})
    assert band.tails_cm == pytest.approx({"inside": 14, "strip.last": 95})  # 20 cm wide
    open_ended = strip(pieces={"strip": ring | {"ends": ["open", "open"]}})
    # Two tails of 75 cm against one of 95 and one of 14; and the row that grafting makes.
    less = open_ended.yarn("deep").length_m.value - once.yarn("deep").length_m.value
    assert less == pytest.approx((2 * 75 - 95 - 14 + 40 * sqrt(3.6)) / 100)


def test_the_authors_own_tails():
    tails = strip(tails={"inside": "20 cm", "seam": "1 m"}).tails_cm
    assert tails == {"inside": 20, "strip.first": 100, "strip.last": 100}


def length_of(pieces, key="deep"):
    """Yarn in m at 2 cm a stitch, tails of 10 cm inside and 50 cm at ends."""
    yarns = {"deep": DEEP, "foam": {"name": "Foam", "colour": "#dfe9e4"}}
    pattern = worked(
        yarns=yarns,
        pieces=pieces,
        fill=None,
        swatch=SWATCH | {"unravelled": {"stitches": 50, "length": "100 cm"}},
        tails={"inside": "10 cm", "seam": "50 cm"},
    )
    return pattern.yarn(key).length_m.value, pattern.tails_cm


SIDED = {"form": "panel", "needles": 20, "stripes": ["deep 30", "foam 30"]}


def test_side_seams_are_sewn_in_the_first_yarn():
    """60 rows are 20 cm: 3 × 20 + 15 = 75 cm a seam. 30 × 20 × 2 = 1200 cm of knitting in deep,
    with a long tail and one at the change 1260 cm."""
    length, tails = length_of({"strip": SIDED | {"sides": "seamed"}})
    assert tails["strip.side"] == pytest.approx(75)
    assert length == pytest.approx((1260 + 75) / 100)
    open_sided, tails = length_of({"strip": SIDED})
    assert "strip.side" not in tails
    assert open_sided == pytest.approx(12.6)


def test_a_bag_has_two_side_seams_of_half_the_length():
    length, tails = length_of({"strip": SIDED | {"sides": "seamed", "fold": "half"}})
    assert tails["strip.side"] == pytest.approx(45)
    assert length == pytest.approx((1260 + 90) / 100)


def test_joined_panels_have_a_seam_between_each_two():
    """Three alike: two seams. Then two and three more: four in all, one fewer than the panels."""
    length, _ = length_of({"strip": SIDED | {"sides": "joined", "make": 3}})
    assert length == pytest.approx((3 * 1260 + 2 * 75) / 100)
    both = {
        "one": SIDED | {"sides": "joined", "make": 2},
        "two": SIDED | {"sides": "joined", "make": 3},
        "flap": SIDED,
    }
    length, _ = length_of(both)
    assert length == pytest.approx((6 * 1260 + 4 * 75) / 100)


def test_fringe_is_cut_from_the_stripe_at_each_end_or_from_its_own_yarn():
    """20 stitches, every second: 10 tassels of 2 strands of 2 × 5 + 3 = 13 cm: 260 cm an end."""
    fringe = {"fringe": {"length": "5 cm"}}
    plain, _ = length_of({"strip": SIDED})
    ends, _ = length_of({"strip": SIDED | fringe})
    assert ends - plain == pytest.approx(2.6)
    foam_plain, _ = length_of({"strip": SIDED}, "foam")
    own = {"fringe": {"length": "5 cm", "yarn": "foam"}}
    both, _ = length_of({"strip": SIDED | own | {"make": 2}}, "foam")
    assert both - 2 * foam_plain == pytest.approx(2 * 2 * 2.6)


def sold(*sizes):
    return [
        BallOnSale.model_validate({"ball": ball} | ({"price": price} if price else {}))
        for ball, price in sizes
    ]


def test_balls_are_rounded_up_and_leave_some_over():
    """101 m from balls of 50 m / 25 g: three; 150 − 90 = 60 m are left, 30 g."""
    [three] = ball_choices(sold(("25 g / 50 m", 3)), 101, 90, "EUR")
    assert (three.balls, three.cost, three.currency) == (3, 9, "EUR")
    assert three.leftover_g == pytest.approx(30)
    [two] = ball_choices(sold(("25 g / 50 m", None)), 100, 90, "EUR")
    assert (two.balls, two.cost, two.currency) == (2, None, None)
    [exact] = ball_choices(sold(("25 g / 0.3 m", None)), 0.1 + 0.2, 0.3, "EUR")
    assert exact.balls == 1  # 0.1 + 0.2 is a hair over 0.3


def test_the_best_buy_costs_least_or_leaves_least_over():
    priced = ball_choices(
        sold(("100 g / 200 m", "8 EUR"), ("50 g / 100 m", "3 EUR")), 150, 150, "GBP"
    )
    assert best(priced).mass_g == 50
    dear = ball_choices(
        sold(("100 g / 200 m", "5 EUR"), ("50 g / 100 m", "3 EUR")), 150, 150, "GBP"
    )
    assert best(dear).mass_g == 100
    plain = ball_choices(sold(("100 g / 400 m", None), ("50 g / 100 m", None)), 150, 150, "GBP")
    assert best(plain).mass_g == 50
    mixed = ball_choices(
        sold(("100 g / 400 m", "1 EUR"), ("50 g / 100 m", "9 GBP")), 150, 150, "GBP"
    )
    assert best(mixed).mass_g == 50  # prices in two currencies can't be compared
    half = ball_choices(sold(("100 g / 400 m", "1 EUR"), ("50 g / 100 m", None)), 150, 150, "GBP")
    assert best(half).mass_g == 50
    alike = ball_choices(sold(("100 g / 200 m", None), ("50 g / 100 m", None)), 200, 200, "GBP")
    assert best(alike).balls == 1  # the same left over: fewer balls, fewer joins
    assert best(()) is None


def test_a_price_without_a_currency_is_in_the_studios():
    [one] = ball_choices(sold(("25 g / 50 m", 3)), 1, 1, "GBP")
    assert one.currency == "GBP"
    [other] = ball_choices(sold(("25 g / 50 m", "3 EUR")), 1, 1, "GBP")
    assert other.currency == "EUR"


def test_what_is_needed_has_the_margin_or_the_high_end_of_an_estimate():
    assert needed(Figure(100, 97, 103), 0.1) == pytest.approx(110)
    assert needed(Figure(100, 97, 103), 0.0) == pytest.approx(100)
    assert needed(Figure(100, 80, 120, estimated=True), 0.1) == pytest.approx(120)
    assert needed(Figure(100, 80, 120, estimated=True), 0.3) == pytest.approx(130)


def test_several_sizes_of_ball_are_told_each():
    yarn = DEEP | {
        "balls": [
            {"ball": "100 g / 240 m", "price": "7.50"},
            {"ball": "50 g / 120 m", "price": "4"},
        ]
    }
    deep = strip(yarn).yarn("deep")
    assert [(one.mass_g, one.balls, one.cost) for one in deep.choices] == [
        (100, 1, 7.5),
        (50, 1, 4),
    ]
    assert deep.balls == deep.choices[1]


def test_the_studios_pace_or_the_patterns_own():
    """(30 + 10) rows at 20 a minute, no change, 3 min to set up: 5 min; then 7 to make up."""
    pace = {"rows_per_minute": 20, "change_minutes": 1, "setup_minutes": 3, "making_up_minutes": 7}
    pattern = strip(pace=pace)
    assert pattern.time.knitting.value == pytest.approx(5)
    assert pattern.time.making_up.value == pytest.approx(7)
    assert pattern.time.total.value == pytest.approx(12)
    assert (pattern.time.total.low, pattern.time.total.high) == pytest.approx((9.6, 18))
    assert pattern.time.total.estimated
    thrice = strip(pace=pace, pieces={"strip": ONE["strip"] | {"make": 3}})
    assert thrice.time.knitting.value == pytest.approx(15)
    assert thrice.yarn("deep").rows == 90
    assert thrice.waste_m == pytest.approx(3 * 10 * 20 * sqrt(3.6) / 100)


@pytest.mark.parametrize(("short", "long"), [(0, 1), (-1, 1), (2, 1)])
def test_robins_formula_refuses_what_it_was_not_made_for(short, long):
    with pytest.raises(ValueError, match=r"^the shorter side comes first, and is over 0$"):
        robin_volume(short, long)


def test_a_wide_piece_is_a_long_one_on_its_side():
    tall, wide = solid(10, 25, ("seamed", "seamed")), solid(25, 10, ("seamed", "seamed"))
    assert (tall.width_cm, tall.length_cm) == (wide.length_cm, wide.width_cm)
    assert (tall.volume_cm3, tall.thickness_cm) == (wide.volume_cm3, wide.thickness_cm)
    assert wide.width_cm > wide.length_cm


def test_a_cushion_between_square_and_long():
    """Twice as long as wide: a tenth of the way back from the cylinder (0.63662) to the disc
    (0.45695 thick, 0.76276 wide): 0.61865 and 0.64923; 2 − 0.61865 × 0.23724/0.45695 = 1.67881."""
    for scale in (1, 10):
        one = solid(scale, 2 * scale, ("seamed", "seamed"))
        assert one.thickness_cm == pytest.approx(0.61865 * scale, abs=1e-4 * scale)
        assert one.width_cm == pytest.approx(0.64923 * scale, abs=1e-4 * scale)
        assert one.length_cm == pytest.approx(1.67881 * scale, abs=1e-4 * scale)


def test_a_gathered_bolster_by_hand():
    """30 cm around: r = 4.7746 cm; flat 40 − 2 r = 30.4507 cm, domed 40 − πr + 2r = 34.5493 cm;
    πr² = 71.6197 cm², times 30.4507, and times 40 − 15 + 4 r / 3 = 31.3662; the mean of the two."""
    bolster = solid(15, 40, ("gathered", "gathered"))
    assert (bolster.width_cm, bolster.thickness_cm) == pytest.approx((9.5493, 9.5493), abs=1e-4)
    lengths = (bolster.low_length_cm, bolster.length_cm, bolster.dome_cm)
    assert lengths == pytest.approx((30.4507, 34.5493, 4.7746), abs=1e-4)
    assert bolster.volume_cm3 == pytest.approx(71.6197 * (30.4507 + 31.3662) / 2, rel=1e-5)


def test_a_ring_by_hand_and_by_slices():
    """30 cm around, 60 cm long: r = 4.7746 cm, R = 9.5493 cm; across 2 (R + r) = 28.6479 cm.

    The volume is checked by slices: at the height z the ring is between two circles whose areas
    differ by 4πR √(r² − z²).
    """
    ring = solid(15, 60, ("grafted", "grafted"))
    assert ring.kind == "ring"
    assert (ring.width_cm, ring.length_cm) == pytest.approx((28.6479, 28.6479), abs=1e-4)
    assert ring.thickness_cm == pytest.approx(9.5493, abs=1e-4)
    r, middle, slices = 30 / (2 * pi), 60 / (2 * pi), 20_000
    heights = (-r + 2 * r * (n + 0.5) / slices for n in range(slices))
    volume = sum(4 * pi * middle * sqrt(r * r - z * z) * 2 * r / slices for z in heights)
    assert ring.volume_cm3 == pytest.approx(volume, rel=1e-5)
    assert solid(15, 30, ("grafted", "grafted")) is None


def test_a_filled_ring_is_told_by_what_it_is_across():
    ring = {"form": "tube", "stripes": ["deep 100"], "ends": ["grafted", "grafted"]}
    (size,) = worked(pieces={"ring": ring}).finished
    assert size.across
    assert size.note == "a filled ring"
    assert size.width_cm == size.length_cm > size.thickness_cm


def test_one_gathered_end_is_half_of_each():
    """A long bolster, one end round, one flat: half the disc's and half the seam's loss."""
    flat, ring = solid(15, 60, ("seamed", "grafted")), solid(15, 60, ("gathered", "gathered"))
    both = solid(15, 60, ("gathered", "seamed"))
    assert ring.kind == "round"
    assert both.kind == flat.kind == "cushion"
    for name in ("width_cm", "length_cm", "thickness_cm", "volume_cm3"):
        assert getattr(both, name) == pytest.approx((getattr(flat, name) + getattr(ring, name)) / 2)
    assert solid(15, 60, ("seamed", "gathered")) == both


def test_a_tube_too_short_to_close():
    """A girth of 20 cm has discs of 3.18 cm radius: 6.37 cm of tube are all disc."""
    assert cylinder(20, 20 / pi) is None
    assert cylinder(20, 20 / pi + 0.1) is not None
    assert solid(10, 6, ("gathered", "seamed")) is None


def fill_of(fill, **keys):
    return worked(fill=fill, **keys).filling


def test_filling_by_firmness_by_density_or_as_weighed():
    volume = fill_of("light").volume_cm3
    assert fill_of("light").mass_g.value == pytest.approx(volume * 0.020)
    assert fill_of("firm").mass_g.value == pytest.approx(volume * 0.045)
    own = fill_of({"density": 12, "material": "wool fleece"})
    assert own.mass_g.value == pytest.approx(volume * 0.012)
    assert (own.mass_g.low, own.mass_g.high) == pytest.approx((volume * 0.009, volume * 0.015))
    assert own.material == "wool fleece"
    weighed = fill_of({"mass": "52 g"})
    assert (weighed.mass_g, weighed.weighed) == (Figure(52, 52, 52), True)


def test_a_cover_and_its_lining_are_filled_once():
    once = fill_of("medium").volume_cm3
    lining = FRONT["pieces"]["lining"]
    said = {"cover": FRONT["pieces"]["cover"], "lining": lining | {"filled": True}}
    assert fill_of("medium", pieces=said).volume_cm3 == pytest.approx(once)
    thrice = {"cover": FRONT["pieces"]["cover"] | {"make": 3}, "lining": lining}
    assert fill_of("medium", pieces=thrice).volume_cm3 == pytest.approx(3 * once)
    inner_only = {"cover": FRONT["pieces"]["cover"] | {"filled": False}, "lining": said["lining"]}
    # A lining by itself: 59 rows knitted, of which two go into its ends.
    inner = cushion(15, 57 * 29 / 60).volume_cm3
    assert fill_of("medium", pieces=inner_only).volume_cm3 == pytest.approx(inner)


def test_a_closed_tube_of_a_cushion_is_filled_though_no_fill_is_written():
    pattern = worked(fill=None)
    assert pattern.piece("cover").filled
    assert pattern.filling.firmness == "medium"
    assert worked(fill=None, kind="cowl").filling is None
    assert not worked(fill=None, kind="cowl").piece("cover").filled


def test_a_seamed_panel_is_filled_only_when_it_is_said():
    piece = {
        "form": "panel",
        "sides": "seamed",
        "fold": "half",
        "stripes": ["deep 50", "foam 50", "sand 2"],
    }
    assert not worked(pieces={"pad": piece}).piece("pad").filled
    pad = worked(pieces={"pad": piece | {"filled": True}}).piece("pad")
    # 38 stitches at 4/3 to the cm; 51 rows at 60/29
    assert pad.solid == solid(28.5, 51 * 29 / 60, ("open", "open"))


def test_needles_and_panels_reach_their_width_exactly():
    gauge = gauge_of((swatch(),), None)
    assert [needles_to_width("panel", cm, gauge) for cm in (10, 10.1, 10.5)] == [20, 21, 21]
    assert [needles_to_width("tube", cm, gauge) for cm in (10, 10.1)] == [40, 41]
    assert needles_to_width("panel", 1.1 + 2.2, gauge_of((swatch(stitches=10),), None)) == 4
    # 20 stitches, then 18 more each: 20, 38, 56
    assert [panels_to_width(20, cm, gauge) for cm in (3, 10, 10.1, 19, 19.1, 28)] == [
        1,
        1,
        2,
        2,
        3,
        3,
    ]
    assert panels_to_width(2, 2, gauge) == 2


def test_a_clean_pattern_says_nothing():
    assert problems_of() == []
