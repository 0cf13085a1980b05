"""Every figure of every demo pattern, in each of its sizes and in both systems, is one figure.

Page, paper, worksheet and counter are read back as their readers see them: the page's own part for
a size, a PDF of that size alone, `worksheet --size`, and the plan's attributes that the counter goes
by.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from html import unescape
from typing import TYPE_CHECKING, NamedTuple

import pytest

from stripewright.catalogue import speaking
from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.paper.pattern_pdf import pattern_pdf
from stripewright.tables import show_worksheet
from stripewright.view.make import pattern_view
from stripewright.view.site import site_view
from support.demo import DEMO, demo_settings
from support.papers import PATTERNS, Made, made_from, squeezed, tool

if TYPE_CHECKING:
    from stripewright.draw.draw import Drawings
    from stripewright.draw.drawing import Drawing
    from stripewright.pattern.settings import Settings
    from stripewright.view.views import PatternView

SYSTEMS = ("metric", "imperial")
SIZES = tuple(
    (slug, size)
    for slug in PATTERNS
    for size in (made_from((DEMO.content / f"patterns/{slug}.md").read_bytes(), slug)
                 .worked.size_keys or ("base",))
)  # fmt: skip

_NUMBER = r"(?:[\d,.]*\d[⅛¼⅜½⅝¾⅞]?|[⅛¼⅜½⅝¾⅞])"
_METRIC, _IMPERIAL = r"(?:cm|m|g)\b", r"(?:in|yd|oz)\b"
PAIRS = {
    "metric": re.compile(rf"({_NUMBER} {_METRIC}) \((?:about )?({_NUMBER} {_IMPERIAL})\)"),
    "imperial": re.compile(rf"({_NUMBER} {_IMPERIAL}) \((?:about )?({_NUMBER} {_METRIC})\)"),
}
OTHERS = re.compile(
    r"[£€$][\d.]+|[\d.]+ stitches and [\d.]+ rows to (?:10 cm|4 in)|\d+ needles?\b|\d+ balls? of\b"
    r"|(?:about )?\d+ (?:h|min)(?: \d+ min)? to \d+ (?:h|min)(?: \d+ min)?"
)
"""Money, tension, needles, balls, and how long it takes."""
READINGS = re.compile(r"RC (\d{3,})")


class Told(NamedTuple):
    """A pattern in a system of units."""

    made: Made
    settings: Settings
    view: PatternView
    page: str


def blank(drawings: Drawings) -> Drawings:
    """The drawings without what they show: their words aren't compared, and they take time."""

    def empty(one: Drawing) -> Drawing:
        return replace(one, svg='<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"></svg>')

    return replace(
        drawings,
        finished=empty(drawings.finished),
        strip=empty(drawings.strip),
        assembly=drawings.assembly and empty(drawings.assembly),
        schematics={key: empty(one) for key, one in drawings.schematics.items()},
        colourways={key: (empty(a), empty(b)) for key, (a, b) in drawings.colourways.items()},
        sizes={key: blank(one) for key, one in drawings.sizes.items()},
    )


@cache
def settings_in(system: str) -> Settings:
    return demo_settings().model_copy(update={"units": system})


@cache
def pages(system: str) -> Renderer:
    theme = Theme("tideline", DEMO.theme_files("tideline"))
    return Renderer(site_view(settings_in(system)), theme)


@cache
def told(slug: str, system: str) -> Told:
    settings = settings_in(system)
    made = made_from((DEMO.content / f"patterns/{slug}.md").read_bytes(), slug, settings)
    view = pattern_view(made.worked, made.written, blank(made.drawings), settings)
    (html,) = pages(system).pattern(view).values()
    page = re.sub(r"<(script|svg)\b.*?</\1>", " ", html.decode(), flags=re.DOTALL)
    return Told(made, settings, view, page[page.index("<article") : page.index("</article>")])


def part(page: str, size: str) -> str:
    """What of a page is told of a size: its own section; all but those, of the written one."""
    sections = re.split(r'(?=<section class="size")', page)
    if size == "base":
        return sections[0]
    (one,) = [section for section in sections if f'data-in-size="{size}"' in section[:120]]
    return one.partition('<footer class="pattern-foot"')[0]


def words(html: str) -> str:
    apart = re.sub(r"(?=</?(?:li|td|dd|p|b|th|dt|span class=.line)\b)", " ", html)
    return squeezed(unescape(re.sub(r"<[^>]+>", "", apart)))


def pairs(text: str, system: str) -> set[tuple[str, str]]:
    """Each figure as metric and imperial."""
    found = PAIRS[system].findall(text)
    return set(found if system == "metric" else [(metric, inches) for inches, metric in found])


def paper(slug: str, size: str, system: str, folder) -> str:
    one = told(slug, system)
    alone = one.view.of_size(size) if one.made.worked.sizes else one.view
    with speaking(one.settings.words):
        pdf = pattern_pdf(alone, one.made.written.of_size(size), one.settings, "a4",
                          DEMO.theme_files("tideline"))  # fmt: skip
    return squeezed(tool("pdftotext", pdf, folder, "-raw"))


def worksheet(slug: str, size: str, system: str, capsys) -> str:
    one = told(slug, system)
    capsys.readouterr()
    show_worksheet(one.made.worked.of_size(size), one.settings, one.made.written.of_size(size))
    return capsys.readouterr().out


def price(slug: str, system: str) -> set[str]:
    """What the pattern itself costs: no figure of it."""
    offer = told(slug, system).view.offer
    return {offer.price} if offer else set()


def counted(html: str) -> list[tuple[str, int]]:
    """What the counter counts: each stripe's letter and reading, by the plan's attributes."""
    return [
        (letter, int(last))
        for table in re.findall(r'<table class="plan".*?</table>\n</div>', html, re.DOTALL)
        for letter, last in re.findall(r'data-letter="(\w+)"[^>]*? data-last="(\d+)"', table)
    ]


def shown(html: str) -> list[tuple[str, int]]:
    """The same as the plan shows it: rows of the table, and times of what repeats."""
    found = []
    for table in re.findall(r'<table class="plan".*?</table>\n</div>', html, re.DOTALL):
        for row in re.findall(
            r"<tr data-letter.*?</tr>|<span class=\"until\".*?</span>", table, re.DOTALL
        ):
            text = words(row)
            letter, reading = re.match(r"(\w+)\b", text.strip())[1], re.findall(r"\d{3,}", text)[-1]
            found.append((letter, int(reading)))
    return found


def listed(sheet: str) -> list[tuple[str, int]]:
    """The same by the worksheet's table."""
    found = []
    for line in sheet.splitlines():
        cells = [cell.strip() for cell in line.strip("│ ").split("│")]
        if re.fullmatch(r"[A-Z]", cells[0]) and re.fullmatch(r"\d{3,}", cells[-1]):
            found.append((cells[0], int(cells[-1])))
        elif again := re.search(r"│ \d+: ((?:[A-Z] \d+(?:, )?)+)", line):
            found += [(one[0], int(one[2:])) for one in again[1].split(", ")]
    return found


def bought(sheet: str) -> list[str]:
    """Lengths, masses and prices of the worksheet's yarns, in its own units."""
    rows = [line.split("│") for line in sheet.splitlines() if line.count("│") == 8]
    return [
        cell.strip() for row in rows for cell in (*row[3:5], *row[6:8]) if re.search(r"\d", cell)
    ]


@pytest.mark.parametrize(("slug", "size"), SIZES)
def test_one_figure_everywhere(slug, size, tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "400")
    found = {}
    for system in SYSTEMS:
        html = part(told(slug, system).page, size)
        page, pdf = words(html), paper(slug, size, system, tmp_path)
        sheet = worksheet(slug, size, system, capsys)
        found[system] = pairs(page, system)
        assert len(found[system]) > 5
        assert found[system] == pairs(pdf, system)
        certain = "\n".join(line for line in sheet.splitlines() if ": between " not in line)
        assert pairs(certain, system) - found[system] == set()
        others = set(OTHERS.findall(page)) - price(slug, system)
        assert others - set(OTHERS.findall(pdf)) == set()
        assert set(OTHERS.findall(certain)) - others == set()
        stripes = counted(html)
        assert stripes == shown(html) == listed(sheet)
        assert {int(one) for one in READINGS.findall(page)} <= {
            0,
            *map(int, re.findall(r"\d{3,}", pdf)),
        }
        told_in_own = {one for pair in found[system] for one in pair} | others
        assert {one.removeprefix("about ") for one in bought(sheet)} - told_in_own == set()
        place = pdf.index(" The plan ")
        plan = pdf[place : pdf.index(" Step by step ", place)]
        for letter, reading in stripes:  # each stripe's letter, and not far behind it its reading
            seen = re.search(rf"\b{letter} .{{0,200}}?(?<!\d)0*{reading}\b", plan)
            assert seen, (letter, reading)
    assert found["metric"] == found["imperial"]
