"""What a save makes again, and what stays as it was."""

from __future__ import annotations

import re

import pytest

from stripewright.preview.app import page_at
from stripewright.preview.desk import Desk
from stripewright.preview.units import MOST_PAGES, SWEPT_EVERY
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
def desk(folder):
    desk = Desk(Studio(folder))
    while desk.make_one():
        pass
    return desk


def path_of(name):
    return f"patterns/{name}/index.html"


def made(desk):
    return {
        name.split("/")[-1][:-3]: unit.made
        for name, unit in desk.units.by_name.items()
        if unit.source.kind == "patterns"
    }


def text_at(desk, path, *, buyer=False):
    return page_at(desk, path, buyer=buyer)[0].decode()


def save(desk, name, text):
    path = desk.saved.studio.root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    return desk.take_up({path})


def test_nothing_is_made_before_it_is_asked_for(folder):
    desk = Desk(Studio(folder))
    assert set(made(desk).values()) == {0}
    text_at(desk, path_of("c"))
    assert made(desk) == {"a": 0, "b": 0, "c": 1, "d": 0, "e": 0, "f": 0}


def test_a_save_makes_that_pattern_alone(desk):
    assert save(desk, "content/patterns/b.md", plain_text("Title bb"))
    assert made(desk) == {"a": 1, "b": 2, "c": 1, "d": 1, "e": 1, "f": 1}
    assert "Title bb" in text_at(desk, path_of("b"))
    assert "Title bb" in text_at(desk, "patterns/index.html")
    assert made(desk)["b"] == 2


def test_the_same_bytes_again_make_nothing(desk):
    assert not save(desk, "content/patterns/b.md", plain_text("Title b"))
    assert set(made(desk).values()) == {1}


def test_a_text_that_was_saved_before_is_taken_from_the_memo(desk):
    save(desk, "content/patterns/b.md", plain_text("Title bb"))
    assert "Title bb" in text_at(desk, path_of("b"))
    save(desk, "content/patterns/b.md", "---\ntitle: [\n---\n")
    assert "Title bb" in text_at(desk, path_of("b"))
    before = made(desk)
    save(desk, "content/patterns/b.md", plain_text("Title bb"))
    assert made(desk) == before
    assert not desk.problems()
    assert "Title bb" in text_at(desk, path_of("b"))


def test_what_saves_replaced_is_forgotten(desk):
    for n in range(3 * SWEPT_EVERY):
        save(desk, "content/patterns/b.md", plain_text(f"Title {n}"))
    assert len(desk.units.memo._entries) <= 6 + SWEPT_EVERY
    assert len(desk.units.memo.store._kept) <= 2 * (6 + SWEPT_EVERY)
    for name in "abcdef":
        assert "Title" in text_at(desk, path_of(name))
        assert page_at(desk, f"patterns/{name}/finished.svg", buyer=False)[1] == 200


def test_of_a_long_list_only_what_the_feed_shows_keeps_its_story(desk, folder, monkeypatch):
    """One that comes into the feed again has its story again."""
    from stripewright.pages import feed
    from stripewright.preview import units

    monkeypatch.setattr(units, "MOST_TOLD", 3)
    monkeypatch.setattr(feed, "MOST_ENTRIES", 2)
    for n, name in enumerate("abcdef"):
        text = plain_text(f"Title {name}").replace("Before you start", f"Story {name}")
        save(
            desk,
            f"content/patterns/{name}.md",
            re.sub(r"published: .*", f"published: 2024-01-0{n + 1}", text),
        )
    assert re.findall(r"Story (\w)", text_at(desk, "feed.xml")) == ["f"], "and a post"
    assert len(desk.units._whole) <= 3
    for name in "fe":
        (folder / f"content/patterns/{name}.md").unlink()
    desk.take_up({folder / f"content/patterns/{name}.md" for name in "fe"})
    assert re.findall(r"Story (\w)", text_at(desk, "feed.xml")) == ["d"]


def test_of_many_saves_those_that_are_open_go_first(desk, folder):
    paths = []
    for name in "abcdef":
        paths.append(folder / f"content/patterns/{name}.md")
        paths[-1].write_text(plain_text(f"New {name}"))
    desk.take_up(set(paths), {"patterns/d/"})
    assert made(desk) == {"a": 1, "b": 1, "c": 1, "d": 2, "e": 1, "f": 1}
    assert desk.reading() == (1, 6)
    while desk.make_one():
        pass
    assert set(made(desk).values()) == {2}


def test_a_style_makes_no_pattern_again_and_a_template_makes_all(desk):
    before = desk.assets()
    assert save(desk, "themes/tideline/assets/theme.css", "p { color: red }")
    assert set(made(desk).values()) == {1}
    assert [p for p, stamp in desk.assets().items() if before.get(p) != stamp] == [
        "assets/theme.css"
    ]
    marked = '{% extends "shipped/home.html" %}{% block footer %}Ours{{ super() }}{% endblock %}'
    assert save(desk, "themes/tideline/templates/home.html", marked)
    assert desk.reading()[0] == 0 or set(made(desk).values()) != {1}
    assert "Ours" in text_at(desk, HOME)


def test_a_broken_template_is_named_and_the_last_pages_stay(desk):
    text_at(desk, HOME)
    save(desk, "themes/tideline/templates/home.html", "{% if %}\n")
    page = text_at(desk, HOME)
    assert "Title a" in page
    page = text_at(desk, HOME)
    assert "themes/tideline/templates/home.html:1" in page
    save(desk, "themes/tideline/templates/home.html", '{% extends "shipped/home.html" %}')
    page = text_at(desk, HOME)
    assert "themes/tideline/templates" not in text_at(desk, HOME)


def test_a_broken_pattern_template_keeps_no_page_from_being_mended(desk):
    save(desk, "themes/tideline/templates/pattern.html", "{{ nothing.at.all }}\n")
    page = text_at(desk, path_of("a"))
    assert "Title a" in page
    assert "a template of the theme fails here" in page
    save(desk, "themes/tideline/templates/pattern.html", '{% extends "shipped/pattern.html" %}')
    assert "Title a" in text_at(desk, path_of("a"))
    while desk.make_one():
        pass
    assert not desk.problems()


def test_settings_make_everything_again_and_broken_ones_keep_the_last(desk):
    assert save(desk, "content/studio.yaml", SETTINGS.replace("The long", "The short"))
    assert "The short shelf" in text_at(desk, path_of("a"))
    assert save(desk, "content/studio.yaml", "titel: [\n")
    page = text_at(desk, path_of("a"))
    assert "The short shelf" in page
    assert "content/studio.yaml:" in page
    assert "The short shelf" in text_at(desk, HOME)
    assert save(desk, "content/studio.yaml", SETTINGS)
    assert "The long shelf" in text_at(desk, HOME)
    assert not desk.problems()


def test_removed_settings_stay_in_use(desk, folder):
    (folder / "content/studio.yaml").unlink()
    desk.take_up({folder / "content/studio.yaml"})
    assert "The long shelf" in text_at(desk, HOME)


def test_a_picture_makes_the_patterns_that_name_it(desk, folder):
    from PIL import Image

    with_photo = plain_text("Title a").replace(
        "fill: medium", "fill: medium\nphotos:\n  - {file: sea.png, alt: The sea}"
    )
    save(desk, "content/patterns/a.md", with_photo)
    assert "sea.png" in "".join(map(str, desk.problems()))
    (folder / "content/photos").mkdir(exist_ok=True)
    picture = folder / "content/photos/sea.png"
    Image.new("RGB", (40, 30), "#1f3d5c").save(picture)
    before = made(desk)
    assert desk.take_up({picture})
    assert {name for name in before if made(desk)[name] != before[name]} == {"a"}
    assert not desk.problems()
    assert "photos/jpeg/sea.png.jpg" in text_at(desk, path_of("a"))
    for path in ("photos/jpeg/sea.png.jpg", "photos/40/sea.png.webp"):
        assert desk.find(path) is not None
    assert desk.find("photos/480/sea.png.webp") is None
    found = desk.find("photos/jpeg/sea.png.jpg")
    assert found
    assert found.data.startswith(b"\xff\xd8")
    old = found.data
    Image.new("RGB", (40, 30), "#dfe9e4").save(picture)
    desk.take_up({picture})
    assert desk.find("photos/jpeg/sea.png.jpg").data != old


def test_a_pattern_may_change_its_address(desk):
    save(
        desk,
        "content/patterns/a.md",
        plain_text("Title a").replace("kind:", "slug: elsewhere\nkind:"),
    )
    assert "Title a" in text_at(desk, path_of("elsewhere"))
    assert page_at(desk, path_of("a"), buyer=False)[1] == 404


def test_an_address_of_its_own_is_found_before_anything_is_made(folder):
    text = plain_text("Title a").replace("kind:", "slug: elsewhere\nkind:")
    (folder / "content/patterns/a.md").write_text(text)
    desk = Desk(Studio(folder))
    assert "Title a" in text_at(desk, path_of("elsewhere"))


def test_two_of_one_address_are_told(desk):
    save(desk, "content/patterns/a.md", plain_text("Title a").replace("kind:", "slug: b\nkind:"))
    assert any("content/patterns/" in str(problem) for problem in desk.problems())


def test_a_removed_pattern_takes_its_problems_along(desk, folder):
    save(desk, "content/patterns/a.md", "---\ntitle: [\n---\n")
    assert desk.problems()
    (folder / "content/patterns/a.md").unlink()
    desk.take_up({folder / "content/patterns/a.md"})
    assert not desk.problems()


def test_pages_are_kept_in_bounds_and_made_again_when_asked_for(tmp_path):
    studio = generate_studio(tmp_path, 0)
    short = plain_text("T").split("## Before")[0]
    for n in range(MOST_PAGES + 3):
        (studio / f"content/patterns/p{n}.md").write_text(
            short.replace("title: T", f"title: Title {n}")
        )
    desk = Desk(Studio(studio))
    while desk.make_one():
        pass
    assert len(desk.units.memo.store._pages) == MOST_PAGES
    for n in (0, 1, MOST_PAGES + 2):
        assert f"Title {n}" in text_at(desk, path_of(f"p{n}"))
    assert len(desk.units.memo.store._pages) == MOST_PAGES


def test_a_fault_of_ours_is_told_in_its_place(desk, monkeypatch):
    from stripewright.pipeline import memo

    def broken(*_args, **_more):
        raise ZeroDivisionError("a bug")

    monkeypatch.setattr(memo, "work_source", broken)
    save(desk, "content/patterns/a.md", plain_text("Title new"))
    told = [str(problem) for problem in desk.problems()]
    assert any("content/patterns/a.md" in text and "a bug" in text for text in told)


def test_pictures_in_lists_carry_a_fingerprint(desk):
    page = text_at(desk, "patterns/index.html")
    stamps = desk.stamps()
    assert f'a/finished.svg?v={stamps["patterns/a/finished.svg"]}"' in page
    before = stamps["patterns/a/finished.svg"]
    save(desk, "content/patterns/a.md", plain_text("Title a").replace("deep 30", "deep 12"))
    assert desk.stamps()["patterns/a/finished.svg"] != before


def test_titles_and_file_names_are_text_beside_the_page(desk):
    save(
        desk,
        "content/patterns/a.md",
        plain_text('<script>alert("a")</script>').replace("deep 10", "<b>no</b> 10"),
    )
    page = text_at(desk, path_of("a"))
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
    assert built.files
    for path, data in built.files.items():
        assert b'"/-/' not in data or path.startswith("assets/"), path
        assert b"sw-beside" not in data, path


def test_a_free_standing_page_and_the_first_post_come_into_the_menu(desk):
    (first,) = desk.saved.files["posts"]
    text = desk.saved.files["posts"][first].data.decode()
    assert ">Posts</a>" in text_at(desk, path_of("a"))
    (desk.saved.studio.root / first).unlink()
    desk.take_up({desk.saved.studio.root / first})
    assert ">Posts</a>" not in text_at(desk, path_of("a"))
    save(desk, first, text)
    save(desk, "content/pages/who.md", "---\ntitle: Who I am\nsummary: S.\n---\nWords.\n")
    for path in (path_of("a"), HOME):
        assert ">Posts</a>" in text_at(desk, path)
        assert ">Who I am</a>" in text_at(desk, path)
    before = made(desk)
    save(desk, first, text.replace("title: From", "title: Again from"))
    assert made(desk) == before, "the menu is as it was: no pattern is made again"
