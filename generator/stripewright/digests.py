"""What bytes are told apart by."""

from __future__ import annotations

import hashlib


def digest_of(data: bytes) -> str:
    """The SHA-256 of some bytes, in hex (FIPS 180-4)."""
    return hashlib.sha256(data).hexdigest()
