"""A pack: everything that a buyer of a pattern gets, as files and as one zip of them."""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING

from stripewright.addresses import pack_page, pdf_name
from stripewright.catalogue import _, plain
from stripewright.paper.pattern_data import pattern_address
from stripewright.paper.pattern_pdf import PAPER_SIZES, pattern_pdfs
from stripewright.paper.picture import png
from stripewright.paper.sheets import blank_sheet, sheets_pdf

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.pattern.sheets import Sheets
    from stripewright.view.views import PatternView
    from stripewright.words.written import PatternText

PICTURE_PX = 1600
"""Width of the drawings as PNG: a shop's largest preview, from common practice, no source."""

CHANGES = "changes.txt"
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The first day that a zip can say: the clock is never asked."""
_XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
_PACKED = (".pdf", ".png")
"""Files that are deflated inside already."""


def make_pack(
    worked: WorkedPattern,
    view: PatternView,
    written: PatternText,
    settings: Settings,
    template_files: Mapping[str, bytes],
    *,
    pictures: Mapping[str, bytes] | None = None,
    page: bytes,
    changes: bytes,
) -> dict[str, bytes]:
    """A pattern's pack.

    Args:
        worked: its numbers.
        view: the same as it is told, with its drawings.
        written: its words.
        settings: the studio's.
        template_files: the theme's files by their path inside it.
        pictures: file name -> bytes of its photos and of the pictures in its text.
        page: the whole pattern as one page.
        changes: what its versions brought.

    Returns:
        Path inside the pack's folder -> bytes: page and changes, the pattern (or each of its sizes)
        and its blank planning sheet as PDF on both papers, drawings as SVG and PNG, the photos,
        the licence, and `SLUG.zip` with all of these in a folder of the pattern's name.
    """
    slug, files = worked.slug, {pack_page(worked.slug): page, CHANGES: changes}
    pdfs = pattern_pdfs(worked, view, written, settings, template_files, pictures=pictures)
    files |= {pdf_name(slug, paper, size): data for (size, paper), data in pdfs.items()}
    for size in PAPER_SIZES:
        sheet = blank_sheet(worked, size, settings, template_files)
        files[pdf_name(f"{slug}-planning-sheet", size)] = sheet
    files |= _shown(view, pictures or {})
    address = pattern_address(settings, view.slug) or ""
    heading = heading_of(view.title, view.version, view.credit)
    files[_("licence.txt")] = licence_text(heading, view.licence, address)
    return _with_zip(slug, files)


def _shown(view: PatternView, pictures: Mapping[str, bytes]) -> dict[str, bytes]:
    """Its drawings as SVG and PNG, and its photos."""
    files: dict[str, bytes] = {}
    for drawing in view.drawings.everything() if view.drawings else ():
        files[f"drawings/{drawing.name}.svg"] = f"{_XML}{drawing.svg}\n".encode()
        files[f"drawings/{drawing.name}.png"] = png(drawing.svg, PICTURE_PX)
    for photo in view.photos:
        if photo.file in pictures:
            files[f"photos/{photo.file}"] = pictures[photo.file]
    return files


def sheets_pack(
    slug: str,
    sheets: Sheets,
    settings: Settings,
    template_files: Mapping[str, bytes],
    *,
    changes: bytes,
) -> dict[str, bytes]:
    """The pack of a planning sheet or a book of sheets: both sizes, licence, changes and a zip."""
    files = {CHANGES: changes} | {
        pdf_name(slug, size): sheets_pdf(sheets, size, settings, template_files)[0]
        for size in PAPER_SIZES
    }
    heading = heading_of(sheets.title, sheets.version, settings.maker)
    files[_("licence.txt")] = licence_text(heading, plain(settings.licence))
    return _with_zip(slug, files)


def heading_of(title: str, version: str, maker: str) -> tuple[str, str]:
    """The first lines of a pack's texts: what it is, and by whom."""
    told = _("{pattern}, version {version}", pattern=title, version=version)
    return told, _("by {maker}", maker=maker)


def licence_text(heading: Sequence[str], licence: str, address: str = "") -> bytes:
    """What a buyer may do, as a text file that opens anywhere."""
    lines = [*heading, "", licence, *(["", address] if address else [])]
    return ("\r\n".join(lines) + "\r\n").encode()


def _with_zip(slug: str, files: Mapping[str, bytes]) -> dict[str, bytes]:
    return {**files, f"{slug}.zip": zipped(slug, files)}


def zipped(folder: str, files: Mapping[str, bytes]) -> bytes:
    """The files in one folder of a zip: sorted, without a clock, the same on every system."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for path in sorted(files):
            entry = zipfile.ZipInfo(f"{folder}/{path}", _EPOCH)
            entry.create_system = 3  # Unix, wherever it is made
            entry.external_attr = 0o644 << 16
            packed = path.endswith(_PACKED)
            entry.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
            archive.writestr(entry, files[path])
    return out.getvalue()
