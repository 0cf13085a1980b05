"""Commands that make: start, publish, packs, sheets, and the preview of it all."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stripewright.addresses import HOME
from stripewright.catalogue import _, n_, tell
from stripewright.commands.common import (
    FILES,
    FOLDER,
    ProgressShown,
    guarded,
    on_option,
    quoted,
    show,
    show_public,
    studio_option,
)
from stripewright.studio import Studio

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import date

    from stripewright.pipeline.commands import Published
    from stripewright.pipeline.packing import Packed


@click.command()
@click.argument("folder", type=FOLDER)
@guarded
def start_command(folder: Path) -> None:
    """Lay out a new studio in FOLDER; nothing that is already there is overwritten.

    \b
    Example:
        stripewright start my-studio
    """
    from stripewright.pipeline.commands import start as lay_out

    made, kept = lay_out(folder)
    for path in made:
        click.echo(_("made    {path}", path=path))
    for path in kept:
        click.echo(_("kept    {path}", path=path))
    click.echo(
        "\n" + _("Next: {command}", command=f"stripewright preview --studio {quoted(folder)}")
    )


@click.command()
@studio_option
@click.option("--into", metavar="FOLDER", default=None, type=FOLDER,
              help="Where the site is written; the studio's site/ when left out.")  # fmt: skip
@click.option("--drafts", is_flag=True, help="Publish drafts and held-back items too, marked.")
@on_option
@click.option("--workers", type=click.IntRange(1, 64), default=None, metavar="N",
              help="Processes to work with; as many as there are cores when left out.")  # fmt: skip
@guarded
def publish_command(
    root: Path, into: Path | None, on: date | None, workers: int | None, *, drafts: bool
) -> None:
    """Write the site: all of it, or on any mistake in the studio none of it.

    Everything is made and looked through before the first file is replaced. If the disk fails on
    the way, or a file can't be replaced, it says so and exits with 1: every file there is then a
    whole one, old or new, and the next publish ends the job.

    \b
    Example:
        stripewright publish
        stripewright publish --into trial --drafts --on 2026-12-24
    """
    from stripewright.pipeline.commands import publish as write_site
    from stripewright.pipeline.context import Options, today

    began = time.monotonic()
    studio = Studio(root)
    options = Options(on or today(), drafts=drafts)
    with ProgressShown() as progress:
        done = write_site(studio, into or studio.site, options, progress, workers)
    built, outcome = done.built, done.outcome
    show(built.problems)
    show_public(built.public)
    pages = sum(path.endswith(".html") for path in built.files)
    click.echo(
        _(
            "{patterns}, {pages}; files: {written:,} written, {unchanged:,} unchanged, "
            "{removed:,} removed; {seconds:.1f} s",
            patterns=n_("{number:,} pattern", "{number:,} patterns", built.patterns),
            pages=n_("{number:,} page", "{number:,} pages", pages),
            written=outcome.written,
            unchanged=outcome.unchanged,
            removed=outcome.removed,
            seconds=time.monotonic() - began,
        )
    )
    _tell_changes(done)
    click.echo(_("Open {file}", file=(into or studio.site) / HOME))


_MOST_NAMED = 12


def _tell_names(word: str, names: Sequence[str]) -> None:
    """A line of names, if there are any."""
    if names:
        more = [_("{number} more", number=len(names) - _MOST_NAMED)][: len(names) > _MOST_NAMED]
        click.echo(f"{word}: {', '.join([*names[:_MOST_NAMED], *more])}")


def _in_parts(slug: str, parts: Sequence[str]) -> str:
    """A pattern and what of it changed: `bolster (numbers, steps)`."""
    from stripewright.view.contents import PART_WORDS

    return f"{slug} ({', '.join(_(PART_WORDS[part]) for part in parts)})" if parts else slug


def _tell_changes(done: Published) -> None:
    """New, changed, withdrawn and held-back patterns, and what there is to say of packs."""
    changes = done.changes
    held = [f"{Path(name).stem} ({tell(why)})" for name, why in done.built.held]
    for word, names in (
        (_("New"), changes.new),
        (_("Changed"), [_in_parts(slug, changes.parts.get(slug, ())) for slug in changes.changed]),
        (_("Moved"), [_in_parts(f"{old} → {slug}", changes.parts.get(slug, ()))
                      for old, slug in changes.moved]),
        (_("Withdrawn"), changes.withdrawn),
        (_("Not published yet"), held),
    ):  # fmt: skip
        _tell_names(word, names)
    if changes.theme:
        click.echo(_("All pages: the theme changed."))
    elif changes.around:
        click.echo(_("All pages: what they have in common changed."))
    for word, packs, makes in (
        (_("Packs"), done.packs, _("`stripewright packs` makes them.")),
        (_("Sheets"), done.books, _("`stripewright sheets` makes them.")),
    ):
        if packs:
            _tell_names(word, packs)
            click.echo(makes)


@click.command()
@FILES
@studio_option
@click.option("--drafts", is_flag=True, help="Make packs of paid drafts too.")
@guarded
def packs_command(files: tuple[Path, ...], root: Path, *, drafts: bool) -> None:
    """Make what buyers get, in packs/: of every paid pattern, or of the files named.

    It says which packs are new, which changed since they were last made and in what, and warns
    where a pattern changed and its version didn't. changes.txt tells buyers what each version
    brought; the versions that they have are remembered in packs/versions.json, which is to be
    kept.

    \b
    Example:
        stripewright packs
        stripewright packs content/patterns/harbour-cushion.md
    """
    from stripewright.pipeline.packing import make_packs

    _pack(make_packs, root, files, drafts=drafts)


@click.command()
@FILES
@studio_option
@guarded
def sheets_command(files: tuple[Path, ...], root: Path) -> None:
    """Make the planning sheets and books of content/sheets, in packs/.

    \b
    Example:
        stripewright sheets
        stripewright sheets content/sheets/first-rows.md
    """
    from stripewright.pipeline.packing import make_sheets

    _pack(make_sheets, root, files, drafts=True)


def _pack(
    make: Callable[..., Packed], root: Path, files: tuple[Path, ...], *, drafts: bool
) -> None:
    from stripewright.pipeline.context import Options, today

    began = time.monotonic()
    studio = Studio(root)
    options = Options(today(), drafts=drafts)
    with ProgressShown() as progress:
        done = make(studio, options, progress, files)
    show(done.warnings)
    seconds = time.monotonic() - began
    click.echo(
        n_(
            "{number:,} pack made, {unchanged:,} unchanged; {seconds:.1f} s",
            "{number:,} packs made, {unchanged:,} unchanged; {seconds:.1f} s",
            len(done.made),
            unchanged=len(done.unchanged),
            seconds=seconds,
        )
    )
    changed = [_in_parts(slug, parts) for slug, parts in done.changed]
    otherwise = {*done.new, *(slug for slug, _parts in done.changed)}
    _tell_names(_("New"), done.new)
    _tell_names(_("Changed"), changed)
    _tell_names(
        _("Unchanged"), [*(slug for slug in done.made if slug not in otherwise), *done.unchanged]
    )
    for slug in done.made:
        click.echo(f"{studio.packs / slug}")


@click.command()
@studio_option
@click.option(
    "--port",
    type=click.IntRange(1024, 65535),
    default=8173,
    show_default=True,
    help="The port on this machine.",
)
@click.option("--open", "open_browser", is_flag=True, help="Open it in the browser.")
@click.option("--look-only", is_flag=True, help="Write nothing at all: the easel can't save.")
@guarded
def preview_command(root: Path, port: int, *, open_browser: bool, look_only: bool) -> None:
    """Show the studio in a browser while it is being written; pages follow each save.

    The easel, where stripes are coloured, saves to the pattern's file when it is asked to.

    \b
    Example:
        stripewright preview --open
    """
    from stripewright.preview.serve import preview as serve

    serve(root, port, open_browser=open_browser, look_only=look_only)
