"""A worksheet's numbers as tables on a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stripewright.figures import Figures
from stripewright.words.supplies import supplies

if TYPE_CHECKING:
    from stripewright.compute.worked import BallCount, WorkedPattern, WorkedPiece, WorkedYarn
    from stripewright.pattern.settings import Settings


def show_worksheet(worked: WorkedPattern, settings: Settings) -> None:
    """Print a pattern's numbers: the plan of each piece, the yarn to buy, and what else it takes.

    Figures are told as the site's pages tell them, in the studio's own units.
    """
    figures, console = Figures.of(settings), Console(highlight=False)
    names = {yarn.key: yarn.name for yarn in worked.yarns}
    for piece in worked.pieces:
        console.print(_about(piece, figures), soft_wrap=True, markup=False)
        console.print(_plan(piece, names))
    table = _table("key", "yarn", "it takes", "which is", "to buy", "cost", "left over", left=2)
    for yarn in worked.yarns:
        table.add_row(*_yarn(yarn, settings, figures))
    console.print(table)
    for one in supplies(worked):
        amount = figures.mass(one.mass_g) if one.mass_g else ""
        amount = figures.yarn(one.length_m) if one.length_m else amount
        about = ": about " if amount and one.estimated else ": " if amount else ""
        console.print(f"{one.name}{about}{amount}", soft_wrap=True, markup=False)


def _about(piece: WorkedPiece, figures: Figures) -> str:
    many = f", knit {piece.make}" if piece.make > 1 else ""
    sizes = f"{figures.length(piece.flat_width_cm)} × {figures.length(piece.finished_length_cm)}"
    return (
        f"{piece.title}{many}: {piece.form}, {piece.stitches} stitches, {piece.worked_rows} rows "
        f"worked, {piece.visible_rows} visible, {sizes}"
    )


def _plan(piece: WorkedPiece, names: dict[str, str]) -> Table:
    table = _table("stripe", "yarn", "rows", "from", "to", "counter", left=2)
    for line in piece.plan:
        numbers = (str(number) for number in (line.rows, line.first, line.last))
        table.add_row(line.letter, Text(names[line.yarn]), *numbers, f"{line.last:03d}")
    return table


def _table(*heads: str, left: int) -> Table:
    table = Table()
    for number, head in enumerate(heads):
        table.add_column(head, justify="left" if number < left else "right")
    return table


def _yarn(yarn: WorkedYarn, settings: Settings, figures: Figures) -> list[str | Text]:
    length, mass = "–", _own(figures.mass(yarn.mass_g.value)) if yarn.mass_g else "–"
    if yarn.length_m:
        about = "about " if yarn.length_m.estimated else ""
        length = f"{about}{_own(figures.yarn(yarn.length_m.value))}"
    return [yarn.letter, Text(yarn.name), length, mass, *_bought(yarn.balls, settings, figures)]


def _bought(count: BallCount | None, settings: Settings, figures: Figures) -> list[str]:
    if count is None:
        return ["–", "–", "–"]
    size = _own(figures.mass(count.mass_g))
    currency = count.currency or settings.currency
    cost = "–" if count.cost is None else figures.price(count.cost, currency)
    return [f"{count.balls} × {size}", cost, _own(figures.mass(count.leftover_g))]


def _own(text: str) -> str:
    """A figure in the studio's own units alone: a terminal is narrow."""
    return text.partition(" (")[0]
