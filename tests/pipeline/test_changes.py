"""What a publish says that it did, and old addresses that lead on."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from stripewright.cli import main
from support.studio_here import built, pattern, published, studio


def formerly(*names, **options):
    return pattern(**options).replace("summary:", f"formerly: [{', '.join(names)}]\nsummary:", 1)


def test_an_old_address_leads_on_without_a_script(tmp_path):
    here = studio(tmp_path, {"new": formerly("old", "older", title="The new one")})
    files = built(here).files
    for old in ("old", "older"):
        page = files[f"patterns/{old}/index.html"].decode()
        assert 'http-equiv="refresh" content="0; url=../../patterns/new/index.html"' in page
        assert 'name="robots" content="noindex"' in page
        assert '<a href="../../patterns/new/index.html"' in page
        assert f"patterns/{old}/" not in files["sitemap.xml"].decode()
        assert (
            "patterns/old" not in files["sitemap.xml"].decode() if "sitemap.xml" in files else True
        )
    assert "patterns/old/" not in files["patterns/index.html"].decode()


def test_a_post_s_old_address_too(tmp_path):
    here = studio(tmp_path, {"one": pattern()})
    (here.content / "posts").mkdir()
    (here.content / "posts/now.md").write_text(
        "---\ntitle: N\nsummary: S.\npublished: 2026-01-01\nformerly: [then]\n---\nText.\n"
    )
    page = built(here).files["posts/then/index.html"].decode()
    assert "url=../../posts/now/index.html" in page


@pytest.mark.parametrize(
    ("files", "what"),
    [
        ({"one": formerly("one")}, "one is the address that it has now"),
        (
            {"one": formerly("two"), "two": pattern(title="Two")},
            "two is the address of another page",
        ),
        ({"one": formerly("x"), "two": formerly("x", title="Two")}, "x is also named by"),
        ({"one": formerly("x", "x")}, "x is also named by"),
    ],
)
def test_an_address_that_can_not_lead_on_is_told_at_its_line(tmp_path, files, what):
    here = studio(tmp_path, files)
    [problem] = [one for one in built(here).problems if one.severity == "error"]
    assert what in problem.message
    assert problem.place.line == 3
    assert problem.hint


def test_an_old_address_is_kept_from_the_cache_too(tmp_path):
    here = studio(tmp_path, {"new": formerly("old")})
    published(here)
    assert published(here).outcome.written == 0
    assert (here.site / "patterns/old/index.html").is_file()


def test_new_changed_withdrawn_and_held_back(tmp_path):
    here = studio(tmp_path, {"one": pattern(), "two": pattern(title="Two")})
    first = published(here)
    assert (first.changes.new, first.changes.changed, first.changes.withdrawn) == (
        ("one", "two"),
        (),
        (),
    )
    assert published(here).changes.new == ()
    (here.content / "patterns/two.md").unlink()
    studio(here.root, {"one": pattern(title="Another"), "later": pattern(published="2030-01-01")})
    done = published(here)
    assert done.changes.changed == ("one",)
    assert done.changes.withdrawn == ("two",)
    assert done.held == (("content/patterns/later.md", "held back until 2030-01-01"),)
    [gone] = [one for one in done.warnings if "was published" in one.message]
    assert "formerly: [two]" in gone.hint
    # Once it leads on from its old address, nothing is lost.
    studio(here.root, {"one": formerly("two", title="Another")})
    published(here)
    assert not [one for one in published(here).warnings if "was published" in one.message]


def test_the_command_says_it_and_reminds_of_packs(tmp_path):
    here = studio(tmp_path, {"one": pattern(paid=True)})
    runner = CliRunner()
    root = ["--studio", str(here.root)]

    def told():
        done = runner.invoke(main, ["publish", *root, "--on", "2026-12-31", "--workers", "1"])
        assert done.exit_code == 0, done.output
        return done.stdout

    first = told()
    assert "New: one\n" in first
    assert "one has no pack yet" in first
    assert runner.invoke(main, ["packs", *root]).exit_code == 0
    assert "Packs:" not in told()
    path = here.content / "patterns/one.md"
    path.write_text(path.read_text().replace("\n---\n", "\n---\nMore of it.\n", 1))
    assert "the pack of one is older than its pattern" in told()
