"""Chapters of a film, made from the steps: listed to paste, filled in, and shown at their steps."""

from __future__ import annotations

import textwrap

import pytest

from stripewright.draw.draw import draw_all
from stripewright.figures import Figures
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.source.reader import read_document
from stripewright.source.yaml_tree import read_yaml
from stripewright.view.make import pattern_view
from stripewright.words.write import write
from support.patterns import SETTINGS, text_of, try_work

FILM = "https://films.example.org/bolster"


def told(**video):
    """A pattern's words with such a film, its view, and every problem."""
    text = text_of(video={"url": FILM, **video})
    worked, problems = try_work(text)
    if worked is None:
        return None, problems
    document, _ = read_document(text.encode(), "content/patterns/breakwater-bolster.md")
    written, found = write(worked, document, SETTINGS)
    drawings = draw_all(worked, written, prefix="film", figures=Figures.of(SETTINGS))
    view = pattern_view(worked, written, drawings, SETTINGS)
    return view, [*problems, *found]


def listed_in(problem) -> list[dict]:
    """The chapters of a hint, as they would be read once pasted."""
    lines = problem.hint.partition("\n")[2]
    tree, problems = read_yaml(textwrap.dedent(lines) + "\n", "hint", 1)
    assert problems == []
    return tree.front["chapters"]


def test_they_are_listed_with_their_times_left_to_fill_in():
    view, problems = told(chapters="from steps")
    assert view.video.chapters == ()
    (problem,) = (one for one in problems if "no chapters yet" in one.message)
    chapters = listed_in(problem)
    assert [one["step"] for one in chapters][:3] == ["cover", "set_up", "change"]
    assert {one["at"] for one in chapters} == {None}
    assert "lining" in [one["step"] for one in chapters]
    assert "stripe" not in [one["step"] for one in chapters]
    assert len({one["step"] for one in chapters}) == len(chapters)


def test_what_is_listed_can_be_pasted_and_warns_of_each_missing_time():
    _, problems = told(chapters="from steps")
    chapters = listed_in(next(one for one in problems if "no chapters yet" in one.message))
    view, problems = told(chapters=chapters)
    assert view.video.chapters == ()
    missing = [one for one in problems if "has no time yet" in one.message]
    assert len(missing) == len(chapters)


def test_filled_in_each_step_links_to_its_moment():
    _, problems = told(chapters="from steps")
    chapters = listed_in(next(one for one in problems if "no chapters yet" in one.message))
    timed = [{**one, "at": f"{number}:00"} for number, one in enumerate(chapters)]
    view, problems = told(chapters=timed)
    assert [one for one in problems if "chapter" in one.message] == []
    assert len(view.video.chapters) == len(chapters)
    shown = sum(len(beside) for beside in view.video.beside.values())
    assert shown == len(chapters), "every one stands beside a step"


@pytest.mark.parametrize("wrong", ["from step", "steps"])
def test_other_words_are_refused(wrong: str):
    view, problems = told(chapters=wrong)
    assert view is None
    assert any("from steps" in f"{one.message} {one.hint}" for one in problems)


def test_times_rise_though_some_are_missing():
    text = text_of(video={"url": FILM, "chapters": [
        {"at": "2:00", "title": "One"}, {"title": "Two"}, {"at": "1:00", "title": "Three"}]})  # fmt: skip
    document, _ = read_document(text.encode(), "content/patterns/lot.md")
    _, problems = as_model(document, Pattern)
    assert any("no later than the one above" in one.message for one in problems)
