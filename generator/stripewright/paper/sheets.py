"""Planning sheets: blank pieces to colour in before knitting, one sheet or a book of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.catalogue import N_, _, n_
from stripewright.figures import Figures, counted
from stripewright.paper.pattern_data import UNDATED, languages
from stripewright.paper.pattern_pdf import PAPER_SIZES
from stripewright.paper.sheet_plan import pages_of
from stripewright.paper.sheet_subject import Subject, of_piece, of_sheet
from stripewright.paper.templates import printed, shipped_templates
from stripewright.view.numbers import gauge

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.pattern.sheets import Sheets

_FORMS = {
    "tube": N_("Tube"),
    "panel": N_("Panel"),
    "filled": N_("Filled tube"),
    "hat": N_("Hat"),
    "blanket": N_("Blanket of panels"),
}


def sheets_pdf(
    sheets: Sheets,
    paper: str,
    settings: Settings | None = None,
    template_files: Mapping[str, bytes] | None = None,
) -> tuple[bytes, int]:
    """Set one planning sheet, or a book of several with title page and contents.

    Args:
        sheets: what the file asks for.
        paper: `a4` or `letter`.
        settings: the studio's, for its name, language and units.
        template_files: the theme's files by their path inside it.

    Returns:
        The PDF, and how many pages it has.

    Raises:
        NotSet: the print template has a mistake.
    """
    subjects = [of_sheet(sheet) for sheet in sheets.sheets]
    return _set(
        subjects,
        paper,
        settings,
        template_files,
        title=sheets.title,
        day=sheets.published,
        summary=sheets.summary,
        book=len(subjects) > 1,
    )


def blank_sheet(
    worked: WorkedPattern,
    paper: str,
    settings: Settings | None = None,
    template_files: Mapping[str, bytes] | None = None,
) -> bytes:
    """Set a pattern's own pieces, each size's, blank to colour in; a plain lining isn't planned.

    The sheet tells the rows of each piece and nothing of its stripes.
    """
    sizes = {
        worked.size_title(key) or _("As written"): worked.of_size(key) for key in worked.size_keys
    }
    subjects = [
        of_piece(one, piece, name)
        for name, one in (sizes or {"": worked}).items()
        for piece in [piece for piece in one.pieces if piece.lining_of is None] or one.pieces
    ]
    pattern = worked.pattern
    made, _pages = _set(
        subjects,
        paper,
        settings,
        template_files,
        title=_("{pattern}: planning sheet", pattern=pattern.title),
        day=pattern.updated or pattern.published,
    )
    return made


def _set(
    subjects: Sequence[Subject],
    paper: str,
    settings: Settings | None,
    template_files: Mapping[str, bytes] | None,
    *,
    title: str,
    day: date | None,
    summary: str = "",
    book: bool = False,
) -> tuple[bytes, int]:
    language = settings.language if settings else "en"
    figures = Figures.of(settings) if settings else Figures()
    shown = day or UNDATED
    sheets = [_sheet(subject, paper, figures) for subject in subjects]
    data = {
        "title": title,
        "summary": summary,
        "studio": settings.title if settings else "",
        "maker": settings.maker if settings else "",
        **languages(language),
        "date": [shown.year, shown.month, shown.day],
        "paper": PAPER_SIZES[paper],
        "book": book,
        "imperial": figures.imperial,
        "sheets": sheets,
    }
    front = 2 if book else 0
    pages = sum(len(sheet["pages"]) for sheet in sheets)
    files = shipped_templates() if template_files is None else template_files
    return printed(files, "sheets", data), front + pages


def _sheet(subject: Subject, paper: str, figures: Figures) -> dict[str, Any]:
    first, last = subject.ends
    bed = N_("Circular bed, {needles} needles; {stitches} stitches")
    if subject.bed == "flat":
        bed = N_("Flat bed, {needles} needles; {stitches} stitches")
    panels = n_(", {number} panel", ", {number} panels", subject.panels)
    return {
        "title": subject.title,
        "form": _(_FORMS[subject.form]) + (panels if subject.panels > 1 else ""),
        "tube": subject.tube,
        "bed": _(bed, needles=subject.needles, stitches=subject.stitches),
        "gauge": gauge(subject.gauge, figures),
        "rows": _rows(subject),
        "width": figures.length(subject.width_cm),
        "length": figures.length(subject.visible / subject.gauge.rows_per_cm),
        "edges": [first.edge, last.edge],
        "pages": [
            page | {"code": _drawn(page["code"]), "height": figures.small(page["band"] / 10)}
            for page in pages_of(subject, paper)
        ],
    }


def _drawn(code: dict[str, Any]) -> dict[str, Any]:
    """A page's code as SVG, its quiet zone of four modules included."""
    import segno

    made = segno.make_qr(code["text"], version=2, error="m", boost_error=False)
    return code | {"svg": str(made.svg_inline(border=4, omitsize=True, light="#ffffff"))}


def _rows(subject: Subject) -> str:
    extra = subject.rows - subject.visible
    if not extra:
        return counted(subject.rows, "row", "rows")
    return _(
        "{rows} rows: {visible} that show and {extra} for the edges",
        rows=subject.rows,
        visible=subject.visible,
        extra=extra,
    )
