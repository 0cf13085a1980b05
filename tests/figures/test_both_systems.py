"""The demo in both systems: one figure on page, paper, worksheet and counter; American throughout."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from stripewright.cli import main
from support.american import american_demo
from support.demo import CONTENT
from support.papers import PATTERNS

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.slow

PUBLISHED = [
    slug for slug in PATTERNS if "\npublished:" in (CONTENT / f"patterns/{slug}.md").read_text()
]
DAY = "2027-12-31"
"""All of the demo but its drafts is published."""

BRITISH = re.compile(
    r"(?<![\w-])(\w*colour\w*|centre\w*|grey\w*|cast(?:s|ing)?[ -]off|tension|"
    r"stocking stitch|\w*metres?|fibres?|draught\w*|neighbour\w*|favourite\w*|licence|moulds?|"
    r"woollen|labelled|cot|health visitor|unravelled|\w+isation|\w+ised)(?![\w-])",
    re.IGNORECASE,
)
"""Words and spellings that American English hasn't got; common knowledge, no source."""
NO_WORDS = ("promised", "raised", "surprised", "advised", "night-ferry-draught-excluder")

METRIC_FIRST = re.compile(
    r"\d (?:cm|m|g) \((?:about )?[\d⅛¼⅜½⅝¾⅞.,]+ (?:in|yd|oz)\)|to 10 cm \(|\d cm · [\d⅛¼⅜½⅝¾⅞]"
)
_NUMBER = r"(?:[\d,.]*\d[⅛¼⅜½⅝¾⅞]?|[⅛¼⅜½⅝¾⅞])"
PAIRS = {
    "metric": re.compile(
        rf"({_NUMBER} cm) \(({_NUMBER} in)\)|({_NUMBER} m) \(({_NUMBER} yd)\)"
        rf"|({_NUMBER} g) \(({_NUMBER} oz)\)"
    ),
    "imperial": re.compile(
        rf"({_NUMBER} in) \(({_NUMBER} cm)\)|({_NUMBER} yd) \(({_NUMBER} m)\)"
        rf"|({_NUMBER} oz) \(({_NUMBER} g)\)"
    ),
}


def run(*words):
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.fixture(scope="module")
def studios(tmp_path_factory):
    """Both demos, with site and packs made, and the American one's sheets."""
    made = {}
    for system in PAIRS:
        folder = made[system] = tmp_path_factory.mktemp(system)
        if system == "imperial":
            american_demo(folder)
        else:
            shutil.copytree(CONTENT, folder / "content")
        run("publish", "--studio", folder, "--into", folder / "site", "--on", DAY, "--workers", 1)
        run("packs", "--studio", folder)
    run("sheets", "--studio", made["imperial"])
    return made


def words_of(path: Path) -> str:
    """What a file tells its reader, with what it tells those who can't see or have no scripts."""
    if path.suffix == ".pdf":
        told = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, check=True)
        return " ".join(told.stdout.decode().split())
    text = path.read_text(encoding="utf-8")
    named = re.findall(r'\b(?:alt|aria-label|title|content|data-title|data-name)="([^"]*)"', text)
    data = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text, re.DOTALL)
    scripts = re.findall(r'<script type="application/json" id="messages">(.*?)</script>', text)
    said = [word for one in scripts for words in json.loads(one).values()
            for word in ([words] if isinstance(words, str) else words)]  # fmt: skip
    text = re.sub(r"<(script|style)\b.*?</\1>", " ", text, flags=re.DOTALL)
    text = re.sub(r"(?=</?(?:li|td|dd|p|b|th|dt)\b)", " ", text)
    whole = " | ".join([re.sub(r"<[^>]+>", "", text), *named, *data, *said])
    return " ".join(html.unescape(html.unescape(whole)).split())


def told_files(folder):
    return [
        path
        for part in ("site", "packs", "sheets")
        for path in sorted((folder / part).rglob("*"))
        if path.suffix in {".html", ".xml", ".svg", ".pdf", ".txt"} and path.is_file()
    ]


def test_an_american_studio_says_nothing_in_british(studios):
    folder = studios["imperial"]
    files = told_files(folder)
    assert len(files) > 100
    found = []
    texts = {path.name: words_of(path) for path in files} | {
        f"worksheet {slug}": run("worksheet", "--studio", folder,
                                 folder / f"content/patterns/{slug}.md")
        for slug in PATTERNS
    }  # fmt: skip
    for name, text in texts.items():
        shown = re.sub(r"https?://\S+|colour: ", "", text)
        for word in NO_WORDS:
            shown = shown.replace(word, "")
        for rule in (BRITISH, METRIC_FIRST):
            found += [(name, shown[max(one.start() - 30, 0) : one.end() + 20])
                      for one in rule.finditer(shown)]  # fmt: skip
    assert found == []


def test_its_words_are_american_indeed(studios):
    page = words_of(studios["imperial"] / "site/patterns/lamplit-bolster/index.html")
    assert "Your own colors" in page
    assert "color A" in page
    assert "Print in these colors" in page
    assert (studios["imperial"] / "site/index.html").read_text().count('<html lang="en-US"') == 1
    sheet = words_of(studios["imperial"] / "site/sheets/index.html")
    assert "sheets to color in" in sheet


def pairs(text, system):
    found = set()
    for one in PAIRS[system].finditer(text):
        first, second = (part for part in one.groups() if part)
        found.add((first, second) if system == "metric" else (second, first))
    return found


def buyers_page(folder, slug):
    """The page with everything on it: the pack's, of a paid pattern."""
    pack = folder / f"packs/{slug}/{slug}.html"
    return pack if pack.exists() else folder / f"site/patterns/{slug}/index.html"


def buyers_pdfs(folder, slug):
    """Its PDF, or one a size."""
    for place in (folder / f"packs/{slug}", folder / f"site/patterns/{slug}"):
        found = [
            path for path in sorted(place.glob(f"{slug}*-a4.pdf")) if "planning" not in path.name
        ]
        if found:
            return found
    raise FileNotFoundError(slug)


@pytest.mark.parametrize("slug", PUBLISHED)
def test_every_figure_is_one_figure(studios, slug):
    found = {}
    for system, folder in studios.items():
        page = re.sub(
            r"<svg\b.*?</svg>", " ", buyers_page(folder, slug).read_text(), flags=re.DOTALL
        )
        shown = html.unescape(re.sub(r"<[^>]+>", " ", page[page.index("<article") :]))
        found[system] = pairs(" ".join(shown.split()), system)
        paper = set().union(*(pairs(words_of(pdf), system) for pdf in buyers_pdfs(folder, slug)))
        assert found[system] - paper == set()
        sheet = run("worksheet", "--studio", folder, folder / f"content/patterns/{slug}.md")
        # How sure an estimate is stands on the worksheet alone: "between 41 m and 55 m".
        told = "\n".join(line for line in sheet.splitlines() if ": between " not in line)
        assert pairs(told, system) - found[system] - paper == set()
        # The counter counts by the plan's own attributes: each is a reading of the worksheet.
        tables = re.findall(
            r'<table class="plan"((?![^>]*data-size)[^>]*>.*?)</table>', page, re.DOTALL
        )
        readings = {int(one) for table in tables for one in re.findall(r'data-last="(\d+)"', table)}
        assert readings
        assert readings <= {int(one) for one in re.findall(r"\b\d{3,4}\b", sheet)}
    assert found["metric"] == found["imperial"]


@pytest.mark.parametrize("slug", [one.stem for one in sorted((CONTENT / "patterns").glob("*.md"))
                                  if "access: paid" in one.read_text()])  # fmt: skip
def test_a_paid_page_rounds_once_in_each_system(studios, slug):
    """Whole centimetres and whole inches, both of the true size: neither is of the other."""
    public = words_of(studios["metric"] / f"site/patterns/{slug}/index.html")
    sizes = re.findall(r"about ([\d.]+) cm \(([\d.⅛¼⅜½⅝¾⅞]+) in\)", public)
    assert sizes
    assert all(part.isdecimal() for size in sizes for part in size)
