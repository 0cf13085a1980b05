"""What counts as said to everyone: what is published, and not what was left lying about."""

from __future__ import annotations

import io
import itertools
import re

import pypdf
import pytest

from stripewright.problems import has_errors
from stripewright.publish.reading import marked_up
from stripewright.studio import shipped_themes
from support.demo import DEMO
from support.papers import demo_pdf
from support.studio_here import built, pattern, studio

BODY = "Wind the yarn twice around the chair before you begin, and breathe."
STRIPES = "deep 10, foam 4, deep 10, foam 5, deep 9"
PAID = pattern(paid=True, body=BODY, stripes=STRIPES)


def copy(published="", access=""):
    """The same pattern, its price and its access gone."""
    text = pattern(title="Copy", body=BODY, stripes=STRIPES)
    text = text.replace("published: 2026-01-05\n", published and f"published: {published}\n")
    return text.replace("kind: cushion\n", f"kind: cushion\n{access and f'access: {access}'}\n")


def leaky(here):
    """A theme that says on every page what the paid pattern keeps."""
    folder = here.themes / "tideline/templates"
    folder.mkdir(parents=True)
    base = (shipped_themes() / "shared/templates/base.html").read_text()
    (folder / "base.html").write_text(base.replace("</body>", f"<p>{BODY}</p></body>"))


def leaks(site):
    return [one for one in site.problems if "would publish" in one.message]


@pytest.mark.parametrize(
    ("published", "access", "silences"),
    [
        ("", "", False),  # a draft: not on the site, so it says nothing
        ("", "free", False),
        ("2027-01-01", "", False),  # held back
        ("2027-01-01", "free", False),
        ("2026-01-01", "", True),  # published, and free: everyone may read it
        ("2026-01-01", "free", True),
    ],
)
def test_a_copy_that_is_not_published_silences_nothing(tmp_path, published, access, silences):
    here = studio(tmp_path, {"paid": PAID, "copy": copy(published, access)})
    assert leaks(built(here)) == []
    leaky(here)
    assert bool(leaks(built(here))) is not silences


def test_a_draft_that_is_free_by_oversight_is_told_where_it_is_shown(tmp_path):
    here = studio(tmp_path, {"paid": PAID, "copy": copy()})
    site = built(here, drafts=True)
    assert has_errors(site.problems)
    assert {one.place.file for one in leaks(site)} == {"patterns/copy/index.html"}
    assert all("write access: paid, or access: free" in one.hint for one in leaks(site))
    (here.content / "patterns/copy.md").write_text(copy(access="free"))
    assert leaks(built(here, drafts=True)) == []


def test_a_print_template_of_the_studio_s_own_is_looked_through(tmp_path):
    here = studio(tmp_path, {"paid": PAID, "gift": pattern(title="Gift")})
    folder = here.themes / "tideline/print"
    folder.mkdir(parents=True)
    shipped = (shipped_themes() / "shared/print/pattern.typ").read_text()
    (folder / "pattern.typ").write_text(f"{shipped}\n{BODY}\n")
    found = leaks(built(here, paper=True))
    assert {one.place.file for one in found} == {
        f"patterns/gift/gift-{size}.pdf" for size in ("a4", "letter")
    }


def test_a_pack_among_a_theme_s_files_is_found_whatever_its_name(tmp_path):
    here = studio(tmp_path, {"paid": PAID})
    assets = here.themes / "tideline/assets"
    assets.mkdir(parents=True)
    (assets / "gift.bin").write_bytes(demo_pdf("market-day-bag", "a4", "tideline"))
    assert leaks(built(here)) == []
    text = PAID.replace(BODY, "Mark it, because the stripes must climb both sides evenly.")
    (here.content / "patterns/paid.md").write_text(text)
    assert [one.place.file for one in leaks(built(here))] == ["assets/gift.bin"]


@pytest.mark.parametrize("slug", ["lamplit-bolster", "winter-forecast-scarf"])
def test_a_pdf_of_the_shipped_templates_says_what_its_page_says(slug):
    """So it needs no reading of its own: each of its words is on the page, or the template's."""
    reader = pypdf.PdfReader(io.BytesIO(demo_pdf(slug, "a4", "tideline")))
    words = set(re.findall(r"[a-z]{4,}", " ".join(p.extract_text() for p in reader.pages).lower()))
    page = (built(DEMO, paper=False).files[f"patterns/{slug}/index.html"]).decode()
    known = " ".join(itertools.chain.from_iterable(marked_up(page).texts)) + page.lower()
    for path in shipped_themes().glob("shared/print/*.typ"):
        known += path.read_text().lower()
    missing = {word for word in words if word not in known}
    assert len(words) > 150
    assert len(missing) <= 0.04 * len(words), missing


def test_half_of_a_mirrored_plan_tells_the_whole(tmp_path):
    stripes = "deep 11, foam 4, deep 17, foam 6, deep 17, foam 4, deep 11"
    here = studio(tmp_path, {"paid": pattern(paid=True, stripes=stripes)})
    post = here.content / "posts/note.md"
    post.parent.mkdir()
    for told in ("12, 4, 17 and 6", "11, 4, 17, 6", "6, 17, 4, 11", "12, 16, 33 and 39"):
        post.write_text(f"---\ntitle: A\nsummary: S.\npublished: 2026-01-01\n---\nKnit {told}.\n")
        assert leaks(built(here)), told
    post.write_text("---\ntitle: A\nsummary: S.\npublished: 2026-01-01\n---\nKnit 12, 4, 16, 6.\n")
    assert leaks(built(here)) == []
