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

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from stripewright.view.secrets import Secrets

_SIZE = 16
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
    kept: Iterable[Secrets], public: Iterable[Secrets], digests: Mapping[str, str]
) -> Checked:
    """The fingerprints of a run: what paid patterns keep and free ones don't say, and its files."""
    said: set[bytes] = set()
    shown: set[str] = set()
    for one in public:
        shown.add(one.slug)
        said |= _said(one)
    sought = {_stamp(f"free {slug}") for slug in shown}
    for one in kept:
        items = _said(one) - said
        sought |= {_stamp(f"{one.slug} {item.hex()}") for item in items}
        sought |= {_stamp(f"{one.slug} file {name}") for name in one.files}
    return Checked(
        frozenset(sought), frozenset(_file(path, digest) for path, digest in digests.items())
    )


def _said(one: Secrets) -> set[bytes]:
    return {_stamp(sentence) for sentence in one.sentences} | {
        _stamp(repr(plan)) for plan in one.plans
    }


def _file(path: str, digest: str) -> bytes:
    return _stamp(f"{digest} {path}")


def _stamp(text: str) -> bytes:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).digest()[:_SIZE]


def read(path: Path) -> Checked:
    """The record of the last run that found nothing; an empty one when there is none."""
    try:
        data = path.read_bytes()
    except OSError:
        return Checked()
    head, body = data[:_HEAD], data[_HEAD:]
    if head != _head(body) or len(body) < 8 or (len(body) - 8) % _SIZE:
        return Checked()
    count = int.from_bytes(body[:8], "big")
    stamps = [body[at : at + _SIZE] for at in range(8, len(body), _SIZE)]
    return Checked(frozenset(stamps[:count]), frozenset(stamps[count:]))


def write(path: Path, done: Checked) -> None:
    """Keep the record. Raises OSError."""
    stamps = b"".join(sorted(done.sought)) + b"".join(sorted(done.files))
    body = len(done.sought).to_bytes(8, "big") + stamps
    write_whole(path, _head(body) + body)


def _head(body: bytes) -> bytes:
    return hashlib.sha256(program().encode() + body).digest()
