"""The terminal speaks the studio's words: in what commands say, in problems and in help."""

from __future__ import annotations

import gettext
import re
import shutil
import subprocess

import click
import pytest

from stripewright.cli import main
from stripewright.commands.spoken import words_of
from support.catalogue import american, drafted
from support.demo import CONTENT
from support.pseudo import in_pseudo, outside
from support.studio_here import run


def settings(folder, text):
    (folder / "content").mkdir(parents=True, exist_ok=True)
    (folder / "content/studio.yaml").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize(("text", "locale"), [
    ("title: x\nterms: us\n", "en_US"), ("title: x\nterms: uk\n", "en_GB"), ("title: x\n", "en_GB"),
    ('terms:   "us"  # as said here\n', "en_US"), ("language: de\nterms: us\n", "en_US"),
    ("maker:\n  terms: us\n", "en_GB"), ("summary: in terms: us\n", "en_GB"),
    ("terms: us\ntitle: [\n", "en_US"), ("language: ../../../../etc\n", "en_GB"), ("", "en_GB"),
])  # fmt: skip
def test_the_locale_is_the_studios(tmp_path, monkeypatch, text, locale):
    settings(tmp_path, text)
    assert words_of(["proof", "--studio", str(tmp_path)]) == locale
    assert words_of(["proof", f"--studio={tmp_path}", "--json"]) == locale
    monkeypatch.chdir(tmp_path)
    assert words_of([]) == locale


@pytest.mark.parametrize("args", [
    ["proof", "--studio"], ["proof", "--studio", "nowhere at all"], ["proof", "--studio", "\0"],
])  # fmt: skip
def test_without_a_studio_it_speaks_british(tmp_path, monkeypatch, args):
    monkeypatch.chdir(tmp_path)
    assert words_of(args) == "en_GB"


def told(*args):
    done = run(*args)
    return done.output


COMMANDS = sorted(main.commands)


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    """The demo as an American studio, with mistakes in one pattern."""
    folder = tmp_path_factory.mktemp("us")
    shutil.copytree(CONTENT, folder / "content")
    path = folder / "content/studio.yaml"
    text = re.sub(r"^(terms|units): .*\n", "", path.read_text(), flags=re.MULTILINE)
    path.write_text(f"{text}\nterms: us\nunits: imperial\n")
    (folder / "content/patterns/wrong.md").write_text(
        "---\ntitle: Wrong\nsummary: It is wrong.\nmachine: {bed: circular, needles: 40}\n"
        "gauge: 14 sts x 21 rows / 10 cm\nyarns:\n  deep: {name: Deep, colour: #1f3d5c}\n"
        "pieces:\n  hat: {form: tube, stripes: [depe 10, deep 12]}\n---\nWords.\n")  # fmt: skip
    return folder


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_is_told_in_the_studios_words(studio, tmp_path, monkeypatch, command):
    asked = [command, "--help"] if command else ["--help"]
    monkeypatch.chdir(tmp_path)
    british = told(*asked)
    monkeypatch.chdir(studio)
    text = told(*asked)
    assert american(text) == text
    assert " ".join(text.split()) == drafted(" ".join(british.split()))


@pytest.mark.parametrize("args", [
    ["proof"], ["basket"], ["worksheet", "content/patterns/landing-cowl.md", "--with", "150 g"],
    ["explain", "nothing like it"], ["palette", "content/photos/none.jpg"], ["publish"],
    ["worksheet", "content/patterns/landing-cowl.md", "--needles", "3"],
], ids=" ".join)  # fmt: skip
def test_commands_are_told_in_the_studios_words(studio, monkeypatch, args):
    monkeypatch.chdir(studio)
    text = told(*args)
    own = " ".join(path.read_text(encoding="utf-8") for path in studio.rglob("*.md")).lower()
    words = {word for word in re.findall(r"[a-z]+", text.lower())
             if american(word) != word and f"{word}:" not in text and word not in own}  # fmt: skip
    assert not words, text
    if args == ["proof"]:
        assert "the color #1f3d5c is not in quotes" in text


COMPLAINTS = [
    ["proff"], ["proof", "--nope"], ["worksheet"], ["worksheet", "none.md"], ["worksheet", "."],
    ["publish", "--workers", "99"], ["publish", "--workers", "x"], ["proof", "--studio"],
    ["proof", "--json=1"], ["proof", "--studio", "none"], ["explain", "a", "b"], ["transcribe"],
    ["worksheet", __file__, "--keep", "it"], ["publish", "--on", "today"], ["start"],
]  # fmt: skip


@pytest.mark.parametrize("args", COMPLAINTS, ids=" ".join)
def test_what_click_says_itself_comes_from_the_catalogue(tmp_path, monkeypatch, args):
    monkeypatch.chdir(tmp_path)
    with in_pseudo():
        said = run(*args).output
    left = outside(re.sub(r"'[^']*'|^(\S+) main.*$", r"\1", said, flags=re.MULTILINE))
    assert "⟦" in said
    assert not re.search(r"[^\W\d_]{2}", left), said


def test_click_has_its_own_words_back_after_a_command(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    with in_pseudo():
        run("proff")
    assert {click.core._, click.exceptions._, click.types._} == {gettext.gettext}
    assert click.core.ngettext is gettext.ngettext


def test_problems_as_json_are_told_so_too(studio, monkeypatch):
    monkeypatch.chdir(studio)
    assert "the color #1f3d5c is not in quotes" in told("proof", "--json")


def test_paper_is_told_in_the_studios_words(studio, monkeypatch):
    monkeypatch.chdir(studio)
    assert "1 pack made" in told("sheets", "content/sheets/blank-tube.md")
    [path] = (studio / "packs/blank-tube").glob("*letter*.pdf")
    text = subprocess.run(["pdftotext", path, "-"], capture_output=True, check=True).stdout.decode()
    assert "Gauge: " in text
    assert "Colored in? The corner marks" in " ".join(text.split())
    assert american(text) == text
