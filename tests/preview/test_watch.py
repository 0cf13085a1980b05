"""Folders that are removed, made anew, replaced or renamed: saves are heard again, whatever the order."""

from __future__ import annotations

import itertools
import os
import shutil
import signal
import time

import pytest

from stripewright.preview.git import LOCKED_S, GitState
from stripewright.preview.watch import Watch
from stripewright.problems import Severity
from stripewright.studio import Studio
from support.browser import until
from support.previews import PATIENCE_S, previewing
from support.studios import SETTINGS, generate_studio, plain_text

ROWS = itertools.count(30)
CSS = "themes/ours/assets/theme.css"


@pytest.fixture(scope="module")
def running(tmp_path_factory):
    root = generate_studio(tmp_path_factory.mktemp("around") / "studio", 2)
    (root / "content/studio.yaml").write_text(SETTINGS + "theme: ours\n")
    (root / CSS).parent.mkdir(parents=True)
    (root / CSS).write_text("main { color: #112233 }\n")
    with previewing(root) as preview:
        yield preview


def hears(preview):
    """A save of a pattern, then one of the theme's style, are both shown."""
    rows = next(ROWS)
    text = plain_text("Heard").replace("deep 30", f"deep {rows}")
    (preview.studio / "content/patterns/heard.md").write_text(text)
    preview.until("/patterns/heard/", f'data-last="{10 + 20 + rows + 2}"')
    before = preview.get("/-/assets")
    (preview.studio / CSS).write_text(f"main {{ color: #{rows:06} }}\n")
    preview.when("/-/assets", lambda now: now != before)
    preview.when("/-/problems", lambda page: 'severity="error"' not in page)


def remove(*names):
    def change(root, aside):
        for name in names:
            shutil.copytree(root / name, aside / name.replace("/", "-"), dirs_exist_ok=True)
            shutil.rmtree(root / name)

    return change


def put_back(*names):
    def change(root, aside):
        for name in names:
            shutil.copytree(aside / name.replace("/", "-"), root / name)

    return change


def at_once(*names):
    """Removed and made anew before anybody can have looked."""

    def change(root, aside):
        remove(*names)(root, aside)
        put_back(*names)(root, aside)

    return change


def swap_for(make):
    def change(root, aside):
        (root / "content").rename(aside / "content")
        make(root / "content", aside)

    return change


def swap_back(root, aside):
    (root / "content").unlink()
    (aside / "content").rename(root / "content")


def rename(root, aside):
    root.rename(root.with_name("elsewhere"))


def rename_back(root, aside):
    root.with_name("elsewhere").rename(root)


def another_copy(root, aside):
    """The studio is moved off and another of its name stands there."""
    root.rename(aside / "first")
    shutil.copytree(aside / "first", root)


def remove_root(root, aside):
    shutil.copytree(root, aside / "root")
    shutil.rmtree(root)


def copy_root_back(root, aside):
    shutil.copytree(aside / "root", root)


def pause(root, aside):
    """Long enough for what happened to be looked at."""
    time.sleep(0.9)


CHANGES = {
    "content": [remove("content"), pause, put_back("content")],
    "content at once": [at_once("content")],
    "a folder in it": [remove("content/patterns"), pause, put_back("content/patterns")],
    "a folder in it at once": [at_once("content/patterns")],
    "themes": [remove("themes"), pause, put_back("themes")],
    "themes at once": [at_once("themes")],
    "a folder in a theme": [remove("themes/ours/assets"), pause, put_back("themes/ours/assets")],
    "both, the first back first": [remove("content", "themes"), pause, put_back("content"), pause, put_back("themes")],
    "both, the last back first": [remove("content", "themes"), pause, put_back("themes"), pause, put_back("content")],
    "both at once": [at_once("content", "themes")],
    "one within the other's absence": [remove("themes"), pause, at_once("content"), put_back("themes")],
    "three times": [at_once("content"), at_once("content"), at_once("content/patterns")],
    "a file in its place": [swap_for(lambda path, aside: path.write_text("no folder")), pause, swap_back],
    "a file in its place at once": [swap_for(lambda path, aside: path.write_text("no folder")), swap_back],
    "a link out of the studio": [swap_for(lambda path, aside: path.symlink_to(aside / "content")), pause, swap_back],
    "a link to nothing": [swap_for(lambda path, aside: path.symlink_to("nothing")), pause, swap_back],
    "a link to itself": [swap_for(lambda path, aside: path.symlink_to("content")), pause, swap_back],
    "renamed": [rename, pause, rename_back],
    "renamed at once": [rename, rename_back],
    "renamed, content removed meanwhile": [
        rename, pause,
        lambda root, aside: at_once("content")(root.with_name("elsewhere"), aside), rename_back],
    "another studio in its place": [another_copy],
    "the studio itself": [remove_root, pause, copy_root_back],
    "the studio itself at once": [remove_root, copy_root_back],
}  # fmt: skip


@pytest.mark.parametrize("steps", CHANGES.values(), ids=CHANGES)
def test_saves_are_heard_again_after(running, tmp_path, steps):
    hears(running)
    for step in steps:
        step(running.studio, tmp_path)
    hears(running)


def test_a_folder_that_is_a_link_inside_the_studio_is_watched_too(running):
    folder = running.studio / "content/patterns"
    folder.rename(running.studio / "kept")
    folder.symlink_to("../kept")
    hears(running)
    folder.unlink()
    (running.studio / "kept").rename(folder)
    hears(running)


def test_a_studio_that_is_gone_says_so_on_page_and_terminal_and_keeps_its_pages(tmp_path):
    root = generate_studio(tmp_path / "studio", 2)
    with previewing(root) as preview:
        preview.all_read()
        page = preview.get("/patterns/shelf-00000/")
        assert "is gone" not in page
        root.rename(tmp_path / "elsewhere")
        beside = preview.until(
            "/patterns/shelf-00000/", "the studio's folder is gone".replace("'", "&#39;")
        )
        assert "Shelf pattern 0" in beside
        (tmp_path / "elsewhere").rename(root)
        preview.when("/patterns/shelf-00000/", lambda page: "is gone" not in page)
        preview.process.send_signal(signal.SIGINT)
        preview.process.wait(PATIENCE_S)
        said = preview.process.stdout.read()
    assert said.count("the studio's folder is gone") == 1
    assert f"{root}: mended" in said


def test_a_future_dated_lock_of_git_holds_saves_back_for_a_while_only(tmp_path, monkeypatch):
    """The clock was set back since it was written: its date tells no age."""
    lock = tmp_path / ".git/index.lock"
    lock.parent.mkdir()
    lock.touch()
    os.utime(lock, (time.time() + 9e6,) * 2)
    seen = time.monotonic()
    state = GitState(tmp_path)
    assert state() is None, "Git may be at work"
    monkeypatch.setattr(time, "monotonic", lambda: seen + LOCKED_S + 1)
    assert state() is not None
    os.utime(lock, (time.time() + 8e6,) * 2)
    assert state() is None, "another lock is waited for anew"


def test_git_of_a_further_work_tree_is_seen(tmp_path):
    (tmp_path / "main/.git/worktrees/second").mkdir(parents=True)
    second = tmp_path / "second"
    second.mkdir()
    (second / ".git").write_text(f"gitdir: {tmp_path}/main/.git/worktrees/second\n")
    state = GitState(second)
    assert state() == 0
    (tmp_path / "main/.git/worktrees/second/index.lock").touch()
    assert state() is None


def test_folders_that_cannot_be_watched_are_told_and_tried_again(tmp_path, monkeypatch):
    """As when the system's number of watches is used up; what was saved shows all the same."""
    root = generate_studio(tmp_path / "studio", 1)
    told, changed = [], []
    watch = Watch(Studio(root), changed.append, told.append)
    renew, left = watch._renew, [3]

    def failing():
        left[0] -= 1
        if left[0] > 0:
            raise OSError(28, "inotify watch limit reached")
        renew()

    watch.start()
    try:
        monkeypatch.setattr(watch, "_renew", failing)
        at_once("content/patterns")(root, tmp_path)
        until(lambda: told[-1:], [None])
        assert len(told) == 3
        assert told[0] == told[1]
        assert told[0].severity is Severity.ERROR
        assert "can't be watched" in told[0].message
        until(lambda: {None} in changed, True)
    finally:
        watch.stop()
