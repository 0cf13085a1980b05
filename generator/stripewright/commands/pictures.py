"""Commands that read pictures: transcribe, palette."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING

import click

from stripewright.catalogue import _, n_
from stripewright.commands.common import FILE, FOLDER, guarded, show, studio_option
from stripewright.studio import Studio

if TYPE_CHECKING:
    from pathlib import Path

    from stripewright.pipeline.palette import YarnColour
    from stripewright.pipeline.transcribe import Transcribed


@click.command()
@click.argument("pictures", nargs=-1, required=True, metavar="PICTURE...", type=FILE)
@studio_option
@click.option("--draft", metavar="NAME", default=None,
              help="Keep the stripes as a draft: content/patterns/NAME.md.")  # fmt: skip
@click.option("--sheet", metavar="FILE", default=None, type=FILE,
              help="The file that the sheet was made from: for its title, and for a sheet that "
              "has corner marks and no code.")  # fmt: skip
@click.option("--shown", metavar="FOLDER", default=None, type=FOLDER,
              help="Write pictures there of what was read over what was seen.")  # fmt: skip
@click.option("--rows", type=click.IntRange(1, 5000), default=None, metavar="N",
              help="Read a plain painted bar of N rows, without marks: upright from its foot, "
              "lying from its left end.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@guarded
def transcribe_command(
    *,
    pictures: tuple[Path, ...],
    root: Path,
    draft: str | None,
    sheet: Path | None,
    shown: Path | None,
    rows: int | None,
    as_json: bool,
) -> None:
    """Read the stripes of a coloured planning sheet from a photo, a scan or a painted picture.

    Several pictures are the parts of one sheet, in any order, or several sheets: JPEG, PNG, WebP,
    TIFF, HEIC or PDF. Each row that isn't sure is told with what to do, and any makes this exit
    with 1. Needs the extra: pip install '.[camera]'.

    \b
    Example:
        stripewright transcribe photo-1.jpg photo-2.jpg
        stripewright transcribe scan.pdf --draft harbour
        stripewright transcribe bar.png --rows 78 --json
    """
    from stripewright.pipeline.transcribe import transcribe as read

    done = read(Studio(root), pictures, sheet=sheet, rows=rows, draft=draft, shown=shown)
    show(done.problems)
    if as_json:
        click.echo(json.dumps(done.reading.as_json(), ensure_ascii=False, indent=2))
    else:
        _tell_stripes(done, draft=draft)
    for path in done.written:
        click.echo(_("made    {path}", path=path), err=as_json)
    sys.exit(1 if done.reading.doubts else 0)


def _tell_stripes(done: Transcribed, *, draft: str | None) -> None:
    from stripewright.camera.draft import runs_of, stripes_of

    reading = done.reading
    if reading.pieces and draft is None:
        click.echo(stripes_of(reading))
    for number, piece in enumerate(reading.pieces):
        for _row, text in runs_of(reading, number):
            where = f"{piece.title}: " if len(reading.pieces) > 1 else ""
            click.echo(click.style(f"{where}{text}", fg="yellow"), err=True)
    rows = sum(len(piece.letters) for piece in reading.pieces)
    doubtful = sum(doubt.row > 0 for doubt in reading.doubts)
    read = n_("{number:,} row read", "{number:,} rows read", rows)
    doubts = n_("{number:,} doubtful one", "{number:,} doubtful ones", doubtful)
    click.echo(f"{read}, {doubts}", err=True)


@click.command()
@click.argument("picture", type=FILE)
@click.option("--yarns", "most", type=click.IntRange(1, 12), default=5, show_default=True,
              metavar="N", help="How many colours, at most.")  # fmt: skip
@click.option("--stash", is_flag=True, help="The nearest yarns of content/stash.yaml instead.")
@studio_option
@click.option("--json", "as_json", is_flag=True, help="Print one JSON list.")
@guarded
def palette_command(picture: Path, root: Path, most: int, *, stash: bool, as_json: bool) -> None:
    """Print the colours that matter in PICTURE as yarns, kept apart for every kind of sight.

    A colour that some couldn't tell from another is made lighter or darker, and it is said.

    \b
    Example:
        stripewright palette harbour.jpg
        stripewright palette harbour.jpg --yarns 3 --json
        stripewright palette harbour.jpg --stash
    """
    from stripewright.pipeline.palette import as_json as tabulated
    from stripewright.pipeline.palette import as_yarns, palette_of

    found = palette_of(picture, most)
    if stash:
        _from_stash(Studio(root), found, as_json=as_json)
        return
    if as_json:
        click.echo(json.dumps(tabulated(found), ensure_ascii=False, indent=2))
    else:
        click.echo(as_yarns(found))
    if len(found) < most:
        told = n_(
            "{number} colour: no more that everyone can tell apart",
            "{number} colours: no more that everyone can tell apart",
            len(found),
        )
        click.echo(told, err=True)


def _from_stash(studio: Studio, found: list[YarnColour], *, as_json: bool) -> None:
    from stripewright.pipeline.palette import as_json as tabulated
    from stripewright.pipeline.palette import from_stash, nearest_of
    from stripewright.pipeline.stash import stash_of

    pairs = nearest_of(stash_of(studio), found)
    if as_json:
        told = [
            {"from": f"stash.{key}", "difference": round(far, 2), **tabulated([one])[0]}
            for key, one, far in pairs
        ]
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        click.echo(from_stash(pairs))
