"""What a publish does to the site that stands: new, changed and withdrawn pages, old packs."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.addresses import pattern_of, pattern_path
from stripewright.problems import Place, Problem, warning
from stripewright.publish.disk import Disk
from stripewright.publish.manifest import read_manifest
from stripewright.studio import MOST_THEME_BYTES, read_bytes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Changes:
    """Slugs of patterns whose page is new, says otherwise, or is gone."""

    new: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    withdrawn: tuple[str, ...] = ()


def changes_of(files: Mapping[str, bytes], into: Path) -> Changes:
    """What writing some files does to the patterns' pages that an earlier run wrote.

    Args:
        files: the site that is about to be written.
        into: the folder that it is written to.

    Raises:
        Refused: the list of what earlier runs wrote is damaged.
    """
    before = {slug for path in read_manifest(into, Disk()) if (slug := _page_of(path)) is not None}
    now = {slug for path in files if (slug := _page_of(path)) is not None}
    changed = tuple(slug for slug in sorted(now & before) if _differs(files, into, slug))
    return Changes(tuple(sorted(now - before)), changed, tuple(sorted(before - now)))


def _page_of(path: str) -> str | None:
    """The slug of the pattern whose page this is."""
    slug = pattern_of(path)
    return slug if slug and path == pattern_path(slug) else None


def _differs(files: Mapping[str, bytes], into: Path, slug: str) -> bool:
    path = pattern_path(slug)
    try:
        stands = read_bytes(into / path, MOST_THEME_BYTES)
    except OSError:
        return True
    return hashlib.sha256(stands).digest() != hashlib.sha256(files[path]).digest()


def warnings_of(changes: Changes) -> Iterator[Problem]:
    """A warning for each pattern that was published and is gone."""
    for slug in changes.withdrawn:
        yield warning(
            Place(f"patterns/{slug}"),
            "this pattern was published, and is gone from the site: links to it lead nowhere",
            f"if it has another address now, write formerly: [{slug}] there",
        )
