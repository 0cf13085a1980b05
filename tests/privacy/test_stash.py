"""Of the stash only what published patterns show of a yarn reaches the site, and it is renewed."""

from __future__ import annotations

import re

import pytest

from stripewright.preview.live import LiveStudio
from stripewright.problems import Refused
from support.studio_here import pattern, published, studio, tree

STASH = """\
yarns:
  deep: {name: Harbour blue, colour: "#1f3d5c", weight: 5, fibre: Herdwick wool, price: 4.50,
         ball: 100 g / 120 m, left: 777 g, where: under the attic stairs, note: a gift of aunt Oda}
  moss: {name: Mossy ends, colour: "#3f5d2c", left: 313 g, where: the tea chest}
  draft: {name: Only drafted, colour: "#5c1f3d", ball: 50 g / 60 m, left: 3 balls}
"""
PRIVATE = ("777 g", "attic stairs", "aunt Oda", "Mossy ends", "313 g", "tea chest", "Only drafted",
           "#3f5d2c", "#5c1f3d", "stash")  # fmt: skip


def front(source="deep", stripes="[blue 20, blue 4]", **more):
    lines = [f"{key}: {value}" for key, value in more.items()]
    return "\n".join([
        "---", "title: Ring", "summary: A ring.", "machine: {bed: circular, needles: 40}",
        "swatch: {stitches: 40, rows: 60, width: 30 cm, length: 29 cm, mass: 62 g}",
        f"yarns: {{blue: {{from: stash.{source}}}}}",
        f"pieces: {{ring: {{form: tube, stripes: {stripes}}}}}", *lines, "---", "Text.", "",
    ])  # fmt: skip


@pytest.fixture
def here(tmp_path):
    made = studio(tmp_path, {"ring": front(published="2026-01-01"), "later": front("draft")})
    (made.content / "stash.yaml").write_text(STASH)
    return made


def site(made):
    return {name: data.decode("utf-8", "replace") for name, data in tree(made.site).items()}


def test_what_a_published_pattern_points_to_is_public_and_nothing_else_is(here):
    published(here)
    files = site(here)
    page = files["patterns/ring/index.html"]
    for told in ("Harbour blue", "#1f3d5c", "5 (bulky)", "Herdwick wool", "100 g", "€"):
        assert told in page
    for name, text in files.items():
        for private in PRIVATE:
            assert private not in text, (name, private)


@pytest.mark.parametrize(
    "leak",
    ["Blue: under the attic stairs", "<p>The <b>tea</b> chest</p>", "A gift of  AUNT Oda.",
     "/* Mossy ends */", "yarns: only drafted", "left: 313 g"],
)  # fmt: skip
def test_the_guard_finds_what_a_theme_brings(here, leak):
    assets = here.root / "themes" / "shared" / "assets"
    assets.mkdir(parents=True)
    (assets / "notes.html").write_text(f"<p>{leak}</p>")
    with pytest.raises(Refused) as refused:
        published(here)
    [problem] = [one for one in refused.value.problems if one.severity == "error"]
    assert "content/stash.yaml" in problem.message
    assert problem.place.file == "assets/notes.html"
    assert not here.site.exists()


def test_what_the_author_says_himself_is_no_secret(here):
    (here.content / "posts").mkdir(exist_ok=True)
    (here.content / "posts" / "chest.md").write_text(
        "---\ntitle: Chest\nsummary: S.\npublished: 2026-01-01\n---\nIt is in the tea chest.\n"
    )
    published(here)
    assert "tea chest" in site(here)["posts/chest/index.html"]


def test_a_change_of_the_stash_makes_what_points_to_it_again(here):
    plain = pattern("Plain")
    (here.content / "patterns" / "plain.md").write_text(plain)
    published(here)
    before = site(here)
    changed = STASH.replace("Harbour blue", "Night blue")
    (here.content / "stash.yaml").write_text(changed)
    published(here)
    after = site(here)
    assert "Night blue" in after["patterns/ring/index.html"]
    assert after["patterns/plain/index.html"] == before["patterns/plain/index.html"]


def test_all_of_it_follows_what_is_left(here):
    written = front(stripes="[blue all]", published="2026-01-01", tails="{seam: 50 cm}")
    (here.content / "patterns" / "ring.md").write_text(written)
    (here.content / "stash.yaml").write_text(STASH.replace("777 g", "50 g"))
    published(here)
    fewer = site(here)["patterns/ring/index.html"]
    (here.content / "stash.yaml").write_text(STASH.replace("777 g", "100 g"))
    published(here)
    more = site(here)["patterns/ring/index.html"]
    assert fewer != more
    assert "all there is of it, to the last whole row" in more
    # the amount itself is its owner's alone: 50 g and 100 g differ, and 60 m is what 50 g are
    assert not re.search(r"\b50 g\b|\b60 m\b", re.sub("<[^>]*>", "", fewer))


def test_the_preview_follows_the_stash(here):
    live = LiveStudio(here)
    path = "patterns/ring/index.html"
    assert b"Harbour blue" in live.find(path).data
    file = here.content / "stash.yaml"
    file.write_text(STASH.replace("Harbour blue", "Night blue"))
    assert live.take_up({file})
    assert b"Night blue" in live.find(path).data
    file.unlink()
    assert live.take_up({file})
    assert any("there is no stash" in one.message for one in live.problems())


def test_mistakes_of_the_stash_are_told_once_where_they_stand(here):
    (here.content / "stash.yaml").write_text(STASH.replace("left: 777 g", "left: lots"))
    with pytest.raises(Refused) as refused:
        published(here)
    [problem] = [one for one in refused.value.problems if one.severity == "error"]
    assert (problem.place.file, problem.place.line) == ("content/stash.yaml", 3)
