"""What bytes are told apart by."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


def digest_of(data: bytes) -> str:
    """The SHA-256 of some bytes, in hex (FIPS 180-4)."""
    return hashlib.sha256(data).hexdigest()


def digest_of_all(parts: Iterable[bytes]) -> str:
    """The SHA-256 of several, in hex: it changes when any of them changes."""
    digest = hashlib.sha256()
    for part in parts:
        digest.update(len(part).to_bytes(8))
        digest.update(part)
    return digest.hexdigest()
