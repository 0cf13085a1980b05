"""A worked pattern with its words and drawings, as the data that the print template sets."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Any
from urllib.parse import urljoin, urlsplit

from stripewright.figures import Figures, rc, time_span
from stripewright.paper import markdown
from stripewright.paper.materials import supplies, yarns
from stripewright.paper.plans import piece

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from stripewright.compute.worked import FinishedSize, WorkedGauge, WorkedPattern
    from stripewright.draw.drawing import Drawing, Drawings
    from stripewright.paper.photo import Photo
    from stripewright.pattern.settings import Settings
    from stripewright.words.written import Step, StepGroup, Written

Data = dict[str, Any]

UNDATED = date(2000, 1, 1)
"""PDF/A wants a date; a draft has none, and the clock is never asked."""

LONG_RUN = 60
"""Stripes in a row that are told step by step on paper; the plan before them has more as well."""

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
    figures = Figures.of(settings)
    address = pattern_address(settings, worked.slug)
    link = linker(address)
    return {
        **document(pattern.title, pattern.updated or pattern.published, settings),
        "summary": pattern.summary,
        "kind": "" if pattern.kind == "other" else pattern.kind.capitalize(),
        "credit": pattern.credit or settings.maker,
        "version": pattern.version,
        "updated": figures.day(pattern.updated) if pattern.updated else "",
        "finished": picture(drawings.finished),
        "strip": picture(drawings.strip),
        "assembly": picture(drawings.assembly) if drawings.assembly else None,
        "facts": facts(worked, settings, figures),
        "yarns": yarns(worked, settings, figures),
        "supplies": supplies(worked, figures),
        "pieces": [
            piece(part, worked, figures) | {"drawing": picture(drawings.schematics[part.key])}
            for part in worked.pieces
        ],
        "sizes": [_size(one.title, one.worked, settings, figures) for one in worked.sizes],
        "groups": [_group(group) for group in written.groups],
        "cautions": [{"title": c.title, "text": c.text} for c in written.cautions],
        "corrections": [
            {"day": figures.day(c.date), "text": c.text}
            for c in sorted(pattern.corrections, key=lambda c: c.date, reverse=True)
        ],
        "licence": pattern.licence or settings.licence,
        "address": address or "",
        "qr": qr(address) if address else "",
        "film": pattern.video.url if pattern.video else "",
        "photos": [
            {"svg": shown.svg, "alt": photo.alt, "percent": shown.percent}
            for photo in pattern.photos
            if (shown := pictures.get(photo.file))
        ],
        "intro": markdown.as_data(written.intro, link=link, pictures=pictures),
        "body": markdown.as_data(written.before, link=link, pictures=pictures),
        "after": markdown.as_data(written.after, link=link, pictures=pictures),
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


@lru_cache(maxsize=4)
def qr(address: str) -> str:
    """The address as a QR code, in SVG: error correction M, quiet zone of four modules."""
    import segno  # noqa: PLC0415  # only paper needs it

    code = segno.make_qr(address, error="m")
    return str(code.svg_inline(border=4, omitsize=True, light="#ffffff"))


def facts(worked: WorkedPattern, settings: Settings, figures: Figures) -> list[list[str]]:
    """What to know before beginning: label and value."""
    pattern = worked.pattern
    bed = "Circular" if pattern.machine.bed == "circular" else "Flat"
    gauge_word = "Tension" if settings.terms == "uk" else "Gauge"
    sizes = worked.finished
    total = worked.time.total
    rows = [
        *(["Finished size" if len(sizes) == 1 else one.title, size(one, figures)] for one in sizes),
        ["Machine", f"{bed} bed, {pattern.machine.needles} needles"],
        [gauge_word, gauge(worked.gauge, figures)],
        ["Level", LEVELS[pattern.level]],
        ["Time", time_span(total.low, total.high)],
    ]
    if worked.fit:
        rows.insert(1, ["Fits", f"a head of {figures.length(worked.fit.head_cm)}"])
    return rows


def gauge(worked: WorkedGauge, figures: Figures) -> str:
    """Stitches and rows, over 10 cm and over 4 in."""
    return figures.gauge(
        (worked.stitches_10cm, worked.rows_10cm), (worked.stitches_4in, worked.rows_4in)
    )


def size(one: FinishedSize, figures: Figures) -> str:
    """A piece made up, in words."""
    wide, long = ("around", "high") if one.around else ("wide", "long")
    text = f"{figures.length(one.width_cm)} {wide}, {figures.length(one.length_cm)} {long}"
    if one.across:
        text = f"{figures.length(one.width_cm)} across"
    if one.thickness_cm:
        text += f", {figures.length(one.thickness_cm)} thick"
    return f"{text} ({one.note})" if one.note else text


def _size(title: str, worked: WorkedPattern, settings: Settings, figures: Figures) -> Data:
    """The same pattern for another bed, gauge or yarn: what differs, and its plans."""
    return {
        "title": title,
        "facts": facts(worked, settings, figures),
        "yarns": yarns(worked, settings, figures),
        "pieces": [piece(part, worked, figures) for part in worked.pieces],
    }


def _group(group: StepGroup) -> Data:
    steps: list[Data] = []
    for striped, run in groupby(group.steps, lambda step: step.technique == "stripe"):
        these = list(run)
        steps += _down_the_plan(these) if striped and len(these) > LONG_RUN else map(_step, these)
    return {"title": group.title, "making_up": group.key == "making-up", "steps": steps}


def _step(step: Step) -> Data:
    return {
        "number": step.number,
        "title": step.title,
        "text": step.text,
        "letter": step.letter or "",
    }


def _down_the_plan(steps: Sequence[Step]) -> list[Data]:
    """A long run of stripes: the plan has them all, so those between the ends are told in one."""
    first, second, third, *_, before, last = steps
    told = {
        "number": third.number,
        "title": f"Steps {third.number} to {before.number}",
        "text": "Knit on down the plan: change the yarn at each of its counter readings, and tick "
        f"the stripes off there, until the counter reads {rc(before.last or 0)}.",
        "letter": "",
    }
    return [_step(first), _step(second), told, _step(last)]
