"""The print templates of a theme."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.catalogue import spoken
from stripewright.paper import engine
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
    return b"\n".join(files[path] for path in _paths(name))


def _paths(name: str) -> tuple[str, str, str]:
    return (TOKENS, PARTS, f"print/{name}.typ")


def printed(files: Mapping[str, bytes], name: str, data: Mapping[str, Any]) -> bytes:
    """Set a document by a print template.

    Args:
        files: a theme's files by their path inside it.
        name: the template, `pattern` or `sheets`.
        data: what it shows.

    Raises:
        NotSet: the template has a mistake; with its file and its line there.
    """
    try:
        said = {**data, "messages": spoken().of("*.typ")}
        return engine.pdf(template(files, name), said)
    except engine.NotSet as fault:
        line = fault.line
        for path in _paths(name):
            lines = files[path].count(b"\n") + 1
            if 0 < line <= lines:
                raise engine.NotSet(fault.message, line, path, fault.diagnostic) from fault
            line -= lines
        raise


def shipped_templates() -> dict[str, bytes]:
    """The print templates that come with the program, for a document that belongs to no studio."""
    files = {}
    for folder in ("shared", DEFAULT_THEME):
        base = shipped_themes() / folder
        for path in sorted(base.glob("print/*.typ")):
            files[path.relative_to(base).as_posix()] = path.read_bytes()
    return files
