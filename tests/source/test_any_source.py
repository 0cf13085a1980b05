"""Whatever the bytes: a document and problems, never an exception, each place within the file."""

from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Settings
from stripewright.problems import Severity
from stripewright.source.reader import read_document, read_settings

PIECES = [
    "---\n", "title: ", "summary: x\n", "machine: {bed: circular, needles: 40}\n", "gauge: 14 sts x 21 rows / 10 cm\n",
    "yarns:\n", '  a: {name: A, colour: "#123"}\n', "  b: {name: B, colour: #123}\n", "pieces:\n",
    "  p: {form: tube, stripes: [a 1, {mirror: [a 2, {repeat: 3, stripes: [b 1]}]}]}\n", "- ", "? ", ": ", "&x ", "*x ",
    "<<: *x\n", "!!int ", "[", "]", "{", "}", '"', "'", "|\n", ">-\n", "#", "\t", "\r", "\n", "  ", "%YAML 9\n", "...\n",
    "\x00", "\x85", "\u2028", "\u202e", "\ufeff", "\U0001f9f6", "1e999", ".nan", "a: b: c\n", "--", "a:b\n", "@", "`", "\\",
    "9" * 30, "[" * 70,
]  # fmt: skip

soup = st.lists(st.one_of(st.sampled_from(PIECES), st.text(max_size=6)), max_size=40).map("".join)


def paths(value, path=(), left=6):
    """The paths of values, few levels deep."""
    yield path
    if left and isinstance(value, dict | list):
        for step, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from paths(inner, (*path, step), left - 1)


def check_problems(data, document, problems):
    lines = (
        data.decode("utf-8-sig", errors="replace")
        .replace("\r\n", "\n")
        .replace("\r", "\n")
        .split("\n")
    )
    for problem in problems:
        place = problem.place
        assert place.file == "content/a.md"
        assert 1 <= place.line <= len(lines), problem
        assert 1 <= place.column <= len(lines[place.line - 1]) + 1, problem
        assert problem.message
        assert len(problem.message) < 300
        assert not any(letter < " " for letter in problem.message + problem.hint)
    for path in paths(document.front):
        for place in (document.place(*path), document.key_place(*path)):
            assert 1 <= place.line <= len(lines)
            assert 1 <= place.column <= len(lines[place.line - 1]) + 1
    assert document.body_line <= len(lines) + 1


def read_all(data):
    for read, model in ((read_document, Pattern), (read_settings, Settings)):
        document, problems = read(data, "content/a.md")
        made, found = as_model(document, model)
        check_problems(data, document, [*problems, *found])
        if made is None:
            assert any(p.severity is Severity.ERROR for p in [*problems, *found])


@settings(max_examples=120, deadline=None)
@given(soup)
def test_soup_of_yaml(text):
    read_all(text.encode("utf-8", errors="replace"))


@settings(max_examples=100, deadline=None)
@given(soup)
def test_soup_between_fences(text):
    read_all(f"---\n{text}\n---\nWords.\n".encode("utf-8", errors="replace"))


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes(data):
    read_all(data)


GOOD = """---
title: Pebble scarf
summary: A narrow scarf in two greys.
machine: {bed: circular, needles: 40}
swatch: {stitches: 40, rows: 60, width: 30 cm, length: 29 cm, mass: 62 g}
yarns:
  slate: {name: Slate, colour: "#44505c"}
  shell:
    name: Shell
    colour: "#ded6c8"
pieces:
  scarf: {form: panel, needles: 30, stripes: [slate 16, {mirror: [shell 9, slate 3]}]}
fill: {firmness: firm, mass: 420 g}
making_up: [seam_end scarf]
---
Words.
"""


@settings(max_examples=120, deadline=None)
@given(st.integers(0, len(GOOD)), st.integers(0, 12), st.sampled_from(PIECES) | st.text(max_size=5))
def test_a_good_pattern_with_a_slip_in_it(start, length, put):
    text = GOOD[:start] + put + GOOD[start + length :]
    read_all(text.encode("utf-8", errors="replace"))
