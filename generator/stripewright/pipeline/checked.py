"""What the guard has looked through before, so that a file is not searched twice for the same.

A file needs no second look while it is the same file at the same path, and everything that is
searched for now was searched for then. Anything new to search for means looking through all again.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.pipeline.cache import program
from stripewright.pipeline.store import write_whole
from stripewright.view.secrets import STAMP, stamp, stamps_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from stripewright.view.secrets import PublishedPhrases, Secrets

_HEAD = 32


@dataclass(frozen=True)
class Checked:
    """Fingerprints of what was searched for, and of the files that it was not found in."""

    sought: frozenset[bytes] = frozenset()
    files: frozenset[bytes] = frozenset()

    def still_to_look_at(self, now: Checked, digests: Mapping[str, str]) -> set[str]:
        """Paths of the files that must be looked through."""
        if not now.sought <= self.sought:
            return set(digests)
        return {path for path, digest in digests.items() if _file(path, digest) not in self.files}


def checked(
    kept: Sequence[Secrets], public: Iterable[PublishedPhrases], digests: Mapping[str, str]
) -> Checked:
    """The fingerprints of a run: what paid patterns keep and free ones don't say, and its files."""
    stamps = [stamps_of(one) for one in kept]
    wanted = set().union(*stamps)
    sought: set[bytes] = set()
    for one in public:
        wanted -= one.among(wanted)
        sought.add(stamp(f"free {one.slug}"))
    for secrets, items in zip(kept, stamps, strict=True):
        sought |= {stamp(f"{secrets.slug} {item.hex()}") for item in items & wanted}
        sought |= {stamp(f"{secrets.slug} file {name}") for name in secrets.files}
    return Checked(
        frozenset(sought), frozenset(_file(path, digest) for path, digest in digests.items())
    )


def _file(path: str, digest: str) -> bytes:
    return stamp(f"{digest} {path}")


def read_checked(path: Path) -> Checked:
    """The record of the last run that found nothing; an empty one when there is none."""
    try:
        data = path.read_bytes()
    except OSError:
        return Checked()
    head, body = data[:_HEAD], data[_HEAD:]
    if head != _head(body) or len(body) < 8 or (len(body) - 8) % STAMP:
        return Checked()
    count = int.from_bytes(body[:8], "big")
    stamps = [body[at : at + STAMP] for at in range(8, len(body), STAMP)]
    return Checked(frozenset(stamps[:count]), frozenset(stamps[count:]))


def write_checked(path: Path, done: Checked) -> None:
    """Keep the record. Raises OSError."""
    stamps = b"".join(sorted(done.sought)) + b"".join(sorted(done.files))
    body = len(done.sought).to_bytes(8, "big") + stamps
    write_whole(path, _head(body) + body)


def _head(body: bytes) -> bytes:
    return hashlib.sha256(program().encode() + body).digest()
