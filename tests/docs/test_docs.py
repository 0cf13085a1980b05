"""What the documents say of fields and commands is what the program does."""

from __future__ import annotations

import pytest

from support.docs import PARTS, ROOT, renewed


@pytest.mark.parametrize("name", PARTS)
def test_generated_parts_are_current(name):
    current = (ROOT / name).read_text(encoding="utf-8")
    assert renewed(name) == current, "renew it: python tests/support/docs.py"


def test_top_level_is_the_house():
    shown = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    made_by_use = {"packs", "dist", "build", "htmlcov", "mutants"}
    assert shown - made_by_use == {
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "pyproject.toml",
        "generator",
        "content",
        "themes",
        "tests",
        "site",
    }
