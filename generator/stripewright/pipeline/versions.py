"""What is known of the packs made so far: packs/versions.json, which nothing else can bring back.

It is no cache: it says which versions buyers have. It is written whole or not at all, after the
pack that it tells of; one that can't be read is told, and never written over.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict, TypeAdapter, ValidationError

from stripewright.catalogue import say
from stripewright.paper.changes_text import VersionNote, numbered, part_words
from stripewright.pipeline.store import write_whole
from stripewright.problems import Place, Problem, Refused, error, warning
from stripewright.publish.lock import only_one
from stripewright.studio import LEADS_OUT, read_bytes
from stripewright.view.contents import PART_WORDS, WAY, differing, digest_of_parts

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.sheets import Sheets
    from stripewright.source.document import Document
    from stripewright.studio import Studio
    from stripewright.view.contents import Contents

VERSIONS = "versions.json"
_MOST_BYTES = 256 << 20


class Version(BaseModel):
    """A version of a pack, as it was last made."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    version: str
    digest: str
    """Of everything that the pack tells."""
    parts: dict[str, str]
    """The digest of each part."""
    day: str = ""
    """Its `updated:` or `published:`."""
    before: str | None = None
    """The version that it is compared with."""
    changed: tuple[str, ...] = ()
    """The parts that differ from that version."""
    since: tuple[str, ...] = ()
    """The parts that changed while its version stayed."""
    draft: bool = False
    """Whether its pattern was a draft: no buyer has it."""
    fields: dict[str, str] = {}
    """What was told then (`Contents.fields`): a program that tells more compares only that."""
    way: int = 0
    """Which way the parts were made (`view.contents.WAY`)."""


History = tuple[Version, ...]
"""The versions of a pack, the last made first."""
_RECORD: TypeAdapter[dict[str, History]] = TypeAdapter(dict[str, History])


@dataclass(frozen=True, slots=True)
class Told:
    """What making a pack did.

    Attributes:
        history: its versions now.
        changed: the parts that differ from the pack as it was last made; None of a new one.
        same_version: whether it was made as this version before, the last time.
    """

    history: History
    changed: tuple[str, ...] | None = None
    same_version: bool = False


def read_versions(studio: Studio) -> dict[str, History]:
    """The versions of each pack by its slug. Raises Refused when the file is damaged."""
    path = studio.packs / VERSIONS
    try:
        if not studio.holds(path):
            raise Refused(
                [
                    error(
                        Place(f"packs/{VERSIONS}"),
                        LEADS_OUT,
                        "put the file itself here instead",
                    )
                ]
            )
        return _RECORD.validate_json(read_bytes(path, _MOST_BYTES))
    except FileNotFoundError:
        return {}
    except ValidationError as fault:
        what = say("the record of the versions that buyers have is damaged")
        hint = say("put an older copy of it back; or delete it, and every pack counts as new")
        raise Refused([error(Place(f"packs/{VERSIONS}"), what, hint)]) from fault


def known_of(record: Mapping[str, History], slug: str, formerly: Iterable[str]) -> History:
    """The versions of a pattern's pack, under the address that it has or one that it had."""
    return next((record[name] for name in (slug, *formerly) if name in record), ())


def keep_version(studio: Studio, slug: str, history: History) -> None:
    """Write down a pack's versions, beside whatever another run has written meanwhile."""
    with only_one(studio.packs):
        record = read_versions(studio) | {slug: history}
        told = {name: [one.model_dump() for one in record[name]] for name in sorted(record)}
        data = json.dumps(told, indent=1, sort_keys=True, ensure_ascii=False) + "\n"
        write_whole(studio.packs / VERSIONS, data.encode())


def made_now(history: History, now: Version, contents: Contents) -> Told:
    """What a pack's making does to its history.

    Args:
        history: its versions so far.
        now: the version that it is made as.
        contents: what it tells.
    """
    last = history[0] if history else None
    kept = [one for one in history if now.draft or not one.draft]
    same = next((one for one in kept if one.version == now.version), None)
    others = [one for one in kept if one is not same]
    if others and others[0].way == WAY:
        older = others[0]  # a buyer may have it as it was first made
        now = now.model_copy(
            update={"before": older.version, "changed": _since_made(older, contents)}
        )
    if same is not None and not now.draft:
        now = now.model_copy(update={"since": _since_made(same, contents)})
    for one in (same, *others[:1]):
        if one is not None and one.way == WAY and contents.digests(one.fields) == one.parts:
            known = {"digest": one.digest, "parts": one.parts, "fields": one.fields}
            now = now.model_copy(update=known)  # the same content goes on having its digest
            break
    if last is None:
        return Told((now, *others))
    return Told((now, *others), _otherwise(last, contents), last.version == now.version)


def _otherwise(older: Version, contents: Contents) -> tuple[str, ...]:
    """The parts that are told otherwise than in an older version, of what that one told."""
    if older.way != WAY:
        return ()
    return differing(older.parts, contents.digests(older.fields))


def _since_made(older: Version, contents: Contents) -> tuple[str, ...]:
    """The parts that differ from a version as it was first made."""
    changed = {*older.since, *_otherwise(older, contents)}
    return tuple(part for part in PART_WORDS if part in changed)


def version_of(source: Pattern | Sheets, contents: Contents) -> Version:
    """The version of a pack, with nothing known of others."""
    day, parts = source.updated or source.published, contents.digests()
    return Version(
        version=source.version,
        digest=digest_of_parts(parts),
        parts=parts,
        day=day.isoformat() if day else "",
        draft=source.published is None,
        fields=contents.fields,
        way=WAY,
    )


def notes_of(history: History, source: Pattern | Sheets) -> list[VersionNote]:
    """What there is to say of each version: what is known, with the author's own words."""
    own: dict[str, list[str]] = {}
    for change in source.changes:
        own.setdefault(change.version, []).append(change.text)
    notes = [
        VersionNote(
            one.version,
            one.day,
            one.before,
            one.changed,
            one.since,
            tuple(own.pop(one.version, ())),
        )
        for one in history
    ]
    return notes + [
        VersionNote(version, own=tuple(texts), made=False)
        for version, texts in own.items()
        if not _is_ahead(version, source.version)
    ]


def _is_ahead(version: str, now: str) -> bool:
    """Whether a version comes after the pattern's own, so that no one has it."""
    one, other = numbered(version), numbered(now)
    return one is not None and other is not None and one > other


def check_versions(
    told: Told, before: History, slug: str, document: Document, source: Pattern | Sheets
) -> list[Problem]:
    """What the author should do about a pack's version."""
    place = document.place("version")
    now, problems = source.version, list[Problem]()
    last = before[0] if before else None
    parts = told.changed or ()
    if last and last.version == now and parts:
        what = say(
            "the pack of {name} changed ({parts}), and is still version {version}: buyers "
            "can't tell it from the one that they have",
            name=slug,
            parts=part_words(parts),
            version=now,
        )
        problems.append(warning(place, what, _next(now)))
    elif last and any(one.version == now for one in before[1:]):
        what = say(
            "version {version} of {name} is older than version {newer}, which was made after it",
            version=now,
            name=slug,
            newer=last.version,
        )
        problems.append(warning(place, what, _next(last.version)))
    for number, change in enumerate(source.changes):
        if _is_ahead(change.version, now):
            what = say(
                "this tells of version {newer}, and this is version {version}: it "
                "isn't in changes.txt yet",
                newer=change.version,
                version=now,
            )
            hint = say("write version: {version} when it is ready", version=change.version)
            problems.append(warning(document.place("changes", number, "version"), what, hint))
    return problems


def _next(version: str) -> str:
    """What to write, with the version that would follow."""
    number = numbered(version)
    if number is None:
        return say("write another version, and what it brings buyers under changes")
    follows = ".".join(map(str, (*number[:-1], number[-1] + 1)))
    return say("write version: {version}, and what it brings buyers under changes", version=follows)
