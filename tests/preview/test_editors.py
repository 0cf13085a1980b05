"""Saves as editors and tools make them: what is shown is what was last saved."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import time

import pytest

from stripewright.preview.debounce import Debouncer, is_passing
from support.browser import until
from support.studios import plain_text


def test_write_aside_and_rename(pattern):
    pattern.save(pattern.with_rows(33))
    pattern.shows(33)


def test_truncate_then_write(pattern):
    pattern.path.write_text(pattern.with_rows(34))
    pattern.shows(34)


def test_a_file_seen_half_written_is_waited_for(pattern, preview):
    """While it is open and half written, neither a problem nor another drawing shows."""
    text = pattern.with_rows(35)
    before = preview.rounds()
    with pattern.path.open("w") as file:
        for part in range(0, 400, 100):
            file.write(text[part : part + 100])
            file.flush()
            time.sleep(0.03)
            assert preview.rounds() == before
        file.write(text[400:])
    pattern.shows(35)
    assert preview.rounds() == before + 1


def test_a_burst_ends_with_the_last(pattern):
    for rows in range(40, 60):
        pattern.path.write_text(pattern.with_rows(rows))
    pattern.shows(59)


def test_the_old_file_moved_to_a_backup_and_a_new_one_written(pattern):
    pattern.path.rename(pattern.path.with_name(pattern.path.name + "~"))
    pattern.path.write_text(pattern.with_rows(36))
    pattern.shows(36)
    pattern.path.with_name(pattern.path.name + "~").unlink()


def test_deleted_and_written_again(pattern, preview):
    pattern.path.unlink()
    time.sleep(0.02)
    pattern.path.write_text(pattern.with_rows(37))
    pattern.shows(37)


def test_working_and_backup_files_are_no_patterns(pattern, preview):
    broken = "---\ntitle: [\n---\n"
    names = [f".{pattern.slug}.md.swp", f"{pattern.slug}.md~", f"#{pattern.slug}.md#", "4913",
             f"~{pattern.slug}.md", f"{pattern.slug}.md.tmp", f"{pattern.slug}.md.bak"]  # fmt: skip
    for name in names:
        pattern.path.with_name(name).write_text(broken)
    pattern.save(pattern.with_rows(38))
    pattern.shows(38)
    problems = preview.get("/-/problems")
    for name in names:
        assert name not in problems
        pattern.path.with_name(name).unlink()


@pytest.mark.parametrize(
    "name",
    [
        ".x.md.swp",
        "x.md~",
        "#x.md#",
        ".#x.md",
        "4913",
        "~$x.md",
        "x.md.tmp",
        "x.tmp.md",
        "x.md___jb_tmp___",
        "x.swx",
    ],
)
def test_passing_names(name):
    assert is_passing(name)


@pytest.mark.parametrize("name", ["x.md", "temple.md", "4913.md", "a-b.md", "photo.jpg", "lock.md"])
def test_names_of_the_author(name):
    assert not is_passing(name)


def test_a_removed_pattern_is_gone_and_a_renamed_one_has_its_new_address(pattern, preview):
    moved = pattern.path.with_name(f"{pattern.slug}-b.md")
    pattern.path.rename(moved)
    preview.until("/patterns/", f"{pattern.slug}-b/")
    until(lambda: preview.ask(pattern.page)[0], 404)
    moved.unlink()
    preview.when("/patterns/", lambda page: f"{pattern.slug}-b/" not in page)
    until(lambda: preview.ask(f"/patterns/{pattern.slug}-b/")[0], 404)


def test_a_folder_renamed_away_and_back(pattern, preview):
    folder = preview.studio / "content/patterns"
    folder.rename(folder.with_name("patterns-old"))
    preview.when("/patterns/", lambda page: pattern.slug not in page)
    folder.with_name("patterns-old").rename(folder)
    preview.until("/patterns/", pattern.slug)
    pattern.save(pattern.with_rows(39))
    pattern.shows(39)


def test_a_file_touched_but_not_changed_does_nothing(pattern, preview):
    before = preview.rounds()
    os.utime(pattern.path)
    pattern.path.write_text(pattern.text)
    time.sleep(0.5)
    assert preview.rounds() == before


def git(folder, *arguments):
    subprocess.run(
        ["git", "-c", "user.name=Ottilie", "-c", "user.email=o@example.org", *arguments],
        cwd=folder, check=True, capture_output=True,
    )  # fmt: skip


def shows_all(preview, word):
    """All 200 of them, on the list's two pages."""

    def all_there(page):
        _, more = preview.ask("/patterns/page-2.html")
        return len(re.findall(rf"{word} \d+</a>", page + more.decode())) == 200

    preview.when("/patterns/", all_there)


@pytest.mark.slow
def test_a_checkout_that_changes_200_files_is_one_rebuild_of_the_last(preview):
    folder = preview.studio
    git(folder, "init", "-q", "-b", "main")
    many = [folder / f"content/patterns/many-{n:03}.md" for n in range(200)]
    short = plain_text("Shelf pattern 4").split("## Before")[0]
    for n, path in enumerate(many):
        path.write_text(short.replace("Shelf pattern 4", f"First {n}"))
    git(folder, "add", "content/patterns")
    git(folder, "commit", "-q", "-m", "first")
    git(folder, "checkout", "-q", "-b", "other")
    for n, path in enumerate(many):
        path.write_text(short.replace("Shelf pattern 4", f"Second {n}"))
    git(folder, "commit", "-q", "-a", "-m", "second")
    shows_all(
        preview, "Second"
    )  # what the system has still to tell of the writing is nothing new then
    before = preview.rounds()
    git(folder, "checkout", "-q", "main")
    shows_all(preview, "First")
    time.sleep(0.5)
    assert preview.rounds() == before + 1
    for path in many:
        path.unlink()
    shutil.rmtree(folder / ".git")
    preview.when("/patterns/", lambda page: "many-" not in page)


def test_what_a_tool_did_is_told_as_a_whole_even_if_the_system_is_late_to_tell_it(tmp_path):
    """One of many changed files was told when the tool was done already; the others are on their way."""
    told, done = [], [1.0]
    debouncer = Debouncer(told.append, lambda: done[0])
    debouncer.start()
    try:
        debouncer.add(tmp_path / "a.md")
        until(lambda: told, [{tmp_path / "a.md"}])
        done[0] = None
        debouncer.add(tmp_path / "b.md")
        time.sleep(0.3)
        assert len(told) == 1, "it is in the middle of it"
        done[0] = 2.0
        until(lambda: told[1:], [{tmp_path / "b.md", None}])
    finally:
        debouncer.stop()


def test_a_file_that_changes_owner_or_time_after_it_was_closed_is_not_waited_for(pattern, preview):
    """As editors do that write a file and then give it its rights back."""
    pattern.path.write_text(pattern.with_rows(61))
    pattern.path.chmod(0o600)
    pattern.shows(61)
