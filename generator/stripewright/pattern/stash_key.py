"""How a pattern's yarn points to one of the stash: `from: stash.deep`."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from stripewright.catalogue import say
from stripewright.pattern.base import Wrong, shown

_KEY = re.compile(r"stash\.([a-z][a-z0-9_]{0,39})")


def stash_key(value: Any) -> str:
    """The key of a yarn of the stash, from `stash.deep`."""
    match = _KEY.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        bare = isinstance(value, str) and _KEY.fullmatch(f"stash.{value.strip()}")
        right = f"stash.{value.strip()}" if bare and isinstance(value, str) else "stash.deep"
        raise Wrong(
            say("{number} is no yarn of the stash", shown(value)),
            say("write it like {right}", right),
        )
    return match[1]


StashKey = Annotated[
    str,
    BeforeValidator(stash_key),
    WithJsonSchema(
        {"type": "string", "pattern": rf"^\s*{_KEY.pattern}\s*$", "examples": ["stash.deep"]}
    ),
]
