"""Every demo pattern against numbers worked by hand: the arithmetic stands in the comments.

Nothing here comes from the program. Lengths in cm, yarn in m; RC is the row counter's reading.
The allowances (seamed 1, gathered 1, hem 2 cm), tails (3 times the edge and 15 cm to sew or cast
off, 2 times to gather, 14 cm at a change) and the tenth of yarn to spare are common practice, no
source.
"""

import csv
import inspect
from itertools import accumulate, groupby
from math import pi

import pytest

from support.demo import CONTENT, SLUGS, demo


def near(number):
    return pytest.approx(number, rel=0.002)


def readings(piece):
    return [line.last for line in piece.plan]


def balls(worked):
    return {yarn.key: yarn.balls.balls for yarn in worked.yarns}


def test_lamplit_bolster():
    worked, _ = demo("lamplit-bolster")
    # Gauge: 46 / 36.8 = 1.25 stitches and 50 / 25 = 2 rows to the cm.
    assert (worked.gauge.stitches_per_cm, worked.gauge.rows_per_cm) == (near(1.25), near(2))
    cover, lining = worked.pieces
    # 12 3 9 3 9 3 (6) 3 9 3 9 3 12: twice 39 and 6 are 84 visible rows; a row for each seam: 86.
    assert (cover.visible_rows, cover.worked_rows) == (84, 86)
    # 12 + 1 = 13, then + 3, 9, 3, 9, 3, 6, 3, 9, 3, 9, 3 and 12 + 1.
    assert readings(cover) == [13, 16, 25, 28, 37, 40, 46, 49, 58, 61, 70, 73, 86]
    # The lining: the cover's 84 visible rows, plain.
    assert readings(lining) == [84]
    # 46 / 1.25 = 36.8 around, 18.4 flat; 84 / 2 = 42 long.
    assert (cover.girth_cm, cover.flat_width_cm) == (near(36.8), near(18.4))
    assert cover.finished_length_cm == near(42)
    # A stitch: 62 g x 1.1 m/g / (46 x 50) = 68.2 / 2300 = 2.965 cm.
    assert worked.loop_cm.value == near(2.965)
    # Shell: 6 stripes of 3 and the lining's 84 are 102 rows x 46 x 2.965 cm = 139.1 m. Tails: 12
    # changes touch it, each with one tail of 14 = 1.68 m; the lining's two ends are sewn like the
    # cover's: 2 x (3 x 18.4 + 15) = 1.40 m; one join 0.28: 142.5 m.
    assert worked.yarn("shell").length_m.value == near(142.5)
    # Ink: 13 + 6 + 13 = 32 rows x 46 x 2.965 = 43.6 m; ends 2 x (3 x 18.4 + 15) = 1.40; 4 changes
    # 0.56: 45.6 m. Shutter and lamp: 18 rows each, 24.55 + 0.56 = 25.1 m. All under 100: one ball each.
    assert worked.yarn("ink").length_m.value == near(45.6)
    assert worked.yarn("shutter").length_m.value == near(25.1)
    assert balls(worked) == {"ink": 1, "shell": 2, "shutter": 1, "lamp": 1}


def test_bolster_filling():
    worked, _ = demo("lamplit-bolster")
    # Robin: w = 18.4, h = 42: h / (pi w) = 0.72657; 10^(-42/18.4) = 10^-2.28261 = 0.0052166;
    # 0.142 x 0.9947834 = 0.1412592; 0.72657 - 0.14126 = 0.58531; x 18.4^3 = 6229.5: 3646 cm3.
    # At 30 g to the litre 109 g.
    assert worked.filling.volume_cm3 == near(3646)
    assert worked.filling.mass_g.value == near(109.4)


def test_two_tides_hat():
    worked, _ = demo("two-tides-hat")
    (hat,) = worked.pieces
    # Three swatches: 30/24 = 1.25, 30/24.5 = 1.22449, 30/24.2 = 1.23967: their mean is 1.23805;
    # rows 40/20 = 2, 40/20.2 = 1.98020, 40/19.8 = 2.02020: 2.00013.
    assert worked.gauge.stitches_per_cm == pytest.approx(1.23805, abs=1e-5)
    assert worked.gauge.rows_per_cm == pytest.approx(2.00013, abs=1e-5)
    # Shares: 23 + 4 x (1 + 2) + 1 + 10 = 46 for 92 rows: each counts twice. Gathered: 1 at each end.
    # 46 + 1 = 47; then 2 4 2 4 2 4 2 4 2; then 20 + 1.
    assert readings(hat) == [47, 49, 53, 55, 59, 61, 65, 67, 71, 73, 94]
    # Folded after 46 of 92 visible rows, and one row of gathering lies before them.
    assert hat.fold == 47
    # 60 / 1.23805 = 48.46 around; wanted 54 less a tenth = 48.6.
    assert (worked.fit.girth_cm, worked.fit.wanted_girth_cm) == (near(48.46), near(48.6))
    # 92 / 2.00013 = 46.0 long, folded 23.
    assert hat.finished_length_cm == near(46)
    # A stitch: 31 g / 1200 x 1.18 m/g = 3.048 cm. Pine: 47 + 21 = 68 rows x 60 x 3.048 = 124.4 m;
    # gathering 2 x (2 x 48.46 + 15) = 2.24; 2 changes 0.28; one join 0.28: 127.2 m, + 10 % = 139.9:
    # 2 balls of 118. The other two are under 35 m.
    assert worked.loop_cm.value == near(3.048)
    assert worked.yarn("pine").length_m.value == near(127.2)
    assert balls(worked) == {"pine": 2, "foam": 1, "kelp": 1}


def test_counting_waves_cowl():
    worked, _ = demo("counting-waves-cowl")
    (ring,) = worked.pieces
    # 1 1 2 3 5 8 13 21 = 54, and back: 108; the last stripe of one row is made by grafting.
    assert (ring.visible_rows, ring.worked_rows) == (108, 107)
    assert readings(ring) == [1, 2, 4, 7, 12, 20, 33, 54, 75, 88, 96, 101, 104, 106, 107, 107]
    # Salt, heather, storm take turns on the way up; storm, heather, salt on the way down.
    assert "".join(line.letter for line in ring.plan) == "BCABCABC" + "ACBACBAC"
    # 108 / 1.9 = 56.84 round; 46 / 1.25 = 36.8 of tube, 18.4 flat.
    assert ring.finished_length_cm == near(56.84)
    assert ring.flat_width_cm == near(18.4)
    # Storm: 2 + 8 + 21 + 5 + 1 = 37 rows; salt 1 + 3 + 13 + 8 + 2 = 27; heather 1 + 5 + 21 + 13 + 3
    # = 43, and a row that is grafted.
    assert [yarn.rows for yarn in worked.yarns] == [37, 27, 43]
    # No swatch was weighed, so the yarn is an estimate. At about 3 cm a stitch heather
    # takes 43 x 46 x 0.03 = 61 m: one ball of 112 for each.
    assert worked.loop_cm.estimated
    assert 2.5 < worked.loop_cm.value < 3.5
    assert balls(worked) == {"storm": 1, "salt": 1, "heather": 1}


def test_winter_forecast_scarf():
    worked, _ = demo("winter-forecast-scarf")
    (scarf,) = worked.pieces
    # Drawn once, by the seed "slipway"; knitted scarves depend on it staying as it is.
    drawn = (
        "mist 16, sun 15, mist 11, gale 11, mist 10, sun 12, gale 7, dusk 10, gale 8, dusk 11, gale 7, "
        "dusk 16, mist 14, rain 15"
    )
    stripes = [f"{line.yarn} {line.rows}" for line in scarf.plan]
    assert stripes[:14] == drawn.split(", ")
    assert len(stripes) == 32
    assert all(4 <= line.rows <= 16 for line in scarf.plan)
    # Both ends open: what is knitted shows. 16, 31, 42, 53, 63, 75, 82, 92, 100, 111, 118, 134, 148, 163.
    assert readings(scarf)[:14] == [16, 31, 42, 53, 63, 75, 82, 92, 100, 111, 118, 134, 148, 163]
    assert scarf.worked_rows == scarf.visible_rows == 346
    # 40 / 28 = 1.4286 to the cm: 28 around, 14 flat; 346 / 2 = 173 long.
    assert (scarf.flat_width_cm, scarf.finished_length_cm) == (near(14), near(173))
    # Fringe: 20 stitches across the flat tube, a tassel at every second: 10; 2 x 12 + 3 to knot = 27.
    assert (scarf.fringe.tassels, scarf.fringe.strands, scarf.fringe.cut_cm) == (10, 3, near(27))
    # A stitch: 35 g x 1.28 m/g / 1600 = 2.8 cm. Each yarn that takes 57 to 128 m with the tenth is
    # cheapest as one ball of 100 g (6.10 against 2 x 3.40); up to 192 m as three of 50 g (10.20
    # against 12.20).
    assert worked.loop_cm.value == near(2.8)
    for yarn in worked.yarns:
        need = yarn.length_m.value * 1.1
        cheapest = (1, 50) if need <= 64 else (1, 100) if need <= 128 else (3, 50)
        assert (yarn.balls.balls, yarn.balls.mass_g) == cheapest


def test_kettle_wrist_warmers():
    worked, _ = demo("kettle-wrist-warmers")
    (warmer,) = worked.pieces
    # 4, then 2 4 2 4 2 4, then 2, 10, 2, 4: 40 rows, ends open.
    assert readings(warmer) == [4, 6, 10, 12, 16, 18, 22, 24, 34, 36, 40]
    # The slit: after 26 rows, 7 high: rows 27 to 33, inside the stripe of rows 25 to 34.
    (slit,) = warmer.openings
    assert (slit.first, slit.last) == (27, 33)
    # 22 / 17.6 = 1.25: 17.6 around, 8.8 flat; 30 / 15 = 2: 20 long.
    assert (warmer.girth_cm, warmer.finished_length_cm) == (near(17.6), near(20))
    # Unravelled: 134 / 44 = 3.045 cm a stitch. Copper: 2 x 8 rows x 22 x 3.045 = 10.72 m; casting off
    # 4 ends of 17.6: 4 x (3 x 17.6 + 15) = 2.71; 2 changes in each of 2: 0.56. In all 13.99 m.
    assert worked.loop_cm.value == near(3.045)
    assert worked.yarn("copper").length_m.value == near(13.99)
    # Smoke: 2 x 22 rows x 22 x 3.045 = 29.5 m and 2 x 8 tails of 14: 31.7 m, + 10 % under 60.
    assert worked.yarn("smoke").length_m.value == near(31.7)
    assert balls(worked) == {"smoke": 1, "cream": 1, "copper": 1}
    # The thicker yarn: 20 cm x 1.8 rows = 36 rows; 22 / 1.1 / 2 = 10 wide.
    (chunky,) = worked.sizes
    assert chunky.worked.pieces[0].visible_rows == 36
    assert chunky.worked.pieces[0].flat_width_cm == near(10)


def test_regatta_bunting():
    worked, _ = demo("regatta-bunting")
    # 13 and 19.5 to 4 in, which are 10.16 cm: 1.27953 stitches, 1.91929 rows to the cm.
    assert worked.gauge.stitches_per_cm == near(1.27953)
    # Each flag has 24 visible rows and one for the seam at the bottom; the top is open.
    # 8 + 1, 8, 8; 6 + 1, 6, 6, 6; 10 + 1, 4, 10.
    assert {piece.key: readings(piece) for piece in worked.pieces} == {
        "ensign": [9, 17, 25],
        "lookout": [7, 13, 19, 25],
        "pilot": [11, 15, 25],
    }
    assert sum(piece.make for piece in worked.pieces) == 11
    # 22 / 1.27953 = 17.19 around, 8.60 flat; 24 / 1.91929 = 12.50 long.
    for piece in worked.pieces:
        assert (piece.flat_width_cm, piece.finished_length_cm) == (near(8.597), near(12.505))
    # Rows: red 4 x 17, sail 4 x 8 + 3 x 4, blue 4 x 13, buoy 4 x 12 + 3 x 10, weed 3 x 11.
    assert [yarn.rows for yarn in worked.yarns] == [68, 44, 52, 78, 33]
    # By the band (Peirce): 50 g / 56 m is 892.9 tex, at 0.5 g to the cm3 sqrt(4 x 0.008929 / (pi x
    # 0.5)) = 0.15078 across; a stitch 2 / 1.91929 + 1 / 1.27953 + 5.94 x 0.15078 = 2.7193 cm. Red
    # knits 68 x 22 of them, 40.7 m, buoy 78 x 22, 46.7 m. With the tenth to spare a ball does for
    # 56 / 1.1 = 50.9 m. Buoy casts 7 flags off, 3 x 17.19 + 15 = 66.6 cm each, 4.7 m, and 4 x 3 + 3
    # changes touch it, 2.1 m: 53.4 m, two balls. No other is near.
    assert worked.loop_cm.value == near(2.7193)
    assert worked.yarn("buoy").length_m.value == near(53.4)
    assert balls(worked) == {"red": 1, "sail": 1, "blue": 1, "buoy": 2, "weed": 1}
    # A cord and a nursery: neither caution may be missing.
    assert {"cords", "infant", "machine"} <= set(worked.cautions)


def test_night_ferry_draught_excluder():
    worked, _ = demo("night-ferry-draught-excluder")
    cover, lining = worked.pieces
    # 18 16 14 12 10 8 6 (4) 6 8 10 12 14 16 18: twice 84 and 4 are 172; 2 rows more at each end.
    assert (cover.visible_rows, cover.worked_rows, lining.worked_rows) == (172, 176, 172)
    # 20 16 14 12 10 8 6 4 6 8 10 12 14 16 20, added up.
    assert readings(cover) == [20, 36, 50, 62, 72, 80, 86, 90, 96, 104, 114, 126, 140, 156, 176]
    # Night, ember, wake in turn, eight times, and back: A B C A B C A B A C B A C B A.
    assert "".join(line.letter for line in cover.plan) == "ABCABCABACBACBA"
    # 40 / 1.25 = 32 around: 32 / pi = 10.19 thick; 172 / 2 = 86 long. Each gathered end closes over
    # a disc as wide as the tube, so half of the thickness goes at each end: 86 - 10.19 = 75.81. Or
    # it domes: half a ball takes a quarter of 32 and stands out 5.093: 86 - 16 + 10.19 = 80.19.
    assert cover.girth_cm == near(32)
    assert (cover.solid.thickness_cm, cover.solid.low_length_cm) == (near(10.186), near(75.81))
    assert cover.solid.length_cm == near(80.186)
    # pi x 5.093^2 x 75.81 = 6178 cm3; domed x (70 + 4 x 5.093 / 3); between the two. It was weighed.
    assert cover.solid.volume_cm3 == near(pi * 5.093**2 * (75.81 + 70 + 4 * 5.093 / 3) / 2)
    assert (worked.filling.mass_g.value, worked.filling.weighed) == (640, True)
    # A stitch: 52 g x 1.08 m/g / 1920 = 2.925 cm. Night: 20 + 12 + 6 + 6 + 12 + 20 = 76 rows and the
    # lining's 172: 248 x 40 x 2.925 = 290.2 m. Cover's ends 2 x (2 x 32 + 15) = 1.58; the
    # lining's, gathered too, 1.58; changes: 10 x 0.14 = 1.4; 2 joins 0.56: 295.3 m.
    # With the tenth 324.8: 4 balls of 108 m.
    assert worked.yarn("night").length_m.value == near(295.3)
    assert balls(worked) == {"night": 4, "ember": 1, "wake": 1}


def test_market_day_bag():
    worked, _ = demo("market-day-bag")
    body, handle = worked.pieces
    # 32 in 8 in: 4 stitches to the inch; 44 in 8: 5.5 rows. 32 in x 5.5 = 176 rows.
    # 32 shares (6 1 2 1 12 1 2 1 6): 5.5 rows a share: 33, 5.5, 11, 5.5, 66 and back. Two rows would be left
    # for four halves. With whole repeats 174 or 178 rows, both as near: the longer. A hem of 6 at each end.
    assert body.visible_rows == 178
    assert [line.visible for line in body.plan] == [33, 6, 11, 6, 66, 6, 11, 6, 33]
    assert readings(body) == [39, 45, 56, 62, 128, 134, 145, 151, 190]
    # Folded in the middle: 6 rows of hem and 89.
    assert body.fold == 95
    # 50 / 4 = 12.5 in = 31.75 cm wide; 178 / 5.5 = 32.36 in, folded 16.18 in = 41.1 tall.
    assert body.flat_width_cm == near(31.75)
    assert body.finished_length_cm / 2 == near(41.1)
    # Handles: 24 in x 5.5 = 132 rows; 9 / 4 = 2.25 in = 5.715 cm wide before they roll.
    assert (handle.worked_rows, handle.make) == (132, 2)
    assert handle.flat_width_cm == near(5.715)
    # A stitch: 0.85 oz / 1408 x (175 yd / 3.5 oz = 50 yd an ounce = 45.72 m) = 2.760 cm.
    assert worked.loop_cm.value == near(2.76)
    # Clay: 66 rows x 50 x 2.76 = 91.1 m and 4 tails less: under 145 (the tenth with it): 1 ball of 160.02 m.
    # Indigo: 39 + 11 + 11 + 39 = 100 rows x 50 and 2 x 132 x 9: 7376 stitches x 2.76 = 203.6 m, and
    # under 20 m of tails: 2 balls.
    assert balls(worked) == {"indigo": 2, "straw": 1, "clay": 1}
    assert {"steam", "small_parts"} <= set(worked.cautions)


def test_slow_light_blanket():
    worked, _ = demo("slow-light-blanket")
    (panel,) = worked.pieces
    # One fade: 11 1, 9 3, 7 5, 5 7, 3 9, 1 11: 72 rows. Three of them: 216. Where two fades meet, 11
    # and 11 of one colour make 22. A hem of 2 cm x 2.24 rows = 4.48, so 4 rows, at each end: 224.
    assert (panel.visible_rows, panel.worked_rows) == (216, 224)
    rows = [
        15,
        1,
        9,
        3,
        7,
        5,
        5,
        7,
        3,
        9,
        1,
        22,
        1,
        9,
        3,
        7,
        5,
        5,
        7,
        3,
        9,
        1,
        22,
        1,
        9,
        3,
        7,
        5,
        5,
        7,
        3,
        9,
        1,
        15,
    ]
    assert [line.rows for line in panel.plan] == rows
    assert readings(panel)[-4:] == [199, 208, 209, 224]
    # 50 / 1.6 = 31.25 wide, four of them 125; 216 / 2.24 = 96.43 long.
    assert (panel.flat_width_cm * panel.make, panel.finished_length_cm) == (near(125), near(96.43))
    # A stitch: 34 g x 1.7 m/g / 2240 = 2.580 cm. Rose: 36 + 36 = 72 rows x 50 x 4 panels = 14,400
    # x 2.58 = 371.6 m. The 11 changes of each of its two fades touch it: 22 x 4 x 0.14 = 12.3 m;
    # two joins 0.56: 384.4 m. With the tenth 423: 3 balls of 170.
    assert worked.loop_cm.value == near(2.58)
    assert worked.yarn("rose").length_m.value == near(384.4)
    assert worked.yarn("rose").balls.balls == worked.yarn("peach").balls.balls == 3
    assert worked.yarn("plum").balls.balls == worked.yarn("dawn").balls.balls == 2


def test_a_year_on_the_harbour_wall():
    worked, _ = demo("a-year-on-the-harbour-wall")
    [scarf] = worked.pieces
    # The table, counted here: the colour of each day by its limits, and the runs of one colour.
    with (CONTENT / "data/harbour-wall-2025.csv").open() as file:
        highs = [float(row["high"]) for row in csv.DictReader(file)]
    days = [
        ["frost", "slate", "lichen", "gorse", "buoy"][sum(high >= end for end in (3, 8, 14, 20))]
        for high in highs
    ]
    runs = [(yarn, len([*same])) for yarn, same in groupby(days)]
    # 365 days of a row each, and a row for each gathered end, frost and slate: 367.
    assert (len(days), runs[0], runs[-1]) == (365, ("frost", 31), ("slate", 16))
    assert (scarf.visible_rows, scarf.worked_rows) == (365, 367)
    assert readings(scarf)[:-1] == [1 + n for n in accumulate(rows for _, rows in runs)][:-1]
    assert readings(scarf)[-1] == 367
    assert [band.records for band in scarf.tables[0].bands] == [52, 122, 59, 76, 56]
    # The day of the first gorse in March: its number in the year, and the row that gathers.
    [table] = scarf.tables
    assert {
        (one.day.timetuple().tm_yday + 1, one.day.timetuple().tm_yday + 1) for one in table.records
    } == {(one.first, one.last) for one in table.records}
    # 46 / 34 stitches and 50 / 25 = 2 rows to the cm: 34 around, 17 flat; 365 / 2 = 182.5 long.
    assert (scarf.girth_cm, scarf.flat_width_cm, scarf.finished_length_cm) == (
        near(34),
        near(17),
        near(182.5),
    )
    # A stitch: 47 g x 1.28 m/g / (46 x 50) = 60.16 / 2300 = 2.6157 cm; a row of 46 is 1.2032 m.
    # Slate: 122 + 1 rows 147.99 m; 17 changes touch it: 17 x 0.14 = 2.38; a gathered end 2 x 0.34
    # + 0.15 = 0.83; a second and a third ball 0.56: 151.8 m.
    assert worked.yarn("slate").length_m.value == near(151.8)
    # Frost: 52 + 1 rows 63.77; 11 changes 1.54; the other end 0.83; a second ball 0.28: 66.4 m.
    assert worked.yarn("frost").length_m.value == near(66.4)
    # With the tenth 73.1 and 166.9; lichen 59 rows, 16 changes: 80.9; gorse 76 and 20: 104.0; buoy
    # 56 and 10: 76.0; in balls of 64.
    assert balls(worked) == {"frost": 2, "slate": 3, "lichen": 2, "gorse": 2, "buoy": 2}


def test_landing_cowl():
    worked, _ = demo("landing-cowl")
    [ring] = worked.pieces
    # A stitch: 35 g x 1.28 m/g / (40 x 40) = 44.8 / 1600 = 2.8 cm; a row of 40 is 1.12 m.
    assert worked.loop_cm.value == near(2.8)
    # 62 cm at 40 / 20 = 2 rows to the cm are 124 rows, of which grafting makes one: 123 to knit.
    assert (ring.visible_rows, ring.worked_rows, ring.finished_length_cm) == (124, 123, near(62))
    # 15 g are 19.2 m: 16 rows 17.92, and tails; 17 m less two tails of 0.14: 16.72 / 1.12 = 14.9,
    # so 14; all of 36 g, 46.08 m, less two tails: 45.8 / 1.12 = 40.9, so 40. 15 g again: 16, the
    # last of them grafted. The rest: 124 - 16 - 14 - 40 - 14 - 16 = 24.
    assert readings(ring) == [16, 30, 54, 94, 108, 123]
    # Mist: 2 x (14 x 1.12 + 2 x 0.14) = 31.92 m.
    assert worked.yarn("mist").length_m.value == near(31.92)
    assert balls(worked) == {"gale": 1, "mist": 1, "rain": 1, "sun": 1, "dusk": 1}


def test_every_pattern_that_is_published_is_worked_by_hand():
    for slug in SLUGS:
        published = demo(slug)[0].pattern.published
        if published and published.isoformat() <= "2026-11-25":
            source = inspect.getsource(globals()[f"test_{slug.replace('-', '_')}"])
            assert f'demo("{slug}")' in source
            for figure in ("readings(", "_cm"):
                assert figure in source, f"{slug}: nobody worked {figure}"
            assert "balls" in source or "length_m" in source, f"{slug}: nobody worked its yarn"


def test_eleven_are_published():
    days = {slug: demo(slug)[0].pattern for slug in SLUGS}
    out = [p for p in days.values() if p.published and p.published.isoformat() <= "2026-11-25"]
    assert sum(p.access == "free" for p in out) == 8
    assert sum(p.access == "paid" for p in out) == 3
    assert {p.machine.needles for p in out if p.machine.bed == "circular"} == {22, 40, 46, 60}
    assert any(p.machine.bed == "flat" for p in out)
    assert days["sea-serpent"].published is None
    assert days["ebb-baby-hat"].published.year == 2027
    assert len(list((CONTENT / "posts").glob("*.md"))) == 3
