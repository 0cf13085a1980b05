"""What commit writes, leaves alone, removes and refuses."""

from __future__ import annotations

import os
import sys

import pytest

from stripewright.problems import Refused
from stripewright.publish import manifest
from stripewright.publish.commit import Outcome, commit
from stripewright.publish.disk import MANY_FILES
from support.disks import ALTERING, CountingDisk

FILES = {
    "index.html": b"<a href=patterns/a/index.html>a</a>",
    "patterns/a/index.html": b"<p>a</p>",
    "patterns/a/finished.svg": b"<svg/>",
    "assets/style.css": b"p{}",
}


def standing(folder):
    """What is in a folder, our own list left out."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != manifest.NAME
    }


def refusal(files, folder, **more):
    with pytest.raises(Refused) as caught:
        commit(files, folder, **more)
    return str(caught.value)


def test_a_first_commit_writes_everything_into_a_folder_it_makes(tmp_path):
    folder = tmp_path / "made" / "site"
    assert commit(FILES, folder) == Outcome(4, 0, 0)
    assert standing(folder) == FILES


def test_many_files_are_settled_together(tmp_path):
    many = {f"f{n}.html": b"x" for n in range(MANY_FILES + 5)}
    assert commit(many, tmp_path) == Outcome(len(many), 0, 0)
    assert standing(tmp_path) == many


def test_the_same_again_does_nothing_to_the_disk(tmp_path):
    commit(FILES, tmp_path / "site")
    disk = CountingDisk()
    assert commit(FILES, tmp_path / "site", disk=disk) == Outcome(0, 4, 0)
    assert not [step for step in disk.steps if step[0] in ALTERING]


def test_only_what_differs_is_written(tmp_path):
    folder = tmp_path / "site"
    commit(FILES, folder)
    before = {path: path.stat().st_ino for path in folder.rglob("*")}
    assert commit({**FILES, "assets/style.css": b"q{}"}, folder) == Outcome(1, 3, 0)
    changed = [path.name for path, inode in before.items() if path.stat().st_ino != inode]
    assert changed == ["style.css"]


def test_a_change_of_bytes_alone_is_seen_even_with_the_old_size_and_time(tmp_path):
    folder = tmp_path / "site"
    commit(FILES, folder)
    style = folder / "assets/style.css"
    old = style.stat()
    style.write_bytes(b"q{}")
    os.utime(style, ns=(old.st_atime_ns, old.st_mtime_ns))
    assert commit(FILES, folder) == Outcome(1, 3, 0)
    assert style.read_bytes() == b"p{}"


def test_files_no_longer_wanted_go_with_their_folders(tmp_path):
    folder = tmp_path / "site"
    commit(FILES, folder)
    assert commit({"index.html": b"home"}, folder) == Outcome(1, 0, 3)
    assert [path.name for path in sorted(folder.iterdir())] == [manifest.NAME, "index.html"]


def test_a_file_removed_by_hand_is_written_again(tmp_path):
    commit(FILES, tmp_path / "site")
    (tmp_path / "site/index.html").unlink()
    assert commit(FILES, tmp_path / "site") == Outcome(1, 3, 0)


def test_others_can_be_kept(tmp_path):
    commit({"a.pdf": b"a", "b/b.pdf": b"b"}, tmp_path)
    assert commit({"c.pdf": b"c"}, tmp_path, keep_others=True) == Outcome(1, 0, 0)
    assert standing(tmp_path) == {"a.pdf": b"a", "b/b.pdf": b"b", "c.pdf": b"c"}
    assert commit({"c.pdf": b"c"}, tmp_path) == Outcome(0, 1, 2)


def test_each_value_is_asked_for_once_so_that_it_may_come_from_elsewhere(tmp_path):
    class Once(dict):
        def __getitem__(self, name):
            asked.append(name)
            return super().__getitem__(name)

    asked = []
    commit(Once(FILES), tmp_path)
    assert sorted(asked) == sorted(FILES)


def test_assets_come_before_new_pages_and_those_before_altered_ones_and_home_last(tmp_path):
    commit(FILES, tmp_path)
    disk = CountingDisk()
    changed = {
        "index.html": b"home",
        "patterns/a/index.html": b"altered",
        "patterns/b/index.html": b"new",
        "tags/sea/index.html": b"new",
        "assets/style.css": b"altered",
        "patterns/b/finished.svg": b"new",
    }
    commit(changed, tmp_path, disk=disk)
    moved = [os.path.relpath(path, tmp_path) for what, path in disk.steps if what == "move"]
    assert moved == [
        manifest.NAME,
        "patterns/b/finished.svg",
        "assets/style.css",
        "patterns/b/index.html",
        "tags/sea/index.html",
        "patterns/a/index.html",
        "index.html",
        manifest.NAME,
    ]
    removed = [n for n, (what, _) in enumerate(disk.steps) if what == "remove"]
    last_page = max(
        n for n, step in enumerate(disk.steps) if step == ("move", str(tmp_path / "index.html"))
    )
    assert removed
    assert min(removed) > last_page


@pytest.mark.parametrize("name", [".gitignore", ".nojekyll", "CNAME", ".DS_Store"])
def test_files_that_hosts_and_systems_put_there_are_left_alone(tmp_path, name):
    (tmp_path / name).write_text("theirs")
    (tmp_path / ".git/refs").mkdir(parents=True)
    (tmp_path / ".git/HEAD").write_text("ref")
    commit(FILES, tmp_path)
    commit({"index.html": b""}, tmp_path)
    assert (tmp_path / name).read_text() == "theirs"
    assert (tmp_path / ".git/HEAD").read_text() == "ref"


def test_a_hidden_file_of_another_hand_is_not_overwritten(tmp_path):
    (tmp_path / ".nojekyll").write_text("theirs")
    assert "didn't write: .nojekyll" in refusal({".nojekyll": b""}, tmp_path)
    assert (tmp_path / ".nojekyll").read_text() == "theirs"


def test_a_folder_with_anothers_files_is_refused_before_anything_is_written(tmp_path):
    for n in range(8):
        (tmp_path / f"letter-{n}.txt").write_text("dear")
    before = standing(tmp_path)
    said = refusal(FILES, tmp_path)
    assert "letter-0.txt, letter-1.txt, letter-2.txt, letter-3.txt, letter-4.txt and 3 more" in said
    assert standing(tmp_path) == before


def test_anothers_file_that_came_later_is_refused_too(tmp_path):
    commit(FILES, tmp_path)
    (tmp_path / "patterns/a/mine.txt").write_text("mine")
    assert "patterns/a/mine.txt" in refusal({"index.html": b"home"}, tmp_path)
    assert (tmp_path / "index.html").read_bytes() == FILES["index.html"]


def test_anothers_file_of_the_same_name_is_never_overwritten(tmp_path):
    (tmp_path / "index.html").write_text("mine")
    assert "didn't write: index.html" in refusal(FILES, tmp_path)
    assert (tmp_path / "index.html").read_text() == "mine"


def test_links_are_not_followed(tmp_path):
    site, outside = tmp_path / "site", tmp_path / "outside"
    outside.mkdir()
    (outside / "letter.txt").write_text("mine")
    site.mkdir()
    (site / "patterns").symlink_to(outside)
    assert "patterns: error: this is a link" in refusal(FILES, site)
    (site / "patterns").unlink()
    commit(FILES, site)
    (site / "assets/style.css").unlink()
    (site / "assets/style.css").symlink_to(outside / "letter.txt")
    assert "style.css: error: this is a link" in refusal(FILES, site)
    assert standing(outside) == {"letter.txt": b"mine"}


def test_the_folder_itself_may_not_be_a_link_or_a_file(tmp_path):
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    (tmp_path / "file").write_text("")
    assert "this is a link" in refusal(FILES, tmp_path / "link")
    assert "this is not a folder" in refusal(FILES, tmp_path / "file")
    assert not list((tmp_path / "real").iterdir())


@pytest.mark.parametrize(
    "name",
    ["../out.html", "/out.html", "a/../../out.html", "a//b", "", "a/", "./a", "a\\b", "c:d", "con",
     "tags/nul.html", "COM1", "a?b", "a\nb", "a ", "a.", ".hidden", "a/.git/hooks", "x" * 201,
     "\ud800", ".stripewright-files"],
)  # fmt: skip
def test_names_that_leave_the_folder_or_mean_another_thing_elsewhere_are_refused(tmp_path, name):
    refusal({"index.html": b"", name: b"out"}, tmp_path / "site")
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize(
    ("one", "other"),
    [("tags/Wool.html", "tags/wool.html"), ("Tags/a.html", "tags/b.html"), ("a", "a/b"),
     ("caf\u00e9", "cafe\u0301"), ("stra\u00dfe", "strasse")],
)  # fmt: skip
def test_two_names_that_are_one_on_some_systems_are_refused(tmp_path, one, other):
    said = refusal({one: b"", other: b""}, tmp_path)
    assert "are one name on some systems" in said


def test_all_wrong_names_are_told_at_once(tmp_path):
    said = refusal({"../a": b"", "con": b"", "b": b"", "B": b""}, tmp_path)
    assert said.count("error:") == 3


def test_a_file_where_a_folder_must_be_is_told(tmp_path):
    commit({"tags": b""}, tmp_path)
    assert "a file stands where a folder must be" in refusal({"tags/a.html": b""}, tmp_path)
    assert standing(tmp_path) == {"tags": b""}


def test_a_folder_where_a_file_must_be_is_told(tmp_path):
    commit({"tags/a.html": b""}, tmp_path)
    assert "a folder stands where a file must be" in refusal({"tags": b""}, tmp_path)


@pytest.mark.parametrize(
    "damage",
    [
        b"",
        b"junk",
        b"\xff\xfe",
        manifest.to_bytes(["../../letter.txt"]),
        manifest.to_bytes(["a"])[:-5],
    ],
)
def test_a_damaged_list_removes_nothing(tmp_path, damage):
    (tmp_path / "letter.txt").write_text("mine")
    site = tmp_path / "a" / "site"
    commit(FILES, site)
    (site / manifest.NAME).write_bytes(damage)
    assert "is damaged" in refusal({"index.html": b"home"}, site)
    assert standing(site) == FILES
    assert (tmp_path / "letter.txt").read_text() == "mine"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such rights")
def test_a_new_file_has_the_users_usual_rights(tmp_path):
    old = os.umask(0o022)
    try:
        commit(FILES, tmp_path)
    finally:
        os.umask(old)
    assert (tmp_path / "index.html").stat().st_mode & 0o777 == 0o644


def test_the_list_that_is_searched_comes_after_the_pages_that_it_leads_to(tmp_path):
    index = {"patterns/index.html": b"<p>all</p>", "patterns/index.js": b"1"}
    commit({**FILES, **index}, tmp_path)
    disk = CountingDisk()
    more = {**FILES, "patterns/index.html": b"<p>more</p>", "patterns/index.js": b"2",
            "patterns/b/index.html": b"<p>b</p>"}  # fmt: skip
    commit(more, tmp_path, disk=disk)
    moved = [os.path.relpath(path, tmp_path) for what, path in disk.steps if what == "move"]
    assert [name for name in moved if name in more and name not in FILES] == [
        "patterns/b/index.html",
        "patterns/index.html",
        "patterns/index.js",
    ]
