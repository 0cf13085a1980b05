"""Made pages on disk, and pages opened in fresh profiles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from support.browser import DESK, PHONE, Complaints
from support.made_pages import write_made_site

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, BrowserContext


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The made pages, as a folder to open from disk."""
    return write_made_site(tmp_path_factory.mktemp("made") / "site")


@pytest.fixture
def profile(chromium: Browser) -> Iterator[Callable[..., BrowserContext]]:
    """Makes fresh profiles: `profile()` at a desk, `profile(phone=True)` with touch.

    Any complaint of a page opened in one (console errors, exceptions, failed requests) fails the
    test, unless the profile was made with `complaints=False`.
    """
    contexts: list[BrowserContext] = []
    heard: list[Complaints] = []

    def make(*, phone: bool = False, complaints: bool = True, **options: Any) -> BrowserContext:
        context = chromium.new_context(**(PHONE if phone else DESK), locale="en-GB", **options)
        context.set_default_timeout(30_000)
        if complaints:
            context.on("page", lambda page: heard.append(Complaints(page)))
        contexts.append(context)
        return context

    yield make
    for context in contexts:
        context.close()
    assert [each for page in heard for each in page.found] == []
