"""Names that carry a fingerprint of what they stand for; files that are shorter as published."""

import re

import pytest

from stripewright.pages.assets import Assets, smaller
from stripewright.pages.theme import Theme

FILES = {
    "assets/base.css": b'@import "more.css"; body { background: url(weave.png) } p { background: url("https://elsewhere.example/x.png") }',
    "assets/more.css": b"@font-face { src: url('fonts/slab.woff2?v=1#x') }",
    "assets/fonts/slab.woff2": b"wOF2",
    "assets/weave.png": b"png",
    "assets/gift.zip": b"zip",
    "assets/hello.js": b"hello();",
    "assets/sw.js": b"self;",
}


def assets(changes: dict[str, bytes] | None = None, *, lasting: bool = True) -> Assets:
    return Assets(Theme("made", {**FILES, **(changes or {})}), {}, lasting=lasting)


def test_styles_scripts_and_what_styles_name_carry_a_fingerprint():
    names = assets().names
    assert set(names) == {
        "assets/base.css", "assets/more.css", "assets/fonts/slab.woff2", "assets/weave.png",
        "assets/hello.js", "assets/pattern.js", "assets/tokens.css",
    }  # fmt: skip
    for plain, name in names.items():
        stem, _, ending = plain.rpartition(".")
        assert re.fullmatch(rf"{re.escape(stem)}-[0-9a-f]{{8}}\.{ending}", name)


def test_what_others_may_link_to_keeps_its_name():
    assert {"sw.js", "assets/gift.zip"} < set(assets().files())


def test_a_style_names_the_others_by_their_published_names():
    made = assets()
    files, names = made.files(), made.names
    base = files[names["assets/base.css"]].decode()
    more = files[names["assets/more.css"]].decode()
    assert names["assets/more.css"].removeprefix("assets/") in base
    assert names["assets/weave.png"].removeprefix("assets/") in base
    assert "https://elsewhere.example/x.png" in base
    assert f"{names['assets/fonts/slab.woff2'].removeprefix('assets/')}?v=1#x" in more


@pytest.mark.parametrize(
    ("changed", "renamed"),
    [
        ("assets/fonts/slab.woff2", {"fonts/slab.woff2", "more.css", "base.css"}),
        ("assets/more.css", {"more.css", "base.css"}),
        ("assets/weave.png", {"weave.png", "base.css"}),
        ("assets/hello.js", {"hello.js"}),
        ("assets/gift.zip", set()),
    ],
)
def test_a_change_renames_what_leads_to_it_and_nothing_else(changed, renamed):
    before, now = assets().names, assets({changed: FILES[changed] + b" "}).names
    if changed.endswith((".css", ".js")):  # a space more is no change of these: they are squeezed
        assert now == before
        more = b"/*! more */" if changed.endswith(".css") else b"more();"
        now = assets({changed: FILES[changed] + more}).names
    assert {path.removeprefix("assets/") for path in before if now[path] != before[path]} == renamed


def test_styles_that_import_each_other_come_to_an_end():
    ring = {"assets/base.css": b'@import "more.css";', "assets/more.css": b'@import "base.css";'}
    names = assets(ring).names
    assert {"assets/base.css", "assets/more.css"} < set(names)


def test_a_page_of_before_is_led_to_the_names_of_now():
    before, now = assets(), assets({"assets/hello.js": b"other();"})
    page = '<script src="../{}"></script><link href="../{}"><a href="assets/no-12345678.js">'
    was = page.format(before.names["assets/hello.js"], before.names["assets/base.css"])
    is_now = page.format(now.names["assets/hello.js"], now.names["assets/base.css"])
    assert was != is_now
    assert now.relink(was.encode()).decode() == is_now


def test_the_preview_keeps_plain_names():
    made = assets(lasting=False)
    assert made.names == {}
    assert "assets/base.css" in made.files()


def test_comments_and_indentation_go_and_what_they_say_stays():
    script = b"/* what it is for */\n(() => {\n  // why\n  const text = `a  ${1}  b // c`;\n})();\n"
    short = smaller("a.js", script)
    assert b"why" not in short
    assert b"what it is for" not in short
    assert b"`a  ${1}  b // c`" in short
    style = b"/* why */\na:not(.b) > c { margin: calc(1rem + 2px) ; }\n"
    assert smaller("a.css", style) == b"a:not(.b) > c{margin:calc(1rem + 2px)}".replace(
        b" > ", b">"
    )


def test_a_licence_stays():
    assert b"/*! MIT */" in smaller("a.js", b"/*! MIT */\nf();\n")


def test_other_files_are_left_as_they_are():
    assert smaller("icon.svg", b"<svg>\n  <!-- x -->\n</svg>") == b"<svg>\n  <!-- x -->\n</svg>"
