"""The demo studio as an American maker would have it: their words, their units first."""

from __future__ import annotations

import re
import shutil
from typing import TYPE_CHECKING

from support.catalogue import american
from support.demo import CONTENT
from support.site import set_keys

if TYPE_CHECKING:
    from pathlib import Path

_HIDDEN = re.compile(r"\x00(\d+)\x00")
_KEPT = re.compile(r"\b(colourways?|colour|licence|fibre|unravelled)(?=:)|kind: draught excluder"
                   r"|(?<![\w])[a-z]+(?:-[a-z]+)+(?![\w-])|\{\{.*?\}\}|https?://\S+")  # fmt: skip
"""Keys, names in addresses, what stands in braces, links: these are no words."""


def american_text(text: str) -> str:
    """An author's file in American words: keys, addresses and names in braces stay."""
    kept: list[str] = []

    def put(found: re.Match[str]) -> str:
        kept.append(found[0])
        return f"\0{len(kept) - 1}\0"

    return _HIDDEN.sub(lambda found: kept[int(found[1])], american(_KEPT.sub(put, text)))


def american_demo(folder: Path) -> None:
    """A copy of the demo studio in an empty folder, American."""
    shutil.copytree(CONTENT, folder / "content")
    for path in sorted((folder / "content").rglob("*.md")):
        path.write_text(american_text(path.read_text(encoding="utf-8")), encoding="utf-8")
    settings = folder / "content" / "studio.yaml"
    settings.write_text(american_text(settings.read_text(encoding="utf-8")), encoding="utf-8")
    set_keys(settings, "language: en-US\nunits: imperial\nterms: us")
