"""In whose words the terminal speaks: the studio's, in what commands say and in their help."""

from __future__ import annotations

import re
import sys
from copy import copy
from inspect import cleandoc
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from stripewright.catalogue import N_, SOURCE, _, locale_named, plain, speaking
from stripewright.studio import SETTINGS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_SAID = re.compile(rb"^(language|terms)[ \t]*:[ \t]*[\"']?([\w-]+)", re.MULTILINE)
_MOST_BYTES = 1 << 20
_Told = TypeVar("_Told", bound=click.Command)


class _Formatter(click.HelpFormatter):
    """A help text with the headings, and click's own options, in the locale spoken."""

    def write_usage(self, prog: str, args: str = "", prefix: str | None = None) -> None:
        super().write_usage(prog, args, _("Usage: ") if prefix is None else prefix)

    def write_heading(self, heading: str) -> None:
        super().write_heading(plain(heading))

    def write_dl(
        self, rows: Iterable[tuple[str, str]], col_max: int = 30, col_spacing: int = 2
    ) -> None:
        told = [(name, plain(text)) for name, text in rows]
        super().write_dl(told, col_max, col_spacing)


_CLICKS = (N_("Options"), N_("Commands"), N_("Show this message and exit."),
           N_("Show the version and exit."))  # fmt: skip
"""What click writes into help texts itself."""


class _Context(click.Context):
    formatter_class = _Formatter


class Spoken(click.Group):
    """Commands that speak the words of the studio that they are asked about."""

    def main(self, args: Sequence[str] | None = None, *others: Any, **more: Any) -> Any:
        """Run a command, its help and its complaints in the studio's locale."""
        given = list(sys.argv[1:] if args is None else args)
        with speaking(words_of(given)):
            told = _in_words(self)
            return super(Spoken, told).main(given, *others, **more)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command, with its help in the locale spoken."""
        found = super().get_command(ctx, cmd_name)
        return _in_words(found) if found else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The commands, each with its whole first sentence: none is cut off in the middle."""
        told = [(name, self.get_command(ctx, name)) for name in self.list_commands(ctx)]
        with formatter.section("Commands"):  # looked up where it is written
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
    made.context_class = _Context
    made.help = _paragraphs(command.help or "")
    made.params = [_option(one) if isinstance(one, click.Option) else one for one in command.params]
    return made


def _option(option: click.Option) -> click.Option:
    made = copy(option)
    made.help = plain(option.help) if option.help else option.help
    return made


def _paragraphs(text: str) -> str:
    """A help text, each paragraph a message; of examples, only the line above them."""
    return "\n\n".join(map(_paragraph, cleandoc(text).split("\n\n")))


def _paragraph(text: str) -> str:
    if not text.startswith("\b\n"):
        return plain(" ".join(text.split()))
    head, *examples = text.splitlines()[1:]
    return "\n".join(["\b", plain(head), *examples])
