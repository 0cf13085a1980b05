"""The command line: its name, its help, and its commands in the order that they are met."""

from __future__ import annotations

import click

from stripewright import __version__
from stripewright.commands import basket, making, pictures, telling, texts
from stripewright.commands.spoken import Spoken


@click.group(
    cls=Spoken, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__, prog_name="stripewright", message="%(prog)s %(version)s")
def main() -> None:
    """Pattern files for striped machine knitting, worked out, drawn and published.

    \b
    Begin here:
        stripewright start my-studio
        stripewright proof --studio my-studio
        stripewright publish --studio my-studio

    A theme is code: its templates and scripts can do whatever a program can. Take one only from
    someone you trust.
    """


for _command in (
    making.start_command,
    telling.proof_command,
    telling.explain_command,
    telling.worksheet_command,
    basket.basket_command,
    making.publish_command,
    making.packs_command,
    making.sheets_command,
    texts.texts_command,
    pictures.transcribe_command,
    pictures.palette_command,
    making.preview_command,
):
    main.add_command(_command)
