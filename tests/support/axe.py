"""Pages judged by axe: WCAG 2.2 A and AA, and best practices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axe_playwright_python.sync_playwright import Axe

if TYPE_CHECKING:
    from playwright.sync_api import Page

RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],
}


def findings(page: Page) -> list[tuple[str, list[str]]]:
    """Each rule that is broken, and where."""
    response = Axe().run(page, options=RULES).response
    assert len(response["passes"]) > 15, "the rules did run"
    return [
        (found["id"], [node["html"][:120] for node in found["nodes"]])
        for found in response["violations"]
    ]
