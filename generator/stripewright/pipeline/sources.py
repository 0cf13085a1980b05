"""A studio's files as bytes: the last place where the disk is read before publishing."""

from __future__ import annotations

import re
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.pattern.kinds import BY_FOLDER
from stripewright.problems import Place, Problem, error
from stripewright.source.decode import MOST_BYTES
from stripewright.studio import LEADS_OUT, SETTINGS, STASH, Studio, is_named, is_text, read_bytes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


_TABLE = re.compile(rb"\bdata:\s*[\"']?([A-Za-z0-9][A-Za-z0-9_.-]{0,75}\.csv)\b")


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file's name (relative to the studio) and bytes."""

    name: str
    data: bytes
    tables: tuple[tuple[str, bytes], ...] = ()
    """Names and bytes of the tables in content/data that a pattern's text names."""

    @property
    def kind(self) -> str:
        """The name of its folder."""
        return Path(self.name).parent.name

    @property
    def stem(self) -> str:
        """The file's name without folder and ending."""
        return Path(self.name).stem


@dataclass(frozen=True, slots=True)
class Sources:
    """Everything that the author wrote, and the theme."""

    settings: SourceFile | None
    files: Mapping[str, tuple[SourceFile, ...]]
    """By folder (`pattern.kinds`)."""
    photos: Mapping[str, Path] = field(default_factory=dict)
    """File name -> path of the pictures in content/photos."""
    stash: SourceFile | None = None
    """The list of the yarns that there are, if the studio has one."""

    def of(self, kind: str) -> tuple[SourceFile, ...]:
        """The files of a kind, sorted by name."""
        return self.files.get(kind, ())


@contextmanager
def noting_file(name: str) -> Iterator[None]:
    """Note on any unexpected error which file was being read."""
    try:
        yield
    except Exception as fault:
        fault.add_note(name)
        raise


def read_file(studio: Studio, path: Path) -> tuple[SourceFile | None, list[Problem]]:
    """Read one file of the studio; a link that leads out of it is refused."""
    name = studio.name_of(path)
    if not studio.holds(path):
        return None, [
            error(
                Place(name),
                LEADS_OUT,
                "put a copy of the file here instead",
            )
        ]
    return read_any(studio, path)


def read_any(studio: Studio, path: Path) -> tuple[SourceFile | None, list[Problem]]:
    """Read a source file that may stand anywhere, as somebody named it on the command line."""
    name = studio.name_of(path)
    if not is_text(path.name):
        return None, [misnamed(name)]
    try:
        data = read_bytes(path, MOST_BYTES)
        return SourceFile(name, data, tuple(tables_named(studio, data))), []
    except OSError as fault:
        return None, [error(Place(name), say("this can't be read: {strerror}", fault.strerror))]


def tables_named(studio: Studio, data: bytes) -> Iterator[tuple[str, bytes]]:
    """The tables of the studio that a pattern's text names; a link that leads out is none.

    Raises:
        OSError: one is there and can't be read.
    """
    for name in sorted(set(_TABLE.findall(data))):
        path = studio.content / "data" / name.decode()
        if path.exists() and studio.holds(path):
            yield name.decode(), read_bytes(path, MOST_BYTES)


def misnamed(name: str) -> Problem:
    """What to say of a file whose name is not text; `name` is how it can be shown."""
    return error(
        Place(name),
        "this name is not UTF-8, so no page could be called by it",
        "give the file a name of letters, digits and hyphens",
    )


def read_sources(studio: Studio) -> tuple[Sources, list[Problem]]:
    """Read all of a studio's files."""
    problems: list[Problem] = []

    def read(path: Path) -> list[SourceFile]:
        source, found = read_file(studio, path)
        problems.extend(found)
        return [source] if source else []

    settings = read(studio.root / SETTINGS) if (studio.root / SETTINGS).exists() else []
    if not settings and not problems:
        problems.append(
            error(
                Place(SETTINGS),
                "this studio has no settings",
                "`stripewright start FOLDER` lays out a studio; or name its folder with --studio",
            )
        )

    stash = read(studio.root / STASH) if is_named(studio.root / STASH) else []

    def listed(kind: str) -> list[Path]:
        try:
            return list(studio.sources(kind))
        except OSError as fault:
            why = say("this can't be read: {strerror}", fault.strerror)
            problems.append(error(Place(f"content/{kind}"), why))
            return []

    files = {kind: tuple(s for path in listed(kind) for s in read(path)) for kind in BY_FOLDER}
    photos, found = read_photos(studio)
    problems += found
    lists = stash[0] if stash else None
    return Sources(settings[0] if settings else None, files, photos, lists), problems


def read_photos(studio: Studio) -> tuple[dict[str, Path], list[Problem]]:
    """The studio's pictures by file name; they are opened where a page names them."""
    photos: dict[str, Path] = {}
    problems: list[Problem] = []
    for path in sorted((studio.content / "photos").glob("*")):
        if not is_text(path.name):
            problems.append(misnamed(studio.name_of(path)))
        elif path.is_file() and studio.holds(path):
            photos[path.name] = path
    return photos, problems
