"""A pattern in several sizes on one's own machine: each is worked, as `worksheet --size` has it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from support.browser import until
from support.demo import DEMO
from support.own_machine_pages import opened, worksheet
from support.studio_here import run

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Page


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


def test_the_worksheet_works_every_size_and_says_which_it_cant():
    slug, typed = "two-tides-hat", ["--needles", "66", "--keep", "size"]
    whole = worksheet(slug, *typed)
    assert [one["name"] for one in whole["sizes"]] == ["child", "slouchy"]
    for one in whole["sizes"]:
        assert one["pieces"] == worksheet(slug, *typed, "--size", one["name"])["pieces"]
    file = str(DEMO.root / "content" / "patterns" / f"{slug}.md")
    thick = ["--gauge", "12 sts x 2.5 rows / 10 cm", "--keep", "size"]
    done = run("worksheet", file, "--studio", str(DEMO.root), *thick)
    assert done.exit_code == 0
    assert "warning: size Child can't be worked so: 10 rows are too few" in done.stderr


@pytest.mark.browser
def test_own_colours_and_the_machine_stay_in_the_address_with_another_size(
    profile, demo_site: Path
):
    page = profile().new_page()
    opened(page, demo_site, "two-tides-hat", "#own=66~~~rows&size=base&colours=a.aa2200")
    until(lambda: page.locator(".own-banner:visible").count(), 1)
    page.locator('[data-choose="child"]').click()
    until(lambda: page.evaluate("location.hash"), "#own=66~~~rows&size=child&colours=a.aa2200")
    band = '[data-in-size="child"] figure[data-piece] .bands .yarn-a'
    fill = f"getComputedStyle(document.querySelector('{band}')).fill"
    until(lambda: page.evaluate(fill), "rgb(170, 34, 0)")
