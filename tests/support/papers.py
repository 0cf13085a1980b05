"""What paper's tests set: the demo's patterns, and what outside tools read in a PDF."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.draw.draw import draw_all
from stripewright.paper.pattern_pdf import pattern_pdf
from stripewright.view.make import pattern_view
from stripewright.view.views import PhotoView
from support.demo import DEMO, demo_settings, through

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pypdf import PdfReader

    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.draw import Drawings
    from stripewright.pattern.settings import Settings
    from stripewright.view.views import PatternView
    from stripewright.words.written import PatternText

PATTERNS = tuple(path.stem for path in DEMO.sources("patterns"))
THEMES = ("tideline", "ledger")
PAPERS = ("a4", "letter")


@dataclass(frozen=True)
class Made:
    """A pattern taken through every stage before paper."""

    worked: WorkedPattern
    written: PatternText
    drawings: Drawings

    def view(self, settings: Settings | None = None) -> PatternView:
        """It as told, with the photos that it names."""
        photos = [
            PhotoView(one.file, one.file, one.alt, 1, 1) for one in self.worked.pattern.photos
        ]
        return pattern_view(
            self.worked,
            self.written,
            self.drawings,
            settings or demo_settings(),
            photos=photos,
        )

    def pdf(
        self,
        paper: str = "a4",
        theme: str = "tideline",
        settings: Settings | None = None,
        pictures: Mapping[str, bytes] | None = None,
    ) -> bytes:
        settings = settings or demo_settings()
        return pattern_pdf(
            self.view(settings),
            self.written,
            settings,
            paper,
            DEMO.theme_files(theme),
            pictures=pictures,
        )


def made_from(data: bytes, slug: str, settings: Settings | None = None) -> Made:
    """A pattern file's bytes, worked out, written and drawn; it must have no error."""
    done = through(data, slug, settings)
    assert done.sound is not None, done.problems
    worked, written, _ = done.sound
    return Made(worked, written, draw_all(worked, written, prefix=slug))


@cache
def demo(slug: str) -> Made:
    return made_from((DEMO.content / "patterns" / f"{slug}.md").read_bytes(), slug)


@cache
def demo_pdf(slug: str, paper: str, theme: str) -> bytes:
    return demo(slug).pdf(paper, theme)


def tool(name: str, data: bytes, folder: Path, *options: str) -> str:
    """What one of poppler's tools says of a PDF."""
    path = folder / "paper.pdf"
    path.write_bytes(data)
    after = ["-"] if name == "pdftotext" else []
    done = subprocess.run([name, *options, path, *after], capture_output=True, check=True)
    return done.stdout.decode()


def squeezed(text: str) -> str:
    """A text with every run of white space as one space."""
    return re.sub(r"\s+", " ", text)


def assert_accessible(path: Path) -> None:
    """No finding of pdfua, no error and no warning of outloud."""
    bin_folder = Path(sys.executable).parent
    for command in (["pdfua", "check", "--min-severity", "error"], ["outloud", "--no-info"]):
        done = subprocess.run(
            [bin_folder / command[0], *command[1:], path],
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        if command[0] == "outloud":
            assert ": 0 error(s), 0 warning(s)" in done.stdout, done.stdout


def elements(reader: PdfReader, kind: str) -> list:
    """Structure elements of a kind, in reading order (ISO 32000-1, 14.7)."""
    found = []

    def walk(node) -> None:
        node = node.get_object()
        if isinstance(node, list):
            for child in node:
                walk(child)
        elif hasattr(node, "get"):
            if node.get("/S") == kind:
                found.append(node)
            if "/K" in node:
                walk(node["/K"])

    walk(reader.trailer["/Root"]["/StructTreeRoot"]["/K"])
    return found
