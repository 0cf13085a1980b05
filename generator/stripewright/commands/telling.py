"""Commands that read a studio and tell: proof, explain, worksheet."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING

import click

from stripewright.catalogue import _, n_
from stripewright.commands.common import (
    FILE,
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
    from collections.abc import Mapping, Sequence
    from datetime import date
    from pathlib import Path

    from stripewright.compute.reach import LongestPiece
    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.own_machine import OwnMachine


@click.command()
@click.argument("files", nargs=-1, type=FILE)
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
@click.argument("file", type=FILE)
@studio_option
@click.option("--with", "at_hand", metavar="YARN", multiple=True,
              help='Tell the longest piece that so much yarn allows: "140 g" of all yarns '
                   'together, or "deep 140 g" of one; may be given for several.')  # fmt: skip
@click.option(
    "--needles", type=int, default=None, metavar="N", help="Work it for a bed of N needles."
)
@click.option(
    "--gauge",
    default=None,
    metavar="GAUGE",
    help='Work it for another gauge, like "14 sts x 21 rows / 10 cm" or "14 sts x 21 rows / 4 in".',
)
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
        stripewright worksheet content/patterns/hat.md --size child --needles 48
        stripewright worksheet bolster.md --needles 48 --gauge "15 sts x 20 rows / 4 in" --keep size
    """
    from stripewright.pipeline.commands import worksheet as work_out

    studio, own = Studio(root), _own_machine(needles, gauge, swatch, keep)
    done = work_out(studio, file.resolve(), own, size)
    (worked, written, _drawn), settings = done.sound, done.settings
    show(done.problems)
    of = _of_size(size, done.titles)
    found = _longest(worked, at_hand, settings, studio.name_of(file.resolve()))
    if as_json:
        _print_object(worked, of, found)
        return
    from stripewright.tables import show_longest, show_worksheet

    show_worksheet(worked, settings, written, None if of is None else of[1])
    if found is not None:
        show_longest(found, at_hand, worked.pattern.margin, settings)


def _own_machine(
    needles: int | None, gauge: str | None, swatch: str | None, keep: str | None
) -> OwnMachine | None:
    from stripewright.pipeline.own_machine import OwnMachine

    own = OwnMachine(needles, gauge, swatch, keep or "rows")
    if own.other:
        return own
    if keep is not None:
        raise click.UsageError(
            _(
                "--keep says what stays when needles or gauge change: "
                "give --needles, --gauge or --swatch"
            )
        )
    return None


def _of_size(size: str | None, titles: Mapping[str, str]) -> tuple[str, str] | None:
    """The key and title of the size that is asked for, where there are several.

    Raises:
        UsageError: there is no such size.
    """
    known = titles or {"base": ""}
    if size is not None and size not in known:
        names = ", ".join(known)
        raise click.UsageError(
            _("there is no size {size}: there are {known}", size=size, known=names)
        )
    return (size, titles[size]) if size is not None and titles else None


def _longest(
    worked: WorkedPattern, at_hand: Sequence[str], settings: Settings, name: str
) -> list[LongestPiece] | None:
    """The longest that each piece can be with some yarn; None where none is given."""
    if not at_hand:
        return None
    from stripewright.pipeline.basket import longest_with

    return longest_with(worked, at_hand, settings, name)


def _print_object(
    worked: WorkedPattern, of: tuple[str, str] | None, found: Sequence[LongestPiece] | None
) -> None:
    from stripewright.compute.tables import longest_table, worksheet_object

    told = worksheet_object(worked) | ({"name": of[0], "title": of[1]} if of else {})
    told |= {} if found is None else {"with": longest_table(found)}
    click.echo(json.dumps(told, ensure_ascii=False, indent=2))
