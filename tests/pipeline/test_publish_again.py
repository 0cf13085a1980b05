"""Publishing again: the same bytes, only what differs is written, and never a stale page."""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stripewright.pipeline import batch, memo
from stripewright.pipeline.batch import make_many
from stripewright.pipeline.make import show_source
from stripewright.problems import Refused
from stripewright.studio import Studio
from support.demo import CONTENT
from support.demo import SLUGS as SLUGS_OF_DEMO
from support.studio_here import DAY, SETTINGS, built, pattern, published, studio, tree

SLUGS = ["one", "two", "three"]


def clean(here, tmp_path, on=DAY):
    """What a publish with no cache and no earlier site gives."""
    away = tmp_path / "clean"
    shutil.rmtree(away, ignore_errors=True)
    shutil.copytree(here.root / "content", away / "content")
    other = type(here)(away)
    published(other, on)
    return tree(other.site)


def test_the_second_publish_writes_nothing(tmp_path):
    here = studio(tmp_path / "s", {slug: pattern(title=slug) for slug in SLUGS})
    first = published(here)
    before = {path: path.stat().st_mtime_ns for path in here.site.rglob("*")}
    second = published(here)
    assert first.outcome.written > 20
    assert (second.outcome.written, second.outcome.removed) == (0, 0)
    assert second.outcome.unchanged == first.outcome.written
    assert {path: path.stat().st_mtime_ns for path in here.site.rglob("*")} == before


LINKED = {
    "one": pattern(
        title="One", body="See [that](pattern:two) and [this](post:p) and [me](page:about)."
    ),
    "two": pattern(title="Two", body="Then [this](pattern:one), ![the sea](sea.png).", paid=True),
    "three": pattern(
        title="Three", body="A swatch: [sheets](sheet:plain).", published="2026-12-24"
    ),
}


SHEET = """\
sheets:
  - title: Tube
    form: tube
    machine: {bed: circular, needles: 46}
    gauge: 12.5 sts x 20 rows / 10 cm
    rows: 90
"""


def linked_studio(folder):
    """Every kind of link, a picture, a warning, a paid pattern and one that is held back."""
    from PIL import Image

    here = studio(folder, LINKED)
    for kind, name, more in (("posts", "p", "published: 2026-01-01\npatterns: [one, three]\n"), ("pages", "about", ""),
                             ("sheets", "plain", f"published: 2026-01-01\n{SHEET}")):  # fmt: skip
        (here.content / kind).mkdir()
        text = f"---\ntitle: A {name}\nsummary: S.\n{more}---\n"
        (here.content / f"{kind}/{name}.md").write_text(text)
    (here.content / "photos").mkdir()
    Image.new("RGB", (40, 30), "#1f3d5c").save(here.content / "photos/sea.png")
    return here


def made_by(here, on=DAY):
    """How many patterns a publish makes, not taken from the cache."""
    made = []

    def counted(done, *given, **more):
        made.append(done.source.name)
        return show_source(done, *given, **more)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(memo, "show_source", counted)
        published(here, on)
    return len(made)


def test_a_studio_of_linked_patterns_is_taken_from_the_cache(tmp_path):
    here = linked_studio(tmp_path / "s")
    assert made_by(here) == 3
    assert made_by(here) == 0
    studio(here.root, {"one": LINKED["one"].replace("deep 10", "deep 11")})
    assert made_by(here) == 1
    assert made_by(here, DAY.replace(month=12, day=25)) == 1, "the one whose day has come"
    assert made_by(here, DAY.replace(month=12, day=25)) == 0


def test_a_style_makes_no_pattern_again_and_a_template_makes_all(tmp_path):
    here = studio(tmp_path / "s", {slug: pattern(title=slug) for slug in SLUGS})
    published(here)
    style = here.root / "themes/tideline/assets/theme.css"
    style.parent.mkdir(parents=True)
    style.write_text("main { color: #112233 }\n")
    assert made_by(here) == 0
    styles = [data for path, data in tree(here.site).items() if path.startswith("assets/theme-")]
    assert styles == [b"main{color:#112233}"]
    assert tree(here.site) == clean_with_themes(here, tmp_path), "pages lead to the style of now"
    assert made_by(here) == 0
    (style.parent.parent / "templates").mkdir()
    own = '{% extends "shipped/pattern.html" %}{% block footer %}Ours{% endblock %}'
    (style.parent.parent / "templates/pattern.html").write_text(own)
    assert made_by(here) == 3
    assert tree(here.site) == clean_with_themes(here, tmp_path)


def clean_with_themes(here, tmp_path):
    away = tmp_path / "clean"
    shutil.copytree(here.root / "content", away / "content")
    shutil.copytree(here.root / "themes", away / "themes")
    other = type(here)(away)
    published(other)
    made = tree(other.site)
    shutil.rmtree(away)
    return made


def test_the_demo_is_taken_from_the_cache(tmp_path):
    """Patterns with everything that a pattern can have."""
    shutil.copytree(CONTENT, tmp_path / "content")
    here = Studio(tmp_path)
    assert made_by(here) == len(SLUGS_OF_DEMO)
    assert made_by(here) == 0


def test_only_what_shows_a_change_is_written(tmp_path):
    here = studio(tmp_path / "s", {slug: pattern(title=slug) for slug in SLUGS})
    published(here)
    before = tree(here.site)
    studio(
        here.root, {"two": pattern(title="two", stripes="deep 12, foam 4, deep 10, foam 5, deep 9")}
    )
    published(here)
    after = tree(here.site)
    changed = {path for path in after if after[path] != before.get(path)}
    assert "patterns/two/index.html" in changed
    assert not any(
        path.startswith(("patterns/one/", "patterns/three/", "assets/")) for path in changed
    )


EDITS = st.lists(
    st.tuples(
        st.sampled_from(SLUGS),
        st.sampled_from(
            [
                "alter",
                "remove",
                "sell",
                "hold back",
                "break",
                "settings",
                "day",
                "cache",
                "site",
                "post",
                "page",
            ]
        ),
        st.integers(1, 30),
    ),
    min_size=1,
    max_size=5,
)


@pytest.mark.slow
@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(edits=EDITS)
def test_never_stale(tmp_path, edits):
    """After any edits, what was made from the cache equals what a clean publish makes, byte for byte."""
    root = tmp_path / "s"
    shutil.rmtree(root, ignore_errors=True)
    here = studio(root, {slug: pattern(title=slug) for slug in SLUGS})
    on = DAY
    published(here, on)
    for slug, what, number in edits:
        path = here.content / "patterns" / f"{slug}.md"
        stripes = f"deep {number}, foam 4, deep 10, foam 5, deep 9"
        if what == "alter":
            path.write_text(pattern(title=slug, stripes=stripes))
        elif what == "remove":
            path.unlink(missing_ok=True)
        elif what == "sell":
            path.write_text(pattern(title=slug, stripes=stripes, paid=True))
        elif what == "hold back":
            path.write_text(pattern(title=slug, published=f"2026-12-{number:02}"))
        elif what == "break":
            path.write_text(pattern(title=slug, stripes="deap 3"))
        elif what == "settings":
            (here.root / "content/studio.yaml").write_text(
                SETTINGS + f"currency: {'EUR' if number % 2 else 'GBP'}\n"
            )
        elif what in ("post", "page"):
            (here.content / f"{what}s").mkdir(exist_ok=True)
            day = f"published: 2026-12-{number:02}\n" if what == "post" else ""
            text = f"---\ntitle: A {what} {slug}\nsummary: S.\n{day}---\nWords.\n"
            (here.content / f"{what}s/{what}-{slug}.md").write_text(text)
        elif what == "day":
            on = on.replace(month=12, day=number)
        elif what == "cache":
            shutil.rmtree(here.root / ".stripewright", ignore_errors=True)
        elif what == "site":
            shutil.rmtree(here.site, ignore_errors=True)
        before = tree(here.site)
        try:
            published(here, on)
        except Refused:
            assert tree(here.site) == before
            path.write_text(pattern(title=slug))
            published(here, on)
    assert tree(here.site) == clean(here, tmp_path, on)


def test_two_processes_make_the_same_bytes(tmp_path, monkeypatch):
    """The outputs keep their order."""
    monkeypatch.setattr(batch, "WORTH_A_WORKER", 20)
    started = []

    def counted(sources, work, *, workers, chunk):
        started.append(workers)
        return make_many(sources, work, workers=workers, chunk=chunk)

    monkeypatch.setattr(batch, "make_many", counted)
    patterns = {
        f"p{n:02}": pattern(title=f"P {n}", stripes=f"deep {n + 3}, foam 4, deep 9")
        for n in range(50)
    }
    alone = studio(tmp_path / "alone", patterns)
    pair = studio(tmp_path / "pair", patterns)
    published(alone, workers=1)
    assert not started
    published(pair, workers=2)
    assert started == [2]
    assert tree(alone.site) == tree(pair.site)


FROM_STANDARD_INPUT = """
import sys
from pathlib import Path
from stripewright.pipeline import batch
from stripewright.studio import Studio
from support.demo import CONTENT
from support.demo import SLUGS as SLUGS_OF_DEMO
from support.studio_here import published
batch.WORTH_A_WORKER = 20
published(Studio(Path(sys.argv[1])), workers=2)
"""


def test_a_program_read_from_standard_input_publishes_in_one_process(tmp_path):
    """A worker could not read that program again, and would be waited for without end."""
    here = studio(tmp_path / "s", {f"p{n:02}": pattern(title=f"P {n}") for n in range(50)})
    subprocess.run(
        [sys.executable, "-", str(here.root)], input=FROM_STANDARD_INPUT, check=True, text=True,
        timeout=100, env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
    )  # fmt: skip
    assert len(list(here.site.glob("patterns/*/index.html"))) == 50


def test_a_held_back_pattern_appears_on_its_day(tmp_path):
    here = studio(tmp_path / "s", {"one": pattern(published="2026-12-24")})
    published(here)
    assert "patterns/one/index.html" not in tree(here.site)
    published(here, DAY.replace(month=12, day=24))
    assert "patterns/one/index.html" in tree(here.site)


HARMS = {
    "flip": "UPDATE kept SET data = substr(data, 1, length(data) - 1) || x'00' WHERE not {entry}",
    "empty": "UPDATE kept SET data = x'' WHERE not {entry}",
    "no bytes": "UPDATE kept SET data = 1",
    "gone": "DELETE FROM kept WHERE not {entry}",
    "entry": "UPDATE kept SET data = substr(data, 1, length(data) - 1) || x'00' WHERE {entry}",
    "no table": "DROP TABLE kept",
}
ENTRY = "instr(data, CAST('stripewright.pipeline.memo' AS BLOB))"


def asked(here, query):
    """What the cache's database answers."""
    with closing(sqlite3.connect(here.cache / "kept.db")) as database, database:
        return database.execute(query.format(entry=ENTRY)).fetchall()


@pytest.mark.parametrize("harm", [*HARMS, "half", "nothing", "no database"])
def test_a_damaged_cache_is_never_published(tmp_path, harm):
    here = studio(tmp_path / "s", {slug: pattern(title=slug) for slug in SLUGS})
    published(here)
    whole = tree(here.site)
    assert asked(here, "SELECT count(*) FROM kept WHERE {entry}") == [(3,)]
    if harm in HARMS:
        asked(here, HARMS[harm])
    else:
        file = here.cache / "kept.db"
        data = file.read_bytes()
        left = {"half": data[: len(data) // 2], "nothing": b"", "no database": data[:0:-1]}
        file.write_bytes(left[harm])
    shutil.rmtree(here.site)
    published(here)
    assert tree(here.site) == whole


def test_a_meddled_with_entry_runs_no_code(tmp_path):
    """An entry is read as plain data: a call hidden in it is refused, and the pattern made anew."""
    import pickle

    from stripewright.digests import digest_of

    class Harm:
        def __reduce__(self):
            return (open, (str(tmp_path / "harm"), "w"))

    here = studio(tmp_path / "s", {"one": pattern()})
    published(here)
    whole = tree(here.site)
    body = pickle.dumps(Harm())
    entry = digest_of(body).encode() + b"\n" + body
    asked(here, f"UPDATE kept SET data = x'{entry.hex()}' WHERE {ENTRY}")
    published(here)
    assert not (tmp_path / "harm").exists()
    assert tree(here.site) == whole


def test_the_cache_holds_only_what_was_last_published(tmp_path):
    here = studio(tmp_path / "s", {slug: pattern(title=slug) for slug in SLUGS})
    published(here)
    entries, size = (
        "SELECT count(*) FROM kept WHERE {entry}",
        (here.cache / "kept.db").stat().st_size,
    )
    assert asked(here, entries) == [(3,)]
    (here.content / "patterns/two.md").unlink()
    published(here)
    assert asked(here, entries) == [(2,)]
    assert (here.cache / "kept.db").stat().st_size < size


def test_a_studio_that_cannot_be_written_to_still_publishes_elsewhere(tmp_path):
    """A cache folder that leads out of the studio is not used."""
    here = studio(tmp_path / "s", {"one": pattern()})
    (tmp_path / "elsewhere").mkdir()
    (here.root / ".stripewright").symlink_to(tmp_path / "elsewhere")
    published(here)
    assert list((tmp_path / "elsewhere").iterdir()) == []
    assert "patterns/one/index.html" in tree(here.site)


def test_a_file_is_looked_through_again_for_a_new_secret(tmp_path):
    """A sentence that a post has said all along becomes a secret: the unchanged post is refused."""
    said = "The ninth stripe is where the tide turns back."
    here = studio(tmp_path / "s", {"one": pattern()})
    (here.content / "posts").mkdir()
    (here.content / "posts/p.md").write_text(
        f"---\ntitle: P\nsummary: P.\npublished: 2026-01-01\n---\n{said}\n"
    )
    published(here)
    studio(here.root, {"two": pattern(title="Two", body=said, paid=True)})
    with pytest.raises(Refused, match="would publish a sentence"):
        published(here)
    # And again: a refused run leaves no record of having looked.
    with pytest.raises(Refused, match="would publish a sentence"):
        published(here)


def test_what_only_a_planning_sheet_says_is_looked_through(tmp_path):
    """A book's own titles stand in its PDF and on no page."""
    said = "The ninth stripe is where the tide turns back."
    here = studio(tmp_path / "s", {"two": pattern(title="Two", body=said, paid=True)})
    (here.content / "sheets").mkdir()
    one = "form: tube, machine: {bed: circular, needles: 40}, gauge: 14 sts x 21 rows / 10 cm, rows: 40"
    (here.content / "sheets/book.md").write_text(
        f"---\ntitle: B\nsummary: S.\npublished: 2026-01-01\n"
        f"sheets:\n  - {{title: T, {one}}}\n  - {{title: {said}, {one}}}\n---\n"
    )
    found = built(here, paper=True).problems
    assert [("would publish a sentence" in one.message, one.place.file) for one in found] == [
        (True, "sheets/book-a4.pdf"),
        (True, "sheets/book-letter.pdf"),
    ]


def test_what_a_free_pattern_no_longer_says_is_a_secret_again(tmp_path):
    said = "The ninth stripe is where the tide turns back."
    here = studio(
        tmp_path / "s",
        {"one": pattern(body=said), "two": pattern(title="Two", body=said, paid=True)},
    )
    (here.content / "posts").mkdir()
    (here.content / "posts/p.md").write_text(
        f"---\ntitle: P\nsummary: P.\npublished: 2026-01-01\n---\n{said}\n"
    )
    published(here)
    studio(here.root, {"one": pattern(body="Nothing of the kind.")})
    with pytest.raises(Refused, match="would publish a sentence"):
        published(here)


def test_nothing_is_looked_through_twice(tmp_path, monkeypatch):
    from stripewright.publish import guard

    looked = []
    look = guard._Watch.look
    monkeypatch.setattr(
        guard._Watch, "look", lambda self, path, data: looked.append(path) or look(self, path, data)
    )
    here = studio(tmp_path / "s", {"one": pattern(), "two": pattern(title="Two", paid=True)})
    published(here)
    first = len(looked)
    published(here)
    assert (first > 20, len(looked)) == (True, first)


def test_the_menu_names_what_there_is_on_every_page(tmp_path):
    """Posts and sheets once there are some to show, free-standing pages; also on pages made before."""
    here = studio(tmp_path / "s", {"one": pattern(title="One")})

    def menus(on=DAY):
        published(here, on)
        pages = {
            path: data.decode() for path, data in tree(here.site).items() if path.endswith(".html")
        }
        found = {tuple(re.findall(r"<li><a [^>]*>([^<]*)</a>", re.search("<nav.*?</nav>", page, re.DOTALL)[0]))
                 for page in pages.values()}  # fmt: skip
        assert len(found) == 1, "the same on every page"
        return next(iter(found))

    assert menus() == ("Patterns", "Tags")
    for kind, more in (("posts", "published: 2026-12-01\n"), ("pages", "")):
        (here.content / kind).mkdir()
        text = f"---\ntitle: Of {kind}\nsummary: S.\n{more}---\nWords.\n"
        (here.content / kind / "a.md").write_text(text)
    assert menus() == ("Patterns", "Tags", "Of pages"), "the post is held back yet"
    assert menus(DAY.replace(month=12, day=2)) == ("Patterns", "Posts", "Tags", "Of pages")
