"""What a save makes again, and what stays as it was."""

from __future__ import annotations

import re

import pytest

from stripewright.preview.app import page_at
from stripewright.preview.live import LiveStudio
from stripewright.preview.units import MOST_PAGES, SWEPT_EVERY
from stripewright.problems import has_errors
from stripewright.studio import Studio
from support.studios import SETTINGS, generate_studio, plain_text

HOME = "index.html"


@pytest.fixture
def folder(tmp_path):
    studio = generate_studio(tmp_path / "studio", 0)
    for name in "abcdef":
        (studio / f"content/patterns/{name}.md").write_text(plain_text(f"Title {name}"))
    return studio


@pytest.fixture
def live(folder):
    live = LiveStudio(Studio(folder))
    while live.make_one():
        pass
    return live


def path_of(name):
    return f"patterns/{name}/index.html"


def made(live):
    return {
        name.split("/")[-1][:-3]: unit.made
        for name, unit in live.units.by_name.items()
        if unit.source.kind == "patterns"
    }


def text_at(live, path, *, buyer=False):
    return page_at(live, path, buyer=buyer)[0].decode()


def save(live, name, text):
    path = live.saved.studio.root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    return live.take_up({path})


def test_nothing_is_made_before_it_is_asked_for(folder):
    live = LiveStudio(Studio(folder))
    assert set(made(live).values()) == {0}
    text_at(live, path_of("c"))
    assert made(live) == {"a": 0, "b": 0, "c": 1, "d": 0, "e": 0, "f": 0}


def test_a_save_makes_that_pattern_alone(live):
    assert save(live, "content/patterns/b.md", plain_text("Title bb"))
    assert made(live) == {"a": 1, "b": 2, "c": 1, "d": 1, "e": 1, "f": 1}
    assert "Title bb" in text_at(live, path_of("b"))
    assert "Title bb" in text_at(live, "patterns/index.html")
    assert made(live)["b"] == 2


def test_the_same_bytes_again_make_nothing(live):
    assert not save(live, "content/patterns/b.md", plain_text("Title b"))
    assert set(made(live).values()) == {1}


def test_a_text_that_was_saved_before_is_taken_from_the_memo(live):
    save(live, "content/patterns/b.md", plain_text("Title bb"))
    assert "Title bb" in text_at(live, path_of("b"))
    save(live, "content/patterns/b.md", "---\ntitle: [\n---\n")
    assert "Title bb" in text_at(live, path_of("b"))
    before = made(live)
    save(live, "content/patterns/b.md", plain_text("Title bb"))
    assert made(live) == before
    assert not live.problems()
    assert "Title bb" in text_at(live, path_of("b"))


def test_what_saves_replaced_is_forgotten(live):
    for n in range(3 * SWEPT_EVERY):
        save(live, "content/patterns/b.md", plain_text(f"Title {n}"))
    assert len(live.units.memo._entries) <= 6 + SWEPT_EVERY
    assert len(live.units.memo.store._kept) <= 2 * (6 + SWEPT_EVERY)
    for name in "abcdef":
        assert "Title" in text_at(live, path_of(name))
        assert page_at(live, f"patterns/{name}/finished.svg", buyer=False)[1] == 200


def test_of_a_long_list_only_what_the_feed_shows_keeps_its_story(live, folder, monkeypatch):
    """One that comes into the feed again has its story again."""
    from stripewright.pages import feed
    from stripewright.preview import units

    monkeypatch.setattr(units, "MOST_TOLD", 3)
    monkeypatch.setattr(feed, "MOST_ENTRIES", 2)
    for n, name in enumerate("abcdef"):
        text = plain_text(f"Title {name}").replace("Before you start", f"Story {name}")
        save(
            live,
            f"content/patterns/{name}.md",
            re.sub(r"published: .*", f"published: 2024-01-0{n + 1}", text),
        )
    assert re.findall(r"Story (\w)", text_at(live, "feed.xml")) == ["f"], "and a post"
    assert len(live.units._whole) <= 3
    for name in "fe":
        (folder / f"content/patterns/{name}.md").unlink()
    live.take_up({folder / f"content/patterns/{name}.md" for name in "fe"})
    assert re.findall(r"Story (\w)", text_at(live, "feed.xml")) == ["d"]


def test_of_many_saves_those_that_are_open_go_first(live, folder):
    paths = []
    for name in "abcdef":
        paths.append(folder / f"content/patterns/{name}.md")
        paths[-1].write_text(plain_text(f"New {name}"))
    live.take_up(set(paths), {"patterns/d/"})
    assert made(live) == {"a": 1, "b": 1, "c": 1, "d": 2, "e": 1, "f": 1}
    assert live.reading() == (1, 6)
    while live.make_one():
        pass
    assert set(made(live).values()) == {2}


def test_a_style_makes_no_pattern_again_and_a_template_makes_all(live):
    before = live.assets()
    assert save(live, "themes/tideline/assets/theme.css", "p { color: red }")
    assert set(made(live).values()) == {1}
    assert [p for p, stamp in live.assets().items() if before.get(p) != stamp] == [
        "assets/theme.css"
    ]
    marked = '{% extends "shipped/home.html" %}{% block footer %}Ours{{ super() }}{% endblock %}'
    assert save(live, "themes/tideline/templates/home.html", marked)
    assert live.reading()[0] == 0 or set(made(live).values()) != {1}
    assert "Ours" in text_at(live, HOME)


def test_a_broken_template_is_named_and_the_last_pages_stay(live):
    text_at(live, HOME)
    save(live, "themes/tideline/templates/home.html", "{% if %}\n")
    page = text_at(live, HOME)
    assert "Title a" in page
    page = text_at(live, HOME)
    assert "themes/tideline/templates/home.html:1" in page
    save(live, "themes/tideline/templates/home.html", '{% extends "shipped/home.html" %}')
    page = text_at(live, HOME)
    assert "themes/tideline/templates" not in text_at(live, HOME)


def test_a_broken_pattern_template_keeps_no_page_from_being_mended(live):
    save(live, "themes/tideline/templates/pattern.html", "{{ nothing.at.all }}\n")
    page = text_at(live, path_of("a"))
    assert "Title a" in page
    assert "a template of the theme fails here" in page
    save(live, "themes/tideline/templates/pattern.html", '{% extends "shipped/pattern.html" %}')
    assert "Title a" in text_at(live, path_of("a"))
    while live.make_one():
        pass
    assert not live.problems()


def test_settings_make_everything_again_and_broken_ones_keep_the_last(live):
    assert save(live, "content/studio.yaml", SETTINGS.replace("The long", "The short"))
    assert "The short shelf" in text_at(live, path_of("a"))
    assert save(live, "content/studio.yaml", "titel: [\n")
    page = text_at(live, path_of("a"))
    assert "The short shelf" in page
    assert "content/studio.yaml:" in page
    assert "The short shelf" in text_at(live, HOME)
    assert save(live, "content/studio.yaml", SETTINGS)
    assert "The long shelf" in text_at(live, HOME)
    assert not live.problems()


def test_removed_settings_stay_in_use(live, folder):
    (folder / "content/studio.yaml").unlink()
    live.take_up({folder / "content/studio.yaml"})
    assert "The long shelf" in text_at(live, HOME)


def test_a_picture_makes_the_patterns_that_name_it(live, folder):
    from PIL import Image

    with_photo = plain_text("Title a").replace(
        "fill: medium", "fill: medium\nphotos:\n  - {file: sea.png, alt: The sea}"
    )
    save(live, "content/patterns/a.md", with_photo)
    assert "sea.png" in "".join(map(str, live.problems()))
    (folder / "content/photos").mkdir(exist_ok=True)
    picture = folder / "content/photos/sea.png"
    Image.new("RGB", (40, 30), "#1f3d5c").save(picture)
    before = made(live)
    assert live.take_up({picture})
    assert {name for name in before if made(live)[name] != before[name]} == {"a"}
    assert not live.problems()
    assert "photos/jpeg/sea.png.jpg" in text_at(live, path_of("a"))
    for path in ("photos/jpeg/sea.png.jpg", "photos/40/sea.png.webp"):
        assert live.find(path) is not None
    assert live.find("photos/480/sea.png.webp") is None
    found = live.find("photos/jpeg/sea.png.jpg")
    assert found
    assert found.data.startswith(b"\xff\xd8")
    old = found.data
    Image.new("RGB", (40, 30), "#dfe9e4").save(picture)
    live.take_up({picture})
    assert live.find("photos/jpeg/sea.png.jpg").data != old


def test_a_pattern_may_change_its_address(live):
    save(
        live,
        "content/patterns/a.md",
        plain_text("Title a").replace("kind:", "slug: elsewhere\nkind:"),
    )
    assert "Title a" in text_at(live, path_of("elsewhere"))
    assert page_at(live, path_of("a"), buyer=False)[1] == 404


def test_an_address_of_its_own_is_found_before_anything_is_made(folder):
    text = plain_text("Title a").replace("kind:", "slug: elsewhere\nkind:")
    (folder / "content/patterns/a.md").write_text(text)
    live = LiveStudio(Studio(folder))
    assert "Title a" in text_at(live, path_of("elsewhere"))


def test_two_of_one_address_are_told(live):
    save(live, "content/patterns/a.md", plain_text("Title a").replace("kind:", "slug: b\nkind:"))
    assert any("content/patterns/" in str(problem) for problem in live.problems())


def test_a_removed_pattern_takes_its_problems_along(live, folder):
    save(live, "content/patterns/a.md", "---\ntitle: [\n---\n")
    assert live.problems()
    (folder / "content/patterns/a.md").unlink()
    live.take_up({folder / "content/patterns/a.md"})
    assert not live.problems()


def test_pages_are_kept_in_bounds_and_made_again_when_asked_for(tmp_path):
    studio = generate_studio(tmp_path, 0)
    short = plain_text("T").split("## Before")[0]
    for n in range(MOST_PAGES + 3):
        (studio / f"content/patterns/p{n}.md").write_text(
            short.replace("title: T", f"title: Title {n}")
        )
    live = LiveStudio(Studio(studio))
    while live.make_one():
        pass
    assert len(live.units.memo.store._pages) == MOST_PAGES
    for n in (0, 1, MOST_PAGES + 2):
        assert f"Title {n}" in text_at(live, path_of(f"p{n}"))
    assert len(live.units.memo.store._pages) == MOST_PAGES


def test_a_fault_of_ours_is_told_in_its_place(live, monkeypatch):
    from stripewright.pipeline import memo

    def broken(*_args, **_more):
        raise ZeroDivisionError("a bug")

    monkeypatch.setattr(memo, "work_source", broken)
    save(live, "content/patterns/a.md", plain_text("Title new"))
    told = [str(problem) for problem in live.problems()]
    assert any("content/patterns/a.md" in text and "a bug" in text for text in told)


def test_pictures_in_lists_carry_a_fingerprint(live):
    page = text_at(live, "patterns/index.html")
    stamps = live.stamps()
    assert f'a/finished.svg?v={stamps["patterns/a/finished.svg"]}"' in page
    before = stamps["patterns/a/finished.svg"]
    save(live, "content/patterns/a.md", plain_text("Title a").replace("deep 30", "deep 12"))
    assert live.stamps()["patterns/a/finished.svg"] != before


def test_titles_and_file_names_are_text_beside_the_page(live):
    save(
        live,
        "content/patterns/a.md",
        plain_text('<script>alert("a")</script>').replace("deep 10", "<b>no</b> 10"),
    )
    page = text_at(live, path_of("a"))
    assert "<b>no</b>" not in page
    assert "<script>alert" not in page


def test_what_the_preview_adds_never_gets_into_a_published_site(folder):
    from datetime import date

    from stripewright.pipeline.build import build
    from stripewright.pipeline.context import Options
    from stripewright.pipeline.sources import read_sources

    studio = Studio(folder)
    sources, _ = read_sources(studio)
    built = build(studio, sources, Options(date(2026, 1, 1), paper=False))
    assert not has_errors(built.problems)
    for path, data in built.files.items():
        assert b'"/-/' not in data or path.startswith("assets/"), path
        assert b"sw-beside" not in data, path


def test_a_free_standing_page_and_the_first_post_come_into_the_menu(live):
    (first,) = live.saved.files["posts"]
    text = live.saved.files["posts"][first].data.decode()
    assert ">Posts</a>" in text_at(live, path_of("a"))
    (live.saved.studio.root / first).unlink()
    live.take_up({live.saved.studio.root / first})
    assert ">Posts</a>" not in text_at(live, path_of("a"))
    save(live, first, text)
    save(live, "content/pages/who.md", "---\ntitle: Who I am\nsummary: S.\n---\nWords.\n")
    for path in (path_of("a"), HOME):
        assert ">Posts</a>" in text_at(live, path)
        assert ">Who I am</a>" in text_at(live, path)
    before = made(live)
    save(live, first, text.replace("title: From", "title: Again from"))
    assert made(live) == before, "the menu is as it was: no pattern is made again"
