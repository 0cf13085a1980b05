"""What tests of several stages share."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser


# Properties are tried on the same cases every time, however slow the machine is. To look further,
# STRIPEWRIGHT_EXPLORE=2000 tries so many new ones of each and remembers those that fail.
_EXPLORE = int(os.environ.get("STRIPEWRIGHT_EXPLORE", "0"))
_SLOW = [HealthCheck.too_slow]
settings.register_profile(
    "steady", deadline=None, derandomize=True, database=None, suppress_health_check=_SLOW
)
settings.register_profile(
    "explore", deadline=None, max_examples=max(_EXPLORE, 1), suppress_health_check=_SLOW
)
settings.load_profile("explore" if _EXPLORE else "steady")


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
