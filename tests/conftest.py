"""What tests of several stages share."""

from __future__ import annotations

import fcntl
import os
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

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


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Each file's tests run in one process, so that what they share is made once.

    Files with long tests come first: at the end both processes have short ones left, and neither
    waits long for the other.
    """
    long = {item.path for item in items if item.get_closest_marker("slow")}
    long |= {item.path for item in items if item.get_closest_marker("browser")}
    items.sort(key=lambda item: item.path not in long)
    for item in items:
        item.add_marker(pytest.mark.xdist_group(item.nodeid.partition("::")[0]))


def _once(
    tmp_path_factory: pytest.TempPathFactory, name: str, make: Callable[[Path], Path]
) -> Path:
    """What one process makes for all of a run: the others wait for it, and take it as it is."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    with (shared / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        told = shared / f"{name}.made"
        if not told.exists():
            (shared / name).mkdir()
            told.write_text(str(make(shared / name)), encoding="utf-8")
        return Path(told.read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo studio's site, published once for all tests; not to be changed."""
    from support.site import published_demo

    return _once(tmp_path_factory, "demo", published_demo)


@pytest.fixture(scope="session")
def demo_in_ledger(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo site in the theme Ledger, without its paper; not to be changed."""
    from support.site import published_demo

    def in_ledger(folder: Path) -> Path:
        return published_demo(folder, settings="theme: ledger", paper=False)

    return _once(tmp_path_factory, "ledger", in_ledger)
