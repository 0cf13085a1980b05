"""Pictures of coloured sheets -> stripes: printed, or kept as a draft."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, Refused, error, has_errors, in_order
from stripewright.studio import is_named

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from stripewright.camera.read import Reading
    from stripewright.paper.sheet_subject import Subject
    from stripewright.studio import Studio

SHOWN = "-read.png"
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Transcribed:
    """What came of it."""

    reading: Reading
    problems: tuple[Problem, ...]
    """Pictures that can't be read at all."""
    written: tuple[Path, ...] = ()
    """The draft, and the pictures of what was read."""


def transcribe(
    studio: Studio,
    pictures: Sequence[Path],
    *,
    sheet: Path | None = None,
    rows: int | None = None,
    draft: str | None = None,
    shown: Path | None = None,
) -> Transcribed:
    """Read coloured sheets. Raises Refused, before anything is written.

    Args:
        studio: where a draft goes.
        pictures: the parts of one sheet in any order, or several sheets.
        sheet: the file that the sheets were made from: a file of sheets, or a pattern.
        rows: the rows of a plain painted bar; None for sheets.
        draft: the name of a pattern file to make.
        shown: a folder for pictures of what was read.
    """
    from stripewright.camera import NO_EXTRA, missing

    if gone := missing():
        raise Refused(
            [error(Place("transcribe"), NO_EXTRA, say("missing: {gone}", ", ".join(gone)))]
        )
    path = _free(studio, draft) if draft is not None else None
    from stripewright.camera.read import read_pictures

    given = subjects_of(studio, sheet) if sheet is not None else []
    reading, problems = read_pictures(_opened(pictures), given, rows)
    written = _show(reading, shown) if shown is not None else []
    if path is not None and reading.pieces:
        written.append(_keep(path, reading))
    return Transcribed(reading, tuple(in_order(problems)), tuple(written))


def _opened(pictures: Sequence[Path]) -> list[tuple[str, bytes]]:
    """Each picture's name and bytes. Raises Refused for all that can't be read."""
    problems: list[Problem] = []
    read: list[tuple[str, bytes]] = []
    for picture in pictures:
        try:
            read.append((str(picture), picture.read_bytes()))
        except OSError as fault:
            what = say("this can't be read: {strerror}", fault.strerror)
            problems.append(error(Place(str(picture)), what))
    if problems:
        raise Refused(problems)
    return read


def subjects_of(studio: Studio, path: Path) -> list[Subject]:
    """The sheets that a file makes: a file of sheets, or a pattern's pieces. Raises Refused."""
    from stripewright.paper.sheet_subject import of_piece, of_sheet
    from stripewright.pattern.read import as_model
    from stripewright.pattern.sheets import Sheets
    from stripewright.pipeline.commands import worksheet
    from stripewright.source.reader import read_document

    name = studio.name_of(path.resolve())
    document, problems = read_document(path.read_bytes(), name)
    if not has_errors(problems) and "pieces" in document.front:
        sound, *_ = worksheet(studio, path.resolve())
        worked = sound.worked
        shown = [piece for piece in worked.pieces if piece.lining_of is None]
        return [of_piece(worked, piece) for piece in shown or worked.pieces]
    sheets, found = as_model(document, Sheets)
    problems += found
    if sheets is None or has_errors(problems):
        raise Refused(in_order(problems))
    return [of_sheet(sheet) for sheet in sheets.sheets]


def _free(studio: Studio, name: str) -> Path:
    """Where a draft goes; never over a file that is there. Raises Refused."""
    stem = name.removesuffix(".md")
    if not _NAME.fullmatch(stem) or len(stem) > 80:
        hint = say("write small letters, digits and hyphens, like harbour-cushion")
        raise Refused(
            [error(Place("--draft"), say("“{name}” can't be a pattern's name", name), hint)]
        )
    path = studio.content / "patterns" / f"{stem}.md"
    if is_named(path):
        raise Refused([error(Place(studio.name_of(path)), "this file is there already",
                             "give the draft another name")])  # fmt: skip
    if not studio.holds(path):
        raise Refused([error(Place(studio.name_of(path)), "a link leads out of the studio here",
                             "put a folder in its place")])  # fmt: skip
    return path


def _keep(path: Path, reading: Reading) -> Path:
    from stripewright.camera.draft import draft_of

    text = draft_of(reading, path.stem.replace("-", " ").capitalize())
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise Refused(
            [error(Place(str(path)), "this file is there already", "give the draft another name")]
        ) from None
    return path


def _show(reading: Reading, folder: Path) -> list[Path]:
    """Write each page as it was read; another file of the same name is never touched."""
    from stripewright.camera.shown import as_png, overlay

    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for number, piece in enumerate(reading.pieces):
        for page in piece.pages:
            stem = re.sub(r"[^\w.-]+", "-", page.name.replace("\\", "/").rsplit("/", 1)[-1])
            title = stem if len(reading.pieces) == 1 else f"{stem}-{number + 1}"
            written.append(_beside(folder, title, as_png(overlay(page, number, reading))))
    return written


def _beside(folder: Path, stem: str, data: bytes) -> Path:
    """Write a picture under a free name, unless it is there already byte for byte."""
    number = 1
    while True:
        path = folder / (f"{stem}{SHOWN}" if number == 1 else f"{stem}-{number}{SHOWN}")
        try:
            with path.open("xb") as file:
                file.write(data)
        except FileExistsError:
            if not (path.is_file() and path.read_bytes() == data):
                number += 1
                continue
        return path
