"""A commit that is killed, or whose disk fails, at every one of its steps in turn."""

from __future__ import annotations

import errno
import os
import re
import resource
import signal
import subprocess
import threading
import time
from html.parser import HTMLParser
from posixpath import dirname, join, normpath

import pytest

from stripewright.problems import Refused
from stripewright.publish import manifest
from stripewright.publish.commit import commit
from stripewright.publish.survey import WORKING
from support.disks import CountingDisk, FailingDisk, KillingDisk


def site(patterns: dict[str, str], tags: dict[str, list[str]]) -> dict[str, bytes]:
    """A small site, linked as the real one: patterns link to the list of tags, not to a tag's page."""

    def page(text, *links):
        return (text + "".join(f'<a href="{link}">x</a>' for link in links)).encode() + b"<p>end"

    files = {"assets/style.css": b"p{}", "index.html": page("home", *(f"patterns/{p}/index.html" for p in patterns), *(f"tags/{t}.html" for t in tags))}  # fmt: skip
    for slug, text in patterns.items():
        files[f"patterns/{slug}/index.html"] = page(text, "finished.svg", "../../index.html", "../../assets/style.css", "../../tags/index.html")  # fmt: skip
        files[f"patterns/{slug}/finished.svg"] = f"<svg>{text}</svg>".encode()
    files["tags/index.html"] = page("tags", *(f"{tag}.html" for tag in tags))
    for tag, members in tags.items():
        files[f"tags/{tag}.html"] = page(
            tag, *(f"../patterns/{slug}/index.html" for slug in members)
        )
    return files


OLD = site({"a": "one", "b": "two", "gone": "three"}, {"sea": ["a", "gone"], "ebb": ["gone"]})
NEW = site(
    {"a": "one, altered", "b": "two", "come": "four"}, {"sea": ["a", "come"], "dune": ["come"]}
)


class Links(HTMLParser):
    def __init__(self, html):
        super().__init__()
        self.found = []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.found += [value for name, value in attrs if name == "href"]


def put(files, folder, disk=None, **more):
    """Commit on a disk that waits for no platter; test_commit has the real one."""
    return commit(files, folder, disk=disk or CountingDisk(), **more)


def standing(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def published(folder):
    return {
        name: data
        for name, data in standing(folder).items()
        if not name.split("/")[-1].startswith(".stripewright-")
    }


def dead_links(files):
    """Links that lead nowhere, on any page."""
    return [
        (name, link)
        for name, data in files.items()
        if name.endswith(".html")
        for link in Links(data.decode()).found
        if normpath(join(dirname(name), link)) not in files
    ]


def all_whole(files):
    return all(data in (OLD.get(name), NEW.get(name)) for name, data in files.items())


def killed_at(number, folder):
    """Commit NEW in a child that kills itself at a step; say whether it got that far."""
    child = os.fork()
    if child == 0:
        try:
            put(NEW, folder, disk=KillingDisk(number))
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL


@pytest.fixture
def undisturbed(tmp_path):
    folder = tmp_path / "undisturbed"
    put(OLD, folder)
    put(NEW, folder)
    return standing(folder)


def steps():
    """How many steps the change takes."""
    import tempfile
    from pathlib import Path

    with tempfile.TemporaryDirectory() as folder:
        put(OLD, Path(folder))
        disk = CountingDisk()
        put(NEW, Path(folder), disk=disk)
        return len(disk.steps)


STEPS = steps()


def test_the_change_adds_alters_and_removes():
    assert NEW.keys() - OLD.keys()
    assert OLD.keys() - NEW.keys()
    assert [name for name in OLD.keys() & NEW.keys() if OLD[name] != NEW[name]]
    assert STEPS > 40


def test_killed_at_every_step_it_leaves_whole_files_and_no_dead_link(tmp_path, undisturbed):
    for number in range(1, STEPS + 1):
        folder = tmp_path / str(number)
        put(OLD, folder)
        assert killed_at(number, folder), number
        left = published(folder)
        assert all_whole(left), number
        assert not dead_links(left), number
        put(NEW, folder)
        assert standing(folder) == undisturbed, number
    assert not killed_at(STEPS + 1, folder)


def test_killed_twice_and_then_given_the_old_content_again_it_goes_back(tmp_path):
    first = tmp_path / "first"
    put(OLD, first)
    for number in range(1, STEPS + 1, 3):
        folder = tmp_path / str(number)
        put(OLD, folder)
        killed_at(number, folder)
        killed_at(number + 1, folder)
        put(OLD, folder)
        assert standing(folder) == standing(first), number
        assert {p.relative_to(folder) for p in folder.rglob("*")} == {
            p.relative_to(first) for p in first.rglob("*")
        }


def test_a_first_commit_killed_at_every_step_is_completed_by_the_next(tmp_path, undisturbed):
    number = 0
    while True:
        number += 1
        folder = tmp_path / f"first-{number}"
        if not killed_at(number, folder):
            break
        assert all_whole(published(folder) if folder.exists() else {})
        put(NEW, folder)
        assert standing(folder) == undisturbed
    assert number > 30


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EACCES, "may not be read or written"),
        (errno.EIO, "the disk failed"),
    ],
)
def test_a_disk_that_fails_at_any_step_is_told_and_the_next_run_mends_it(
    tmp_path, undisturbed, code, said
):
    for number in range(1, STEPS + 1):
        folder = tmp_path / str(number)
        put(OLD, folder)
        with pytest.raises(Refused) as caught:
            put(NEW, folder, disk=FailingDisk(number, code))
        told = str(caught.value)
        assert said in told
        assert told.startswith(str(folder))
        assert WORKING not in told, number
        left = standing(folder)
        assert not [name for name in left if WORKING in name], number
        assert all_whole(published(folder)), number
        assert not dead_links(published(folder)), number
        put(NEW, folder)
        assert standing(folder) == undisturbed, number


def test_a_failure_while_writing_aside_leaves_the_old_site_as_it_was(tmp_path):
    put(OLD, tmp_path / "site")
    disk = CountingDisk()
    put(NEW, tmp_path / "site", disk=disk)
    writes = [
        n for n, (what, path) in enumerate(disk.steps, 1) if what == "write" and WORKING in path
    ][:-1]
    for number in writes[1:]:
        folder = tmp_path / str(number)
        put(OLD, folder)
        with pytest.raises(Refused):
            put(NEW, folder, disk=FailingDisk(number, errno.ENOSPC))
        assert published(folder) == OLD


@pytest.fixture
def small_disk(tmp_path):
    """A real file system of 256 KiB; fails, and does not skip, where none can be had."""
    folder = tmp_path / "small"
    folder.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=256k", "none", folder],
        check=False,
        capture_output=True,
        text=True,
    )
    if mounted.returncode:
        yield None
        return
    yield folder
    subprocess.run(["umount", folder], check=True)


def test_a_disk_that_is_really_full_is_told_and_nothing_half_written(small_disk, tmp_path, capsys):
    big = {**NEW, "photos/a.jpg": os.urandom(200_000), "photos/b.jpg": os.urandom(200_000)}
    if small_disk is None:
        with capsys.disabled():
            print(
                "\nno file system can be mounted here (not root): a limit on file sizes stands in for a full disk"
            )
        folder = tmp_path / "limited"
        put(OLD, folder)
        old_signal = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        limits = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, limits[1]))
        try:
            with pytest.raises(Refused, match="the disk is full"):
                put(big, folder)
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, limits)
            signal.signal(signal.SIGXFSZ, old_signal)
    else:
        folder = small_disk / "site"
        put(OLD, folder)
        with pytest.raises(Refused, match="the disk is full"):
            put(big, folder)
    assert published(folder) == OLD
    assert not [name for name in standing(folder) if WORKING in name]
    put(NEW, folder)
    assert published(folder) == NEW


class SlowDisk(CountingDisk):
    def at(self, number):
        time.sleep(0.01)


def test_of_two_at_once_one_waits(tmp_path):
    put(OLD, tmp_path)
    outcomes = []
    runs = [
        threading.Thread(
            target=lambda files=files: outcomes.append(
                put(files, tmp_path, disk=SlowDisk(), patience_s=60)
            )
        )
        for files in (NEW, OLD)
    ]
    for run in runs:
        run.start()
    for run in runs:
        run.join()
    assert len(outcomes) == 2
    assert published(tmp_path) in (OLD, NEW)
    assert not [name for name in standing(tmp_path) if WORKING in name]


def test_when_the_other_takes_too_long_it_says_so_and_touches_nothing(tmp_path):
    put(OLD, tmp_path)
    begun, go_on = threading.Event(), threading.Event()

    class Holding(CountingDisk):
        def at(self, number):
            if self.steps[-1][0] == "create":
                begun.set()
                go_on.wait(60)

    other = threading.Thread(target=put, args=(NEW, tmp_path), kwargs={"disk": Holding()})
    other.start()
    assert begun.wait(60)
    disk = CountingDisk()
    with pytest.raises(Refused, match="another run is writing here"):
        put(NEW, tmp_path, disk=disk, patience_s=0.1)
    assert {what for what, _ in disk.steps} == {"look"}
    go_on.set()
    other.join()
    assert published(tmp_path) == NEW


def test_a_run_that_was_killed_holds_no_lock(tmp_path):
    put(OLD, tmp_path)
    killed_at(12, tmp_path)
    assert put(NEW, tmp_path, patience_s=0).written > 0


def test_an_interrupt_leaves_nothing_aside(tmp_path):
    class Interrupted(CountingDisk):
        def at(self, number):
            if number == 20:
                raise KeyboardInterrupt

    put(OLD, tmp_path)
    with pytest.raises(KeyboardInterrupt):
        put(NEW, tmp_path, disk=Interrupted())
    assert not [name for name in standing(tmp_path) if re.search(WORKING, name)]
    assert published(tmp_path) == OLD


def test_the_list_of_ours_holds_what_is_there_after_any_kill(tmp_path):
    for number in range(1, STEPS + 1, 2):
        folder = tmp_path / str(number)
        put(OLD, folder)
        killed_at(number, folder)
        assert published(folder).keys() <= manifest.read_manifest(folder, CountingDisk()), number
