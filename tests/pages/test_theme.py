"""Themes: a studio overrides any file, extends any template, and sets any token, safely."""

from __future__ import annotations

import re

import pytest

from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.pages.tokens import check_tokens, is_safe, read_tokens, tokens_css
from stripewright.pipeline.themes import check_theme
from stripewright.problems import Place
from stripewright.studio import Studio, shipped_themes
from support.hostile import HOSTILE
from support.pages import all_of, parse, words
from support.views import pattern_views, site, theme

THEMES = ("tideline", "ledger")


@pytest.fixture
def studio(tmp_path) -> Studio:
    return Studio(tmp_path)


def write(studio: Studio, path: str, text: str) -> None:
    target = studio.themes / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text, encoding="utf-8")


def own(studio: Studio, name: str = "tideline") -> Theme:
    return Theme(name, studio.theme_files(name))


def free_page(theme: Theme):
    view = pattern_views()[0]
    return parse(Renderer(site(), theme).pattern(view)[f"patterns/{view.slug}/index.html"].decode())


def test_a_studio_replaces_one_style_and_keeps_the_rest(studio: Studio):
    write(studio, "tideline/assets/theme.css", "body { background: tan; }\n")
    files = Renderer(site(), own(studio)).assets.files()
    assert files["assets/theme.css"] == b"body{background:tan}"  # as published: without its spaces
    shipped = Renderer(site(), theme()).assets.files()
    assert {k: v for k, v in files.items() if k != "assets/theme.css"} == {
        k: v for k, v in shipped.items() if k != "assets/theme.css"
    }


def test_a_studio_replaces_a_script_and_adds_one(studio: Studio):
    write(studio, "tideline/assets/units.js", "(() => {})();\n")
    write(studio, "tideline/assets/hello.js", "(() => {})();\n")
    files = Renderer(site(), own(studio)).assets.files()
    assert files["assets/units.js"] == files["assets/hello.js"] == b"(()=>{})();"


def test_a_studio_replaces_a_template(studio: Studio):
    write(studio, "tideline/templates/page.html", "<!DOCTYPE html><title>{{ page.title }}</title>")
    text = own(studio).template("page.html")
    assert text == "<!DOCTYPE html><title>{{ page.title }}</title>"


def test_a_template_extends_the_one_it_stands_in_for(studio: Studio):
    write(
        studio,
        "tideline/templates/pattern.html",
        '{% extends "shipped/pattern.html" %}\n{% block footer %}<p>Knit well.</p>{% endblock %}\n',
    )
    tree = free_page(own(studio))
    foot = all_of(tree, "footer")[-1]
    assert words(foot) == "Knit well."
    assert words(all_of(tree, "h1")[0]) == "Breakwater bolster"


def test_the_guides_own_example_works(studio: Studio):
    guide = (shipped_themes().parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    example = guide.split("```jinja\n")[1].split("```")[0]
    write(studio, "tideline/templates/pattern.html", example)
    foot = words(all_of(free_page(own(studio)), "footer")[-1])
    assert foot.endswith("Knitted something? Write to me.")
    assert len(foot) > 60, "what stood there stays"


def test_a_theme_of_the_studios_own_falls_back_to_the_shipped_one(studio: Studio):
    write(studio, "driftwood/theme.yaml", 'title: Driftwood\ntokens:\n  paper: "#fafafa"\n')
    found = own(studio, "driftwood")
    assert read_tokens(found) == ({"paper": "#fafafa"}, [])
    assert words(all_of(free_page(found), "h1")[0]) == "Breakwater bolster"
    assert b"--paper: #fafafa" in Renderer(site(), found).assets.files()["assets/tokens.css"]


def test_an_unknown_theme_has_no_files(studio: Studio):
    assert studio.theme_files("nowhere") == {}


def test_a_theme_is_not_shown_what_lies_outside_the_studio(studio: Studio, tmp_path_factory):
    secret = tmp_path_factory.mktemp("elsewhere") / "key.txt"
    secret.write_text("secret")
    write(studio, "tideline/assets/theme.css", "")
    (studio.themes / "tideline/assets/key.txt").symlink_to(secret)
    assert "assets/key.txt" not in studio.theme_files("tideline")


@pytest.mark.parametrize("name", THEMES)
def test_shipped_tokens_are_sound_and_every_one_that_a_style_uses_is_there(name: str):
    tokens, problems = read_tokens(theme(name))
    assert problems == []
    assert len(tokens) > 20
    styles = "".join(
        data.decode()
        for path, data in theme(name).under("assets/").items()
        if path.endswith(".css")
    )
    declared = set(re.findall(r"(--[a-z0-9-]+)\s*:", styles)) | {f"--{token}" for token in tokens}
    used = set(re.findall(r"var\((--[a-z0-9-]+)\)", styles))
    assert used - declared == set()
    dark = {token.removesuffix("-dark") for token in tokens if token.endswith("-dark")}
    assert dark <= tokens.keys()


def place(name: str) -> Place:
    return Place("content/studio.yaml", 9, 3)


def test_a_studio_sets_a_token_for_light_and_for_dark():
    given = {"paper": "#fff8f0", "paper-dark": "rgb(10 12 14)"}
    assert check_tokens(theme(), given, place) == []
    light, dark = tokens_css(theme(), given).split("@media")
    assert "--paper: #fff8f0;" in light
    assert "--paper: rgb(10 12 14);" in dark


def test_an_unknown_token_is_told_with_the_nearest_one():
    (problem,) = check_tokens(theme(), {"papper": "#fff"}, place)
    assert str(problem.place) == "content/studio.yaml:9"
    assert "papper" in problem.message
    assert problem.hint == "did you mean paper?"


BAD = [
    *HOSTILE.values(),
    "red; } body { display: none",
    "url(https://example.org/x.png)",
    "image-set('x.png' 1x)",
    "expression(alert(1))",
    'Georgia", serif',
    "rgb(1 2 3",
    "1rem) }",
    "#fff /* x",
    "a\\62 c",
    "@import 'x'",
    "",
    "x" * 301,
]


@pytest.mark.parametrize("value", [text for text in BAD if not re.fullmatch(r"w+", text)])
def test_no_value_of_a_token_breaks_out_of_its_declaration(value: str):
    assert not is_safe(value)
    problems = check_tokens(theme(), {"paper": value}, place)
    assert len(problems) == 1
    assert value not in tokens_css(theme(), {"paper": value}) or value == ""


@pytest.mark.parametrize(
    "value",
    ["#fff", "1.25rem", "clamp(1rem, 0.9rem + 0.4vw, 1.2rem)", "oklch(60% 0.1 200)",
     '"Gill Sans", Georgia, serif', "var(--ink)", "0 1px 2px rgb(0 0 0 / 20%)"],
)  # fmt: skip
def test_usual_values_pass(value: str):
    assert is_safe(value)


@pytest.mark.parametrize(
    ("inside", "text", "line"),
    [
        ("assets/hello.js", "start();\nload('units.js');\n", 2),
        ("templates/page.html", '<p>\n<script src="../assets/units.js"></script>', 2),
        ("templates/page.html", "<script src=\"{{ link('assets/units.js') }}\"></script>", 0),
        ("assets/hello.js", "say('units.json');\n", 0),
    ],
)
def test_an_asset_named_by_hand_is_told(studio, inside, text, line):
    write(studio, f"tideline/{inside}", text)
    found = [
        (problem.place.file, problem.place.line)
        for problem in check_theme(studio, own(studio))
        if "published under another name" in problem.message
    ]
    assert found == ([(f"themes/tideline/{inside}", line)] if line else [])
