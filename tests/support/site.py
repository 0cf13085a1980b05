"""The demo studio, published whole, as its viewers meet it."""

from __future__ import annotations

import shutil
from datetime import date
from typing import TYPE_CHECKING

from stripewright.pipeline.commands import publish
from stripewright.pipeline.context import Options
from stripewright.pipeline.progress import quiet
from stripewright.studio import Studio
from support.demo import CONTENT

if TYPE_CHECKING:
    from pathlib import Path

DAY = date(2026, 12, 24)
"""A day on which nothing of the demo but its drafts and the far future is held back."""


def published_demo(folder: Path, *, settings: str = "", paper: bool = True) -> Path:
    """Publishes a copy of the demo studio and gives the site's folder.

    Args:
        folder: an empty folder, for the copy and its site.
        settings: lines of YAML that stand in for those of the same keys in `studio.yaml`.
        paper: whether PDFs and share pictures are made, which takes most of the time.
    """
    shutil.copytree(CONTENT, folder / "content")
    if settings:
        set_keys(folder / "content" / "studio.yaml", settings)
    studio = Studio(folder)
    publish(studio, studio.site, Options(on=DAY, paper=paper), quiet)
    return studio.site


def set_keys(path: Path, settings: str) -> None:
    keys = tuple(line.split(":")[0] + ":" for line in settings.splitlines() if line[:1].isalpha())
    kept = [
        line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith(keys)
    ]
    path.write_text("\n".join([*kept, settings, ""]), encoding="utf-8")
