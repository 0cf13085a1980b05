"""Links between the studio's own pages: what isn't on the site is told before anything is written."""

from __future__ import annotations

from support.studio_here import built, pattern, studio

POST = "---\ntitle: News\nsummary: Of one.\npublished: 2026-02-01\n{more}---\n{body}\n"


def told(tmp_path, body="", more="", patterns=None):
    here = studio(tmp_path / "s", patterns or {"one": pattern()})
    (here.content / "posts").mkdir(exist_ok=True)
    (here.content / "posts/news.md").write_text(POST.format(body=body, more=more))
    return [(str(p.place), p.message, p.hint) for p in built(here).problems]


def test_a_link_to_a_published_pattern_is_silent(tmp_path):
    assert told(tmp_path, "See [it](pattern:one).", "patterns: [one]\n") == []


def test_a_link_to_no_pattern_is_told_with_the_nearest(tmp_path):
    ((place, message, hint),) = told(tmp_path, "Words.\n\nSee [it](pattern:onne).")
    assert place == "content/posts/news.md:8"
    assert "there is no pattern “onne”" in message
    assert "one" in hint


def test_a_link_to_a_held_back_pattern_would_be_dead(tmp_path):
    patterns = {"one": pattern(), "later": pattern(published="2026-12-24")}
    assert [
        place for place, _, _ in told(tmp_path, "See [it](pattern:later).", patterns=patterns)
    ] == ["content/posts/news.md:6"]


def test_a_post_may_already_be_about_a_held_back_pattern(tmp_path):
    patterns = {"one": pattern(), "later": pattern(published="2026-12-24")}
    assert told(tmp_path, more="patterns: [later]\n", patterns=patterns) == []


def test_a_post_about_no_pattern_is_told_at_its_line(tmp_path):
    ((place, message, _),) = told(tmp_path, more="patterns: [one, owne]\n")
    assert (place, "owne" in message) == ("content/posts/news.md:5", True)


def test_a_pattern_s_private_links_are_looked_at_too(tmp_path):
    patterns = {"one": pattern(body="See [that](post:none).", paid=True)}
    ((place, message, _),) = told(tmp_path, patterns=patterns)
    assert place.startswith("content/patterns/one.md:")
    assert "there is no post “none”" in message


def test_what_has_a_mistake_of_its_own_is_no_lost_link(tmp_path):
    patterns = {"one": pattern().replace("summary:", "slug: first\nsumary:")}
    found = told(tmp_path, "See [it](pattern:first).", patterns=patterns)
    assert [place for place, _, _ in found] == ["content/patterns/one.md:4"]


def test_a_text_is_looked_at_whatever_is_wrong_above_it(tmp_path):
    found = told(
        tmp_path, "See [it](pattern:onne), ![a hat](hat.jpg), [that](ftp://x).", "tagz: [a]\n"
    )
    assert [place for place, _, _ in found] == [
        "content/posts/news.md:5", *["content/posts/news.md:7"] * 3
    ]  # fmt: skip


def test_an_address_may_be_a_number(tmp_path):
    assert told(tmp_path, "See [this](post:0107).", "slug: 0107\n") == []
