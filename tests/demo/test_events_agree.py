"""Every demo pattern is told alike: plan, counter, steps, schematic, worksheet and PDF.

Each event of each piece, as compute has it, is looked for in all six, by the words and the reading
that a knitter goes by. That the phone's counter stops at what it reads is held by its own tests.
"""

import re
from shutil import copytree

import pytest
from click.testing import CliRunner

from stripewright.cli import main
from stripewright.figures import rc
from stripewright.pipeline.commands import publish
from stripewright.pipeline.context import Options
from stripewright.pipeline.progress import quiet
from stripewright.studio import Studio
from support.demo import CONTENT, SLUGS, demo
from support.papers import demo as made
from support.papers import demo_pdf, tool
from support.site import DAY

PLAIN = {"begin", "change", "end"}
"""Events that the plan's stripes tell."""


def happens(piece):
    return [event for event in piece.events if event.kind not in PLAIN]


def in_one_line(text):
    return " ".join(text.split())


def rows_of(page, key):
    """The plan's rows of one piece on a page: the attributes that the counter reads, and the text."""
    table = re.search(
        rf'<table class="plan" data-piece="{key}" .*?</table>\n</div>', page, re.DOTALL
    )[0]
    events = re.findall(r'<tr class="event"([^>]*)>(.*?)</tr>', table, re.DOTALL)
    return [
        (dict(re.findall(r'data-(\w+)="([^"]*)"', attributes)), re.sub("<[^>]+>", " ", row))
        for attributes, row in events
    ]


@pytest.fixture(scope="module")
def whole_site(tmp_path_factory):
    """The demo's pages, drafts and all, without paper."""
    folder = tmp_path_factory.mktemp("drafts")
    copytree(CONTENT, folder / "content")
    studio = Studio(folder)
    publish(studio, studio.site, Options(on=DAY, paper=False, drafts=True), quiet)
    return studio.site


@pytest.mark.parametrize("slug", SLUGS)
def test_plan_and_counter(slug, whole_site):
    worked, written = demo(slug)
    page = (whole_site / "patterns" / slug / "index.html").read_text(encoding="utf-8")
    if worked.pattern.access == "paid":
        assert "data-event" not in page  # what happens on the way is for buyers
        return
    for piece in worked.pieces:
        told = written.events[piece.key]
        rows = rows_of(page, piece.key)
        assert len(rows) == len(told) == len(happens(piece))
        for event, words, (read, text) in zip(happens(piece), told, rows, strict=True):
            assert (read["event"], int(read["at"])) == (event.kind, event.row)
            assert read["until"] == ("" if event.until is None else str(event.until))
            assert (int(read["times"]), read["title"]) == (event.times, words.title)
            assert rc(event.row) in in_one_line(text)


@pytest.mark.parametrize("slug", SLUGS)
def test_steps(slug):
    worked, written = demo(slug)
    making = [s for g in written.groups if g.key == "making-up" for s in g.steps]
    for piece in worked.pieces:
        steps = next(group.steps for group in written.groups if group.key == piece.key)
        knitted = {step.technique: step.text for step in steps}
        texts = " ".join(step.text for step in steps)
        for event in happens(piece):
            if event.kind in ("slit", "gap", "fold", "join"):
                step = next(s for s in steps if rc(event.row) in s.text and s.technique in
                            {"slit", "gap", "mark_fold", "mark_join"})  # fmt: skip
                assert event.until is None or rc(event.until) in step.text
            elif event.kind in ("slit_end", "gap_end", "repeat_end"):
                assert rc(event.row) in texts
            elif event.kind == "repeat":
                assert f"{event.times} of them. Change yarns as before at " in texts
                assert f"and knit until {rc(event.until)}." in texts
            elif event.kind == "hem":
                rows = event.row if event.side == "first" else piece.worked_rows - event.row
                assert f"The {event.side} {rows} rows go into the hem" in texts
            elif event.kind == "graft":
                assert "rafting makes" in texts
                assert any("graft" in step.technique for step in making)
            else:
                assert event.kind == "fill_gap"
                filled = [step for step in making if step.technique == "fill"]
                assert filled
                assert any(step.technique.startswith("close") for step in making)
        assert set(knitted) >= {"set_up", "set_counter", "take_off"}
        for line in piece.plan:
            repeated = any(block.first + block.stripes <= piece.plan.index(line)
                           < block.first + block.stripes * block.times
                           for block in piece.repeats)  # fmt: skip
            assert repeated or not line.rows or f"knit until {rc(line.last)}." in texts


@pytest.mark.parametrize("slug", SLUGS)
def test_schematic(slug):
    worked, written = demo(slug)
    for key, drawing in made(slug).drawings.schematics.items():
        for event, words in zip(happens(worked.piece(key)), written.events[key], strict=True):
            assert f"{words.title}, {rc(event.row)}" in drawing.description
            if event.kind == "fold":
                assert f">fold, after {rc(event.row)}<" in drawing.svg
            if event.kind == "slit":
                label = f"opening: {event.what}, {rc(event.row)} to {event.until:03d}"
                assert label in in_one_line(re.sub("<[^>]+>", " ", drawing.svg))


@pytest.mark.parametrize("slug", SLUGS)
def test_worksheet(slug):
    worked, written = demo(slug)
    file = CONTENT / "patterns" / f"{slug}.md"
    printed = CliRunner(env={"COLUMNS": "200"}).invoke(
        main, ["worksheet", str(file), "--studio", str(CONTENT.parent)]
    )
    assert printed.exit_code == 0, printed.output
    lines = [in_one_line(line.replace("│", " ")) for line in printed.output.splitlines()]
    for piece in worked.pieces:
        for event, words in zip(happens(piece), written.events[piece.key], strict=True):
            assert f"{words.title} {event.row:03d}" in lines


@pytest.mark.parametrize("slug", SLUGS)
def test_pdf(slug, tmp_path):
    worked, written = demo(slug)
    text = tool("pdftotext", demo_pdf(slug, "a4", "tideline"), tmp_path, "-layout")
    # The reading looked for is the one in the plan's own column, beside the event's words.
    lines = [in_one_line(re.sub(r"RC \d{3}", "", line)) for line in text.splitlines()]
    for piece in worked.pieces:
        for event, words in zip(happens(piece), written.events[piece.key], strict=True):
            found = [" ".join(lines[at - 1 : at + 3]) for at, line in enumerate(lines)
                     if f"{words.title}." in line]  # fmt: skip
            assert any(f"{event.row:03d}" in near for near in found), words


def test_the_demo_has_most_kinds_of_events():
    """So that the tests above have something to find."""
    found = {
        event.kind for slug in SLUGS for piece in demo(slug)[0].pieces for event in piece.events
    }
    assert found >= {"slit", "slit_end", "fold", "graft", "repeat", "repeat_end", "fill_gap"}


@pytest.mark.parametrize("slug", SLUGS)
def test_every_reading_stands_on_the_page_and_on_paper(slug, whole_site, tmp_path):
    """However a plan is folded, the reading at which each of its stripes is done is there."""
    worked, _ = demo(slug)
    page = (whole_site / "patterns" / slug / "index.html").read_text(encoding="utf-8")
    text = tool("pdftotext", demo_pdf(slug, "a4", "tideline"), tmp_path, "-layout")
    printed = set(re.findall(r"\b\d{3}\b", text))
    for piece in worked.pieces:
        done = [line.last for line in piece.plan if line.rows]
        assert {f"{row:03d}" for row in done} <= printed
        if worked.pattern.access == "free":
            table = re.search(rf'data-piece="{piece.key}" .*?</table>\n</div>', page, re.DOTALL)[0]
            assert [int(row) for row in re.findall(r'data-last="(\d+)"', table)] == done
