"""What publishing does to files that aren't its own, beside others at work, and on a bad disk."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path

import pytest

from stripewright.studio import shipped_themes
from support.disks import at_most, cramped
from support.previews import previewing
from support.studio_here import built, pattern, published, run, studio, tree

RUN = [sys.executable, "-m", "stripewright"]
ON = ["--on", "2026-11-25", "--workers", "1"]


@pytest.fixture
def here(tmp_path):
    return studio(tmp_path / "s", {"one": pattern(title="One"), "two": pattern(title="Two")})


@pytest.fixture
def outside(tmp_path):
    folder = tmp_path / "outside"
    (folder / "ab").mkdir(parents=True)
    (folder / "ab/letter").write_text("dear")
    (folder / "letter.md").write_text(pattern(title="Not of this studio"))
    return folder


@pytest.mark.parametrize(
    "link", [".stripewright", ".stripewright/cache", ".stripewright/cache/kept.db",
             ".stripewright/.gitignore"],
)  # fmt: skip
def test_no_link_in_the_cache_leads_to_anothers_files(here, outside, link):
    before = tree(outside)
    (here.root / link).parent.mkdir(parents=True, exist_ok=True)
    (here.root / link).symlink_to(
        outside / "letter.md" if link.endswith(("ignore", "db")) else outside
    )
    published(here)
    published(here)
    made = tree(outside)
    assert {name: made.get(name) for name in before} == before
    assert "patterns/one/index.html" in tree(here.site)


@pytest.mark.parametrize(
    "link", ["content/patterns/three.md", "content/posts/three.md", "content/studio.yaml"]
)
def test_a_source_that_is_a_link_out_of_the_studio_is_refused(here, outside, link):
    (here.root / link).parent.mkdir(exist_ok=True)
    (here.root / link).unlink(missing_ok=True)
    (here.root / link).symlink_to(outside / "letter.md")
    told = run("publish", "--studio", here.root)
    assert told.exit_code == 1
    assert f"{link}: error: this is a link that leads out of the studio" in told.stderr
    assert not here.site.exists()


@pytest.mark.parametrize(
    "link", ["themes", "themes/tideline", "themes/tideline/assets", "themes/shared/assets/base.css"]
)
def test_a_theme_that_is_a_link_out_of_the_studio_is_refused(here, outside, link):
    (outside / "base.css").write_text("p { color: red }")
    (here.root / link).parent.mkdir(parents=True, exist_ok=True)
    (here.root / link).symlink_to(outside / "base.css" if link.endswith(".css") else outside)
    made = built(here)
    assert [str(one.place) for one in made.problems] == [link]
    assert "a link that leads out of the studio" in made.problems[0].message
    assert not made.files


def test_a_site_folder_that_is_a_link_is_refused(here, outside):
    before = tree(outside)
    here.site.symlink_to(outside)
    told = run("publish", "--studio", here.root)
    assert (told.exit_code, "links are not followed" in told.stderr) == (1, True)
    assert tree(outside) == before


@pytest.mark.slow
def test_two_publishes_of_one_studio_give_one_of_the_two(here, tmp_path):
    """Through the program itself, with the settings changed between their starts."""
    settings = here.content / "studio.yaml"
    text = settings.read_text()
    whole = []
    for title in ("The lee shore", "The windward shore"):
        settings.write_text(text.replace("The lee shore", title))
        into = tmp_path / title
        subprocess.run(
            [*RUN, "publish", "--studio", here.root, "--into", into, *ON],
            check=True,
            capture_output=True,
        )
        whole.append(tree(into))
    runs = []
    for title in ("The lee shore", "The windward shore"):
        settings.write_text(text.replace("The lee shore", title))
        runs.append(
            subprocess.Popen(
                [*RUN, "publish", "--studio", here.root, *ON],
                stderr=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
            )
        )
    codes = [(one.wait(120), one.stderr.read()) for one in runs]
    for one in runs:
        one.stderr.close()
    assert any(code == 0 for code, _ in codes), codes
    assert tree(here.site) in whole


def test_a_save_during_a_publish_gives_the_old_text_or_the_new(here):
    """Sources are read once, at the start: a page never mixes two states of a file."""
    file = here.content / "patterns/one.md"
    texts = [
        pattern(title="One"),
        pattern(title="One, altered", stripes="deep 12, foam 6, deep 12"),
    ]
    states = []
    for text in texts:
        file.write_text(text)
        states.append(shown(built(here).files))
    assert states[0] != states[1]
    going = subprocess.Popen(
        [*RUN, "publish", "--studio", here.root, *ON],
        stderr=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
    )
    for number in range(400):
        aside = file.with_name(".one.md.tmp")
        aside.write_text(texts[number % 2])
        aside.replace(file)
        if going.poll() is not None:
            break
        time.sleep(0.01)
    assert going.wait(120) == 0, going.stderr.read()
    going.stderr.close()
    assert shown(tree(here.site)) in states


def shown(files):
    """The title that the page of `one` has, and its drawing."""
    page = files["patterns/one/index.html"].decode()
    return re.search(r"<h1[^>]*>(.*?)</h1>", page, re.DOTALL)[1], files["patterns/one/finished.svg"]


@pytest.mark.slow
@pytest.mark.parametrize("after_s", [0.3, 0.9])
def test_killed_while_it_makes_pages_the_next_run_ends_the_same(here, tmp_path, after_s):
    published(here)
    old = tree(here.site)
    (here.content / "patterns/one.md").write_text(pattern(title="One, altered"))
    going = subprocess.Popen(
        [*RUN, "publish", "--studio", here.root, *ON],
        stderr=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
    )
    time.sleep(after_s)
    os.kill(going.pid, signal.SIGKILL)
    going.wait()
    assert tree(here.site).keys() >= old.keys()
    done = subprocess.run(
        [*RUN, "publish", "--studio", here.root, *ON], check=False, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    subprocess.run(
        [*RUN, "publish", "--studio", here.root, "--into", tmp_path / "clean", *ON],
        check=True,
        capture_output=True,
    )
    assert tree(here.site) == tree(tmp_path / "clean")
    assert {path.name for path in here.cache.iterdir()} == {"kept.db", "looked-through"}


def test_a_disk_with_no_room_for_the_cache_is_told_and_the_old_site_stands(here):
    published(here)
    old = tree(here.site)
    (here.content / "patterns/one.md").write_text(pattern(title="One, altered"))
    done = subprocess.run(
        [*RUN, "publish", "--studio", here.root, *ON],
        check=False,
        capture_output=True,
        text=True,
        preexec_fn=at_most(1000),
    )
    assert done.returncode == 1
    assert "the disk is full" in done.stderr
    assert "Traceback" not in done.stderr
    assert tree(here.site) == old
    assert published(here).outcome.written


def ended(preexec, *args, **more):
    return subprocess.run([*RUN, *args], check=False, capture_output=True, text=True,
                          preexec_fn=preexec, **more)  # fmt: skip


def full(done):
    assert done.returncode == 1, done.stderr
    assert "the disk is full" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.slow
def test_a_disk_with_no_room_for_packs_is_told_and_the_next_run_mends_it(here, tmp_path):
    """The first pack has room, the second hasn't: each is there whole or not at all."""
    for slug in ("three", "four"):
        (here.content / f"patterns/{slug}.md").write_text(pattern(title=slug, paid=True))
    packs = ["packs", "--studio", here.root]
    assert ended(None, *packs).returncode == 0
    whole = tree(here.packs)
    sizes = {slug: sum(len(data) for path, data in whole.items() if path.startswith(slug)) // 1024
             for slug in ("three", "four")}  # fmt: skip
    shutil.rmtree(here.packs)
    shutil.rmtree(here.cache)
    with cramped(here.packs, sizes["four"] + sizes["three"] // 2) as preexec:
        full(ended(preexec, *packs))
        left = {path.relative_to(here.packs).as_posix(): path.read_bytes()
                for path in here.packs.rglob("*") if path.is_file()}  # fmt: skip
        named = {
            path: data
            for path, data in left.items()
            if path.split("/")[-1][0] != "." and path != "versions.json"
        }
        assert all(whole[path] == data for path, data in named.items())
        assert {path.split("/")[0] for path in named} <= {"four"}
        assert not [path for path in left if ".stripewright-" in path and "files" not in path]
    assert ended(None, *packs).returncode == 0
    assert tree(here.packs) == whole


@pytest.mark.slow
def test_no_room_for_temporary_files_is_told_and_the_old_site_stands(here, outside, tmp_path):
    """Where the studio's cache is a link to elsewhere, what is made waits in a temporary folder."""
    (here.root / ".stripewright").symlink_to(outside)
    publish = ["publish", "--studio", here.root, *ON]
    assert ended(None, *publish).returncode == 0
    old = tree(here.site)
    (here.content / "patterns/one.md").write_text(pattern(title="One, altered"))
    with cramped(tmp_path / "temporary", 64) as preexec:
        env = {**os.environ, "TMPDIR": str(tmp_path / "temporary")}
        full(ended(preexec, *publish, env=env))
        assert tree(here.site) == old
        assert list((tmp_path / "temporary").rglob("*")) == []
    assert ended(None, *publish).returncode == 0
    assert tree(here.site) != old


@pytest.mark.parametrize("command", ["proof", "publish", "worksheet", "packs", "sheets"])
def test_no_trace_reaches_the_user_of_any_command(here, monkeypatch, command):
    def broken(*_args, **_kwargs):
        raise RuntimeError("the loom\nis on fire")

    for place in ("make.read_document", "make.work", "context.read_settings"):
        monkeypatch.setattr(f"stripewright.pipeline.{place}", broken)
    (here.content / "sheets").mkdir()
    more = [here.content / "patterns/one.md"] if command == "worksheet" else []
    told = run(command, *more, "--studio", here.root)
    assert told.exit_code == 1
    assert "Traceback" not in told.output
    assert "unexpected RuntimeError" in told.stderr
    assert "the loom is on fire" in told.stderr
    trace = Path(told.stderr.split("the full trace is in ")[1].strip())
    assert "Traceback" in trace.read_text()
    trace.unlink()


@pytest.mark.parametrize(
    ("stage", "file"),
    [("memo.show_source", "content/patterns/one.md"), ("others.prose", "content/posts/a.md")],
)
def test_an_unexpected_error_names_the_file_that_was_being_read(here, monkeypatch, stage, file):
    def broken(*_args, **_kwargs):
        raise RuntimeError("the loom is on fire")

    monkeypatch.setattr(f"stripewright.pipeline.{stage}", broken)
    (here.content / "posts").mkdir()
    (here.content / "posts/a.md").write_text(
        "---\ntitle: A\nsummary: S.\npublished: 2026-01-01\n---\nWords.\n"
    )
    told = run("publish", "--studio", here.root)
    assert f"while reading {file}: the loom is on fire" in told.stderr
    Path(told.stderr.split("the full trace is in ")[1].strip()).unlink()


def test_an_unexpected_error_of_a_worksheet_names_its_file(here, monkeypatch):
    def broken(*_args, **_kwargs):
        raise RuntimeError("the loom is on fire")

    monkeypatch.setattr("stripewright.pipeline.make.work_source", broken)
    told = run("worksheet", here.content / "patterns/one.md", "--studio", here.root)
    assert "while reading content/patterns/one.md: the loom is on fire" in told.stderr
    Path(told.stderr.split("the full trace is in ")[1].strip()).unlink()


def test_a_broken_template_of_the_studio_s_own_is_told_with_its_line(here):
    (here.themes / "tideline/templates").mkdir(parents=True)
    (here.themes / "tideline/templates/pattern.html").write_text("<p>\n{% if %}\n")
    told = run("publish", "--studio", here.root)
    assert told.exit_code == 1
    assert (
        "themes/tideline/templates/pattern.html:2: error: this template can't be read"
        in told.stderr
    )
    assert not here.site.exists()


@pytest.mark.parametrize("command", ["publish", "packs", "sheets"])
@pytest.mark.parametrize(
    ("name", "mistake"),
    [("pattern", "#nothing()"), ("sheets", "#let x = 1 +"), ("parts", "#nothing")],
)
def test_a_print_template_s_mistake_is_told_with_its_file_and_line(here, command, name, mistake):
    """The three files of a template are set as one: the line told is that of the studio's own."""
    folder = here.themes / "tideline/print"
    folder.mkdir(parents=True)
    shipped = (shipped_themes() / f"shared/print/{name}.typ").read_text()
    (folder / f"{name}.typ").write_text(f"{shipped}\n{mistake}\n")
    line = shipped.count("\n") + 2
    (here.content / "patterns/two.md").write_text(
        pattern(title="Two").replace(
            "kind: cushion",
            "kind: cushion\naccess: paid\nprice: 6.5\nshop: https://shop.example.org/two",
        )
    )
    (here.content / "sheets").mkdir()
    (here.content / "sheets/tube.md").write_text(
        "---\ntitle: Tube\nsummary: S.\naccess: free\npublished: 2026-01-01\nsheets:\n  - {title: T, form: tube, "
        "machine: {bed: circular, needles: 40}, gauge: 14 sts x 21 rows / 10 cm, rows: 40}\n---\n"
    )
    told = run(command, "--studio", here.root)
    used = {"publish": True, "packs": True, "sheets": name != "pattern"}
    assert told.exit_code == (1 if used[command] else 0)
    if used[command]:
        assert f"themes/tideline/print/{name}.typ:{line}: error: " in told.stderr
        assert told.stderr.count("error: ") == 1


SAME = {
    "posts": "---\ntitle: A\nsummary: S.\nslug: same\n---\nWords.\n",
    "pages": "---\ntitle: A\nsummary: S.\nslug: same\n---\nWords.\n",
    "patterns": pattern().replace("title:", "slug: same\ntitle:"),
}


@pytest.mark.parametrize("kind", SAME)
def test_two_files_of_one_slug_are_told(here, kind):
    (here.content / kind).mkdir(exist_ok=True)
    for name in ("a", "b"):
        (here.content / kind / f"{name}.md").write_text(SAME[kind])
    problems = [p for p in built(here).problems if p.severity == "error"]
    assert [(p.place.file, p.place.line) for p in problems] == [(f"content/{kind}/b.md", 1)]
    assert f"content/{kind}/a.md" in problems[0].message


@pytest.mark.parametrize("name", ["One.md", "con.md", "a b.md", "é.md"])
def test_a_file_s_name_that_cant_stand_everywhere_is_told(here, name):
    (here.content / "patterns" / name).write_text(pattern())
    told = {p.place.file for p in built(here).problems if p.severity == "error"}
    assert f"content/patterns/{name}" in told


def pipe(path):
    os.mkfifo(path)


def three_gigabytes(path):
    with path.open("wb") as file:
        file.truncate(3 << 30)


def without_a_name(path):
    (path.parent / os.fsdecode(b"caf\xe9" + path.suffix.encode())).write_bytes(b"x")


ODD = {
    "a pipe": (pipe, "not a file but a pipe"),
    "three gigabytes": (three_gigabytes, "at most 1 MiB"),
    "a name that is not UTF-8": (without_a_name, "name is not UTF-8"),
}
ODD_THEME = ODD | {"three gigabytes": (three_gigabytes, "at most 32 MiB is read")}
AS_WELL = 100 << 20
"""Bytes of memory that may be asked for while an odd file is read."""


@pytest.mark.parametrize(("make", "why"), ODD.values(), ids=ODD)
@pytest.mark.parametrize("file", ["patterns/odd.md", "posts/odd.md", "sheets/odd.md"])
def test_a_source_that_is_no_plain_file_is_told_with_its_name(here, file, make, why):
    path = here.content / file
    path.parent.mkdir(exist_ok=True)
    make(path)
    tracemalloc.start()
    ended = run("publish", "--studio", here.root, *ON)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert ended.exit_code == 1
    assert f"content/{file.partition('/')[0]}/" in ended.output
    assert why in ended.output
    assert peak < AS_WELL


@pytest.mark.parametrize(("make", "why"), ODD_THEME.values(), ids=ODD_THEME)
def test_a_theme_s_file_that_is_no_plain_file_is_told_with_its_name(here, make, why):
    folder = here.themes / "tideline/assets"
    folder.mkdir(parents=True)
    make(folder / "odd.css")
    ended = run("proof", "--studio", here.root, *ON[:2])
    assert ended.exit_code == 1
    assert "themes/tideline/assets/" in ended.output
    assert why in ended.output


def test_settings_and_a_worksheet_that_are_pipes_are_told(here):
    pipe(here.content / "patterns/odd.md")
    (here.content / "studio.yaml").unlink()
    pipe(here.content / "studio.yaml")
    ended = run("worksheet", here.content / "patterns/odd.md", "--studio", here.root)
    assert ended.exit_code == 1
    assert ended.output.count("not a file but a pipe") == 2


def test_a_picture_s_name_that_is_not_utf8_is_told(here):
    (here.content / "photos").mkdir()
    without_a_name(here.content / "photos/odd.jpg")
    ended = run("proof", "--studio", here.root, *ON[:2])
    assert ended.exit_code == 1
    assert "content/photos/caf\ufffd.jpg: error: this name is not UTF-8" in ended.output


def test_the_preview_tells_odd_files_on_its_pages_and_goes_on(here):
    for name, (make, _) in zip(("a.md", "b.md", "c.md"), ODD.values(), strict=True):
        make(here.content / "patterns" / name)
    with previewing(here.root) as preview:
        assert preview.ask("/")[0] == 200
        for _, why in ODD.values():
            preview.until("/patterns/one/index.html", why)
        make = ODD["a pipe"][0]
        make(here.content / "patterns/later.md")
        preview.until("/patterns/two/index.html", "content/patterns/later.md")
