"""The demo studio's site in both themes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from support.pages import Site

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="session")
def tideline(demo_site: Path) -> Site:
    """The demo site as it is."""
    return Site(demo_site)


@pytest.fixture(scope="session")
def ledger(demo_in_ledger: Path) -> Site:
    """The demo site in the other theme, without its paper."""
    return Site(demo_in_ledger)


@pytest.fixture(scope="session", params=["tideline", "ledger"])
def site(request: pytest.FixtureRequest) -> Site:
    """Each of the two."""
    found: Site = request.getfixturevalue(request.param)
    return found
