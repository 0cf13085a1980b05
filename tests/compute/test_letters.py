"""Letters follow `yarns:`; what uses them in another order is told, and new drafts don't."""

from __future__ import annotations

from click.testing import CliRunner

from stripewright.cli import main
from stripewright.compute.letters import in_order_of_use, letters_used, out_of_order
from stripewright.preview.easel.saving import _lettered
from support.patterns import worked

YARNS = {key: {"name": key.title(), "colour": colour}
         for key, colour in (("deep", "#1f3d5c"), ("foam", "#dfe9e4"), ("sand", "#c2913f"))}  # fmt: skip


def of(*stripes):
    return worked(yarns=YARNS, pieces={"cover": {"form": "tube", "stripes": list(stripes)}})


def test_letters_follow_the_yarns():
    assert letters_used(of("foam 4", "deep 4", "foam 4")) == ("B", "A")
    assert out_of_order(of("foam 4", "deep 4")) == ("B", "A")
    assert out_of_order(of("deep 4", "foam 4", "deep 2", "sand 3")) == ()
    assert out_of_order(of("deep 4", "sand 3")) == ()


def test_yarns_in_the_order_of_use():
    assert list(in_order_of_use(YARNS, ["sand", "nothing", "deep"])) == ["sand", "deep", "foam"]


def test_a_new_pattern_from_the_easel_is_lettered_by_its_stripes():
    stripes = [{"repeat": 2, "stripes": ["sand 4", "deep 2"]}, "foam 3"]
    front = {"yarns": YARNS, "pieces": {"cover": {"stripes": stripes}}}
    assert list(_lettered(front)["yarns"]) == ["sand", "deep", "foam"]


def test_proof_says_it_once_and_the_starter_needs_none(tmp_path):
    def run(*words):
        done = CliRunner().invoke(main, [str(one) for one in words])
        assert done.exit_code == 0, done.output
        return done.output

    studio = tmp_path / "studio"
    run("start", studio)
    assert "letters:" not in run("proof", "--studio", studio)
    path = studio / "content/patterns/first-scarf.md"
    path.write_text(path.read_text().replace("- plum 12", "- sage 12", 1))
    [told] = [one for one in run("proof", "--studio", studio).splitlines() if "letters:" in one]
    assert told.startswith("content/patterns/first-scarf.md: letters: stripes first use C, B, A;")
