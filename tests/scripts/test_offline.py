"""Offline use: a page opened once opens again without a connection."""

from __future__ import annotations

import shutil

import pytest

from support.browser import reads, served, until

pytestmark = pytest.mark.browser


def kept(page):
    page.get_by_text("Your place and this page are kept").wait_for()


def test_an_opened_page_opens_again_without_a_connection(profile, made):
    """The network is off for the context, and the server is gone as well."""
    context = profile(phone=True, complaints=False)
    with served(made) as server:
        page = context.new_page()
        page.goto(server.root + "made/pattern.html")
        kept(page)
        page.get_by_role("button", name="Keep count").tap()
        page.get_by_role("button", name="Count a row").tap()
        reads(page, "001")
    context.set_offline(True)
    page.reload()
    reads(page, "001")
    page.get_by_role("button", name="Count a row").tap()
    reads(page, "002")
    page.close()
    page = context.new_page()
    page.goto(server.root + "made/pattern.html#colours=a.2e8b57")
    page.get_by_role("button", name="Keep count").tap()
    reads(page, "002")
    styled = page.locator(".count-tap").evaluate("each => getComputedStyle(each).position")
    assert styled == "relative", "the style sheets are kept too"


def test_a_changed_page_shows_at_once_while_there_is_a_connection(profile, made, tmp_path):
    site = tmp_path / "site"
    shutil.copytree(made, site)
    context = profile()
    with served(site) as server:
        page = context.new_page()
        page.goto(server.root + "made/pattern.html")
        kept(page)
        path = site / "made/pattern.html"
        text = path.read_text(encoding="utf-8").replace("<h1>Breakwater bolster", "<h1>Corrected")
        path.write_text(text, encoding="utf-8")
        page.reload()
        assert page.locator("h1").text_content() == "Corrected"
        # What the page says of being kept holds for its last copy too; the new one is laid by after it.
        copy = "caches.match(location.href).then((copy) => copy ? copy.text() : '')"
        until(lambda: "<h1>Corrected" in page.evaluate(copy))
    context.set_offline(True)
    page.reload()
    assert page.locator("h1").text_content() == "Corrected", "what is kept is the newest seen"


def test_a_line_that_gives_nothing_does_not_keep_the_maker_waiting(profile, made):
    """Connected, and no answer comes: what was kept shows after a few seconds."""
    context = profile(phone=True, complaints=False)
    with served(made) as server:
        page = context.new_page()
        page.goto(server.root + "made/pattern.html")
        kept(page)
        server.flowing.clear()
        page.goto(
            server.root + "made/pattern.html?again", wait_until="domcontentloaded", timeout=25_000
        )
        page.get_by_role("button", name="Keep count").wait_for()
        server.flowing.set()
        page.close()


def test_from_disk_it_is_told_quietly(profile, made):
    page = profile().new_page()
    page.goto((made / "made/pattern.html").as_uri())
    assert (
        "only where the site is hosted" in page.locator('[data-tool="keep-count"]').text_content()
    )


def test_nothing_is_kept_of_the_preview(profile, made, tmp_path):
    site = tmp_path / "site"
    shutil.copytree(made, site)
    (site / "-").mkdir()
    (site / "-/preview.js").write_text('"use strict";', encoding="utf-8")
    path = site / "made/pattern.html"
    mark = '<script defer src="/-/preview.js"></script></head>'
    path.write_text(path.read_text(encoding="utf-8").replace("</head>", mark), encoding="utf-8")
    with served(site) as server:
        page = profile().new_page()
        page.goto(server.root + "made/pattern.html")
        page.wait_for_load_state("networkidle")
        assert (
            page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)")
            == 0
        )
        page.close()


def test_sites_on_one_host_keep_apart(profile, made, tmp_path):
    """Two studios in sub-folders of one host: neither takes the other's counts or pages."""
    for name in ("one", "two"):
        shutil.copytree(made, tmp_path / name)
    context = profile()
    with served(tmp_path) as server:
        page = context.new_page()
        page.goto(server.root + "one/made/pattern.html")
        kept(page)
        page.get_by_role("button", name="Keep count").click()
        page.get_by_role("button", name="Count a row").click()
        page.goto(server.root + "two/made/pattern.html")
        kept(page)
        page.get_by_role("button", name="Keep count").click()
        reads(page, "000")
        scopes = page.evaluate(
            "navigator.serviceWorker.getRegistrations().then((all) => all.map(({ scope }) => scope))"
        )
        assert sorted(scopes) == [server.root + "one/", server.root + "two/"]
