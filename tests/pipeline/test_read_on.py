"""Everything that is wrong is told in one run, whatever else is wrong; and nothing that follows."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from stripewright.pipeline.themes import FOLDERS
from stripewright.studio import DEFAULT_THEME, Studio, shipped_themes
from support.studio_here import SETTINGS, built, pattern, studio

BROKEN = pattern().replace("level", "levle").replace("kind: cushion", "kind: cushoin")


def told(here, **options):
    """Place and message of each problem."""
    return [(str(one.place), one.message) for one in built(here, **options).problems]


def photo(here, name):
    out = io.BytesIO()
    Image.new("RGB", (4, 4)).save(out, "PNG")
    (here.content / "photos").mkdir(exist_ok=True)
    (here.content / "photos" / name).write_bytes(out.getvalue())


@pytest.mark.parametrize(
    ("settings", "line", "message"),
    [
        (SETTINGS + "theme: tidelin\n", 5, "there is no theme"),
        (SETTINGS + "theme: shared\n", 5, "shared holds what every theme falls back to"),
        (SETTINGS + "tokens: {acent: red}\n", 5, "has no token"),
        (SETTINGS.replace("title", "titel"), 1, "titel is not known here"),
        (
            SETTINGS.replace("title: The lee shore", 'title: "The lee shore'),
            1,
            "a quote opens here",
        ),
    ],
)
def test_a_mistake_in_the_settings_hides_none_of_a_pattern_s(tmp_path, settings, line, message):
    here = studio(tmp_path, {"one": BROKEN, "two": pattern()}, settings)
    problems = told(here)
    assert len(problems) == 2, problems
    (place, first), (other, second) = sorted(problems, reverse=True)
    assert (place, message in first) == (f"content/studio.yaml:{line}", True)
    assert other.startswith("content/patterns/one.md:")
    assert "cushoin" in second


@pytest.mark.parametrize(
    ("file", "text", "line", "message"),
    [
        ("templates/home.html", "a\n{% endif %}", 2, "{% endif %} ends nothing here"),
        ("templates/base.html", "a\n{{ site.tilte }}", 2, "what it asks for has no tilte"),
        ("templates/post.html", "{% if x %}\n", 1, "a {% if %} is never closed"),
        ("templates/tag.html", "{{ 1\n", 1, "a {{ is not closed"),
        (
            "templates/page.html",
            "{% extends 'bsae.html' %}",
            None,
            "there is no template bsae.html",
        ),
        ("templates/404.html", "\n\n{{ 1 / 0 }}", 3, "something is divided by nothing"),
    ],
)
def test_a_theme_s_mistake_hides_none_of_a_pattern_s(tmp_path, file, text, line, message):
    here = studio(tmp_path, {"one": BROKEN, "two": pattern()})
    (here.content / "pages").mkdir()
    (here.content / "pages/a.md").write_text("---\ntitle: A\nsummary: S.\n---\nA.\n")
    path = here.themes / "tideline" / file
    path.parent.mkdir(parents=True)
    path.write_text(text)
    problems = told(here)
    assert any("cushoin" in said for _, said in problems)
    (here.content / "patterns/one.md").write_text(pattern(title="One"))
    problems = told(here)
    if file == "templates/post.html":  # no post is made, so nothing but its form can be told
        assert len(problems) == 1
    where = f"themes/tideline/{file}"
    assert any(message in said and place.startswith(where) for place, said in problems), problems
    if line:
        assert any(place == f"{where}:{line}" for place, _ in problems)


@pytest.mark.parametrize(
    ("file", "near"),
    [
        ("templates/hom.html", "templates/home.html"),
        ("print/patern.typ", "print/pattern.typ"),
        ("theme.yml", "theme.yaml"),
        ("template/home.html", "templates/home.html"),
        ("notes/to-do.txt", ""),
    ],
)
def test_a_theme_s_file_that_nothing_looks_for_is_told(tmp_path, file, near):
    here = studio(tmp_path, {"one": pattern()})
    path = here.themes / "tideline" / file
    path.parent.mkdir(parents=True)
    path.write_text("x")
    (one,) = built(here).problems
    assert str(one.place) == f"themes/tideline/{file}"
    assert one.severity == "warning"
    assert (f"did you mean {near}?" in one.hint) == bool(near)


def test_a_block_that_the_extended_template_has_not_got_is_told(tmp_path):
    here = studio(tmp_path, {"one": pattern()})
    folder = here.themes / "tideline/templates"
    folder.mkdir(parents=True)
    (folder / "page.html").write_text(
        '{% extends "shipped/page.html" %}\n{% block mian %}x{% endblock %}\n'
        "{% block main %}{% block inner %}x{% endblock %}{% endblock %}"
    )
    (one,) = built(here).problems
    assert str(one.place) == "themes/tideline/templates/page.html:2"
    assert (one.severity, one.hint) == ("warning", "did you mean main?")
    assert one.message == "there is no block mian in shipped/page.html, so this is left out"


def test_a_theme_s_own_parts_and_assets_are_looked_for(tmp_path):
    here = studio(tmp_path, {"one": pattern()})
    folder = here.themes / "tideline"
    for name in FOLDERS:
        (folder / name).mkdir(parents=True)
    (folder / "assets/sea.css").write_text("p { color: red }")
    (folder / "templates/sea.html").write_text("<p>Sea.</p>")
    (folder / "templates/page.html").write_text(
        '{% extends "shipped/page.html" %}{% block footer %}{% include "sea.html" %}{% endblock %}'
    )
    assert told(here) == []


def test_every_shipped_file_has_a_place():
    """Copied into a studio one by one, none of them is called misplaced."""
    shipped = Studio(shipped_themes().parent).theme_files(DEFAULT_THEME)
    assert {name.partition("/")[0] for name in shipped} <= {*FOLDERS, "theme.yaml"}


def test_colours_that_can_t_be_read_are_warned_of(tmp_path):
    pale = SETTINGS + 'tokens:\n  accent: "#fff3b0"\n  ink-dark: "#222222"\n'
    here = studio(tmp_path, {"one": pattern()}, pale)
    accent, ink = built(here).problems
    assert (str(accent.place), accent.severity) == ("content/studio.yaml:6", "warning")
    assert "accent on paper has a contrast of 1.0" in accent.message
    assert "on-accent on accent has a contrast of 1.1" in accent.message
    assert str(ink.place) == "content/studio.yaml:7"
    assert "on dark pages" in ink.message
    fine = SETTINGS + 'tokens:\n  accent: "#004455"\n  ink: rgb(10 10 10)\n'
    (here.content / "studio.yaml").write_text(fine)
    assert told(here) == []


@pytest.mark.parametrize("theme", ["tideline", "ledger"])
def test_the_shipped_themes_can_be_read(tmp_path, theme):
    """Any token set, so that all are looked at."""
    here = studio(tmp_path, {}, SETTINGS + f"theme: {theme}\ntokens: {{radius: 1rem}}\n")
    assert told(here) == []


def test_pictures_in_buyers_text_are_looked_at_before_the_pack_is_made(tmp_path):
    paid = pattern(paid=True, body="![a hat](lost.jpg)\n\n![a cap](torn.png)")
    here = studio(tmp_path, {"one": paid})
    photo(here, "lost.jpeg")
    (here.content / "photos/torn.png").write_bytes(b"no picture")
    problems = told(here)
    line = paid[: paid.index("![a hat]")].count("\n") + 1
    assert [place for place, _ in problems] == [
        f"content/patterns/one.md:{line}",
        f"content/patterns/one.md:{line + 2}",
    ]
    photo(here, "lost.jpg")
    photo(here, "torn.png")
    site = built(here)
    assert site.problems == ()
    assert not any("photos" in path for path in site.files)


def test_pictures_are_looked_at_past_a_mistake_in_the_front_matter(tmp_path):
    text = BROKEN.replace("fill: light", "fill: light\nphotos: [{file: gone.jpg, alt: A hat.}]")
    here = studio(tmp_path, {"one": text.replace("Wind the", "![a hat](lost.jpg) Wind the")})
    messages = [said for _, said in told(here)]
    assert len(messages) == 3
    assert sum("there is no picture gone.jpg" in said for said in messages) == 1
    assert sum("there is no picture lost.jpg" in said for said in messages) == 1


def test_the_public_part_is_looked_at_past_a_mistake_in_the_front_matter(tmp_path):
    text = pattern(paid=True).replace("kind: cushion", "kind: cushoin")
    here = studio(tmp_path, {"one": text.replace("## Before you start", "##Before you start")})
    kinds, heading = sorted(said for _, said in told(here))
    assert "cushoin" in kinds
    assert "reads like a heading" in heading


@pytest.mark.parametrize(("language", "warned"), [("de", True), ("en-GB", False), ("en", False)])
def test_a_language_that_the_program_does_not_speak_is_told(tmp_path, language, warned):
    here = studio(tmp_path, {"one": pattern()}, f"{SETTINGS}language: {language}\n")
    problems = built(here).problems
    assert [(str(one.place), str(one.severity)) for one in problems] == (
        [("content/studio.yaml:5", "warning")] if warned else []
    )


def test_a_technique_of_one_s_own_sees_the_pieces(tmp_path):
    own = """\
  lining: {form: tube, like: cover, yarn: foam}
making_up: [line lining cover, tidy]
techniques:
  tidy: "Tidy {{ cover.worked_rows }} rows of {{ cover.title }} and {{ lining.worked_rows }} of it."
fill: light
"""
    here = studio(tmp_path, {"one": pattern().replace("fill: light\n", own)})
    site = built(here)
    assert not [one for one in site.problems if one.severity == "error"], site.problems
    page = site.files["patterns/one/index.html"].decode()
    assert "Tidy 40 rows of Cover and 3" in page
