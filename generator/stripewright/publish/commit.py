"""{path: bytes} -> a folder. Killed at any point, what is there are whole files.

First everything that differs is written aside, so that a full disk is met while the old site still
stands. Then each file is moved into its place: assets before pages, new files before those that
may link to them, home last. Files that are no longer wanted go when nothing links to them. So no
page that can be reached from home ever links to a missing one; two new pages that link to each
other come one after the other, while nothing leads to either.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.addresses import SEARCH
from stripewright.catalogue import say
from stripewright.digests import digest_of
from stripewright.problems import Place, Refused, error
from stripewright.publish import manifest
from stripewright.publish.disk import Disk, failure
from stripewright.publish.lock import PATIENCE_S, only_one
from stripewright.publish.names import check_file_names, folded
from stripewright.publish.survey import WORKING, Standing, survey

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from stripewright.problems import Problem

PAGES = (".html", ".xml", ".txt")
"""Endings of the files that link to others; the rest are assets, but for what `SEARCH` finds."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """How many files were written, left alone and removed."""

    written: int
    unchanged: int
    removed: int


def commit(
    files: Mapping[str, bytes],
    folder: Path,
    *,
    keep_others: bool = False,
    disk: Disk | None = None,
    patience_s: float = PATIENCE_S,
) -> Outcome:
    """Make a folder hold exactly these files.

    Args:
        files: path from the folder (forward slashes) -> bytes. Each value is asked for once, so a
            mapping may fetch it only then.
        folder: made if it isn't there. Files in it that no earlier run wrote are never touched.
        keep_others: leave files that an earlier run wrote and this one doesn't give.
        disk: the file system; tests give one that fails.
        patience_s: how long another run in the same folder is waited for.

    Raises:
        Refused: a name can't be written, the folder holds what is not ours, another run holds it,
            or the disk failed. What stands there then are whole files, and the next run mends it.
    """
    if problems := check_file_names(files):
        raise Refused(problems)
    disk = disk or Disk()
    run = None
    try:
        _make_folder(folder, disk)
        with only_one(folder, patience_s):
            standing = survey(folder, files.keys(), disk)
            if problems := _clashes(files, standing, keep_others=keep_others):
                raise Refused(problems)
            run = _Run(folder, disk, standing)
            return run.commit(files, keep_others=keep_others)
    except OSError as fault:
        place = Place(str(folder / run.at) if run else str(fault.filename or folder))
        raise Refused([failure(fault, place)]) from fault


def _clashes(files: Mapping[str, bytes], standing: Standing, *, keep_others: bool) -> list[Problem]:
    """Files where a folder must be, and kept ones that differ from new ones by case only."""
    problems = check_file_names({*standing.files, *files}) if keep_others else []
    parents = {parent for name in files for parent in _parents(name)}
    return problems + [
        error(Place(name), "a file stands where a folder must be", "remove it, then publish again")
        for name in sorted(parents & standing.files)
    ]


class _Run:
    """One commit under way."""

    def __init__(self, folder: Path, disk: Disk, standing: Standing) -> None:
        self.folder = folder
        self.disk = disk
        self.standing = standing
        self.folders = set(standing.folders)
        self.aside: dict[str, Path] = {}
        """Name -> the file written aside for it."""
        self.at = manifest.NAME
        """The file that is being seen to, for the message if the disk fails."""

    def commit(self, files: Mapping[str, bytes], *, keep_others: bool) -> Outcome:
        """All steps, in order."""
        listed = self.standing.listed
        kept = listed - files.keys() if keep_others else frozenset()
        for leftover in self.standing.leftovers:
            self.at = leftover
            self.disk.remove(self.folder / leftover)
        try:
            self.list_as_ours(listed | files.keys(), listed)
            for name in files:
                self.write_aside(name, files[name])
            self.disk.settle([*self.aside.values()])
            written = self.move_into_place()
        except BaseException:
            self.clear_away()
            raise
        removed = self.remove(listed - files.keys() - kept, files)
        self.list_as_ours(kept | files.keys(), listed | files.keys())
        return Outcome(written, len(files) - written, removed)

    def list_as_ours(self, names: frozenset[str], before: frozenset[str]) -> None:
        """Keep the list of our files: before one is made, and after one is gone."""
        if names == before:
            return
        self.at = manifest.NAME
        aside = self.working(manifest.NAME)
        self.aside[manifest.NAME] = aside
        try:
            self.disk.write(aside, manifest.to_bytes(names))
            self.disk.settle([aside])
            self.disk.move(aside, self.folder / manifest.NAME)
        except BaseException:
            self.clear_away()
            raise
        del self.aside[manifest.NAME]

    def write_aside(self, name: str, data: bytes) -> None:
        """Write a file beside its place, if what stands there differs."""
        self.at = name
        target = self.folder / name
        if name in self.standing.files and self.disk.same(target, data):
            return
        for parent in reversed(_parents(name)):
            if parent not in self.folders:
                self.disk.make_folder(self.folder / parent)
                self.folders.add(parent)
        self.aside[name] = self.working(name)
        self.disk.write(self.aside[name], data)

    def working(self, name: str) -> Path:
        """Where a file is written aside: in the same folder, under a hidden name."""
        key = digest_of(name.encode())[:16]
        return (self.folder / name).with_name(WORKING + key)

    def move_into_place(self) -> int:
        """Move everything written aside into place, what is linked to before what links to it."""
        old = self.standing.files
        names = sorted(self.aside, key=lambda name: _turn(name, new=name not in old))
        for name in names:
            self.at = name
            self.disk.move(self.aside[name], self.folder / name)
            del self.aside[name]
        self.disk.settle(sorted({(self.folder / name).parent for name in names}))
        return len(names)

    def clear_away(self) -> None:
        """Remove what was written aside; what can't be removed now, the next run removes."""
        for path in self.aside.values():
            with suppress(OSError):
                self.disk.remove(path)
        self.aside.clear()

    def remove(self, names: Iterable[str], files: Mapping[str, bytes]) -> int:
        """Remove files of earlier runs, what links before what is linked to, and empty folders."""
        gone = sorted(names, key=lambda name: _turn(name, new=False), reverse=True)
        spelt = {folded(name): name for name in files}
        removed = 0
        for name in gone:
            self.at = name
            if name not in self.standing.files:
                continue
            twin = spelt.get(folded(name))
            # Where letters' case is not told apart, the new file may stand under the old spelling.
            if twin and self.disk.one_file(self.folder / name, self.folder / twin):
                continue
            self.disk.remove(self.folder / name)
            removed += 1
        parents = {parent for name in gone for parent in _parents(name)}
        for parent in sorted(parents & self.folders, key=_depth, reverse=True):
            self.disk.remove_folder(self.folder / parent)
        return removed


def _turn(name: str, *, new: bool) -> tuple[bool, bool, int, str]:
    """Assets, then pages; among each new ones first; the deeper ones first, so home comes last."""
    page = name.endswith(PAGES) or name == SEARCH
    return (page, not new, -_depth(name), name)


def _parents(name: str) -> list[str]:
    """The folders a file is in, the nearest first."""
    parts = name.split("/")[:-1]
    return ["/".join(parts[:end]) for end in range(len(parts), 0, -1)]


def _depth(name: str) -> int:
    return name.count("/")


def _make_folder(folder: Path, disk: Disk) -> None:
    missing = []
    at = folder
    while not disk.kind(at):
        missing.append(at)
        at = at.parent
    kind = disk.kind(folder)
    if not missing and kind != "folder":
        wrong = say("a link, and links are not followed") if kind == "link" else say("not a folder")
        raise Refused(
            [error(Place(str(folder)), say("this is {wrong}", wrong), "name a folder of its own")]
        )
    for path in reversed(missing):
        with suppress(FileExistsError):  # another run may be making it as well
            disk.make_folder(path)
