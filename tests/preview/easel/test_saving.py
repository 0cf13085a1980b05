"""A save is whole or not at all, and never over what somebody else wrote."""

from __future__ import annotations

import errno
import os
import signal
import stat

import pytest

from stripewright.digests import digest_of
from stripewright.preview.easel.rewrite import NotWritten
from stripewright.preview.easel.saving import Changed, Keeper, NoSuchFile
from stripewright.source.reader import read_document
from stripewright.studio import Studio
from support.disks import CountingDisk, FailingDisk, KillingDisk

NAME = "content/patterns/mine.md"
OLD = b"---\r\ntitle: Mine # keep\r\nyarns: {}\r\n---\r\nText"
NEW = OLD.replace(b"Mine", b"Yours")


@pytest.fixture
def studio(tmp_path):
    (tmp_path / "content/patterns").mkdir(parents=True)
    (tmp_path / NAME).write_bytes(OLD)
    return Studio(tmp_path)


def wanted(title="Yours"):
    return {"title": title, "yarns": {}}


def save(studio, disk=None):
    return Keeper(studio, disk or CountingDisk()).save(NAME, digest_of(OLD), wanted())


def test_a_save_changes_what_was_changed_and_keeps_the_rights(studio):
    path = studio.root / NAME
    path.chmod(0o640)
    assert save(studio) == NEW == path.read_bytes()
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert [one.name for one in path.parent.iterdir()] == ["mine.md"]


def test_what_is_the_same_is_not_written(studio):
    disk = CountingDisk()
    assert Keeper(studio, disk).save(NAME, digest_of(OLD), wanted("Mine")) == OLD
    assert {what for what, _ in disk.steps} <= {"look", "read"}


def killed(number, does):
    child = os.fork()
    if child == 0:
        try:
            does(KillingDisk(number))
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL


def test_killed_at_any_step_the_file_is_the_old_or_the_new_and_the_next_save_ends_well(studio):
    path, number, seen = studio.root / NAME, 0, set()
    while killed(number := number + 1, lambda disk: save(studio, disk)):
        now = path.read_bytes()
        assert now in (OLD, NEW)
        seen.add(now)
        if now == OLD:
            assert save(studio) == NEW
        assert [one.name for one in path.parent.iterdir() if not one.name.startswith(".")] == [
            "mine.md"
        ]
        path.write_bytes(OLD)
    assert number > 5
    assert seen == {OLD, NEW}


def test_killed_at_any_step_a_new_file_is_there_whole_or_not(studio):
    number, folder = 0, studio.content / "patterns"
    while killed(number := number + 1, lambda disk: Keeper(studio, disk).add(wanted("Fresh"), ())):
        made = [
            one
            for one in folder.iterdir()
            if not one.name.startswith(".") and one.name != "mine.md"
        ]
        for one in made:
            assert read_document(one.read_bytes(), "x")[0].front == wanted("Fresh")
            one.unlink()
        assert (folder / "mine.md").read_bytes() == OLD
    assert number > 5


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EACCES, errno.EIO])
def test_a_disk_that_fails_at_any_step_leaves_the_old_or_the_new(studio, code):
    path, failed = studio.root / NAME, 0
    for number in range(1, 40):
        disk = FailingDisk(number, code)
        try:
            save(studio, disk)
        except OSError:
            failed += 1
        assert path.read_bytes() in (OLD, NEW)
        if len(disk.steps) < number:
            break
        path.write_bytes(OLD)
    assert failed > 5
    assert [one.name for one in path.parent.iterdir()] == ["mine.md"]


def test_what_another_wrote_is_never_overwritten(studio):
    path = studio.root / NAME
    path.write_bytes(OLD + b" more")
    with pytest.raises(Changed) as caught:
        save(studio)
    assert caught.value.data == OLD + b" more" == path.read_bytes()
    path.unlink()
    with pytest.raises(Changed) as caught:
        save(studio)
    assert caught.value.data is None
    assert not path.exists()


def test_an_editor_that_saves_at_any_step_before_the_last_is_not_overwritten(studio):
    path = studio.root / NAME
    for number in range(1, 40):
        path.write_bytes(OLD)

        class Editing(CountingDisk):
            def at(self, at, number=number):
                if at == number and not any(what == "move" for what, _ in self.steps):
                    path.write_bytes(b"---\ntitle: Editor\n---\n")

        disk = Editing()
        try:
            save(studio, disk)
        except (Changed, NotWritten, NoSuchFile):
            assert path.read_bytes() == b"---\ntitle: Editor\n---\n"
        if len(disk.steps) < number:
            break
    assert number > 6


def test_a_link_is_neither_opened_nor_saved(studio, tmp_path_factory):
    beyond = tmp_path_factory.mktemp("beyond") / "other.md"
    beyond.write_bytes(OLD)
    path = studio.root / NAME
    path.unlink()
    path.symlink_to(beyond)
    keeper = Keeper(studio)
    for does in (lambda: keeper.open(NAME), lambda: keeper.save(NAME, digest_of(OLD), wanted())):
        with pytest.raises(NoSuchFile):
            does()
    assert beyond.read_bytes() == OLD


def test_a_folder_that_leads_out_takes_no_new_file(tmp_path):
    (tmp_path / "beyond").mkdir()
    (tmp_path / "studio/content").mkdir(parents=True)
    (tmp_path / "studio/content/patterns").symlink_to(tmp_path / "beyond")
    with pytest.raises(NoSuchFile):
        Keeper(Studio(tmp_path / "studio")).add(wanted(), ())
    assert not list((tmp_path / "beyond").iterdir())


@pytest.mark.parametrize(
    ("title", "name"),
    [("Mine", "mine-2"), ("Sea & sky", "sea-sky"), ("../../etc/passwd", "etc-passwd"), ("...", "my-pattern"), ("Çà 12", "ca-12"),
     ("CON", "con-pattern"), ("\u0645\u0631\u062d\u0628\u0627", "my-pattern"), ("Taken", "taken-2"), ("x" * 300, "x" * 80)],
)  # fmt: skip
def test_a_new_file_takes_a_free_name_of_its_title(studio, title, name):
    made, data = Keeper(studio, CountingDisk()).add(wanted(title), {"taken"})
    assert made == f"content/patterns/{name}.md"
    assert (studio.root / made).read_bytes() == data
    assert (studio.root / NAME).read_bytes() == OLD


def test_a_file_that_would_be_too_large_is_not_written(studio):
    with pytest.raises(NotWritten):
        Keeper(studio, CountingDisk()).save(NAME, digest_of(OLD), wanted("x" * (1 << 20)))
    assert (studio.root / NAME).read_bytes() == OLD
