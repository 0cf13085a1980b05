"""Scripts and styles as they are published: shorter, and still the same to a browser."""

from __future__ import annotations

from stripewright.pages.assets import smaller


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
