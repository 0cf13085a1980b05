"""`stripewright palette`, as its user runs it."""

from __future__ import annotations

import json

import yaml
from PIL import Image, ImageDraw

from stripewright.pattern.yarns import Yarn
from support.studio_here import run


def harbour(path):
    """Sky, sea and sand: a half, a third and a sixth, with a small red buoy."""
    picture = Image.new("RGB", (600, 480), "#a8cdea")
    pen = ImageDraw.Draw(picture)
    pen.rectangle((0, 240, 600, 400), fill="#1f3d66")
    pen.rectangle((0, 400, 600, 480), fill="#d8c3a5")
    pen.rectangle((100, 300, 140, 340), fill="#c9302c")
    picture.save(path)
    return str(path)


def test_yarns_to_paste(tmp_path):
    done = run("palette", harbour(tmp_path / "h.png"), "--yarns", "4")
    assert done.exit_code == 0
    yarns = yaml.safe_load(done.stdout)["yarns"]
    assert [*yarns] == ["light_blue", "dark_blue", "beige", "red"]
    for yarn in yarns.values():
        Yarn.model_validate(yarn)
    assert "# 50 % of the picture\n" in done.stdout
    assert "#d8c3a5 in the picture" in done.stdout


def test_fewer_than_asked_for_is_said(tmp_path):
    done = run("palette", harbour(tmp_path / "h.png"), "--yarns", "12")
    assert done.exit_code == 0
    assert "no more that everyone can tell apart" in done.stderr


def test_as_json(tmp_path):
    done = run("palette", harbour(tmp_path / "h.png"), "--json")
    found = json.loads(done.stdout)
    assert found[0] == {
        "key": "light_blue", "name": "Light blue", "colour": "#a8cdea", "share": 0.5, "in_picture": "#a8cdea",
    }  # fmt: skip


def test_what_is_no_picture_is_told(tmp_path):
    (tmp_path / "a.jpg").write_text("no")
    done = run("palette", str(tmp_path / "a.jpg"))
    assert done.exit_code == 1
    assert "is not a picture that can be read" in done.stderr


STASH = """\
yarns:
  sky: {name: Sky, colour: "#a5cbe8", left: 40 g}
  ink: {name: Ink, colour: "#20406a", left: 100 g}
  moss: {name: Moss, colour: "#4d6b3a", left: 100 g}
"""


def test_the_nearest_of_the_stash_each_once(tmp_path):
    """Sky and sea have near yarns; of sand and buoy one gets the moss, which is left, and the other none."""
    (tmp_path / "content").mkdir()
    (tmp_path / "content/stash.yaml").write_text(STASH)
    picture = harbour(tmp_path / "h.png")
    asked = ["palette", picture, "--yarns", "4", "--stash", "--studio", str(tmp_path)]
    done = run(*asked)
    assert done.exit_code == 0, done.output
    yarns = yaml.safe_load(done.stdout)["yarns"]
    assert yarns == {key: {"from": f"stash.{key}"} for key in ("sky", "ink", "moss")}
    assert "50 % of the picture; " in done.stdout
    found = json.loads(run(*asked, "--json").stdout)
    assert [one["from"] for one in found] == ["stash.sky", "stash.ink", "stash.moss"]
    assert found[0]["difference"] < 2 < found[2]["difference"]


def test_no_stash_is_told(tmp_path):
    asked = ["palette", harbour(tmp_path / "h.png"), "--stash", "--studio", str(tmp_path)]
    done = run(*asked)
    assert done.exit_code == 1
    assert "this studio has no stash" in done.stderr
