"""What the documents say of fields and commands is what the program does."""

from __future__ import annotations

import re

from stripewright.cli import main
from support.docs import REFERENCE, ROOT, reference

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_reference_is_current():
    current = (ROOT / REFERENCE).read_text(encoding="utf-8")
    assert reference() == current, "renew it: python tests/support/docs.py"


def test_the_readme_is_short_and_its_links_lead_somewhere():
    assert len(README.splitlines()) <= 250
    prose = re.sub(r"`[^`]*`", "", README)
    for target in re.findall(r"\]\(([^)#:]+)\)", prose):
        assert (ROOT / target).exists(), target


def test_the_readme_names_every_command_and_no_other():
    named = set(re.findall(r"`?stripewright ([a-z]+)", README))
    assert named == set(main.commands)


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
