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
COLOURS = RULES | {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
"""The rules that hang on colours: all that can be otherwise in the dark."""


def findings(page: Page, scheme: str = "light") -> list[tuple[str, list[str]]]:
    """Each rule that is broken, and where; in the dark only those of colours, for half the time."""
    rules, least = (COLOURS, 0) if scheme == "dark" else (RULES, 15)
    response = Axe().run(page, options=rules).response
    assert len(response["passes"]) > least, "the rules did run"
    return [
        (found["id"], [node["html"][:120] for node in found["nodes"]])
        for found in response["violations"]
    ]
