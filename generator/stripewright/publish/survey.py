"""What stands in the folder before anything is written, and whether it may be written to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, Refused, error
from stripewright.publish import manifest

if TYPE_CHECKING:
    from collections.abc import Collection
    from pathlib import Path

    from stripewright.publish.disk import Disk

WORKING = ".stripewright-working-"
"""How the names of files begin that are written aside; left over, they are ours to remove."""

BESIDE = frozenset({"CNAME", "Thumbs.db", "desktop.ini"})
"""Files that a host or a system puts beside a site, like all that begin with a dot."""

_SHOWN = 5
_ELSEWHERE = say("or name another folder")


@dataclass(frozen=True, slots=True)
class Standing:
    """What an earlier run left, as paths from the folder, with forward slashes."""

    files: frozenset[str]
    """Ours, and there."""
    listed: frozenset[str]
    """Ours, there or not."""
    folders: frozenset[str]
    leftovers: tuple[str, ...]
    """Files that a killed run wrote aside."""


def survey(folder: Path, wanted: Collection[str], disk: Disk) -> Standing:
    """Look through a folder.

    Args:
        folder: where the site stands or will.
        wanted: the names to be written.
        disk: the file system.

    Raises:
        Refused: something there is not ours, is a link, or stands where a file of ours must.
    """
    listed = manifest.read_manifest(folder, disk)
    files: set[str] = set()
    folders: set[str] = set()
    leftovers: list[str] = []
    foreign: list[str] = []
    links: list[str] = []
    waiting = [""]
    while waiting:
        at = waiting.pop()
        for name, kind in disk.entries(folder / at if at else folder):
            path = f"{at}/{name}" if at else name
            if kind == "file" and name.startswith(WORKING):
                leftovers.append(path)
            elif kind == "file" and path in listed:
                files.add(path)
            elif (name.startswith(".") or name in BESIDE) and path not in wanted:
                continue
            elif kind == "link":
                links.append(path)
            elif kind == "folder":
                folders.add(path)
                waiting.append(path)
            else:
                foreign.append(path)
    if problems := _refusals(folder, foreign, links, folders.intersection(wanted)):
        raise Refused(problems)
    return Standing(frozenset(files), listed, frozenset(folders), tuple(leftovers))


def _refusals(
    folder: Path, foreign: list[str], links: list[str], blocked: Collection[str]
) -> list[Problem]:
    problems = []
    if foreign:
        shown = ", ".join(sorted(foreign)[:_SHOWN])
        more = say(" and {foreign} more", len(foreign) - _SHOWN) if len(foreign) > _SHOWN else ""
        wrong = say(
            "this folder holds files that stripewright didn't write: {shown}{more}", shown, more
        )
        problems.append(
            error(Place(str(folder)), wrong, say("move them away, {elsewhere}", _ELSEWHERE))
        )
    problems += [
        error(
            Place(str(folder / link)),
            "this is a link, and links are not followed",
            say("remove it, {elsewhere}", _ELSEWHERE),
        )
        for link in sorted(links)
    ]
    problems += [
        error(
            Place(str(folder / name)),
            "a folder stands where a file must be",
            say("remove it, {elsewhere}", _ELSEWHERE),
        )
        for name in sorted(blocked)
    ]
    return problems
