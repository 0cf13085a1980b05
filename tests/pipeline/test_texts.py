"""Texts to paste: what stands in them, a shop's limits, own templates, and paid patterns' secrets."""

from __future__ import annotations

import json
import random

import pytest
from click.testing import CliRunner

from stripewright.cli import main
from support.studio_here import SETTINGS, pattern, studio

SECRET = "The ninth stripe is where the tide turns back."


def run(here, *more):
    done = CliRunner().invoke(
        main, ["texts", "--studio", str(here.root), "--on", "2026-12-31", *more]
    )
    assert done.exit_code == 0, done.output
    return done


def texts(here, slug="one"):
    run(here)
    return {path.name: path.read_text() for path in (here.root / "texts" / slug).glob("*.txt")}


def filmed(*chapters, **options):
    listed = ", ".join(f"{{at: '{at}', title: {title}}}" for at, title in chapters)
    video = f"video: {{url: 'https://films.example.org/one', chapters: [{listed}]}}\n"
    return pattern(**options).replace("summary:", f"{video}summary:", 1)


def test_three_texts_with_the_page_s_figures(tmp_path):
    here = studio(tmp_path, {"one": pattern(title="Small thing")})
    made = texts(here)
    assert {*made} == {"film.txt", "listing.txt", "note.txt"}
    for text in made.values():
        assert "Small thing" in text
        assert "Finished size: " in text
        assert not text.startswith("\n")
        assert "\n\n\n" not in text
    heading = made["listing.txt"].split("\n")[0]
    assert len(heading) <= 140
    assert "What you get" in made["listing.txt"]
    assert "in A4 and Letter" in made["listing.txt"]
    assert "English" in made["listing.txt"]


@pytest.mark.parametrize(
    ("chapters", "expected"),
    [
        ([("0:00", "Cast on"), ("2:30", "First change"), ("1:02:03", "Take off")],
         ["0:00 Cast on", "2:30 First change", "1:02:03 Take off"]),
        ([("0:20", "Cast on"), ("2:30", "First change"), ("9:00", "Take off")],
         ["0:00 Begin here", "0:20 Cast on", "2:30 First change", "9:00 Take off"]),
        ([("0:20", "Cast on"), ("2:30", "First change")], []),
        ([("0:00", "Cast on"), ("2:30", "First change")], []),
    ],
)  # fmt: skip
def test_chapters_begin_at_nought_and_are_three_or_none(tmp_path, chapters, expected):
    film = texts(studio(tmp_path, {"one": filmed(*chapters)}))["film.txt"]
    found = [line for line in film.split("\n") if line[:1].isdigit() and ":" in line[:5]]
    assert found == expected
    assert ("Chapters" in film) == bool(expected)


def test_a_sponsored_shop_is_disclosed(tmp_path):
    text = pattern(paid=True)
    host = text.split("shop: https://")[1].split("/")[0]
    settings = f"{SETTINGS}shops: [{{host: {host}, sponsored: true}}]\n"
    made = texts(studio(tmp_path, {"one": text}, settings))
    assert (
        "earn" in made["film.txt"].lower()
        or "sponsor" in made["film.txt"].lower()
        or "commission" in made["film.txt"].lower()
    )


def test_a_shop_s_limits_are_kept_and_told(tmp_path):
    text = pattern(paid=True, title="A very long name for a small thing that nobody needs")
    text = text.replace("summary:", "tags: [sea, harbour wall, wool]\nsummary:", 1)
    host = text.split("shop: https://")[1].split("/")[0]
    settings = f"{SETTINGS}shops: [{{host: {host}, title_length: 40, tags: 1, tag_length: 8}}]\n"
    here = studio(tmp_path, {"one": text}, settings)
    done = run(here)
    assert "its shop takes 40" in done.stderr
    assert "harbour wall" in done.stderr
    listing = (here.root / "texts/one/listing.txt").read_text()
    assert len(listing.split("\n")[0]) <= 40
    assert "Tags: sea\n" in listing


def test_own_templates_stand_in_file_by_file(tmp_path):
    here = studio(tmp_path, {"one": pattern(title="Small thing")})
    own = here.themes / "tideline/templates"
    own.mkdir(parents=True)
    (own / "note.txt").write_text(
        "{% autoescape false %}Knit {{ t.title }} & smile{% endautoescape %}"
    )
    made = texts(here)
    assert made["note.txt"] == "Knit Small thing & smile\n"
    assert "What you need" in made["film.txt"]


def test_json_of_all(tmp_path):
    here = studio(tmp_path, {"one": pattern(), "two": pattern(title="Two")})
    told = json.loads(run(here, "--json").stdout)
    assert {*told} == {"one", "two"}
    assert {*told["two"]} == {"film.txt", "listing.txt", "note.txt"}


def test_what_a_theme_lets_out_of_a_paid_pattern_is_refused(tmp_path):
    here = studio(tmp_path, {"one": pattern(paid=True, body=f"\n## Steps\n\n{SECRET}\n")})
    own = here.themes / "tideline/templates"
    own.mkdir(parents=True)
    (own / "note.txt").write_text(SECRET)
    done = CliRunner().invoke(main, ["texts", "--studio", str(here.root), "--on", "2026-12-31"])
    assert done.exit_code == 1
    assert "would publish a sentence" in done.stderr
    assert not (here.root / "texts").exists()


@pytest.mark.parametrize("seed", range(30))
def test_nothing_private_of_random_paid_patterns(tmp_path, seed):
    """Rows, private words and chapters of paid patterns made by chance are in no text."""
    lot = random.Random(seed)
    rows = [lot.randint(11, 97) for _ in range(lot.randint(5, 9))]
    stripes = ", ".join(f"{lot.choice(['deep', 'foam'])} {n}" for n in rows)
    text = filmed(
        ("0:00", "Aaa"), ("3:21", "Bbb"), ("7:54", "Ccc"), paid=True, body=f"\n## S\n\n{SECRET}\n"
    )
    text = text.replace("deep 10, foam 4, deep 10, foam 5, deep 9", stripes)
    made = texts(studio(tmp_path, {"one": text}))
    for name, said in made.items():
        assert SECRET not in said, name
        assert "Bbb" not in said, name
        assert ", ".join(map(str, rows[:3])) not in said, name
