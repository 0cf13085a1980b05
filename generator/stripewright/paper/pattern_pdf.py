"""The pattern as a PDF: cover, what to know and to buy, plans, steps, making up, small print."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.paper.pattern_data import pattern_data
from stripewright.paper.picture import print_photo
from stripewright.paper.templates import printed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.view.views import PatternView
    from stripewright.words.written import PatternText

PAPER_SIZES = {"a4": "a4", "letter": "us-letter"}
"""Our name of a paper size -> Typst's."""


def pattern_pdfs(
    worked: WorkedPattern,
    view: PatternView,
    written: PatternText,
    settings: Settings,
    template_files: Mapping[str, bytes],
    *,
    pictures: Mapping[str, bytes] | None = None,
) -> dict[tuple[str, str], bytes]:
    """All PDFs of a pattern: by size, as `worked.printed` names it, and by paper: `pattern_pdf`.

    Raises:
        NotSet: the print template has a mistake.
    """
    of = {
        key: (view.of_size(key), written.of_size(key)) if key else (view, written)
        for key in worked.printed
    }
    return {
        (key, paper): pattern_pdf(*one, settings, paper, template_files, pictures=pictures)
        for key, one in of.items()
        for paper in PAPER_SIZES
    }


def pattern_pdf(
    view: PatternView,
    written: PatternText,
    settings: Settings,
    paper: str,
    template_files: Mapping[str, bytes],
    *,
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    """Set a pattern as a tagged PDF that holds to PDF/UA-1 and PDF/A-2a.

    Args:
        view: the pattern as it is told, with its drawings.
        written: its words.
        settings: the studio's.
        paper: `a4` or `letter`.
        template_files: the theme's files by their path inside it.
        pictures: file name -> bytes (JPEG, PNG or WebP) of its photos and the pictures in its text.

    Returns:
        The PDF; the same arguments give the same bytes.

    Raises:
        NotSet: the print template has a mistake.
    """
    shown = {name: print_photo(data) for name, data in (pictures or {}).items()}
    data = pattern_data(view, written, settings, shown)
    return printed(template_files, "pattern", data | {"paper": PAPER_SIZES[paper]})
