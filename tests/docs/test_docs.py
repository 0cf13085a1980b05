"""What the documents say of fields and commands is what the program does."""

from __future__ import annotations

import re

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


def test_every_promise_names_a_test_that_is_there():
    promised = re.findall(
        r"`(tests/[^`:]+)::(\w+)`", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    )
    assert len(promised) > 30
    for file, name in promised:
        assert re.search(
            rf"^def {name}\(", (ROOT / file).read_text(encoding="utf-8"), re.MULTILINE
        ), name
