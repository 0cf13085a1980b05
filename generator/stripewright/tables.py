"""A worksheet's numbers as tables on a terminal."""

from __future__ import annotations

from typing import Any

from rich.console import Console
from rich.table import Table


def show_worksheet(numbers: dict[str, Any]) -> None:
    """Print the object of `worksheet --json` as tables."""
    console = Console(highlight=False)
    for piece in numbers["pieces"]:
        table = Table(
            title=f"{piece['name']}: {piece['form']}, {piece['stitches']} stitches, "
            f"{piece['worked_rows']} rows worked, {piece['visible_rows']} visible, "
            f"{piece['flat_width_cm']} × {piece['finished_length_cm']} cm",
            title_justify="left",
        )
        for head in ("", "yarn", "rows", "from", "to", "RC"):
            table.add_column(head, justify="left" if head in ("", "yarn") else "right")
        for line in piece["plan"]:
            table.add_row(line["letter"], line["yarn"], str(line["rows"]), str(line["from"]),
                          str(line["to"]), f"{line['to']:03d}")  # fmt: skip
        console.print(table)
    table = Table(title="yarn", title_justify="left")
    for head in ("yarn", "length m", "mass g", "balls", "left over g", ""):
        table.add_column(head, justify="left" if head in ("yarn", "") else "right")
    for yarn in numbers["yarns"]:
        shown = ["–" if yarn[key] is None else str(yarn[key])
                 for key in ("length_m", "mass_g", "balls", "leftover_g")]  # fmt: skip
        table.add_row(yarn["key"], *shown, "estimate" if yarn["estimated"] else "")
    console.print(table)
