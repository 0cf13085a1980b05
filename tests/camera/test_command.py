"""The command: what it prints, keeps, and never overwrites."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from camera.test_reading import COLOURS, ROWS, plain
from stripewright.cli import main


@pytest.fixture
def studio(tmp_path):
    assert CliRunner().invoke(main, ["start", str(tmp_path / "studio")]).exit_code == 0
    case = plain(ROWS, COLOURS, form="filled")
    (tmp_path / "page.png").write_bytes(case.pictures[0][1])
    (tmp_path / "white.png").write_bytes(plain([*ROWS[:28], 3, 3], [*COLOURS, ""]).pictures[0][1])
    return tmp_path


def run(studio, *arguments):
    return CliRunner().invoke(main, [*arguments, "--studio", str(studio / "studio")])


def test_json_and_exit(studio):
    """0 when every row is sure, 1 when any doubt stands."""
    done = run(studio, "transcribe", str(studio / "page.png"), "--json")
    assert done.exit_code == 0, done.output
    assert json.loads(done.stdout)["pieces"][0]["stripes"][0] == {"colour": "A", "rows": 13}
    done = run(studio, "transcribe", str(studio / "white.png"), "--json")
    assert done.exit_code == 1
    assert [doubt["row"] for doubt in json.loads(done.stdout)["doubts"]] == [29, 30]


@pytest.mark.parametrize("name", ["page", "white"])
def test_a_draft_is_kept_once_and_proof_accepts_it(studio, name):
    run(studio, "transcribe", str(studio / f"{name}.png"), "--draft", "harbour")
    path = studio / "studio" / "content" / "patterns" / "harbour.md"
    text = path.read_text()
    assert ("# rows 29 to 30: this row was left white" in text) == (name == "white")
    done = run(studio, "proof", str(path))
    assert done.exit_code == 0, done.output
    again = run(studio, "transcribe", str(studio / "page.png"), "--draft", "harbour")
    assert again.exit_code == 1
    assert path.read_text() == text


@pytest.mark.parametrize("name", ["../out", "/tmp/out", "Harbour", ""])
def test_a_draft_stays_in_the_studio(studio, name):
    before = sorted(studio.rglob("*.md"))
    done = run(studio, "transcribe", str(studio / "page.png"), "--draft", name)
    assert done.exit_code == 1
    assert sorted(studio.rglob("*.md")) == before


def test_shown_writes_there_and_only_there(studio):
    before = set(studio.rglob("*"))
    shown = studio / "shown"
    run(studio, "transcribe", str(studio / "page.png"), "--shown", str(shown))
    assert set(studio.rglob("*")) - before == {shown, shown / "page.png-read.png"}


def test_without_the_extra_it_says_so_in_one_line(studio, monkeypatch):
    monkeypatch.setattr("stripewright.camera.NEEDED", {"no_such_module": "zxing-cpp"})
    done = run(studio, "transcribe", str(studio / "page.png"))
    assert done.exit_code == 1
    assert "pip install '.[camera]'" in done.output
    assert "Traceback" not in done.output
