"""The demo studio's site in both themes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from support.pages import Site
from support.site import published_demo

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="session")
def tideline(demo_site: Path) -> Site:
    """The demo site as it is."""
    return Site(demo_site)


@pytest.fixture(scope="session")
def ledger(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The demo site in the other theme, without its paper."""
    folder = tmp_path_factory.mktemp("ledger")
    return Site(published_demo(folder, settings="theme: ledger", paper=False))


@pytest.fixture(scope="session", params=["tideline", "ledger"])
def site(request: pytest.FixtureRequest) -> Site:
    """Each of the two."""
    found: Site = request.getfixturevalue(request.param)
    return found
