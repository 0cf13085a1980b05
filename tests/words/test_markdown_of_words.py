"""Markdown as it is shown. The cases are blocks of title, text and HTML in cases/markdown.txt."""

from pathlib import Path

import html5lib
import pytest

from stripewright.source.document import Document
from stripewright.words.html import to_html
from stripewright.words.links import lost_links, own_links
from stripewright.words.markdown import first_heading, images_in, prose
from stripewright.words.shown import ShownPicture

_TEXT = (Path(__file__).parent / "cases" / "markdown.txt").read_text(encoding="utf-8")
_PARTS = ("\n" + _TEXT).split("\n.\n")
CASES = [
    tuple(part.strip("\n") for part in _PARTS[n : n + 3]) for n in range(0, len(_PARTS) - 2, 3)
]
HAT = ShownPicture(
    "photos/hat.jpg", 640, 480, (("photos/480/hat.jpg.webp", 480), ("photos/640/hat.jpg.webp", 640))
)
SHOPS = frozenset({"woolbarn.example.com"})


def shown(text, **kwargs):
    read, problems = prose(text, "content/posts/a.md", sponsored=SHOPS, **kwargs)
    assert problems == []
    return to_html(read, photos={"hat.jpg": HAT})


@pytest.mark.parametrize(("title", "text", "html"), CASES, ids=[case[0][:40] for case in CASES])
def test_case(title, text, html):
    assert shown(text).strip() == html


def test_there_are_cases():
    assert len(CASES) == 14


@pytest.mark.parametrize("text", [case[1] for case in CASES])
def test_html_parses_strictly(text):
    html5lib.HTMLParser(strict=True).parseFragment(shown(text))


def test_a_picture_of_the_authors_own_html_comes_in_the_widths_too():
    text = '<img src="../../photos/hat.jpg" alt="a &gt; b" width="100">'
    html = shown(text, raw_html=True)
    assert 'srcset="../../photos/480/hat.jpg.webp 480w' in html
    assert 'width="100"' in html
    assert 'width="640"' not in html


RAW = [
    ("<kbd>C</kbd> and <mark>this</mark>", "<p><kbd>C</kbd> and <mark>this</mark></p>"),
    ("<script>alert(1)</script>ok", "ok"),
    ('<b onclick="x()" style="color:red" class="big">b</b>', "<p><b>b</b></p>"),
    ('<a href="javascript:x()">a</a>', "<p><a>a</a></p>"),
    (
        '<a href="https://example.org/" target="_blank">a</a>',
        '<p><a href="https://example.org/">a</a></p>',
    ),
    ('<img src="https://example.org/a.png" alt="a">', '<img alt="a">'),
    ('<img src="../../photos/../a.png" alt="a">', '<img alt="a">'),
    ('<img src="../../photos/a.png" alt="a">', '<img src="../../photos/a.png" alt="a">'),
    ("<iframe src='https://example.org/'></iframe>x", "x"),
    ("<svg><script>x</script></svg>y", "<p>y</p>"),
    ("<form><input name=a></form>z", "z"),
    ("<h2 id=materials>a</h2>", "<h2>a</h2>"),
    ("<div id=x>a", "<div>a</div>"),
    ("a</main></body>b", "<p>ab</p>"),
    ("<style>p{}</style>t", "t"),
    ("<math><mi xlink:href='javascript:x'>m</mi></math>", "<p></p>"),
]


@pytest.mark.parametrize(("text", "html"), RAW)
def test_html_that_is_let_through_is_filtered(text, html):
    assert shown(text, raw_html=True).strip() == html


def test_markdown_survives_the_filter_of_html():
    text = next(case[1] for case in CASES if case[0].startswith("A table"))
    assert shown(text + "\n\n<kbd>x</kbd>", raw_html=True).startswith(shown(text).strip())


def test_roots():
    read, _ = prose("[a](page:about) ![b](b.png)", "a.md")
    assert 'href="https://a.example.org/about/index.html"' in to_html(
        read, root="https://a.example.org/"
    )
    assert 'src="../photos/b.png"' in to_html(read, root="../")


def test_levels_of_headings():
    read, _ = prose("# a\n\n" + "\n\n".join("#" * n + " b" for n in range(2, 7)), "a.md")
    assert [to_html(read).count(f"<h{n} ") for n in range(1, 7)] == [0, 1, 1, 1, 1, 2]


def test_pages_that_are_not_there():
    read, problems = prose(
        "[a](pattern:hat)\n[b](pattern:haat)\n\n| x |\n| - |\n| [c](post:nope) |\n", "a.md", 10
    )
    assert problems == []
    told = lost_links(own_links(read, "a.md"), {"pattern": {"hat", "cowl"}, "post": {"first"}})
    assert [(p.place.line, p.message, p.hint) for p in told] == [
        (11, "there is no pattern “haat” on the site", "did you mean hat?"),
        (15, "there is no post “nope” on the site", "there are first"),
    ]


def test_pictures_with_their_lines():
    text = "a\n\n![b](b.png)\nand\n![c](c.png)\n\n- ![b](b.png)\n\n> ![d](d.png)\n"
    read, _ = prose(text, "p.md", 5)
    places = {name: place.line for name, place in images_in(read, Document("p.md", {})).items()}
    assert places == {"b.png": 7, "c.png": 9, "d.png": 13}


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", None),
        ("a\n\nb", None),
        ("# a", 0),
        ("a\n# b", 1),
        ("a\n\n## b\n\n# c", 2),
        ("a\n===\n", 0),
        ("a\n\nb\nb\n---\n\n# c", 2),
        ("a\n\n---\n\n# c", 4),
        ("```\n# a\n```\n\n# b", 4),
        ("~~~\n# a\n~~~\n#b\n# c", 4),
        ("    # code\n\n# b", 2),
        ("- # in a list\n\n> # in a quote\n\n# b", 4),
        ("#no heading\n#\n", 1),
        ("a\n\n" + "```\n# x\n```\n\n" * 12 + "# b", 50),
        ("####### seven\n\n# b", 2),
    ],
)
def test_first_heading(text, line):
    assert first_heading(text) == line


def test_first_heading_reads_html_as_the_text_is_shown():
    assert first_heading("<div>\n# a\n</div>\n") == 1
    assert first_heading("<div>\n# a\n</div>\n\n# b", raw_html=True) == 4
