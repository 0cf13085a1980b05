"""What the documents say of fields and commands is what the program does."""

from __future__ import annotations

import ast
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
    made_by_use = {"packs", "texts", "dist", "build", "htmlcov", "mutants"}
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


def _functions(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}


def _checks(name, functions, seen=frozenset()):
    """Whether a function can fail a test: it asserts, or calls one of its file that does."""
    nodes = list(ast.walk(functions[name]))
    called = {ast.unparse(node.func).split(".")[-1] for node in nodes if isinstance(node, ast.Call)}
    if any(isinstance(node, ast.Assert) for node in nodes) or called & {"raises", "until"}:
        return True
    return any(_checks(one, functions, seen | {name}) for one in called & {*functions} - seen)


def test_every_promise_names_a_test_that_is_there():
    promised = re.findall(
        r"`(tests/[^`:]+)::(\w+)`", (ROOT / "generator/PROMISES.md").read_text(encoding="utf-8")
    )
    assert len(promised) > 30
    helpers = {}
    for path in (ROOT / "tests/support").glob("*.py"):
        helpers |= _functions(path)
    for file, name in promised:
        functions = helpers | _functions(ROOT / file)
        marks = [ast.unparse(mark) for mark in functions[name].decorator_list]
        assert not any("skip" in mark or "xfail" in mark for mark in marks), name
        assert _checks(name, functions), name
