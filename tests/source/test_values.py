"""Values are read as people mean them, each with its place."""

import pickle

import pytest

from stripewright.problems import Place
from stripewright.source.reader import read_document
from stripewright.source.yaml_tree import read_yaml


def front(yaml):
    document, problems = read_document(f"---\n{yaml}\n---\n".encode(), "a.md")
    assert problems == []
    return document.front


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("no", "no"), ("on", "on"), ("y", "y"), ("NO", "NO"), ("1:30", "1:30"), ("12:30:45", "12:30:45"),
        ("2026-09-05", "2026-09-05"), ("012", 12), ("0o14", "0o14"), ("0x1f", "0x1f"), ("1e3", "1e3"),
        ("1_000", "1_000"), (".inf", ".inf"), (".nan", ".nan"), ("true", True), ("False", False),
        ("", None), ("~", None), ("null", None), ("7", 7), ("-7", -7), ("+7", 7), ("4.50", 4.5), (".5", 0.5),
        ("4,50", "4,50"), ('"7"', "7"), ("'true'", "true"), ("=", "="), ("1.2.3", "1.2.3"),
        ("9" * 400, "9" * 400), ("<<x", "<<x"),
    ],
)  # fmt: skip
def test_scalars(written, value):
    read = front(f"a: {written}")["a"]
    assert read == value
    assert isinstance(read, type(value))


@pytest.mark.parametrize("written", ["012", "1.10", "+7", ".5", "4.50", "-0"])
def test_a_number_remembers_its_spelling(written):
    read = front(f"a: {written}")["a"]
    assert str(read) == written
    assert str(pickle.loads(pickle.dumps(read))) == written


def test_every_value_and_key_has_its_place():
    text = "---\ntitle: A\npieces:\n  hat: {form: tube,\n    stripes: [a 1,\n      b 2]}\n---\n"
    document, _ = read_document(text.encode(), "p.md")
    assert document.place("title") == Place("p.md", 2, 8)
    assert document.key_place("title") == Place("p.md", 2, 1)
    assert document.place("pieces", "hat", "stripes", 1) == Place("p.md", 6, 7)
    assert document.key_place("pieces", "hat", "stripes") == Place("p.md", 5, 5)
    assert document.place("pieces", "hat", "stripes", 9, "x") == Place("p.md", 5, 14)
    assert document.key_place("pieces", "cap") == Place("p.md", 4, 3)
    assert document.place("nowhere") == Place("p.md", 2, 1)
    assert pickle.loads(pickle.dumps(document)).place("title") == Place("p.md", 2, 8)


def test_aliases_are_where_they_stand_and_lead_to_what_they_repeat():
    document, problems = read_document(
        b"---\na: &a {x: 1}\nb: *a\nc: {<<: *a, y: 2}\n---\n", "p.md"
    )
    assert problems == []
    assert document.front == {"a": {"x": 1}, "b": {"x": 1}, "c": {"y": 2, "x": 1}}
    assert document.place("b").line == 3
    assert document.place("b", "x").line == 2
    assert document.place("c", "x").line == 2


def test_merge_keys_never_win_over_written_ones_and_the_first_wins_over_later():
    yaml = "a: &a {x: 1, z: 1}\nb: &b {x: 2, y: 2}\nc: {<<: [*a, *b], z: 3}"
    assert front(yaml)["c"] == {"x": 1, "y": 2, "z": 3}


def test_depth_is_bounded_through_aliases_too():
    lines = ["a0: &a0 [x]"] + [f"a{n}: &a{n} [[[[[[[[[[*a{n - 1}]]]]]]]]]]" for n in range(1, 9)]
    _, problems = read_document(("---\n" + "\n".join(lines) + "\n---\n").encode(), "a.md")
    [problem] = problems
    assert "nests more than 64 levels deep" in problem.message
    assert problem.place.line == 9  # a6 is 61 deep, and a7 puts it inside 11 more


def test_a_name_given_twice_is_told_with_the_line_of_the_first():
    text = b"---\na: &x 1\nb: *x\nc: &x {y: 2}\nd: *x\n---\n"
    document, [problem] = read_document(text, "a.md")
    assert (problem.place.line, problem.place.column) == (4, 4)
    assert "&x is the name of something else, on line 2" in problem.message
    assert document.front == {"a": 1, "b": 1, "c": {"y": 2}, "d": 1}


def test_each_alias_of_nothing_is_told_and_read_as_text():
    document, problems = read_document(b"---\na: *x\nb: [1, *y]\nc: {d: *x}\n---\n", "a.md")
    assert [(p.place.line, p.place.column) for p in problems] == [(2, 4), (3, 8), (4, 8)]
    assert document.front == {"a": "∗x", "b": [1, "∗y"], "c": {"d": "∗x"}}


MARKED = """\
n: &n {y: 5}
a: plain text  # a comment
b:   'quoted'
c: {d: 1, e: [x, *n] }  # *n is no alias here
f:
  - one

  - two # end

# between
g: &g
  h: |
    lines

    more


i: [*n , *n]
j:
k: &m !!str 7
l: {<<: *n, o: 1}
p:
  - - q
    - *m
# after
"""


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (("a",), "plain text"),
        (("b",), "'quoted'"),
        (("c",), "{d: 1, e: [x, *n] }"),
        (("c", "e"), "[x, *n]"),
        (("f",), "- one\n\n  - two"),
        (("f", 1), "two"),
        (("g",), "&g\n  h: |\n    lines\n\n    more\n\n\n"),
        (("i", 0), "*n"),
        (("i", 1), "*n"),
        (("j",), ""),
        (("k",), "&m !!str 7"),
        (("l", "o"), "1"),
        (("l", "y"), "5"),
        (("p",), "- - q\n    - *m"),
        (("p", 0, 1), "*m"),
    ],
)
def test_marks_begin_and_end_where_the_value_does(path, text):
    """YAML's own mark of a block's end stands at whatever comes next."""
    tree, problems = read_yaml(MARKED, "a.md", 1)
    assert problems == []
    *_, (_, node) = tree.along(path)
    start, end = node.start_mark.index, node.end_mark.index
    assert MARKED[start:end] == text


def test_what_stands_before_a_mistake_is_still_there():
    text = b"---\ntitle: A\npieces:\n  hat: {form: tube}\n  cap: }\nx: [\n---\n"
    document, problems = read_document(text, "a.md")
    assert problems
    assert not document.whole
    assert document.front["title"] == "A"
    assert document.front["pieces"]["hat"] == {"form": "tube"}


def test_a_text_over_several_lines_is_no_open_quote():
    text = '---\nsummary: "A long text\n  goes on: and on"\nlevel: easy\n---\n'
    document, problems = read_document(text.encode(), "a.md")
    assert problems == []
    assert document.front["summary"] == "A long text goes on: and on"
