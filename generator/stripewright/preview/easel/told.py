"""The published page's numbers, as labels and texts for the easel's side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.catalogue import n_

if TYPE_CHECKING:
    from stripewright.view.materials import MaterialView
    from stripewright.view.numbers import Numbers


def told(numbers: Numbers) -> dict[str, Any]:
    """Sizes, rows, yarns, things at hand, time and cost, each as the page tells it."""
    return {
        "sizes": [
            [size.title, f"{size.text}{f' ({size.note})' if size.note else ''}"]
            for size in numbers.sizes
        ],
        "rows": [
            [piece.title, _rows(piece.worked_rows, piece.stitches, piece.off)]
            for piece in numbers.pieces
        ],
        "yarns": [[yarn.letter, yarn.name, _yarn(yarn)] for yarn in numbers.materials],
        "supplies": [[one.name, str(one.amount or "")] for one in numbers.supplies],
        "time": numbers.time,
        "cost": numbers.cost or "",
        "clashes": list(numbers.clashes),
    }


def _rows(rows: int, stitches: int, off: object) -> str:
    told = [
        n_("{number} row", "{number} rows", rows),
        n_("{number} stitch", "{number} stitches", stitches),
    ]
    return ", ".join([*told, str(off)] if off else told)


def _yarn(yarn: MaterialView) -> str:
    buy = yarn.buy
    parts = (yarn.uses, buy and buy.count, buy and buy.cost)
    return ", ".join(str(part) for part in parts if part)
