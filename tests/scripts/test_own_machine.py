"""Your own machine: the page works a pattern anew as the program does, and says what it can't.

`tests/cases/own-machine.json` drives both: 30 patterns made by lot, some in two sizes, what is typed
after `worksheet`, what the page is asked, and the numbers that both must come to; their steps and
events are compared as both tell them.
`tests/bench/own_machine.py` does the same with thousands.
"""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from stripewright.cli import main
from stripewright.pipeline.context import Options, make_context
from stripewright.pipeline.make import work_source
from stripewright.pipeline.output import Sound
from stripewright.pipeline.own_machine import OwnMachine, on_own_machine
from stripewright.pipeline.sources import read_sources
from support.axe import findings
from support.browser import until
from support.own_machines import ANSWERS, case_of, told_in
from support.papers import DEMO

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page


CASES = json.loads((Path(__file__).parents[1] / "cases" / "own-machine.json").read_text("utf-8"))
SLUG = "lamplit-bolster"
ANEW = ["--needles", "60", "--gauge", "14 sts x 22 rows / 10 cm", "--keep", "size"]


def test_the_program_comes_to_the_same():
    assert len(CASES) == 30
    for number, one in enumerate(CASES):
        assert case_of(one)["answer"] == one["answer"], number


def test_the_worksheet_says_the_same_rows(tmp_path: Path):
    """The command line, for the first cases: rows and stitches of its JSON."""
    from support.patterns import text_of

    (tmp_path / "content" / "patterns").mkdir(parents=True)
    file = tmp_path / "content" / "patterns" / "lot.md"
    for one in CASES[:8]:
        file.write_text(text_of(**{"swatch": None, **one["front"]}), "utf-8")
        done = CliRunner().invoke(
            main, ["worksheet", str(file), "--studio", str(tmp_path), "--json", *one["typed"]]
        )
        if one["answer"] is None:
            assert done.exit_code == 1
            continue
        found = json.loads(done.stdout)
        for piece, told in zip(found["pieces"], one["answer"]["pieces"], strict=True):
            assert piece["stitches"] == told["stitches"]
            plan = [[line["letter"], line["from"], line["to"]] for line in piece["plan"]]
            assert plan == told["plan"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["--needles", "3"], "--needles: error: 3 needles can't be right"),
        (["--gauge", "tight"], "--gauge: error: “tight” is not a gauge"),
        (["--swatch", "{stitches: 3}"], "--swatch: error: rows is missing"),
        (["--swatch", "{"], "--swatch: error: “{” is not a swatch"),
        (["--gauge", "14 sts x 20 rows / 4 in", "--swatch", "x"], "both say the gauge"),
        (["--keep", "size"], "--keep says what stays"),
    ],
)
def test_what_is_wrong_is_told(typed: list[str], said: str):
    file = str(DEMO.root / "content" / "patterns" / f"{SLUG}.md")
    done = CliRunner().invoke(main, ["worksheet", file, "--studio", str(DEMO.root), *typed])
    assert done.exit_code in (1, 2)
    assert said in done.stderr + done.stdout


@pytest.mark.browser
def test_the_page_comes_to_the_same(profile: Callable[..., Any]):
    """30 patterns and machines, in a real browser: rows exactly, the rest to the digit shown."""
    page = profile().new_page()
    cases = [case_of(one) for one in CASES]
    assert any(one["size"] == "small" for one in cases)
    for number, (told, one) in enumerate(zip(told_in(page, cases), cases, strict=True)):
        if one["answer"] is None:
            assert "refused" in told, number
        else:
            assert told["answer"] == CASES[number]["answer"], number
            assert told["words"] == json.loads(json.dumps(one["words"])), number


def opened(page: Page, site: Path, slug: str = SLUG, ending: str = "") -> None:
    page.goto((site / "patterns" / slug / "index.html").as_uri() + ending)


def typed_in(page: Page, needles: str, stitches: str, rows: str, keep: str) -> None:
    summary = page.get_by_text("Work it for my needles")
    summary.click()
    page.get_by_label("Needles", exact=True).fill(needles)
    page.get_by_label("Stitches in 10 cm", exact=True).fill(stitches)
    page.get_by_label("Rows in 10 cm", exact=True).fill(rows)
    page.get_by_label("Keep", exact=True).select_option(keep)
    page.get_by_role("button", name="Work it out").click()
    until(lambda: page.locator(".own-banner").is_visible())


def plan_of(page: Page, piece: str) -> list[list[Any]]:
    rows = page.locator(
        f'table.plan[data-piece="{piece}"]:not([data-size]) [data-letter][data-first]'
    )
    told: list[list[Any]] = rows.evaluate_all(
        "rows => rows.map((r) => [r.dataset.letter, Number(r.dataset.first), Number(r.dataset.last)])"
    )
    return told


def worksheet(slug: str, *typed: str) -> dict[str, Any]:
    file = str(DEMO.root / "content" / "patterns" / f"{slug}.md")
    done = CliRunner().invoke(
        main, ["worksheet", file, "--studio", str(DEMO.root), "--json", *typed]
    )
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.mark.browser
@pytest.mark.parametrize("phone", [False, True])
def test_a_viewer_fits_it_to_their_machine(profile, demo_site: Path, phone: bool):
    """Plan, materials, steps, schematic and counter; shared by its address; and back again."""
    context = profile(phone=phone)
    page = context.new_page()
    opened(page, demo_site)
    before = page.locator("article.pattern").inner_text()
    typed_in(page, "60", "14", "22", "size")
    for piece in worksheet(SLUG, *ANEW)["pieces"]:
        wanted = [[line["letter"], line["from"], line["to"]] for line in piece["plan"]]
        assert plan_of(page, piece["name"]) == wanted
    assert "60 stitches, 94 rows" in page.locator("table.plan caption").first.inner_text()
    steps = page.locator("ol.steps").first.inner_text()
    assert "knit until RC 014" in steps
    assert "Cast on 60 stitches" in steps
    assert "2 balls of 100 g" in page.locator(".materials").inner_text()
    assert "as designed" in page.locator(".own-banner").inner_text()
    assert "94 rows" in str(page.locator("figure[data-piece] svg").first.text_content())
    assert page.evaluate("document.documentElement.scrollWidth") <= (360 if phone else 1440)
    address = page.evaluate("location.hash")
    page.get_by_role("button", name="Keep count").click()
    assert "14 rows left" in str(page.locator(".count-left").text_content())
    page.keyboard.press("Escape")

    other = profile().new_page()
    opened(other, demo_site, ending=address)
    until(lambda: other.locator(".own-banner").is_visible())
    assert plan_of(other, "cover") == plan_of(page, "cover")

    page.locator(".own-banner").get_by_role("button", name="As designed").click()
    text = page.locator("article.pattern").inner_text()
    assert not page.locator(".own-banner").is_visible()
    assert plan_of(page, "cover")[0] == ["A", 1, 13]
    head = before.partition("Your own machine")[0]
    assert text.startswith(head)
    assert page.evaluate("location.hash") == ""


def written_anew(slug: str, own: OwnMachine, size: str = "base") -> Sound:
    """The demo's pattern, or one size of it, worked and written by the program."""
    sources, _ = read_sources(DEMO)
    context, _ = make_context(DEMO, sources, Options(date(2026, 11, 25)))
    assert context is not None
    source = next(one for one in sources.of("patterns") if one.stem == slug)
    done = work_source(source, context.settings)
    assert done.sound is not None
    sound = Sound(done.sound.worked.of_size(size), done.sound.written.of_size(size))
    return on_own_machine(own, sound, done.document, done.settings or context.settings)[0]


def plainly(text: str) -> str:
    """A step's words without their line breaks."""
    return re.sub(r"\s+", " ", text).strip()


@pytest.mark.browser
@pytest.mark.parametrize(
    ("slug", "needles", "keep", "size"),
    [
        (SLUG, 60, "size", ""),
        ("kettle-wrist-warmers", 60, "size", "chunky"),
        ("a-year-on-the-harbour-wall", 72, "rows", ""),
        ("two-tides-hat", 66, "size", "base"),
        ("two-tides-hat", 66, "proportions", "slouchy"),
        ("regatta-bunting", 48, "proportions", ""),
        ("winter-forecast-scarf", 48, "proportions", ""),
    ],
)
def test_steps_and_events_are_the_programs(
    profile, demo_site: Path, *, slug: str, needles: int, keep: str, size: str
):
    own = OwnMachine(needles, "14 sts x 22 rows / 10 cm", None, keep)
    sound = written_anew(slug, own, size or "base")
    page = profile().new_page()
    of_size = f"&size={size}" if size else ""
    opened(page, demo_site, slug, f"#own={needles}~1.4~2.2~{keep}{of_size}")
    within = f'[data-in-size="{size}"] ' if size else ""
    until(lambda: page.locator(".own-banner:visible").count(), 1)
    steps = page.locator(f"{within}ol.steps > li[id]").evaluate_all(
        "all => all.map((one) => [one.querySelector('input').dataset.step,"
        " one.querySelector('.step-words').textContent])"
    )
    inner = f"{size}/" if size not in ("", "base") else ""
    assert [[key, plainly(text)] for key, text in steps] == [
        [f"{inner}{step.key}", plainly(f"{step.number}. {step.title} {step.text}")]
        for group in sound.written.groups for step in group.steps
    ]  # fmt: skip
    assert page.locator(f"{within}ol.steps .own-note").count() == 0
    numbered = " ".join(page.locator(f"{within}figure.plate.wide svg desc").all_text_contents())
    for step in sound.written.groups[-1].steps:
        if f". {step.title}." in numbered:
            assert f" {step.number}. {step.title}." in numbered
    for piece in sound.worked.pieces:
        events = page.locator(f'{within}table.plan[data-piece="{piece.key}"] .event')
        told = events.evaluate_all(
            "all => all.map((one) => [one.dataset.event, Number(one.dataset.at), one.dataset.title,"
            " one.querySelector('td').textContent])"
        )
        assert told == [
            [one.kind, one.row, one.title, one.text] for one in sound.written.events[piece.key]
        ]


@pytest.mark.browser
@pytest.mark.parametrize("phone", [False, True])
def test_each_size_is_worked_and_shared_by_its_address(profile, demo_site: Path, phone: bool):
    """As `worksheet --size` has it; the counter knows it, and one tap leads back."""
    slug, ending = "two-tides-hat", "#size-child"
    page = profile(phone=phone).new_page()
    opened(page, demo_site, slug, ending)
    child = page.locator('[data-in-size="child"]:visible').first
    designed = child.inner_text()
    page.get_by_text("Work it for my needles").click()
    assert page.get_by_label("Needles", exact=True).input_value() == "54"
    page.get_by_label("Needles", exact=True).fill("48")
    page.get_by_label("Stitches in 10 cm", exact=True).fill("14")
    page.get_by_label("Rows in 10 cm", exact=True).fill("22")
    page.get_by_label("Keep", exact=True).select_option("size")
    page.get_by_role("button", name="Work it out").click()
    until(lambda: page.locator(".own-banner:visible").count(), 1)
    typed = ["--needles", "48", "--gauge", "14 sts x 22 rows / 10 cm", "--keep", "size"]

    def shown(where: Page, size: str) -> list[list[Any]]:
        rows = where.locator(f'[data-in-size="{size}"] table.plan [data-letter][data-first]')
        told: list[list[Any]] = rows.evaluate_all(
            "all => all.map((r) => [r.dataset.letter, Number(r.dataset.first),"
            " Number(r.dataset.last)])"
        )
        return told

    for size in ("base", "child", "slouchy"):
        found = worksheet(slug, *typed, "--size", size)
        lines = [[one["letter"], one["from"], one["to"]] for one in found["pieces"][0]["plan"]]
        assert shown(page, size) == lines
    assert "Cast on 48 stitches" in child.inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") <= (360 if phone else 1440)
    page.get_by_role("button", name="Keep count").click()
    rows = shown(page, "child")[0][2]
    until(lambda: page.locator(".count-left").text_content(), f"{rows} rows left")
    page.keyboard.press("Escape")

    address = page.evaluate("location.hash")
    assert "size=child" in address
    other = profile().new_page()
    opened(other, demo_site, slug, address)
    until(lambda: other.locator(".own-banner:visible").count(), 1)
    assert other.locator('[data-in-size="child"]:visible').count() > 0
    assert shown(other, "child") == shown(page, "child")

    page.locator(".own-banner:visible").get_by_role("button", name="As designed").click()
    until(lambda: page.locator(".own-banner:visible").count(), 0)
    page.get_by_text("Work it for my needles").click()
    until(child.inner_text, designed)
    assert page.evaluate("location.hash") == "#size=child"


@pytest.mark.browser
def test_a_size_that_cant_be_worked_stays_as_designed_and_says_why(profile, demo_site: Path):
    page = profile().new_page()
    opened(page, demo_site, "two-tides-hat", "#own=~1.2~0.25~size&size=base")
    banner = page.locator(".own-banner:visible")
    until(banner.count, 1)
    assert banner.inner_text().startswith("Worked for your machine: 60 needles")
    page.locator('[data-choose="child"]').click()
    until(lambda: "This size is as designed: Hat: 10 rows are too few" in banner.inner_text())
    assert page.locator('[data-in-size="child"] table.plan [data-last="85"]').count() == 1


@pytest.mark.browser
def test_a_swatch_and_inches(profile, demo_site: Path):
    page = profile().new_page()
    opened(page, demo_site)
    page.get_by_text("Work it for my needles").click()
    page.get_by_label("Counted over", exact=True).select_option("4 in")
    assert page.get_by_label("Stitches in 4 in", exact=True).input_value() == "12.7"
    page.get_by_text("From a swatch").click()
    for label, value in (("Stitches of a swatch", "30"), ("Rows of a swatch", "44"),
                         ("Width of a swatch in in", "8"), ("Length of a swatch in in", "8")):  # fmt: skip
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_role("button", name="Work it out").click()
    until(lambda: page.locator(".own-banner").is_visible())
    assert "15 stitches and 22 rows to 4 in" in page.locator(".own-banner").inner_text()


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(profile, demo_site: Path, scheme: str):
    page = profile(complaints=False, color_scheme=scheme).new_page()
    opened(page, demo_site)
    typed_in(page, "60", "14", "22", "size")
    assert findings(page, scheme) == []


@pytest.mark.browser
def test_what_is_refused_leaves_the_page_as_it_was(profile, demo_site: Path):
    page = profile().new_page()
    opened(page, demo_site)
    page.get_by_text("Work it for my needles").click()
    page.get_by_label("Needles", exact=True).fill("3")
    page.get_by_role("button", name="Work it out").click()
    assert "from 4 to 1000" in page.locator(".own-said").inner_text()
    assert plan_of(page, "cover")[0] == ["A", 1, 13]


@pytest.mark.browser
def test_it_comes_when_it_is_first_opened(profile, demo_site: Path):
    page = profile().new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.rpartition("/")[2]))
    opened(page, demo_site)
    assert not [name for name in asked if name.startswith(("own-machine", "numbers"))]
    page.get_by_text("Work it for my needles").click()
    until(lambda: page.get_by_label("Needles", exact=True).count(), 1)
    assert [name for name in asked if name.startswith(("own-machine", "numbers"))]


@pytest.mark.browser
def test_a_paid_patterns_public_page_works_sizes_alone(profile, demo_site: Path):
    slug = "night-ferry-draught-excluder"
    page = profile().new_page()
    opened(page, demo_site, slug)
    balls = page.locator(".materials").inner_text()
    typed_in(page, "60", "12.5", "20", "rows")
    assert "15.3 cm" in page.locator('[data-own="size"]').first.inner_text()
    assert page.locator(".materials").inner_text() == balls
    assert "balls to buy are as designed" in page.locator(".own-banner").inner_text()


def test_what_a_paid_patterns_public_page_carries_tells_no_rows(demo_site: Path):
    file = demo_site / "patterns" / "night-ferry-draught-excluder" / "numbers.js"
    data = json.loads(re.sub(r"^.*?detail:|\}\)\);\s*$", "", file.read_text("utf-8")))
    assert not {"yarns", "steps", "telling", "sizes"} & data.keys()
    for piece in data["pieces"]:
        assert not ANSWERS & piece.keys()
        assert piece["length"] == round(piece["length"])
