"""A pack's own page: one file from disk, without a network, in both themes."""

from __future__ import annotations

import re
import shutil
from datetime import date
from typing import TYPE_CHECKING

import pytest

from stripewright.pipeline.context import Options
from stripewright.pipeline.packing import make_packs
from stripewright.pipeline.progress import quiet
from stripewright.studio import Studio
from support.axe import findings
from support.browser import DESK, PHONE, Complaints
from support.demo import DEMO
from support.pages import all_of, parse

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser, Page

PAID = "night-ferry-draught-excluder"
PICTURED = "winter-forecast-scarf"
BYTES = 400_000
THEMES = ("tideline", "ledger")


def packed(root: Path, theme: str, slug: str, address: str | None = "") -> Path:
    """The page of a pack that is made from the demo's pattern in a studio elsewhere."""
    patterns = root / "content" / "patterns"
    patterns.mkdir(parents=True)
    settings = (DEMO.content / "studio.yaml").read_text("utf-8")
    settings = re.sub(r"^theme:.*", f"theme: {theme}", settings, flags=re.MULTILINE)
    if address is None:
        settings = re.sub(r"^address:.*\n", "", settings, flags=re.MULTILINE)
    (root / "content" / "studio.yaml").write_text(settings, "utf-8")
    shutil.copy(DEMO.content / "patterns" / f"{slug}.md", patterns)
    shutil.copytree(DEMO.content / "photos", root / "content" / "photos")
    studio = Studio(root)
    make_packs(studio, Options(date(2026, 11, 1)), quiet, [patterns / f"{slug}.md"])
    return studio.packs / slug / f"{slug}.html"


@pytest.fixture(scope="module", params=THEMES)
def page_file(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a paid pattern, in each theme."""
    return packed(tmp_path_factory.mktemp("pack"), request.param, PAID)


def test_it_parses_is_small_and_names_no_other_file(page_file: Path):
    """html5lib in strict mode; nothing in it is asked for from anywhere."""
    data = page_file.read_bytes()
    assert len(data) < BYTES
    tree = parse(data.decode())
    assert not all_of(tree, "link") or {e.get("rel") for e in all_of(tree, "link")} == {"icon"}
    for element in tree.iter():
        for name in ("src", "srcset", "data", "poster"):
            assert (element.get(name) or "data:").startswith("data:"), (element.tag, name)
    for anchor in all_of(tree, "a"):
        assert (anchor.get("href") or "#").startswith(("#", "https://", "mailto:")), anchor.get(
            "href"
        )
    policy = next(m.get("content") for m in all_of(tree, "meta") if m.get("http-equiv"))
    assert policy.startswith("default-src 'none'; ")
    assert "unsafe" not in policy
    assert "'self'" not in policy


def test_the_same_bytes_again(page_file: Path, tmp_path: Path):
    theme = "ledger" if b"theme: ledger" in page_file.parents[2].joinpath(
        "content", "studio.yaml").read_bytes() else "tideline"  # fmt: skip
    assert packed(tmp_path, theme, PAID).read_bytes() == page_file.read_bytes()


def test_pictures_come_with_it(tmp_path: Path):
    tree = parse(packed(tmp_path, "tideline", PICTURED).read_text("utf-8"))
    pictures = all_of(tree, "img")
    assert pictures
    assert all(p.get("src").startswith(("data:image/png;base64,", "data:image/jpeg;base64,",
                                        "data:image/webp;base64,")) for p in pictures)  # fmt: skip


def test_without_an_address_nothing_leads_nowhere(tmp_path: Path):
    tree = parse(packed(tmp_path, "tideline", PAID, None).read_text("utf-8"))
    for anchor in all_of(tree, "a"):
        link = anchor.get("href")
        assert link is None or link.startswith(("#", "https://", "mailto:")), link


def opened(chromium: Browser, path: Path, options: dict) -> tuple[Page, Complaints, list[str]]:
    context = chromium.new_context(**options, offline=True)
    page = context.new_page()
    complaints, asked = Complaints(page), []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    return page, complaints, [url for url in asked if not url.startswith("data:")]


@pytest.mark.browser
@pytest.mark.parametrize("options", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(chromium: Browser, page_file: Path, options: dict, scheme: str):
    page, complaints, asked = opened(chromium, page_file, {**options, "color_scheme": scheme})
    assert findings(page, scheme) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= options["viewport"]["width"]
    assert complaints.found == []
    assert asked == [page_file.as_uri()]
    page.context.close()


@pytest.mark.browser
def test_it_is_used_by_keyboard_without_a_network(chromium: Browser, page_file: Path):
    """Ticks, units, own colours and the counter, and all still there after a reload."""
    page, complaints, _ = opened(chromium, page_file, DESK)
    tick = page.locator("input[data-step]").first
    tick.focus()
    page.keyboard.press("Space")
    page.get_by_text("Units and words").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Sizes").select_option("in")
    assert " cm" not in page.locator(".facts .measure").first.inner_text()
    page.get_by_role("button", name="Keep count").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Space")
    page.keyboard.press("Escape")
    page.reload()
    assert page.locator("input[data-step]").first.is_checked()
    assert " cm" not in page.locator(".facts .measure").first.inner_text()
    assert "1 of 176 rows done" in page.locator('[data-tool="keep-count"]').inner_text()
    assert "needs no connection" in page.locator('[data-tool="keep-count"]').inner_text()
    assert complaints.found == []
    page.context.close()


@pytest.mark.browser
def test_it_is_used_by_touch(chromium: Browser, page_file: Path):
    page, complaints, _ = opened(chromium, page_file, PHONE)
    page.locator("label:has(input[data-step])").first.tap()
    assert page.locator("input[data-step]").first.is_checked()
    page.get_by_role("button", name="Keep count").tap()
    assert page.locator("dialog.count").is_visible()
    assert complaints.found == []
    page.context.close()


@pytest.mark.browser
def test_its_policy_lets_nothing_out(chromium: Browser, page_file: Path):
    """What a script that came in by mistake would ask for is refused."""
    page, complaints, _ = opened(chromium, page_file, DESK)
    page.evaluate("document.body.append(Object.assign(new Image(), {src: 'http://127.0.0.1:9/a'}))")
    page.evaluate("fetch('http://127.0.0.1:9/b').catch(() => 0)")
    assert len([told for told in complaints.found if "Content Security Policy" in told]) >= 2
    page.context.close()
