"""The preview."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from stripewright.commands.common import guarded, studio_option

if TYPE_CHECKING:
    from pathlib import Path


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
