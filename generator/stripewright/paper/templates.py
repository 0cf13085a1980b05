"""The print templates of a theme."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.studio import DEFAULT_THEME, shipped_themes

if TYPE_CHECKING:
    from collections.abc import Mapping

TOKENS, PARTS = "print/tokens.typ", "print/parts.typ"


def template(files: Mapping[str, bytes], name: str) -> bytes:
    """One print template with what it builds on: the theme's tokens, the shared parts, then itself.

    Args:
        files: a theme's files by their path inside it.
        name: `pattern`, `sheets` or `picture`.

    Raises:
        KeyError: the theme has no such template.
    """
    return b"\n".join(files[path] for path in (TOKENS, PARTS, f"print/{name}.typ"))


def shipped() -> dict[str, bytes]:
    """The print templates that come with the program, for a document that belongs to no studio."""
    files = {}
    for folder in ("shared", DEFAULT_THEME):
        base = shipped_themes() / folder
        for path in sorted(base.glob("print/*.typ")):
            files[path.relative_to(base).as_posix()] = path.read_bytes()
    return files
