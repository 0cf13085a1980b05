"""What a publish says that it did, and old addresses that lead on."""

from __future__ import annotations

import os
import shutil

import pytest
from click.testing import CliRunner
from PIL import Image

from stripewright.cli import main
from stripewright.pipeline import build, make
from support.studio_here import SETTINGS, built, edit, pattern, published, run, studio


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
        (
            {"one": formerly("two"), "two": pattern(title="Two", published="2030-01-01")},
            "two is the address of another page: that of content/patterns/two.md",
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
    assert done.built.held == (("content/patterns/later.md", "held back until 2030-01-01"),)
    [gone] = [one for one in done.built.problems if "was published" in one.message]
    assert "formerly: [two]" in gone.hint
    # Once it leads on from its old address, nothing is lost.
    studio(here.root, {"one": formerly("two", title="Another")})
    published(here)
    assert not [one for one in published(here).built.problems if "was published" in one.message]


def test_a_pattern_with_another_address_has_moved(tmp_path):
    """It is neither new nor withdrawn, and where its old page leads on nothing has changed."""
    here = studio(tmp_path, {"one": pattern(), "two": pattern(title="Two")})
    published(here)
    (here.content / "patterns/one.md").unlink()
    studio(here.root, {"three": formerly("one", stripes="deep 10, foam 4, deep 9")})
    done = published(here).changes
    assert (done.new, done.changed, done.withdrawn) == ((), (), ())
    assert done.moved == (("one", "three"),)
    assert done.parts["three"] == ("numbers", "yarn", "steps", "drawings")
    again = published(here).changes
    assert (again.new, again.changed, again.withdrawn, again.moved) == ((), (), (), ())
    (here.content / "patterns/three.md").unlink()
    studio(here.root, {"four": formerly("three", "one", stripes="deep 10, foam 4, deep 9")})
    done = published(here)
    assert done.changes.moved == (("three", "four"),)
    assert done.changes.parts == {"four": ()}
    assert not [one for one in done.built.problems if "was published" in one.message]
    page = (here.site / "patterns/one/index.html").read_text()
    assert "url=../../patterns/four/index.html" in page


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


def two_published(tmp_path, settings=SETTINGS, **options):
    here = studio(tmp_path, {"one": pattern(**options), "two": pattern(title="Two")}, settings)
    published(here)
    return here


@pytest.mark.parametrize(
    ("old", "new", "parts"),
    [
        ("foam 4", "foam 5", {"numbers", "yarn", "steps", "drawings"}),
        ('"#f4efe2"', '"#e4efe2"', {"yarn", "drawings"}),
        ("Wind the yarn first.", "Wind the yarn last.", {"words"}),
        ("kind:", "cautions: [Mind the crank.]\nkind:", {"cautions"}),
        ("kind:", "version: 2\nkind:", {"dates"}),
        ("ball: 100 g / 120 m", "ball: 50 g / 60 m", {"yarn"}),
    ],
)
def test_a_page_s_change_is_told_in_its_parts(tmp_path, old, new, parts):
    here = two_published(tmp_path)
    edit(here, old, new)
    changes = published(here).changes
    assert changes.changed == ("one",)
    assert {*changes.parts["one"]} == parts
    assert not changes.theme
    assert not changes.around
    again = published(here).changes
    assert (again.new, again.changed, again.withdrawn) == ((), (), ())


def test_another_picture_under_the_same_name_is_a_change(tmp_path):
    """The page's own bytes needn't differ: its picture and its share picture do."""
    here = studio(tmp_path, {"one": pattern(), "two": pattern(title="Two")})
    (here.content / "photos").mkdir()
    edit(here, "kind:", "photos: [{file: it.png, alt: It., main: yes}]\nkind:")
    for colour in ("#aa3311", "#1133aa"):
        Image.new("RGB", (60, 40), colour).save(here.content / "photos/it.png")
        changes = published(here).changes
    assert changes.changed == ("one",)
    assert changes.parts["one"] == ("pictures",)


@pytest.mark.parametrize("change", ["theme", "tokens", "style", "template"])
def test_a_theme_s_change_is_told_once_and_no_pattern_s(tmp_path, change):
    here = two_published(tmp_path)
    own = here.themes / "tideline"
    if change == "theme":
        studio(here.root, {}, f"{SETTINGS}theme: ledger\n")
    elif change == "tokens":
        studio(here.root, {}, f'{SETTINGS}tokens: {{accent: "#1f3c5d"}}\n')
    elif change == "style":
        (own / "assets").mkdir(parents=True)
        (own / "assets/base.css").write_text("body { margin: 3rem }")
    else:
        (own / "templates").mkdir(parents=True)
        (own / "templates/pattern.html").write_text(
            '{% extends "shipped/pattern.html" %}{% block footer %}<p>Write to me.</p>{% endblock %}'
        )
    changes = published(here).changes
    assert changes.changed == ()
    assert changes.theme
    edit(here, "foam 4", "foam 5")
    assert published(here).changes.changed == ("one",)


def test_a_menu_s_change_is_around_the_pages(tmp_path):
    here = two_published(tmp_path)
    (here.content / "pages").mkdir()
    (here.content / "pages/about.md").write_text("---\ntitle: A\nsummary: S.\nmenu: yes\n---\nT.\n")
    changes = published(here).changes
    assert (changes.changed, changes.theme, changes.around) == ((), False, True)


@pytest.mark.skipif(os.name == "nt", reason="files there have no modes")
def test_who_may_read_the_site_may_read_what_is_kept_beside_it(tmp_path):
    """Copied to a host by another user, say."""
    here = two_published(tmp_path)
    modes = {path.stat().st_mode for path in here.site.iterdir() if path.is_file()}
    assert len(modes) == 1, modes


def test_where_nobody_knows_what_was_told_words_and_drawings_are_compared(tmp_path):
    """Of a site that an older program wrote, or a list that something has been at."""
    for harm in (None, b"{", b'{"look": 3}'):
        here = two_published(tmp_path / str(harm and len(harm)))
        told = here.site / ".stripewright-told"
        told.unlink() if harm is None else told.write_bytes(harm)
        studio(here.root, {}, f"{SETTINGS}theme: ledger\n")
        edit(here, '"#f4efe2"', '"#e4efe2"')
        changes = published(here).changes
        assert changes.changed == ("one",)
        assert changes.parts == {"one": ()}
        edit(here, "foam 4", "foam 5")
        assert published(here).changes.parts["one"]


def test_another_program_changes_no_pattern_by_what_it_has_learned_to_tell(tmp_path, monkeypatch):
    here = two_published(tmp_path)
    edit(here, "Wind the yarn first.", "Wind the yarn last.", "two")
    shutil.rmtree(here.cache)
    script, parts = make.own_machine_script, make.page_parts
    monkeypatch.setattr(make, "own_machine_script", lambda data: script(data) + b"// newer\n")
    monkeypatch.setattr(make, "page_parts", lambda *told: parts(*told) | {"numbers": "newer"})
    monkeypatch.setattr(build, "program", lambda: "newer")
    changes = published(here).changes
    assert (changes.changed, changes.parts) == (("two",), {"two": ()})
    assert published(here).changes.changed == ()


def test_what_is_told_of_a_paid_pattern_is_its_public_twin(tmp_path):
    """Rows that no one may see change nothing that is told; nor is a word of it kept."""
    here = studio(tmp_path, {"one": pattern(paid=True, stripes="deep 10, foam 4, deep 8, foam 6"),
                             "two": pattern(title="Two")})  # fmt: skip
    published(here)
    before = (here.site / ".stripewright-told").read_bytes()
    edit(here, "foam 4, deep 8, foam 6", "foam 6, deep 8, foam 4")
    assert published(here).changes.changed == ()
    assert (here.site / ".stripewright-told").read_bytes() == before


def test_posts_that_are_held_back_are_told_too(tmp_path):
    here = studio(tmp_path, {"one": pattern()})
    (here.content / "posts").mkdir()
    (here.content / "posts/then.md").write_text(
        "---\ntitle: N\nsummary: S.\npublished: 2031-02-03\n---\nText.\n"
    )
    assert published(here).built.held == (("content/posts/then.md", "held back until 2031-02-03"),)


def test_the_command_says_the_parts_and_the_theme_once(tmp_path):
    here = studio(tmp_path, {"one": pattern(), "two": pattern(title="Two")})
    command = ["publish", "--studio", str(here.root), "--on", "2026-12-31", "--workers", "1"]
    assert run(*command).exit_code == 0
    edit(here, "Wind the yarn first.", "Wind the yarn last.")
    studio(here.root, {}, f"{SETTINGS}theme: ledger\n")
    done = run(*command)
    assert done.exit_code == 0, done.output
    assert "\nChanged: one (words)\nAll pages: the theme changed.\n" in done.stdout
