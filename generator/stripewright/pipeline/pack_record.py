"""What packs were made from, and what came of it: kept in the cache folder.

Without it, everything is made again.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _
from stripewright.digests import digest_of, digest_of_all
from stripewright.paper.packs import CHANGES
from stripewright.pipeline.store import write_whole

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from pathlib import Path

    from stripewright.pipeline.sources import SourceFile
    from stripewright.studio import Studio

RECORD = "packs.json"


def fingerprint(source: SourceFile) -> str:
    """A fingerprint of what an author wrote in a file, and of the tables that it names."""
    return digest_of_all([source.data, *(data for _, data in source.tables)])


def told_of_packs(studio: Studio, sold: Iterable[tuple[str, SourceFile]]) -> Iterator[str]:
    """What there is to say of packs: those that are missing, and those older than their sources.

    Args:
        studio: whose packs.
        sold: slug and file of each paid pattern, or file of sheets, that is published.
    """
    record = read_record(studio)
    for slug, source in sold:
        known = record.get(slug)
        if known is None or not (studio.packs / slug).is_dir():
            yield _("{name} has no pack yet", name=slug)
        elif known.get("source") != fingerprint(source):
            yield (
                _("the pack of {name} is older than its sheets", name=slug)
                if source.kind == "sheets"
                else _("the pack of {name} is older than its pattern", name=slug)
            )


def stands_still(folder: Path, kept: Any, key: str) -> bool:
    """Whether a pack was made from the same things and every file of it is still as it was."""
    files = kept.get("files") if isinstance(kept, dict) and kept.get("key") == key else None
    if not isinstance(files, dict) or not files:
        return False
    return all(
        (folder / path).is_file() and digest_of((folder / path).read_bytes()) == digest
        for path, digest in files.items()
    )


def record_of(name: str, key: str, source: str, files: Mapping[str, bytes]) -> dict[str, Any]:
    """What is kept of a pack: its source's name, what it was made from, and what came of it."""
    digests = {path: digest_of(data) for path, data in files.items()}
    return {"from": name, "key": key, "source": source, "files": digests}


def other_files(kept: Any, files: Mapping[str, bytes]) -> bool:
    """Whether a pack has other files than it had, besides the one that tells of changes."""
    before = kept.get("files") if isinstance(kept, dict) else None
    if not isinstance(before, dict):
        return False
    return any(
        before.get(path) != digest_of(data)
        for path, data in files.items()
        if path != CHANGES and not path.endswith(".zip")
    )


def read_record(studio: Studio) -> dict[str, Any]:
    """What earlier runs made; empty when nobody knows, and then everything is made again."""
    path = studio.cache / RECORD
    try:
        found = json.loads(path.read_bytes())
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def keep_record(studio: Studio, record: Mapping[str, Any]) -> None:
    """Write down what has been made so far."""
    if not studio.holds(studio.cache):
        return  # a link that leads out of the studio; without a record, all is made again
    studio.cache.mkdir(parents=True, exist_ok=True)
    write_whole(studio.cache / RECORD, json.dumps(record, sort_keys=True).encode())
