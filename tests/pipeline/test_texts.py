"""Texts to paste: what stands in them, a shop's limits, own templates, and paid patterns' secrets."""

from __future__ import annotations

import io
import json

import pytest
from click.testing import CliRunner
from PIL import Image
from pypdf import PdfReader

from stripewright.cli import main
from support.studio_here import SETTINGS, built, pattern, studio

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
    assert "The pattern as PDF, " in made["listing.txt"]
    assert "A4" in made["listing.txt"]
    assert "Letter" in made["listing.txt"]
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


@pytest.mark.parametrize("host", ["shop.example.org", "example.org"])
def test_a_sponsored_shop_is_disclosed_in_every_text(tmp_path, host):
    settings = f"{SETTINGS}shops: [{{host: {host}, sponsored: true}}]\ndisclosure: I earn by it.\n"
    here = studio(tmp_path, {"one": pattern(paid=True), "two": pattern(title="Two")}, settings)
    for text in texts(here).values():
        assert "\nI earn by it.\n" in text
    for text in texts(here, "two").values():
        assert "I earn by it." not in text


def test_a_sponsored_link_of_the_pattern_s_own_words_is_disclosed(tmp_path):
    settings = f"{SETTINGS}shops: [{{host: wool.example.com, sponsored: true}}]\n"
    body = "Wind [this wool](https://wool.example.com/deep) first."
    for text in texts(studio(tmp_path, {"one": pattern(body=body)}, settings)).values():
        assert "earn the maker a share" in text


def test_pages_are_counted_as_they_are_set_with_photos_and_on_both_papers(tmp_path):
    """As many as the PDFs of the site have."""
    here = studio(tmp_path, {"one": pattern()})
    (here.content / "photos").mkdir()
    photos = ", ".join(f"{{file: p{n}.png, alt: It.}}" for n in range(9))
    path = here.content / "patterns/one.md"
    path.write_text(path.read_text().replace("kind:", f"photos: [{photos}]\nkind:", 1))
    for n in range(9):
        Image.new("RGB", (300, 900), "#aa3311").save(here.content / f"photos/p{n}.png")
    listing = texts(here)["listing.txt"]
    files = built(here, paper=True).files
    a4, letter = (
        len(PdfReader(io.BytesIO(files[f"patterns/one/one-{size}.pdf"])).pages)
        for size in ("a4", "letter")
    )
    told = f"{a4} pages, in A4 and Letter" if a4 == letter else f"{a4} pages in A4, {letter} in L"
    assert told in listing


def test_all_sizes_are_listed_by_their_names(tmp_path):
    more = "base: {title: Narrow}\nsizes: {wide: {title: Wide, machine: {bed: circular, needles: 40}}}\n"
    text = pattern().replace("kind:", f"{more}kind:", 1)
    made = texts(studio(tmp_path, {"one": text}))
    assert "- Sizes: Narrow and Wide\n" in made["listing.txt"]
    for name in ("film.txt", "listing.txt"):
        assert "\n- Wide: Circular bed, 40 needles" in made[name]
    for text in made.values():
        assert "\nNarrow: Finished size: " in text
        assert "\nWide: Finished size: " in text


def test_a_paid_pattern_s_size_names_no_yarn_that_is_the_same(tmp_path):
    more = "sizes: {wide: {title: Wide, machine: {bed: circular, needles: 40}}}\n"
    here = studio(tmp_path, {"one": pattern(paid=True).replace("kind:", f"{more}kind:", 1)})
    assert "- Wide: Circular bed, 40 needles\n" in texts(here)["film.txt"]


@pytest.mark.parametrize("command", ["texts", "packs", "sheets"])
def test_a_file_of_another_kind_is_refused_by_name(tmp_path, command):
    here = studio(tmp_path, {"one": pattern()})
    done = CliRunner().invoke(
        main, [command, "--studio", str(here.root), str(here.content / "studio.yaml")]
    )
    assert done.exit_code == 1
    assert "content/studio.yaml: error: this is no file of content/" in done.stderr


def test_each_text_holds_what_it_promises(tmp_path):
    """What it is, what you need, size, level, where, cautions; pages, formats, languages, licence."""
    more = "licence: Knit it as you like.\nlevel: basic\ntags: [sea, wool]\n"
    text = pattern(paid=True).replace("kind:", f"{more}kind:", 1)
    made = texts(studio(tmp_path, {"one": text}))
    film, listing, note = (made[name] for name in ("film.txt", "listing.txt", "note.txt"))
    for text in (film, listing):
        for part in ("A small thing.", "What you need\n- Circular bed, 22 needles\n", "Deep (",
                     "Finished size: about", "Level: basic", "Take care\n- The machine: "):  # fmt: skip
            assert part in text, part
    where = "https://lee.example.org/patterns/one/"
    assert f"Pattern: {where}\n" in film
    assert "£" not in film
    assert "at https://shop.example.org/x" in film
    for part in ("The pattern as PDF, ", " in Letter", "(HTML)", "SVG and PNG", "One zip", "Language: English",
                 "Licence\nKnit it as you like.", "Tags: sea, wool", "Tension: "):  # fmt: skip
        assert part in listing, part
    for part in ("A small thing.", "Finished size: about", "Level: basic", where):
        assert part in note, part


def test_american_units_and_words_are_the_studio_s(tmp_path):
    made = texts(
        studio(
            tmp_path, {"one": pattern()}, f"{SETTINGS}units: imperial\nterms: us\nlanguage: en-US\n"
        )
    )
    assert "Gauge: " in made["listing.txt"]
    assert "Tension" not in made["listing.txt"]
    assert "License\n" in made["listing.txt"]
    assert " in (" in made["film.txt"]


def test_a_studio_without_an_address_is_told_so_once(tmp_path):
    settings = SETTINGS.replace("address: https://lee.example.org/\n", "")
    here = studio(tmp_path, {"one": pattern(), "two": pattern(title="Two")}, settings)
    done = run(here)
    assert done.stderr.count("has no address") == 1
    assert "content/studio.yaml: warning" in done.stderr
    assert "Pattern:" not in (here.root / "texts/one/film.txt").read_text()


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
