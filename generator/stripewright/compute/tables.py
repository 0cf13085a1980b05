"""The tables that come with the program, read once; and the worked numbers as plain tables."""

from __future__ import annotations

import csv
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import N_

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.compute.reach import LongestPiece
    from stripewright.compute.recorded import WorkedTable
    from stripewright.compute.worked import WorkedPattern, WorkedYarn
    from stripewright.compute.worked_piece import WorkedAmount, WorkedPiece


WEIGHTS = (N_("lace"), N_("super fine"), N_("fine"), N_("light"), N_("medium"), N_("bulky"),
           N_("super bulky"), N_("jumbo"))  # fmt: skip
"""Names of the yarn weight classes 0 to 7: Craft Yarn Council, Standard Yarn Weight System."""


class YarnClass(NamedTuple):
    """The gauge range of a yarn weight class, in stitches to 4 in (10.16 cm)."""

    low: int
    high: int


class Head(NamedTuple):
    """A head circumference in cm, and whether it is an infant's."""

    head_cm: float
    infant: bool


def _rows(name: str) -> list[dict[str, str]]:
    text = (resources.files("stripewright.compute") / "data" / name).read_text("utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def yarn_classes() -> dict[int, YarnClass]:
    """Yarn weight classes by number, 0 to 7.

    Source: Craft Yarn Council, Standard Yarn Weight System.
    """
    rows = _rows("yarn_weights.csv")
    return {int(row["class"]): YarnClass(int(row["low"]), int(row["high"])) for row in rows}


@cache
def head_sizes() -> dict[str, Head]:
    """Head sizes by wearer; each row names its source."""
    rows = _rows("head_sizes.csv")
    return {row["wearer"]: Head(float(row["head_cm"]), row["infant"] == "yes") for row in rows}


def worksheet_object(worked: WorkedPattern) -> dict[str, object]:
    """The worked numbers of a pattern as the object that `worksheet --json` prints.

    Lengths in cm and m and masses in g are rounded to two digits; `from` and `to` are 1-based
    worked rows, both included, so `to` is what the row counter reads at the end of a stripe.
    `amounts` is there where stripes are given by their yarn, and tells what is left of it.
    What isn't known (the mass of a yarn that names no ball) is null.
    """
    return {
        "pattern": worked.slug,
        "pieces": [_piece_table(piece) for piece in worked.pieces],
        "yarns": [_yarn_table(yarn) for yarn in worked.yarns],
        **(
            {
                "colourways": [
                    {"name": way.key, "yarns": [_yarn_table(yarn) for yarn in way.worked.yarns]}
                    for way in worked.colourways
                ]
            }
            if worked.colourways
            else {}
        ),
        **(
            {
                "sizes": [
                    {"name": size.key, "title": size.title} | worksheet_object(size.worked)
                    for size in worked.sizes
                ]
            }
            if worked.sizes
            else {}
        ),
        **({"amounts": [_amount_table(one) for one in worked.amounts]} if worked.amounts else {}),
    }


def _amount_table(one: WorkedAmount) -> dict[str, object]:
    reach = one.metres_per_gram
    return {
        "piece": one.piece,
        "stripe": one.line + 1,
        "yarn": one.yarn,
        "amount": one.text,
        "rows": one.rows,
        "used_m": round(one.used_m, 2),
        "leftover_m": round(one.left_m, 2),
        "used_g": None if reach is None else round(one.used_m / reach, 2),
        "leftover_g": None if reach is None else round(one.left_m / reach, 2),
    }


def longest_table(found: Iterable[LongestPiece]) -> list[dict[str, object]]:
    """The longest pieces as `worksheet --with --json` prints them."""
    return [
        {
            "piece": one.key,
            "make": one.make,
            "rows": one.rows,
            "length_cm": round(one.length_cm, 2),
            "takes_g": None if one.takes_g is None else round(one.takes_g, 2),
            "takes_m": round(one.takes_m, 2),
            "whole_repeats": one.whole_repeats,
            "rows_with_margin": one.with_margin_rows,
            "length_with_margin_cm": round(one.with_margin_cm, 2),
        }
        for one in found
    ]


def _piece_table(piece: WorkedPiece) -> dict[str, object]:
    return (
        {
            "name": piece.key,
            "form": piece.form,
            "stitches": piece.stitches,
            "visible_rows": piece.visible_rows,
            "worked_rows": piece.worked_rows,
            "flat_width_cm": round(piece.flat_width_cm, 2),
            "finished_length_cm": round(piece.finished_length_cm, 2),
            "plan": [
                {
                    "letter": line.letter,
                    "yarn": line.yarn,
                    "from": line.first,
                    "to": line.last,
                    "rows": line.rows,
                }
                for line in piece.plan
            ],
        }
        | _brim_table(piece)
        | ({"tables": [_records_table(table) for table in piece.tables]} if piece.tables else {})
    )


def _brim_table(piece: WorkedPiece) -> dict[str, object]:
    """A brim that is turned up, from its upper edge down; the length as it is worn."""
    brim = piece.brim
    if brim is None:
        return {}
    shows = [{"letter": one.letter, "yarn": one.yarn, "rows": one.rows} for one in brim.bands]
    return {
        "brim": {
            "turned_up": brim.rows,
            "layers": brim.layers,
            "counter": brim.turn,
            "side": "right" if brim.layers == 2 else "wrong",
            "shows": shows,
            "worn_rows": brim.worn_rows,
            "worn_length_cm": round(piece.made_up_length_cm, 2),
        }
    }


def _records_table(table: WorkedTable) -> dict[str, object]:
    return {
        "column": table.column,
        "bands": [
            {"letter": one.letter, "yarn": one.yarn, "from": one.low, "below": one.below,
             "records": one.records}
            for one in table.bands
        ],
        "records": [
            {"day": None if one.day is None else one.day.isoformat(), "value": one.value,
             "letter": one.letter, "from": one.first, "to": one.last}
            for one in table.records
        ],
    }  # fmt: skip


def _yarn_table(yarn: WorkedYarn) -> dict[str, object]:
    return {
        "key": yarn.key,
        "length_m": None if yarn.length_m is None else round(yarn.length_m.value, 2),
        "mass_g": None if yarn.mass_g is None else round(yarn.mass_g.value, 2),
        "balls": None if yarn.balls is None else yarn.balls.balls,
        "leftover_g": None if yarn.balls is None else round(yarn.balls.leftover_g, 2),
        "estimated": yarn.length_m is None or yarn.length_m.estimated,
    }
