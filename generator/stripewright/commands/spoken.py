"""In whose words the terminal speaks: the studio's, in what commands say and in their help."""

from __future__ import annotations

import re
import sys
from copy import copy
from inspect import cleandoc
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from stripewright.catalogue import SOURCE, _, locale_named, plain, speaking
from stripewright.commands.clicks import clicks_words
from stripewright.studio import SETTINGS

if TYPE_CHECKING:
    from collections.abc import Sequence

_SAID = re.compile(rb"^(language|terms)[ \t]*:[ \t]*[\"']?([\w-]+)", re.MULTILINE)
_MOST_BYTES = 1 << 20
_Told = TypeVar("_Told", bound=click.Command)


class Spoken(click.Group):
    """Commands that speak the words of the studio that they are asked about."""

    def main(self, args: Sequence[str] | None = None, *others: Any, **more: Any) -> Any:
        """Run a command, its help and its complaints in the studio's locale."""
        given = list(sys.argv[1:] if args is None else args)
        with speaking(words_of(given)), clicks_words():
            told = _in_words(self)
            return super(Spoken, told).main(given, *others, **more)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command, with its help in the locale spoken."""
        found = super().get_command(ctx, cmd_name)
        return _in_words(found) if found else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The commands, each with its whole first sentence: none is cut off in the middle."""
        told = [(name, self.get_command(ctx, name)) for name in self.list_commands(ctx)]
        with formatter.section(_("Commands")):
            formatter.write_dl(
                [(name, (one.help or "").partition("\n\n")[0]) for name, one in told if one]
            )


def words_of(args: Sequence[str]) -> str:
    """The locale of the studio that arguments name, before anything of it is read in full."""
    folder = "."
    for at, one in enumerate(args):
        if one == "--studio" and at + 1 < len(args):
            folder = args[at + 1]
        elif one.startswith("--studio="):
            folder = one.removeprefix("--studio=")
    path = Path(folder, SETTINGS)
    try:
        if not path.is_file():
            return SOURCE
        with path.open("rb") as file:
            said = dict(_SAID.findall(file.read(_MOST_BYTES)))
    except (OSError, ValueError):  # told by what reads the settings in full
        return SOURCE
    language, terms = (
        said.get(key, b"").decode(errors="replace") for key in (b"language", b"terms")
    )
    return locale_named(language or "en", terms)


def _in_words(command: _Told) -> _Told:
    made = copy(command)
    made.help = _paragraphs(command.help or "")
    made.params = [_parameter(one) for one in command.params]
    return made


def _parameter(parameter: click.Parameter) -> click.Parameter:
    """A parameter with its help, and what its type is called, in the locale spoken."""
    made = copy(parameter)
    if isinstance(made, click.Option) and made.help:
        made.help = plain(made.help)
    made.type = copy(made.type)
    made.type.name = plain(made.type.name)
    return made


def _paragraphs(text: str) -> str:
    """A help text, each paragraph a message; of examples, only the line above them."""
    return "\n\n".join(map(_paragraph, cleandoc(text).split("\n\n")))


def _paragraph(text: str) -> str:
    if not text.startswith("\b\n"):
        return plain(" ".join(text.split()))
    head, *examples = text.splitlines()[1:]
    return "\n".join(["\b", plain(head), *examples])
