"""`reveal: heights`: drawings show the true stripes, and everything else stays back."""

from __future__ import annotations

import re

import pytest

from stripewright.problems import has_errors
from support.studio_here import built, pattern, studio

ROWS = "deep 10, foam 4, deep 10, foam 6, deep 10"
BAND = re.compile(r"M([\d.]+) 0h([\d.]+)v\d+h-[\d.]+z")
"""A stripe of the strip: where it begins, and how long it is."""


def shown(tmp_path, name, *, reveal, stripes=ROWS):
    text = pattern(stripes=stripes, paid=True)
    if reveal:
        text = text.replace("access: paid\n", "access: paid\nreveal: heights\n")
    site = built(studio(tmp_path / name, {"one": text}))
    assert not has_errors(site.problems), site.problems
    return site


def heights(site):
    strip = site.files["patterns/one/strip.svg"].decode().partition("</defs>")[2]
    return [one for _, one in sorted({(float(a), float(b)) for a, b in BAND.findall(strip)})]


def without_drawings(page):
    return re.sub(r"<svg.*?</svg>", "", page.decode(), flags=re.DOTALL)


def test_drawings_show_the_true_share_of_each_stripe(tmp_path):
    true = heights(shown(tmp_path, "true", reveal=True))
    equal = heights(shown(tmp_path, "equal", reveal=False))
    # By hand: 10, 4, 10, 6 and 10 of 40 rows show; what seams take up is knitted besides.
    assert [one / sum(true) for one in true] == pytest.approx(
        [10 / 40, 4 / 40, 10 / 40, 6 / 40, 10 / 40], abs=0.004
    )
    assert [one / sum(equal) for one in equal] == pytest.approx([0.2] * 5, abs=0.004)


def test_everything_but_drawings_is_that_of_other_rows(tmp_path):
    """Other rows of the same sums: only drawings may differ."""
    one = shown(tmp_path, "one", reveal=True)
    other = shown(tmp_path, "other", reveal=True,
                  stripes="deep 12, foam 6, deep 8, foam 4, deep 10")  # fmt: skip
    differ = {path for path in one.files if one.files[path] != other.files[path]}
    assert {path for path in differ if not path.endswith(".svg")} <= {"patterns/one/index.html"}
    pages = [without_drawings(site.files["patterns/one/index.html"]) for site in (one, other)]
    assert pages[0] == pages[1]
    assert "RC 0" not in one.files["patterns/one/index.html"].decode()


def test_what_is_said_of_it(tmp_path):
    true, equal = (shown(tmp_path, name, reveal=name == "a") for name in "ab")
    words = "Stripe heights simplified"
    for path in ("patterns/one/index.html", "patterns/index.html"):
        assert words in equal.files[path].decode()
        assert words not in true.files[path].decode()
    [(_, told)] = true.public
    assert "its rows, exactly or nearly so" in str(told)
    [(_, told)] = equal.public
    assert "heights" not in str(told)


def test_a_free_pattern_has_nothing_to_reveal(tmp_path):
    text = pattern().replace("kind: cushion\n", "kind: cushion\nreveal: heights\n")
    [problem] = built(studio(tmp_path, {"one": text})).problems
    assert problem.message == "reveal is for paid patterns: everyone sees all of a free one"
    assert problem.place.line == 5
