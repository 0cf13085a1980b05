"""Your own machine: the page works a pattern anew as the program does, and says what it can't.

`tests/cases/own-machine.json` drives both: 30 patterns made by lot, some in two sizes, what is typed
after `worksheet`, what the page is asked, and the numbers that both must come to; their steps and
events are compared as both tell them.
`tests/bench/own_machine.py` does the same with thousands.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from stripewright.pipeline.own_machine import OwnMachine
from support.axe import findings
from support.browser import until
from support.demo import DEMO
from support.own_machine_pages import (
    SLUG,
    opened,
    plainly,
    plan_of,
    typed_in,
    worksheet,
    written_anew,
)
from support.own_machines import ANSWERS, case_of, told_in
from support.studio_here import run

if TYPE_CHECKING:
    from collections.abc import Callable


CASES = json.loads((Path(__file__).parents[1] / "cases" / "own-machine.json").read_text("utf-8"))
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
        done = run("worksheet", str(file), "--studio", str(tmp_path), "--json", *one["typed"])
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
        (["--swatch", "{stitches: 3}"], "--swatch: error: swatch has no rows"),
        (["--swatch", "{"], "--swatch: error: “{” is not a swatch"),
        (["--gauge", "14 sts x 20 rows / 4 in", "--swatch", "x"], "both say the gauge"),
        (["--keep", "size"], "--keep says what stays"),
    ],
)
def test_what_is_wrong_is_told(typed: list[str], said: str):
    file = str(DEMO.root / "content" / "patterns" / f"{SLUG}.md")
    done = run("worksheet", file, "--studio", str(DEMO.root), *typed)
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
