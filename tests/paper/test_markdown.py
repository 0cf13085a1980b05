"""The author's Markdown on paper: nothing lost, nothing read as Typst code."""

from __future__ import annotations

import io
import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from stripewright.paper import engine
from stripewright.paper.markdown import print_data
from stripewright.paper.templates import template
from stripewright.words.markdown import prose
from support.demo import DEMO
from support.hostile import HOSTILE
from support.papers import elements, made_from, tool
from support.patterns import text_of

TYPST = {
    "code": '#panic("out") #import "x.typ": * #sys.inputs #eval("1")',
    "show rule": "#show: it => [] #set page(width: 1pt)",
    "math": "$ x^2 $ and $y",
    "label": "<label> @label #cite(<x>)",
    "markup": "= not a heading - not a list + nor this / nor: this",
    "brackets": "] } ) [ { ( */ /* // comment",
    "backslash": r"\ \u{41} \# \\",
    "dashes and quotes": "--- -- ... \"double\" 'single' ~ -?",
    "url": "https://example.org/?a=1&b=#c",
    "backticks": "``` rust` ``",
}
"""What would act in a Typst file, were it read as one."""


def nodes(text: str, *, raw_html: bool = False, **options):
    parsed, _ = prose(text, "a.md", 1, raw_html=raw_html)
    return print_data(parsed, **options)


def words_of(tree) -> str:
    """All text of a tree, in order."""
    if isinstance(tree, list):
        return "".join(map(words_of, tree))
    return tree.get("text", "") + tree.get("alt", "") + words_of(tree.get("inside", []))


def kinds_of(tree) -> set[str]:
    if isinstance(tree, list):
        return set().union(*map(kinds_of, tree)) if tree else set()
    return {tree["kind"]} | kinds_of(tree.get("inside", []))


def set_alone(tree) -> bytes:
    """A document with nothing in it but the tree."""
    source = template(DEMO.theme_files("tideline"), "pattern").partition(b"// The pattern: cover")[
        0
    ]
    source += b"\n#show: paged\n= Body\n#set-prose(data.nodes)\n"
    data = {"title": "t", "maker": "m", "lang": "en", "region": None, "date": [2026, 1, 1],
            "terms": "uk", "paper": "a4", "nodes": tree}  # fmt: skip
    return engine.pdf(source, data)


def test_every_kind_comes_through(tmp_path):
    text = """# One

A *slanted* **heavy** ~~gone~~ `code` [link](https://example.org/a) line\\
with a break.

### Two

- bullet
  1. inner

7. seven
8. eight

> quoted

| Left | Right |
|:-----|------:|
| a1   | **b1** |

```yaml
#not: typst
```

---

![a swatch](swatch.png)
"""
    tree = nodes(text)
    assert kinds_of(tree) == {
        "heading", "text", "paragraph", "emph", "strong", "strike", "code", "link", "break",
        "bullets", "numbers", "item", "quote", "table", "row", "cell", "listing", "rule",
    }  # fmt: skip
    assert [n["level"] for n in tree if n["kind"] == "heading"] == [1, 2]
    assert [n["start"] for n in tree if n["kind"] == "numbers"] == [7]
    pdf = set_alone(tree)
    out = tool("pdftotext", pdf, tmp_path, "-layout")
    for part in ("One", "slanted", "heavy", "gone", "code", "link", "bullet", "7. seven",
                 "8. eight", "quoted", "a1", "b1", "#not: typst", "a swatch"):  # fmt: skip
        assert part in out
    links = [a.get_object()["/A"]["/URI"] for a in PdfReader(io.BytesIO(pdf)).pages[0]["/Annots"]]
    assert set(links) == {"https://example.org/a"}


@pytest.mark.parametrize("text", TYPST.values(), ids=TYPST.keys())
def test_typst_code_is_text(text, tmp_path):
    """In a paragraph, a heading, a table, an item and code: each sign comes out as it went in."""
    tree = [
        {"kind": "heading", "level": 1, "inside": [{"kind": "text", "text": text}]},
        {
            "kind": "paragraph",
            "inside": [{"kind": "emph", "inside": [{"kind": "text", "text": text}]}],
        },
        {
            "kind": "bullets",
            "inside": [{"kind": "item", "inside": [{"kind": "text", "text": text}]}],
        },
        {"kind": "listing", "text": text},
        {"kind": "paragraph", "inside": [{"kind": "code", "text": text}]},
    ]
    out = squash(tool("pdftotext", set_alone(tree), tmp_path, "-raw"))
    assert out.count(squash(text)) == 5


def squash(text: str) -> str:
    """Without white space: a line may end anywhere."""
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize("text", [*HOSTILE.values(), *TYPST.values()], ids=[*HOSTILE, *TYPST])
def test_hostile_strings_everywhere(text):
    """In title, summary, yarn, credit, licence, caution, correction and body: a PDF comes out."""
    safe = "".join(c for c in text if c.isprintable() or c == " ").strip() or "x"
    body = safe.replace("{", "(")  # braces are the body's own template language
    source = text_of(
        body=f"{body}\n\n## {body}\n\n- {body}\n",
        title=safe[:100],
        summary=safe[:200],
        credit=safe[:100],
        licence=safe,
        cautions=[safe],
        published="2026-01-02",
        corrections=[{"date": "2026-02-03", "text": safe}],
        yarns={
            key: {"name": safe[:60] + key, "colour": "#1f3d5c", "weight": 5}
            for key in ("deep", "foam", "sand")
        },
    )
    made = made_from(source.encode(), "hostile")
    pdf = PdfReader(io.BytesIO(made.pdf()))
    assert len(pdf.pages) >= 3
    assert pdf.metadata.title


def test_what_no_font_has(tmp_path):
    """A character that can't be set leaves a mark in its place, and the rest as it was."""
    out = tool("pdftotext", set_alone(nodes("knit 🧶 now \ue000 世 end")), tmp_path)
    assert "knit ▯ now ▯ ▯ end" in " ".join(out.split())


def test_depth_is_bounded(tmp_path):
    """Quotes, lists and emphasis as deep as anyone types them: all words stay."""
    quotes = nodes("> " * 18 + "deep quote")
    lists = nodes("\n".join("  " * n + f"- item{n}" for n in range(40)))
    stars = nodes("*a " * 60 + "middle" + " a*" * 60)
    out = tool("pdftotext", set_alone([*quotes, *lists, *stars]), tmp_path)
    assert "deep quote" in out
    assert "middle" in out
    assert "item0" in out


@pytest.mark.parametrize("text", ["#", "# \u200b", "## ![](swatch.png)", "# a\n\n#\n\n### b"])
def test_an_empty_heading_is_none(text):
    """PDF/UA forbids one, and a bookmark without a name leads nobody anywhere."""
    assert set_alone(nodes(text)).startswith(b"%PDF")


def test_html_leaves_its_words():
    tree = nodes("a <b>bold</b> &amp; word\n\n<div>block</div>\n", raw_html=True)
    assert words_of(tree).replace("\n", " ") == "a bold & wordblock"


def test_links_that_paper_cannot_follow():
    """A link inside the site is made whole by the page's address, or stands as its words."""
    from stripewright.paper.pattern_data import linker

    whole = linker("https://example.org/patterns/a/")
    assert whole("../b/") == "https://example.org/patterns/b/"
    assert whole("#h-turn") == "https://example.org/patterns/a/#h-turn"
    assert whole("javascript:alert(1)") == ""
    assert linker(None)("../b/") == ""
    assert linker(None)("mailto:a@example.org") == "mailto:a@example.org"


def test_a_picture_is_carried_whole(tmp_path):
    """A JPEG goes in as it is, with its words as alternative text."""
    from PIL import Image

    from stripewright.paper.picture import print_photo

    out = io.BytesIO()
    Image.effect_noise((120, 80), 60).convert("RGB").save(out, "JPEG")
    tree = nodes(
        "![A swatch on a sill](swatch.jpg)", pictures={"swatch.jpg": print_photo(out.getvalue())}
    )
    data = set_alone(tree)
    pdf = PdfReader(io.BytesIO(data))
    listed = tool("pdfimages", data, tmp_path, "-list").splitlines()[2:]
    assert [line.split()[3:5] + line.split()[8:9] for line in listed] == [["120", "80", "jpeg"]]
    assert "A swatch on a sill" in [str(figure["/Alt"]) for figure in elements(pdf, "/Figure")]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=200))
def test_any_text_is_set(text):
    """Whatever is typed, a PDF comes out that holds to both standards."""
    assert set_alone(nodes(text)).startswith(b"%PDF-1.7")
