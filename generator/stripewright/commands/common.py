"""What commands share: options, problems on the terminal, a way out for unexpected errors."""

from __future__ import annotations

import functools
import shlex
import sys
import traceback
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from stripewright.catalogue import N_, _
from stripewright.problems import Place, Problem, Refused, Severity

if TYPE_CHECKING:
    from stripewright.pipeline.progress import Progress
    from stripewright.words.boundary import Public

Command = TypeVar("Command", bound=Callable[..., Any])


class DayOption(click.ParamType[date]):
    """A day on the command line."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read `2026-09-05`."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(value)
        except ValueError:
            self.fail(
                _("“{value}” is not a date; write it like 2026-09-05", value=value), param, ctx
            )


FILE = click.Path(exists=True, dir_okay=False, path_type=Path)
FOLDER = click.Path(file_okay=False, path_type=Path)


studio_option = click.option(
    "--studio",
    "root",
    metavar="FOLDER",
    default=".",
    type=click.Path(exists=True, file_okay=False, resolve_path=True, path_type=Path),
    help="The studio's folder; this one when left out.",
)
"""Gives a command --studio, as `root`."""

on_option = click.option(
    "--on",
    type=DayOption(),
    default=None,
    metavar="DATE",
    help="The day that decides what is published yet; today when left out.",
)
"""Gives a command --on, a day or None."""


def guarded(command: Command) -> Command:
    """Show refusals as problems, and keep any unexpected error's trace out of the user's way."""

    @functools.wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except Refused as refused:
            show(refused.problems)
            sys.exit(1)
        except (click.ClickException, click.exceptions.Exit, click.Abort):
            raise
        except OSError as fault:
            from stripewright.publish.disk import failure

            show([failure(fault, Place(str(fault.filename or _("the disk"))))])
            sys.exit(1)
        except Exception as fault:  # noqa: BLE001  # the last place that can turn it into one line
            _explain(fault)
            sys.exit(1)

    return run  # type: ignore[return-value]  # the same signature, wrapped


def _explain(fault: Exception) -> None:
    """Print one line for an unexpected error, and put the whole trace into a file."""
    what, said = type(fault).__name__, " ".join(str(fault).split())
    for note in getattr(fault, "__notes__", [])[:1]:
        what = _("{fault} while reading {file}", fault=what, file=note)
    click.echo(_("stripewright: unexpected {fault}: {said}", fault=what, said=said), err=True)
    whose = N_("    this is a mistake of the program, not of your files; {trace}")
    click.echo(_(whose, trace=_keep_trace(fault)), err=True)


def _keep_trace(fault: Exception) -> str:
    """Where the trace is, or why it is nowhere."""
    import tempfile

    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="stripewright-", suffix=".txt", delete=False,
            encoding="utf-8", errors="backslashreplace",
        ) as trace:  # fmt: skip
            trace.write("".join(traceback.format_exception(fault)))
    except OSError as full:
        return _("the trace could not be kept ({why})", why=full.strerror or full)
    return _("the full trace is in {file}", file=trace.name)


def show(problems: Iterable[Problem], *, err: bool = True) -> None:
    """Print problems, errors in red and warnings in yellow."""
    for problem in problems:
        colour = "red" if problem.severity is Severity.ERROR else "yellow"
        head, _break, hint = str(problem).partition("\n")
        click.echo(click.style(head, fg=colour) + (f"\n{hint}" if hint else ""), err=err)


def show_letters(told: Iterable[tuple[str, Sequence[str]]]) -> None:
    """Say where stripes first use their yarns in another order than that of their letters."""
    for name, used in told:
        click.echo(
            _(
                "{file}: letters: stripes first use {used}; list the yarns in that order and they "
                "are {letters}",
                file=name,
                used=", ".join(used),
                letters=", ".join(sorted(used)),
            )
        )


def show_public(told: Iterable[tuple[str, Public]]) -> None:
    """Say of each paid pattern how much of its text everyone may read."""
    for name, public in told:
        click.echo(_("{file}: public: {told}", file=name, told=public))


def quoted(path: Path) -> str:
    """A path as it is typed: in quotes where a space or a sign would part it."""
    if sys.platform == "win32":
        import subprocess

        return subprocess.list2cmdline([str(path)])
    return shlex.quote(str(path))


FILES = click.argument(
    "files",
    nargs=-1,
    metavar="[FILES]...",
    type=click.Path(exists=True, dir_okay=False, resolve_path=True, path_type=Path),
)


class ProgressShown:
    """A progress line on a terminal, nothing elsewhere."""

    def __enter__(self) -> Progress:
        self._last = ""
        self._bar: Any = None
        if not sys.stderr.isatty():
            return lambda _step, _done, _of: None
        from rich.progress import Progress as Bar

        self._bar = Bar(transient=True)
        self._bar.start()
        tasks: dict[str, Any] = {}

        def tell(step: str, done: int, of: int) -> None:
            if step not in tasks:
                tasks[step] = self._bar.add_task(_(step), total=of)
            self._bar.update(tasks[step], completed=done, total=of)

        return tell

    def __exit__(self, *_fault: object) -> None:
        if self._bar is not None:
            self._bar.stop()
