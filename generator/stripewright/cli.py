"""The command line: parses arguments, calls one function a command, prints what came of it."""

from __future__ import annotations

import functools
import json
import shlex
import sys
import time
import traceback
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from stripewright import __version__
from stripewright.problems import Place, Problem, Refused, Severity, has_errors
from stripewright.studio import Studio

if TYPE_CHECKING:
    from stripewright.pipeline.packing import Packed
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.transcribe import Transcribed
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
            self.fail(f"“{value}” is not a date; write it like 2026-09-05", param, ctx)


def _studio_option(command: Command) -> Command:
    option = click.option(
        "--studio", "root", metavar="FOLDER", default=".",
        type=click.Path(exists=True, file_okay=False, resolve_path=True, path_type=Path),
        help="The studio's folder; this one when left out.",
    )  # fmt: skip
    return option(command)


def _on_option(command: Command) -> Command:
    option = click.option(
        "--on", type=DayOption(), default=None, metavar="DATE",
        help="The day that decides what is published yet; today when left out.",
    )  # fmt: skip
    return option(command)


def _guarded(command: Command) -> Command:
    """Show refusals as problems, and keep any unexpected error's trace out of the user's way."""

    @functools.wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except Refused as refused:
            _show(refused.problems)
            sys.exit(1)
        except (click.ClickException, click.exceptions.Exit, click.Abort):
            raise
        except OSError as fault:
            from stripewright.publish.disk import failure

            _show([failure(fault, Place(str(fault.filename or "the disk")))])
            sys.exit(1)
        except Exception as fault:  # noqa: BLE001  # the last place that can turn it into one line
            _explain(fault)
            sys.exit(1)

    return run  # type: ignore[return-value]  # the same signature, wrapped


def _explain(fault: Exception) -> None:
    """Print one line for an unexpected error, and put the whole trace into a file."""
    reading = "".join(f" while reading {note}" for note in getattr(fault, "__notes__", [])[:1])
    said = " ".join(str(fault).split())
    click.echo(f"stripewright: unexpected {type(fault).__name__}{reading}: {said}", err=True)
    click.echo(f"    nothing was published; {_keep_trace(fault)}", err=True)


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
        return f"the trace could not be kept ({full.strerror or full})"
    return f"the full trace is in {trace.name}"


def _show(problems: Iterable[Problem], *, err: bool = True) -> None:
    for problem in problems:
        colour = "red" if problem.severity is Severity.ERROR else "yellow"
        head, _, hint = str(problem).partition("\n")
        click.echo(click.style(head, fg=colour) + (f"\n{hint}" if hint else ""), err=err)


def _show_public(told: Iterable[tuple[str, Public]]) -> None:
    """Say of each paid pattern how much of its text everyone may read."""
    for name, public in told:
        click.echo(f"{name}: public: {public}")


def _quoted(path: Path) -> str:
    """A path as it is typed: in quotes where a space or a sign would part it."""
    if sys.platform == "win32":
        import subprocess

        return subprocess.list2cmdline([str(path)])
    return shlex.quote(str(path))


def _count(number: int, word: str) -> str:
    return f"{number:,} {word}" if number == 1 else f"{number:,} {word}s"


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="stripewright")
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


@main.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@_guarded
def start_command(folder: Path) -> None:
    """Lay out a new studio in FOLDER; nothing that is already there is overwritten.

    \b
    Example:
        stripewright start my-studio
    """
    from stripewright.pipeline.commands import start as lay_out

    made, kept = lay_out(folder)
    for path in made:
        click.echo(f"made    {path}")
    for path in kept:
        click.echo(f"kept    {path}")
    click.echo(f"\nNext: stripewright preview --studio {_quoted(folder)}")


@main.command()
@click.argument("files", nargs=-1, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@_studio_option
@_on_option
@click.option("--json", "as_json", is_flag=True, help="Print the problems as one JSON list.")
@_guarded
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
    from stripewright.pipeline.context import Options

    options = Options(on or date.today(), drafts=True, paper=False)  # noqa: DTZ011  # the user's own day
    found = tell(Studio(root), options, files)
    problems = found.problems
    if as_json:
        click.echo(
            json.dumps([problem.as_json() for problem in problems], ensure_ascii=False, indent=2)
        )
    else:
        _show(problems, err=False)
        _show_public(found.public)
        errors = sum(problem.severity is Severity.ERROR for problem in problems)
        click.echo(f"{_count(errors, 'error')}, {_count(len(problems) - errors, 'warning')}")
    sys.exit(1 if has_errors(problems) else 0)


@main.command()
@click.argument("name", required=False)
@_guarded
def explain_command(name: str | None) -> None:
    """Say what a key, technique or name means; without NAME, list what can be asked for.

    \b
    Example:
        stripewright explain pieces.ends
        stripewright explain seam_end
    """
    from stripewright.pipeline.explain import explain as look_up

    click.echo(look_up(name))


@main.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@_studio_option
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@_guarded
def worksheet_command(file: Path, root: Path, *, as_json: bool) -> None:
    """Print the worked numbers of the pattern in FILE.

    \b
    Example:
        stripewright worksheet content/patterns/bolster.md
        stripewright worksheet content/patterns/bolster.md --json
    """
    from stripewright.pipeline.commands import worksheet as work_out

    (worked, written), settings, problems = work_out(Studio(root), file.resolve())
    _show(problems)
    if as_json:
        from stripewright.compute.tables import worksheet_object as tabulate

        click.echo(json.dumps(tabulate(worked), ensure_ascii=False, indent=2))
        return
    from stripewright.tables import show_worksheet

    show_worksheet(worked, settings, written.events)


@main.command()
@_studio_option
@click.option("--into", metavar="FOLDER", default=None,
              type=click.Path(file_okay=False, path_type=Path),
              help="Where the site is written; the studio's site/ when left out.")  # fmt: skip
@click.option("--drafts", is_flag=True, help="Publish drafts and held-back items too, marked.")
@_on_option
@click.option("--workers", type=click.IntRange(1, 64), default=None, metavar="N",
              help="Processes to work with; as many as there are cores when left out.")  # fmt: skip
@_guarded
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
    from stripewright.pipeline.context import Options

    began = time.monotonic()
    studio = Studio(root)
    options = Options(on or date.today(), drafts=drafts)  # noqa: DTZ011  # the user's own day
    with _progress() as progress:
        done = write_site(studio, into or studio.site, options, progress, workers)
    _show(done.warnings)
    _show_public(done.public)
    outcome = done.outcome
    click.echo(
        f"{_count(done.patterns, 'pattern')}, {_count(done.pages, 'page')}; files: "
        f"{outcome.written:,} written, {outcome.unchanged:,} unchanged, "
        f"{outcome.removed:,} removed; {time.monotonic() - began:.1f} s"
    )
    click.echo(f"Open {(into or studio.site) / 'index.html'}")


class _progress:  # noqa: N801  # reads as a word in a with statement
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
                tasks[step] = self._bar.add_task(step, total=of)
            self._bar.update(tasks[step], completed=done, total=of)

        return tell

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()


_FILES = click.argument(
    "files", nargs=-1, metavar="[FILES]...",
    type=click.Path(exists=True, dir_okay=False, resolve_path=True, path_type=Path),
)  # fmt: skip


@main.command()
@_FILES
@_studio_option
@click.option("--drafts", is_flag=True, help="Make packs of paid drafts too.")
@_guarded
def packs_command(files: tuple[Path, ...], root: Path, *, drafts: bool) -> None:
    """Make what buyers get, in packs/: of every paid pattern, or of the files named.

    \b
    Example:
        stripewright packs
        stripewright packs content/patterns/harbour-cushion.md
    """
    from stripewright.pipeline.packing import make_packs

    _pack(make_packs, root, files, "pack", drafts=drafts)


@main.command()
@_FILES
@_studio_option
@_guarded
def sheets_command(files: tuple[Path, ...], root: Path) -> None:
    """Make the planning sheets and books of content/sheets, in packs/.

    \b
    Example:
        stripewright sheets
        stripewright sheets content/sheets/first-rows.md
    """
    from stripewright.pipeline.packing import make_sheets

    _pack(make_sheets, root, files, "pack", drafts=True)


def _pack(
    make: Callable[..., Packed], root: Path, files: tuple[Path, ...], word: str, *, drafts: bool
) -> None:
    from stripewright.pipeline.context import Options

    began = time.monotonic()
    studio = Studio(root)
    options = Options(date.today(), drafts=drafts)  # noqa: DTZ011  # the user's own day
    with _progress() as progress:
        done = make(studio, options, progress, files)
    _show(done.warnings)
    seconds = time.monotonic() - began
    click.echo(
        f"{_count(len(done.made), word)} made, {len(done.unchanged):,} unchanged; {seconds:.1f} s"
    )
    for slug in done.made:
        click.echo(f"{studio.packs / slug}")


@main.command()
@click.argument("pictures", nargs=-1, required=True, metavar="PICTURE...",
                type=click.Path(exists=True, dir_okay=False, path_type=Path))  # fmt: skip
@_studio_option
@click.option("--draft", metavar="NAME", default=None,
              help="Keep the stripes as a draft: content/patterns/NAME.md.")  # fmt: skip
@click.option("--sheet", metavar="FILE", default=None,
              type=click.Path(exists=True, dir_okay=False, path_type=Path),
              help="The file that the sheet was made from: for its title, and for a sheet that "
              "has corner marks and no code.")  # fmt: skip
@click.option("--shown", metavar="FOLDER", default=None,
              type=click.Path(file_okay=False, path_type=Path),
              help="Write pictures there of what was read over what was seen.")  # fmt: skip
@click.option("--rows", type=click.IntRange(1, 5000), default=None, metavar="N",
              help="Read a plain painted bar of N rows, without marks: upright from its foot, "
              "lying from its left end.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@_guarded
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
    _show(done.problems)
    if as_json:
        click.echo(json.dumps(done.reading.as_json(), ensure_ascii=False, indent=2))
    else:
        _tell_stripes(done, draft=draft)
    for path in done.written:
        click.echo(f"made    {path}", err=as_json)
    sys.exit(1 if done.reading.doubts else 0)


def _tell_stripes(done: Transcribed, *, draft: str | None) -> None:
    from stripewright.camera.draft import runs_of, stripes_of

    reading = done.reading
    if reading.pieces and draft is None:
        click.echo(stripes_of(reading))
    for number, piece in enumerate(reading.pieces):
        for _, text in runs_of(reading, number):
            where = f"{piece.title}: " if len(reading.pieces) > 1 else ""
            click.echo(click.style(f"{where}{text}", fg="yellow"), err=True)
    rows = sum(len(piece.letters) for piece in reading.pieces)
    doubtful = sum(doubt.row > 0 for doubt in reading.doubts)
    click.echo(f"{_count(rows, 'row')} read, {_count(doubtful, 'doubtful one')}", err=True)


@main.command()
@_studio_option
@click.option("--port", type=click.IntRange(1024, 65535), default=8173, show_default=True,
              help="The port on this machine.")  # fmt: skip
@click.option("--open", "open_browser", is_flag=True, help="Open it in the browser.")
@click.option("--look-only", is_flag=True, help="Write nothing at all: the easel can't save.")
@_guarded
def preview_command(root: Path, port: int, *, open_browser: bool, look_only: bool) -> None:
    """Show the studio in a browser while it is being written; pages follow each save.

    The easel, where stripes are coloured, saves to the pattern's file when it is asked to.

    \b
    Example:
        stripewright preview --open
    """
    from stripewright.preview.serve import preview as serve

    serve(root, port, open_browser=open_browser, look_only=look_only)
