"""`pytest tests/draw --renew` writes the golden drawings anew and shows what changed."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--renew", action="store_true", help="write the golden drawings anew, showing what changed"
    )


@pytest.fixture
def renewing(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--renew", default=False))
