"""Data as a part of a script, or as the text of a script element."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

_ESCAPES = (
    ("<", "\\u003c"),
    (">", "\\u003e"),
    ("&", "\\u0026"),
    ("\u2028", "\\u2028"),
    ("\u2029", "\\u2029"),
)
"""Signs that could end the element, begin a comment in it, or end a line of a script."""


def in_script(data: Any, default: Callable[[Any], Any] | None = None) -> str:
    """Data as JSON that means the same wherever a script may stand.

    Args:
        data: what JSON knows.
        default: makes it of anything else; without it that raises TypeError.
    """
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), default=default)
    for sign, written in _ESCAPES:
        text = text.replace(sign, written)
    return text
