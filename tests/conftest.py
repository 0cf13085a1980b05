"""What tests of several stages share."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser


# Properties are tried on the same cases every time, however slow the machine is.
settings.register_profile(
    "steady", deadline=None, derandomize=True, database=None,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip
settings.load_profile("steady")


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Debian's Chromium, once for all tests: Playwright's sync API runs only once a process."""
    from support.browser import chromium as started

    with started() as browser:
        yield browser


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo studio's site, published once for all tests; not to be changed."""
    from support.site import published_demo

    return published_demo(tmp_path_factory.mktemp("demo"))


@pytest.fixture(scope="session")
def demo_in_ledger(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo site in the theme Ledger, without its paper; not to be changed."""
    from support.site import published_demo

    folder = tmp_path_factory.mktemp("ledger")
    return published_demo(folder, settings="theme: ledger", paper=False)
