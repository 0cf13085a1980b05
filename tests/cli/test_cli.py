"""The commands as their user meets them: what they print, where, and how they end."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from stripewright.cli import main
from support.patterns import text_of
from support.studio_here import pattern, run, studio, tree


@pytest.fixture
def here(tmp_path):
    return studio(tmp_path / "s", {"one": pattern(title="One"), "two": pattern(title="Two")})


def test_help_of_every_command_shows_an_example():
    for name in main.commands:
        shown = run(name, "--help").output
        assert f"stripewright {name}" in shown.split("Example")[1], name


def test_start_overwrites_nothing(tmp_path):
    folder = tmp_path / "new"
    (folder / "content").mkdir(parents=True)
    (folder / "content/studio.yaml").write_text("mine")
    first = run("start", folder)
    assert first.exit_code == 0
    assert "kept" in first.output
    assert (folder / "content/studio.yaml").read_text() == "mine"
    before = tree(folder)
    again = run("start", folder)
    assert "made" not in again.output
    assert tree(folder) == before


@pytest.mark.skipif(sys.platform == "win32", reason="other quotes there")
def test_start_prints_a_command_that_can_be_typed(tmp_path):
    folder = tmp_path / "my studio; it's new"
    told = run("start", folder).output.splitlines()[-1]
    assert shlex.split(told.removeprefix("Next: "))[-1] == str(folder)


@pytest.mark.parametrize("command", ["proof", "publish"])
def test_what_is_public_of_a_paid_pattern_is_told(here, command):
    (here.content / "patterns/two.md").write_text(pattern(title="Two", paid=True))
    told = run(command, "--studio", here.root, "--on", "2026-11-25").stdout
    line = pattern(paid=True).split("Said to everyone")[0].count("\n") + 1
    assert f"content/patterns/two.md: public: 1 paragraph, 3 words, to line {line}\n" in told
    assert "one.md" not in told


def test_a_new_studio_is_proof_and_publishes(tmp_path):
    run("start", tmp_path / "new")
    proof = run("proof", "--studio", tmp_path / "new")
    assert proof.exit_code == 0
    assert "0 errors, 2 warnings" in proof.output
    settings = tmp_path / "new/content/studio.yaml"
    for command in ("proof", "packs", "publish"):
        told = run(command, "--studio", tmp_path / "new").output
        assert "maker is still “Your name”" in told
        assert "title is still “My stripes”" in told
    named = settings.read_text("utf-8").replace("My stripes", "Tar and twine")
    settings.write_text(named.replace("Your name", "Ines Calder"), "utf-8")
    proof = run("proof", "--studio", tmp_path / "new")
    assert (proof.exit_code, proof.stderr) == (0, "")
    assert "0 errors, 0 warnings" in proof.output
    done = run("publish", "--studio", tmp_path / "new")
    assert done.exit_code == 0, done.output
    assert "1 pattern," in done.output
    assert (tmp_path / "new/site/index.html").is_file()


def test_proof_tells_everything_at_once_and_writes_nothing(here):
    (here.content / "patterns/three.md").write_text(pattern(title="Three", stripes="deap 4"))
    (here.content / "patterns/four.md").write_text("no front matter")
    (here.content / "posts").mkdir()
    (here.content / "posts/p.md").write_text("---\ntitle: A\nsumary: B\n---\n")
    before = tree(here.root)
    told = run("proof", "--studio", here.root)
    assert told.exit_code == 1
    for name in ("patterns/three.md:15:", "patterns/four.md:1:", "posts/p.md:3:"):
        assert name in told.stdout
    assert told.stderr == "", "all of a report can be piped"
    assert tree(here.root) == before
    assert not (here.root / ".stripewright").exists()
    listed = json.loads(run("proof", "--studio", here.root, "--json").stdout)
    assert {"file", "line", "column", "severity", "message", "hint"} == set(listed[0])
    assert [p["file"] for p in listed] == sorted(p["file"] for p in listed)


def test_proof_of_one_file_tells_only_of_it(here):
    for slug in ("three", "four"):
        (here.content / f"patterns/{slug}.md").write_text(pattern(title=slug, stripes="deap 4"))
    told = run("proof", here.content / "patterns/three.md", "--studio", here.root)
    assert "three.md" in told.stdout
    assert "four.md" not in told.stdout


def test_proof_with_only_warnings_ends_well(here):
    path = here.content / "patterns/one.md"
    path.write_text(pattern().replace("#12304d", "#f1eee0"))
    told = run("proof", "--studio", here.root)
    assert told.exit_code == 0
    assert "warning" in told.stdout
    assert "one.md:" in told.stdout


def test_a_worksheet_is_a_list_to_shop_by(here):
    """What is bought, what it costs, and every column named; a long title is not wrapped."""
    yarns = {"deep": {"name": "Deep [red]water", "colour": "#1f3d5c", "weight": 5,
                      "ball": "100 g / 120 m", "price": 4.5},
             "foam": {"name": "Foam", "colour": "#dfe9e4", "weight": 5, "ball": "50 g / 60 m"}}  # fmt: skip
    path = here.content / "patterns/one.md"
    stripes = ["deep 12", "foam 12", "deep 12"]
    pieces = {"cover": {"form": "tube", "ends": ["seamed", "seamed"], "stripes": stripes}}
    path.write_text(text_of(yarns=yarns, pieces=pieces))
    told = run("worksheet", path, "--studio", here.root)
    assert (told.exit_code, told.stderr) == (0, "")
    lines = told.stdout.splitlines()
    heads = [line for line in lines if line.startswith("┃")]
    assert all(cell.strip() for line in heads for cell in line.strip("┃").split("┃"))
    assert "cost" in heads[-1]
    assert any(
        "Deep [red]water" in line and "1 × 100 g" in line and "4.50" in line for line in lines
    )
    assert any("Foam" in line and "1 × 50 g" in line and "–" in line for line in lines)
    assert "Yarn is reckoned from the weighed swatch." in lines
    assert not any("between" in line for line in lines)
    path.write_text(
        text_of(yarns=yarns, pieces=pieces, swatch=None, gauge="14 sts x 21 rows / 10 cm")
    )
    rough = run("worksheet", path, "--studio", here.root).stdout
    assert "Yarn is reckoned from the ball's band and the yarn's weight." in rough
    assert re.search(r"^A: between \d+ m \(\d+ yd\) and \d+ m \(\d+ yd\)$", rough, re.MULTILINE)
    title = next(line for line in lines if "visible" in line)
    assert (title.startswith("Cover: tube"), title.endswith("in)")) == (True, True)
    assert any(line.startswith("Waste yarn") and line.endswith("yd)") for line in lines)


def test_worksheet_prints_tables_and_one_object(here):
    path = here.content / "patterns/one.md"
    shown = run("worksheet", path, "--studio", here.root)
    assert shown.exit_code == 0
    # 10+4+10+5+9 = 38 visible rows, and one more at each seamed end: the last reading is 040
    assert "040" in shown.output
    numbers = json.loads(run("worksheet", path, "--studio", here.root, "--json").stdout)
    assert set(numbers) == {"pattern", "pieces", "yarns"}
    (piece,) = numbers["pieces"]
    assert set(piece) == {
        "name",
        "form",
        "stitches",
        "visible_rows",
        "worked_rows",
        "flat_width_cm",
        "finished_length_cm",
        "plan",
    }
    assert (piece["visible_rows"], piece["worked_rows"]) == (38, 40)
    assert [line["to"] for line in piece["plan"]] == [11, 15, 25, 30, 40]
    assert set(piece["plan"][0]) == {"letter", "yarn", "from", "to", "rows"}
    assert set(numbers["yarns"][0]) == {
        "key",
        "length_m",
        "mass_g",
        "balls",
        "leftover_g",
        "estimated",
    }


def test_a_refused_publish_leaves_the_site_alone(here):
    assert run("publish", "--studio", here.root).exit_code == 0
    before = tree(here.site)
    (here.content / "patterns/two.md").write_text(pattern(title="Two", stripes="deap 4"))
    (here.content / "patterns/one.md").unlink()
    told = run("publish", "--studio", here.root)
    assert told.exit_code == 1
    assert "two.md:15:" in told.stderr
    assert tree(here.site) == before


def test_publish_into_a_folder_of_others_is_refused(here, tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine/letters.txt").write_text("dear")
    told = run("publish", "--studio", here.root, "--into", tmp_path / "mine")
    assert told.exit_code == 1
    assert "letters.txt" in told.stderr
    assert tree(tmp_path / "mine") == {"letters.txt": b"dear"}


def test_an_unexpected_error_is_one_line_and_its_trace_a_file(here, monkeypatch):
    def broken(*_args, **_kwargs):
        raise RuntimeError("the loom is on fire")

    monkeypatch.setattr("stripewright.pipeline.build.make_others", broken)
    told = run("proof", "--studio", here.root)
    assert told.exit_code == 1
    assert "Traceback" not in told.output
    assert "unexpected RuntimeError" in told.stderr
    trace = told.stderr.split("the full trace is in ")[1].strip()
    assert "the loom is on fire" in Path(trace).read_text()
    os.unlink(trace)


def test_a_folder_that_is_no_studio_is_told(tmp_path):
    told = run("publish", "--studio", tmp_path)
    assert told.exit_code == 1
    assert "no settings" in told.stderr
    assert "stripewright start" in told.stderr


def test_help_imports_nothing_heavy():
    """What `--help` must not pay for is not imported by it."""
    code = (
        "import sys; sys.argv = ['stripewright', '--help']\n"
        "from stripewright.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print(sorted(set(sys.modules) & {'pydantic', 'yaml', 'jinja2', 'markdown_it', 'coloraide',"
        " 'typst', 'rich', 'PIL', 'babel', 'starlette', 'uvicorn', 'watchdog', 'segno', 'nh3'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_examples_stand_on_lines_of_their_own():
    for name in main.commands:
        lines = run(name, "--help").output.splitlines()
        assert any(line.strip().startswith(f"stripewright {name}") for line in lines), name
