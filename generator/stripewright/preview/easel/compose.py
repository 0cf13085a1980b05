"""A new pattern's front matter as a file that reads like a notebook."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _
from stripewright.preview.easel.edits import LONG, spelt
from stripewright.preview.easel.rewrite import NotWritten, same
from stripewright.source.reader import read_document

if TYPE_CHECKING:
    from collections.abc import Mapping

BLOCKS = frozenset({"yarns", "pieces", "sizes"})
"""Keys whose entries stand on lines of their own."""


def composed(front: Mapping[str, Any]) -> bytes:
    """A file with some front matter and no text.

    Raises:
        NotWritten: it can't be read back as it was meant.
    """
    lines = ["---"]
    for key, value in front.items():
        if key in BLOCKS and isinstance(value, dict) and value:
            lines.append(f"{spelt(key)}:")
            for name, entry in value.items():
                lines += _entry(name, entry, long=key == "pieces")
        else:
            lines.append(f"{spelt(key)}: {spelt(value)}")
    data = "\n".join([*lines, "---", ""]).encode()
    document, problems = read_document(data, "")
    if problems or not same(dict(document.front), dict(front)):
        raise NotWritten(_("These values can’t be written as a pattern file."))
    return data


def _entry(name: str, entry: Any, *, long: bool) -> list[str]:
    line = f"  {spelt(name)}: {spelt(entry)}"
    if not long or not isinstance(entry, dict) or not entry:
        return [line]
    lines = [f"  {spelt(name)}:"]
    for key, value in entry.items():
        line = f"    {spelt(key)}: {spelt(value)}"
        if isinstance(value, list) and value and len(line) > LONG:
            lines += [f"    {spelt(key)}:", *(f"      - {spelt(one)}" for one in value)]
        else:
            lines.append(line)
    return lines
