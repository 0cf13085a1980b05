"""`pdf: apart`: each size has a PDF of its own, on the site, in the pack and in no one else's hands."""

from __future__ import annotations

import io
import json
import zipfile
from html import unescape

import pytest
from pypdf import PdfReader

from stripewright.pipeline.commands import publish
from stripewright.pipeline.context import Options
from stripewright.pipeline.packing import make_packs
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.texts import write_texts
from stripewright.problems import Refused
from support.hats import hat_file
from support.studio_here import DAY, built, run, studio

HAT = hat_file(
    "base: {title: Adult}",
    "pdf: apart",
    'colourways: {dusk: {yarns: {foam: {name: Peach, colour: "#eba77c", '
    "ball: 50 g / 59 m, price: 3.00}}}}",
    "fit: {head: 54 cm, ease: -10 %}",
)
PAID = HAT.replace(
    "kind: hat", "kind: hat\naccess: paid\nprice: 5\nshop: https://shop.example.org/x"
)
# By hand: 60 needles at 1.25 to the cm are 48 cm; 54 are 43.2 cm. 90 rows are 45 cm, folded 22.5;
# 82 (90 x 49 / 54 = 81.7) are 41 cm, folded 20.5. The first stripe has two thirds and the row that
# gathering takes: 61 and 56 (55 + 1; 54.67 rounded). A stitch is 31 g / 1200: in Dusk 61 rows of 60
# are 95 g of pine, with a tenth more 2 balls, and 31 are 48 g of peach, 2 balls, 18.80 in all; the
# child's 56 rows of 54 and 28 are 78 and 39 g, a ball each, 9.40 in all.
TOLD = {
    "base": ("Adult", "48 cm (18⅞ in) around", "a head of 54 cm", "RC 061", "60 needles", "18.80"),
    "child": ("Child", "43.2 cm (17 in) around", "a head of 49 cm", "RC 056", "54 needles", "9.40"),
}


def text_of(data: bytes) -> str:
    return " ".join(
        " ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split()
    )


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    return built(studio(tmp_path_factory.mktemp("apart"), {"hat": HAT}), paper=True).files


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("size", ["base", "child"])
def test_each_is_whole_and_tells_its_own_size_alone(files, size, paper):
    data = files[f"patterns/hat/hat-{size}-{paper}.pdf"]
    text, other = text_of(data), TOLD["child" if size == "base" else "base"]
    for said in TOLD[size]:
        assert said in text, said
    for said in other:
        assert said not in text, said
    for part in (
        "What you need",
        "The plan",
        "Step by step",
        "Making up",
        "Take care",
        "Small print",
    ):
        assert part in text
    assert PdfReader(io.BytesIO(data)).metadata.title == f"Lee hat, {TOLD[size][0]}"
    assert ("For a child" in text) == (size == "child")


def test_the_page_links_each_by_its_size_and_nothing_else_is_made(files):
    pdfs = {path for path in files if path.endswith(".pdf")}
    assert pdfs == {f"patterns/hat/hat-{size}-{paper}.pdf"
                    for size in ("base", "child") for paper in ("a4", "letter")}  # fmt: skip
    page = unescape(files["patterns/hat/index.html"].decode())
    for path in pdfs:
        assert f'href="../../{path}"' in page
    for key, (title, *_rest) in TOLD.items():
        at = page.index(f'data-in-size="{key}">{title}, to print as PDF:')
        assert f"hat-{key}-letter.pdf" in page[at : at + 400]


def test_together_is_one_with_all_and_its_cover_names_them(tmp_path):
    here = studio(tmp_path, {"hat": HAT.replace("pdf: apart\n", "")})
    files = built(here, paper=True).files
    assert [p for p in sorted(files) if p.endswith(".pdf")] == [
        "patterns/hat/hat-a4.pdf", "patterns/hat/hat-letter.pdf"]  # fmt: skip
    cover = PdfReader(io.BytesIO(files["patterns/hat/hat-a4.pdf"])).pages[0].extract_text()
    cover = " ".join(cover.split())
    for title, girth, head, *_rest in TOLD.values():
        assert title in cover
        assert girth in cover
        assert head in cover


def test_a_choice_is_made_again_and_the_other_files_go(tmp_path):
    here, options = studio(tmp_path, {"hat": HAT}), Options(DAY)
    publish(here, here.site, options, quiet, 1)
    names = {path.name for path in (here.site / "patterns" / "hat").glob("*.pdf")}
    assert len(names) == 4
    file = here.content / "patterns" / "hat.md"
    file.write_text(HAT.replace("pdf: apart", "pdf: together"))
    publish(here, here.site, options, quiet, 1)
    names = {path.name for path in (here.site / "patterns" / "hat").glob("*.pdf")}
    assert names == {"hat-a4.pdf", "hat-letter.pdf"}


def test_a_pack_has_one_each_and_lists_them(tmp_path):
    here, options = studio(tmp_path, {"hat": PAID}), Options(DAY)
    make_packs(here, options, quiet)
    wanted = {f"hat-{size}-{paper}.pdf" for size in TOLD for paper in ("a4", "letter")}
    pack = here.packs / "hat"
    pdfs = {path.name for path in pack.glob("*.pdf") if "planning" not in path.name}
    assert pdfs == wanted
    with zipfile.ZipFile(pack / "hat.zip") as archive:
        assert {f"hat/{name}" for name in wanted} <= set(archive.namelist())
    write_texts(here, options)
    listing = (here.texts / "hat" / "listing.txt").read_text()
    for title, *_rest in TOLD.values():
        assert f"The size {title} as PDF, " in listing


def test_none_of_a_paid_one_s_reaches_the_site(tmp_path):
    here = studio(tmp_path, {"hat": PAID})
    assert not [path for path in built(here, paper=True).files if path.endswith(".pdf")]
    (here.root / "themes" / "own" / "assets").mkdir(parents=True)
    (here.root / "themes" / "own" / "assets" / "hat-child-a4.pdf").write_bytes(b"anything")
    settings = here.content / "studio.yaml"
    settings.write_text(settings.read_text() + "theme: own\n")
    with pytest.raises(Refused) as refused:
        publish(here, here.site, Options(DAY, paper=False), quiet, 1)
    assert any("hat-child-a4" in str(problem.place.file) for problem in refused.value.problems)


@pytest.mark.parametrize("size", ["base", "child"])
def test_the_worksheet_prints_one_size_or_all(tmp_path, size):
    here = studio(tmp_path, {"hat": HAT})
    file = str(here.content / "patterns" / "hat.md")

    def said(*more):
        done = run("worksheet", file, "--studio", str(tmp_path), *more)
        assert done.exit_code == 0, done.output
        return done.output

    one, every = said("--size", size), said()
    title, girth, head, *_rest = TOLD[size]
    assert one.splitlines()[0] == title
    for text in (one, every):
        assert girth in text
        assert head in text
    other = TOLD["child" if size == "base" else "base"]
    assert other[1] in every
    assert other[1] not in one
    told = json.loads(said("--size", size, "--json"))
    assert (told["name"], told["title"]) == (size, title)
