"""The command that holds patterns against the stash: basket."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING

import click

from stripewright.commands.common import FILES, guarded, on_option, show, studio_option
from stripewright.problems import has_errors
from stripewright.studio import Studio

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path


@click.command()
@FILES
@studio_option
@on_option
@click.option("--yarn", metavar="KEY", default=None, help="Tell of this yarn of the stash alone.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@guarded
def basket_command(
    files: tuple[Path, ...], root: Path, on: date | None, yarn: str | None, *, as_json: bool
) -> None:
    """Tell what can be knitted from the stash, content/stash.yaml; of FILES only, when named.

    For each pattern (all that are published, when none is named): whether there is enough of every
    yarn with the pattern's margin, by how much, and which yarns of the stash could stand in for
    what is lacking, with the CIEDE2000 between their colours. Each pattern is held against all of
    the stash. For each yarn: the rows that it gives on the beds of the published patterns.

    \b
    Example:
        stripewright basket
        stripewright basket content/patterns/bolster.md --json
        stripewright basket --yarn deep
    """
    from stripewright.pipeline.basket import baskets
    from stripewright.pipeline.context import Options, today

    options = Options(on or today(), paper=False)
    found = baskets(Studio(root), options, files, yarn)
    show(found.problems)
    if as_json:
        from stripewright.basket_tables import basket_object

        click.echo(json.dumps(basket_object(found), ensure_ascii=False, indent=2))
    else:
        from stripewright.basket_tables import show_baskets

        show_baskets(found, only_yarn=yarn is not None)
    sys.exit(1 if has_errors(found.problems) else 0)
