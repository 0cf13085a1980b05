"""What a publish does to the site that stands: new, changed and withdrawn patterns.

Bytes can't tell: a theme's change is in every page and PDF. So a publish keeps what each pattern's
page and the files beside it told, part by part, beside the list of what it wrote; the next one
compares. Where nobody knows what a page told, its own words, its data and its drawings are compared
as they stand.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from pydantic import TypeAdapter, ValidationError
from pydantic.dataclasses import dataclass as checked_dataclass

from stripewright.addresses import pattern_of, pattern_path
from stripewright.catalogue import say
from stripewright.pipeline.store import write_whole
from stripewright.problems import Place, Problem, warning
from stripewright.publish.disk import Disk
from stripewright.publish.manifest import read_manifest
from stripewright.studio import MOST_THEME_BYTES, read_bytes
from stripewright.view.contents import differing

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

TOLD = ".stripewright-told"
_MOST_BYTES = 256 << 20
_OWN = (".js", ".svg")
"""Endings of the files beside a page that no theme has a part in."""
_MAIN = re.compile(rb"<main\b.*</main>", re.DOTALL)
_TAGS = re.compile(rb"<[^>]*>|\s+")
_COLOURS = re.compile(
    rb"class=\"yarn-[^>]*fill=\"(#[0-9a-f]{6})|fill=\"(#[0-9a-f]{6})\" class=\"yarn-"
)


@checked_dataclass(frozen=True)
class ToldPages:
    """What the patterns' pages of a site tell."""

    look: str = ""
    """The digest of the theme."""
    program: str = ""
    """The fingerprint of the program: what another one told can't be compared part by part."""
    patterns: dict[str, dict[str, str]] = field(default_factory=dict)
    """By slug, the digest of each part."""


_TOLD = TypeAdapter(ToldPages)


@dataclass(frozen=True, slots=True)
class Changes:
    """Slugs of patterns whose page is new, tells otherwise, or is gone."""

    new: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    """Their pages or the files beside them."""
    withdrawn: tuple[str, ...] = ()
    moved: tuple[tuple[str, str], ...] = ()
    """Those of the new that had another slug before: that one, and the one that they have."""
    parts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The parts that changed (`view.contents.PART_WORDS`), where it is known, by the new slug."""
    theme: bool = False
    """Whether the theme changed that every page is made with."""
    around: bool = False
    """Whether every page that stood changed, and in some of them only what all have in common."""


def changes_of(
    files: Mapping[str, bytes],
    told: ToldPages,
    into: Path,
    leading: Mapping[str, str] = MappingProxyType({}),
) -> Changes:
    """What writing some files does to the patterns' pages that an earlier run wrote.

    Args:
        files: the site that is about to be written.
        told: what its patterns' pages tell.
        into: the folder that it is written to.
        leading: slugs that patterns had before -> the ones that they have now.

    Raises:
        Refused: the list of what earlier runs wrote is damaged.
    """
    standing = read_manifest(into, Disk())
    before, now = ({slug for path in one if (slug := _page_of(path))} for one in (standing, files))
    known = read_told(into)
    patterns = now - leading.keys()
    new = sorted(patterns - before)
    pages = known.patterns.keys() or before  # what only led on was no pattern's page
    moved = {old: slug for old, slug in leading.items() if slug in new and old in before & pages}
    kept = sorted(patterns & before)
    parts = {slug: _parts(slug, slug, told, known) for slug in kept}
    another = bool(known.patterns) and known.program != told.program
    changed = _changed(parts, files, into, words_alone=another)
    rest = [slug for slug in kept if slug not in changed]
    parts |= {slug: _parts(old, slug, told, known) for old, slug in moved.items()}
    return Changes(
        tuple(slug for slug in new if slug not in moved.values()),
        changed,
        tuple(sorted(before - now)),
        tuple(sorted(moved.items())),
        {slug: parts[slug] or () for slug in (*changed, *moved.values())},
        theme=known.look not in ("", told.look)
        and any(_other_bytes(files, pattern_path(slug), into) for slug in kept),
        around=bool(rest) and all(_other_bytes(files, pattern_path(slug), into) for slug in rest),
    )


def _changed(
    parts: Mapping[str, tuple[str, ...] | None],
    files: Mapping[str, bytes],
    into: Path,
    *,
    words_alone: bool,
) -> tuple[str, ...]:
    """The pages that changed; those of which nobody knows what they told, as they stand.

    Args:
        parts: slug -> the parts that changed, where it is known.
        files: the site.
        into: where the one before stands.
        words_alone: look at words and colours alone: another program writes data and drawings
            of the same pattern otherwise.
    """
    unknown = {slug for slug, changed in parts.items() if changed is None}
    own = ({slug: [pattern_path(slug)] for slug in unknown} if words_alone
           else _own_files(files, unknown))  # fmt: skip
    return tuple(
        slug
        for slug, changed in parts.items()
        if (_differs(files, own[slug], into) if changed is None else changed)
    )


def _parts(old: str, slug: str, told: ToldPages, known: ToldPages) -> tuple[str, ...] | None:
    """The parts of a page that changed; None where nobody knows what it told."""
    if slug not in told.patterns or old not in known.patterns:
        return None
    parts = differing(known.patterns[old], told.patterns[slug])
    return None if parts and known.program != told.program else parts


def _own_files(files: Mapping[str, bytes], slugs: set[str]) -> dict[str, list[str]]:
    """The page of each pattern and the files beside it that no theme has a part in."""
    own: dict[str, list[str]] = {slug: [pattern_path(slug)] for slug in slugs}
    for path in files:
        if path.endswith(_OWN) and (slug := pattern_of(path)) in own:
            own[slug].append(path)
    return own


def _page_of(path: str) -> str | None:
    """The slug of the pattern whose page this is."""
    slug = pattern_of(path)
    return slug if slug and path == pattern_path(slug) else None


def _differs(files: Mapping[str, bytes], paths: list[str], into: Path) -> bool:
    """Whether the words of a page or the bytes of its data and drawings are others."""
    for path in paths:
        stands = _stands(into, path)
        if stands is None:
            return True
        if path.endswith(".html"):
            if _words(stands) != _words(files[path]):
                return True
        elif stands != files[path]:
            return True
    return False


def _other_bytes(files: Mapping[str, bytes], path: str, into: Path) -> bool:
    return _stands(into, path) != files[path]


def _stands(into: Path, path: str) -> bytes | None:
    try:
        return read_bytes(into / path, MOST_THEME_BYTES)
    except OSError:
        return None


def _words(page: bytes) -> tuple[bytes, frozenset[bytes]]:
    """A page's own words and colours, without what stands around them on every page."""
    main = found[0] if (found := _MAIN.search(page)) else page
    return _TAGS.sub(b" ", main), frozenset(_COLOURS.findall(main))


def read_told(into: Path) -> ToldPages:
    """What the last publish into a folder told; nothing where it can't be known."""
    try:
        return _TOLD.validate_json(read_bytes(into / TOLD, _MOST_BYTES))
    except (OSError, ValidationError):
        return ToldPages()


def keep_told(told: ToldPages, into: Path) -> None:
    """Write down what a site tells, for the next publish to compare with. Raises OSError."""
    record = {"look": told.look, "program": told.program, "patterns": told.patterns}
    data = json.dumps(record, sort_keys=True).encode()
    if _stands(into, TOLD) != data:
        write_whole(into / TOLD, data)


def warnings_of(changes: Changes) -> Iterator[Problem]:
    """A warning for each pattern that was published and is gone."""
    for slug in changes.withdrawn:
        yield warning(
            Place(f"patterns/{slug}"),
            "this pattern was published, and is gone from the site: links to it lead nowhere",
            say("if it has another address now, write formerly: [{slug}] there", slug),
        )
