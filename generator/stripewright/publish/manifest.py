"""The list, kept in the published folder, of the files there that are ours to alter and remove."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.problems import Place, Refused, error
from stripewright.publish.names import what_is_wrong

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from stripewright.publish.disk import Disk

NAME = ".stripewright-files"
_HEAD = "files written by stripewright; it alters and removes no others"
_FOOT = "end"


def to_bytes(names: Iterable[str]) -> bytes:
    """The list as it is kept: a line a name, sorted, between a first and a last line."""
    return "\n".join((_HEAD, *sorted(names), _FOOT, "")).encode()


def read_manifest(folder: Path, disk: Disk) -> frozenset[str]:
    """The names of the files that an earlier run wrote, or had begun to write.

    Raises:
        Refused: the list is damaged, or names what can't be a site's file.
    """
    path = folder / NAME
    if not disk.kind(path):
        return frozenset()
    lines = disk.read(path).decode(errors="replace").split("\n")
    head, *names = lines
    if head != _HEAD or names[-2:] != [_FOOT, ""] or any(map(what_is_wrong, names[:-2])):
        raise Refused(
            [
                error(
                    Place(str(path)),
                    "the list of what earlier runs wrote is damaged",
                    "empty the folder by hand, or name another folder",
                )
            ]
        )
    return frozenset(names[:-2])
