"""Everything of a studio that everyone may come to see: its site with all that is beside it, its
texts to paste, and what is remembered of its packs, which may stand in a public repository.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING
from unittest.mock import patch

from stripewright.pipeline.commands import publish
from stripewright.pipeline.context import Options
from stripewright.pipeline.packing import make_packs
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.texts import write_texts
from stripewright.pipeline.versions import VERSIONS
from stripewright.studio import Studio
from support.demo import DEMO
from support.patterns import text_of

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from support.paid import Paid

DAY = date(2026, 11, 1)
POST = """---
title: What is new
summary: Of all that there is.
published: 2026-10-01
patterns: [{slugs}]
---
All of these are new.
"""


def studio_of(folder: Path, patterns: Sequence[Paid]) -> Studio:
    """A studio of paid patterns, a gift, and a post about the first few."""
    for kind in ("patterns", "posts"):
        (folder / "content" / kind).mkdir(parents=True)
    content = folder / "content"
    (content / "studio.yaml").write_bytes((DEMO.content / "studio.yaml").read_bytes())
    gift = text_of(title="A gift", published="2026-01-01", body="Free.\n\n## Knit it\n\nKnit.")
    (content / "patterns/gift.md").write_text(gift)
    for one in patterns:
        (content / f"patterns/{one.slug}.md").write_text(one.text)
    slugs = ", ".join(one.slug for one in patterns[:5])
    (content / "posts/new.md").write_text(POST.format(slugs=slugs))
    return Studio(folder)


def public_side(
    folder: Path, patterns: Sequence[Paid], *, packs: int = 1, workers: int | None = 1
) -> dict[str, bytes]:
    """Publish with paper, write the texts, pack the first few.

    Returns:
        By its path from the studio's folder, every file that anybody may see, hidden ones too.
    """
    studio = studio_of(folder, patterns)
    publish(studio, studio.site, Options(DAY), quiet, workers)
    write_texts(studio, Options(DAY, paper=False))
    first = [studio.content / f"patterns/{one.slug}.md" for one in patterns[:packs]]
    if first:
        # A planning sheet of fifteen thousand rows takes a minute, and is nowhere in public.
        with patch("stripewright.paper.packs.blank_sheet", lambda *_, **__: b""):
            make_packs(studio, Options(DAY), quiet, first, workers=1)
    files = {}
    for at in (studio.site, studio.texts):
        for path in sorted(at.rglob("*")):
            if path.is_file():
                start = studio.site if at == studio.site else studio.root
                files[path.relative_to(start).as_posix()] = path.read_bytes()
    if first:
        files[f"packs/{VERSIONS}"] = (studio.packs / VERSIONS).read_bytes()
    return files
