"""A worked pattern with its words and drawings, as the data that the print template sets."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any
from urllib.parse import urljoin, urlsplit

from stripewright.paper import markdown
from stripewright.paper.amounts import Amounts, span
from stripewright.paper.materials import supplies, yarns
from stripewright.paper.plans import piece

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.compute.worked import WorkedGauge, WorkedPattern, WorkedPiece
    from stripewright.draw.drawing import Drawing, Drawings
    from stripewright.paper.photo import Photo
    from stripewright.pattern.settings import Settings
    from stripewright.words.written import StepGroup, Written

Data = dict[str, Any]

UNDATED = date(2000, 1, 1)
"""PDF/A wants a date; a draft has none, and the clock is never asked."""

LEVELS = {"basic": "Basic", "easy": "Easy", "intermediate": "Intermediate", "complex": "Complex"}


def pattern_data(
    worked: WorkedPattern,
    written: Written,
    drawings: Drawings,
    settings: Settings,
    pictures: Mapping[str, Photo],
) -> Data:
    """Everything that the pattern's print template shows."""
    pattern = worked.pattern
    amounts = Amounts(settings.units == "metric", settings.language)
    address = pattern_address(settings, worked.slug)
    link = linker(address)
    return {
        **document(pattern.title, pattern.updated or pattern.published, settings),
        "summary": pattern.summary,
        "kind": "" if pattern.kind == "other" else pattern.kind.capitalize(),
        "credit": pattern.credit or settings.maker,
        "version": pattern.version,
        "updated": amounts.day(pattern.updated) if pattern.updated else "",
        "finished": picture(drawings.finished),
        "strip": picture(drawings.strip),
        "assembly": picture(drawings.assembly) if drawings.assembly else None,
        "facts": facts(worked, settings, amounts),
        "yarns": yarns(worked, settings, amounts),
        "supplies": supplies(worked, amounts),
        "pieces": [
            piece(part, worked, amounts) | {"drawing": picture(drawings.schematics[part.key])}
            for part in worked.pieces
        ],
        "sizes": [_size(one.title, one.worked, settings, amounts) for one in worked.sizes],
        "groups": [_group(group) for group in written.groups],
        "cautions": [{"title": c.title, "text": c.text} for c in written.cautions],
        "corrections": [
            {"day": amounts.day(c.date), "text": c.text}
            for c in sorted(pattern.corrections, key=lambda c: c.date, reverse=True)
        ],
        "licence": pattern.licence or settings.licence,
        "address": address or "",
        "qr": qr(address) if address else "",
        "film": pattern.video.url if pattern.video else "",
        "intro": markdown.as_data(written.intro, link=link, pictures=pictures),
        "body": markdown.as_data(written.body, link=link, pictures=pictures),
    }


def document(title: str, day: date | None, settings: Settings) -> Data:
    """What every printed document says of itself."""
    lang, _, region = settings.language.partition("-")
    shown = day or UNDATED
    return {
        "title": title,
        "studio": settings.title,
        "maker": settings.maker,
        "lang": lang,
        "region": region or None,
        "date": [shown.year, shown.month, shown.day],
        "terms": settings.terms,
    }


def picture(drawing: Drawing) -> Data:
    """A drawing with its words."""
    return {
        "svg": drawing.svg,
        "alt": drawing.description,
        "title": drawing.title,
        "width": drawing.width,
        "height": drawing.height,
    }


def pattern_address(settings: Settings, slug: str) -> str | None:
    """Where the pattern's page stands on the web, if the studio says where it is."""
    return f"{settings.address}patterns/{slug}/" if settings.address else None


def linker(address: str | None) -> Callable[[str], str]:
    """Makes links whole, from the page that they stand on; those that paper can't follow are ""."""

    def whole(target: str) -> str:
        found = urljoin(address, target) if address else target
        return found if urlsplit(found).scheme in ("https", "http", "mailto") else ""

    return whole


def qr(address: str) -> str:
    """The address as a QR code, in SVG: error correction M, quiet zone of four modules."""
    import segno  # noqa: PLC0415  # only paper needs it

    code = segno.make_qr(address, error="m")
    return str(code.svg_inline(border=4, omitsize=True, light="#ffffff"))


def facts(worked: WorkedPattern, settings: Settings, amounts: Amounts) -> list[list[str]]:
    """What to know before beginning: label and value."""
    pattern = worked.pattern
    bed = "Circular" if pattern.machine.bed == "circular" else "Flat"
    gauge_word = "Tension" if settings.terms == "uk" else "Gauge"
    shown = [part for part in worked.pieces if part.lining_of is None] or list(worked.pieces)
    rows = [
        *(
            ["Finished size" if len(shown) == 1 else part.title, size(part, amounts)]
            for part in shown
        ),
        ["Machine", f"{bed} bed, {pattern.machine.needles} needles"],
        [gauge_word, gauge(worked.gauge, amounts)],
        ["Level", LEVELS[pattern.level]],
        ["Time", f"about {span(worked.time.total)}"],
    ]
    if worked.fit:
        rows.insert(1, ["Fits", f"a head of {amounts.length(worked.fit.head_cm)}"])
    return rows


def gauge(worked: WorkedGauge, amounts: Amounts) -> str:
    """Stitches and rows, to half a stitch, over 10 cm and over 4 in."""
    metric = _counts(worked.stitches_10cm, worked.rows_10cm, amounts) + " to 10 cm"
    imperial = _counts(worked.stitches_4in, worked.rows_4in, amounts) + " to 4 in"
    return "; ".join((metric, imperial) if amounts.metric_first else (imperial, metric))


def _counts(stitches: float, rows: float, amounts: Amounts) -> str:
    half_stitches, half_rows = (round(count * 2) / 2 for count in (stitches, rows))
    return f"{amounts.number(half_stitches, 1)} stitches × {amounts.number(half_rows, 1)} rows"


def size(part: WorkedPiece, amounts: Amounts) -> str:
    """A piece made up: its sides, or its girth and length."""
    if part.solid:
        solid = part.solid
        return f"{amounts.sides(solid.width_cm, solid.length_cm, solid.thickness_cm)}, filled"
    if part.ring:
        around, high = amounts.length(part.made_up_length_cm), amounts.length(part.flat_width_cm)
        return f"{around} around, {high} high, a ring of two layers"
    if part.girth_cm is not None:
        around, long = amounts.length(part.girth_cm), amounts.length(part.made_up_length_cm)
        return f"{around} around, {long} long"
    return amounts.sides(part.made_up_width_cm, part.made_up_length_cm)


def _size(title: str, worked: WorkedPattern, settings: Settings, amounts: Amounts) -> Data:
    """The same pattern for another bed, gauge or yarn: what differs, and its plans."""
    return {
        "title": title,
        "facts": facts(worked, settings, amounts),
        "yarns": yarns(worked, settings, amounts),
        "pieces": [piece(part, worked, amounts) for part in worked.pieces],
    }


def _group(group: StepGroup) -> Data:
    return {
        "title": group.title,
        "making_up": group.key == "making-up",
        "steps": [
            {
                "number": step.number,
                "title": step.title,
                "text": step.text,
                "letter": step.letter or "",
            }
            for step in group.steps
        ],
    }
