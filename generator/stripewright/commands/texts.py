"""Texts to paste elsewhere."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import click

from stripewright.commands.common import FILES, guarded, on_option, show, studio_option
from stripewright.studio import Studio

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path


@click.command()
@FILES
@studio_option
@on_option
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object of all texts.")
@guarded
def texts_command(files: tuple[Path, ...], root: Path, on: date | None, *, as_json: bool) -> None:
    """Write texts to paste elsewhere, in texts/: of every published pattern, or of FILES.

    Each pattern gets film.txt (to stand beside its film), listing.txt (for a shop) and note.txt
    (for a feed or newsletter), from the same figures as its page; nothing of a paid pattern's
    private part is in any. A theme's templates of these names stand in for ours.

    \b
    Example:
        stripewright texts
        stripewright texts content/patterns/harbour-cushion.md --json
    """
    from stripewright.pipeline.context import Options, today
    from stripewright.pipeline.texts import write_texts

    studio = Studio(root)
    options = Options(on or today(), paper=False)
    made, problems = write_texts(studio, options, files)
    show(problems)
    if as_json:
        told = {one.slug: one.texts for one in made}
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
        return
    for one in made:
        click.echo(f"{studio.texts / one.slug}")
