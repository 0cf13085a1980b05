"""Commands that read a studio and tell: proof, explain, worksheet."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stripewright.catalogue import _, n_
from stripewright.commands.common import (
    guarded,
    on_option,
    show,
    show_letters,
    show_public,
    studio_option,
)
from stripewright.problems import Severity, has_errors
from stripewright.studio import Studio

if TYPE_CHECKING:
    from datetime import date


@click.command()
@click.argument("files", nargs=-1, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@studio_option
@on_option
@click.option("--json", "as_json", is_flag=True, help="Print the problems as one JSON list.")
@guarded
def proof_command(files: tuple[Path, ...], root: Path, on: date | None, *, as_json: bool) -> None:
    """Read everything, write nothing, and tell every problem; of FILES only, when named.

    The report goes to standard output; what keeps it from being made, to standard error.
    Exits with 1 if any problem is an error, with 0 if there are only warnings.

    \b
    Example:
        stripewright proof
        stripewright proof content/patterns/bolster.md --json
    """
    from stripewright.pipeline.commands import proof as tell
    from stripewright.pipeline.context import Options, today

    options = Options(on or today(), drafts=True, paper=False)
    found = tell(Studio(root), options, files)
    problems = found.problems
    if as_json:
        click.echo(
            json.dumps([problem.as_json() for problem in problems], ensure_ascii=False, indent=2)
        )
    else:
        show(problems, err=False)
        show_public(found.public)
        show_letters(found.letters)
        errors = sum(problem.severity is Severity.ERROR for problem in problems)
        told = n_("{number:,} error", "{number:,} errors", errors)
        more = n_("{number:,} warning", "{number:,} warnings", len(problems) - errors)
        click.echo(f"{told}, {more}")
    sys.exit(1 if has_errors(problems) else 0)


@click.command()
@click.argument("name", required=False)
@guarded
def explain_command(name: str | None) -> None:
    """Say what a key, technique or name means; without NAME, list what can be asked for.

    \b
    Example:
        stripewright explain pieces.ends
        stripewright explain seam_end
    """
    from stripewright.pipeline.explain import explain as look_up

    click.echo(look_up(name))


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@studio_option
@click.option("--with", "at_hand", metavar="YARN", multiple=True,
              help='Tell the longest piece that so much yarn allows: "140 g" of all yarns '
                   'together, or "deep 140 g" of one; may be given for several.')  # fmt: skip
@click.option("--needles", type=int, default=None, metavar="N",
              help="Work it for a bed of N needles.")  # fmt: skip
@click.option("--gauge", default=None, metavar="GAUGE",
              help='Work it for another gauge, like "14 sts x 21 rows / 10 cm" or '
              '"14 sts x 21 rows / 4 in".')  # fmt: skip
@click.option("--swatch", default=None, metavar="SWATCH",
              help='Work it for another swatch, like '
              '"{stitches: 30, rows: 44, width: 20 cm, length: 20 cm}".')  # fmt: skip
@click.option("--keep", type=click.Choice(["rows", "size", "proportions"]), default=None,
              help="With one of these: what stays. Each stripe's rows (when left out), the "
              "finished size, or the proportions.")  # fmt: skip
@click.option("--size", "size", default=None, metavar="SIZE",
              help="Only this size, by its key, or base; all when left out.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@guarded
def worksheet_command(
    *,
    file: Path,
    root: Path,
    needles: int | None,
    gauge: str | None,
    swatch: str | None,
    keep: str | None,
    at_hand: tuple[str, ...],
    size: str | None,
    as_json: bool,
) -> None:
    """Print the worked numbers of the pattern in FILE, as designed or for your own machine.

    With --with, also the longest that each of its pieces can be: its stripes go on in their order
    to the last whole row that the yarn knits, tails and fringe counted.

    \b
    Example:
        stripewright worksheet content/patterns/bolster.md
        stripewright worksheet content/patterns/bolster.md --json
        stripewright worksheet content/patterns/hat.md --size child
        stripewright worksheet content/patterns/bolster.md --with "140 g"
        stripewright worksheet bolster.md --needles 48 --gauge "15 sts x 20 rows / 4 in" --keep size
    """
    from stripewright.pipeline.commands import worksheet as work_out
    from stripewright.pipeline.own_machine import OwnMachine

    own = OwnMachine(needles, gauge, swatch, keep or "rows")
    if keep is not None and not own.other:
        raise click.UsageError(_("--keep says what stays when needles or gauge change: "
                                 "give --needles, --gauge or --swatch"))  # fmt: skip
    (worked, written, _drawn), settings, problems = work_out(
        Studio(root), file.resolve(), own if own.other else None
    )
    show(problems)
    known = ["base", *(one.key for one in worked.sizes)]
    if size is not None and size not in known:
        known_so = ", ".join(known)
        raise click.UsageError(_("there is no size {size}: there are {known}", size=size,
                                 known=known_so))  # fmt: skip
    of = (size, worked.size_title(size)) if size is not None and worked.sizes else None
    if size is not None:
        worked, written = worked.of_size(size), written.of_size(size)
    found = []
    if at_hand:
        from stripewright.pipeline.basket import longest_with

        found = longest_with(worked, at_hand, settings, Studio(root).name_of(file.resolve()))
    if as_json:
        from stripewright.compute.tables import longest_table
        from stripewright.compute.tables import worksheet_object as tabulate

        told = tabulate(worked) | ({"name": of[0], "title": of[1]} if of else {})
        told |= {"with": longest_table(found)} if at_hand else {}
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
        return
    from stripewright.tables import show_longest, show_worksheet

    show_worksheet(worked, settings, written, None if of is None else of[1])
    if at_hand:
        show_longest(found, at_hand, worked.pattern.margin, settings)
