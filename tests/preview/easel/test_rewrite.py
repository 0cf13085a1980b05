"""A file that is written back differs in what was changed, and in nothing else."""

from __future__ import annotations

import json
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.preview.easel.rewrite import NotWritten, rewritten
from stripewright.source.reader import read_document
from support.written_files import NAME, a_change, a_file, front_of, holds


@given(st.integers(0, 2**32))
@settings(max_examples=60)
def test_only_what_was_changed_differs(seed):
    rng = Random(seed)
    file = a_file(rng)
    holds(file, a_change(rng, file.front))


@given(st.integers(0, 2**32))
@settings(max_examples=30)
def test_what_is_not_changed_is_not_touched(seed):
    file = a_file(Random(seed))
    assert rewritten(file.data, NAME, file.front) == file.data


PLAIN = b"""---
title: "Mine"  # the name
summary: 'It''s mine'

# yarns come from the mill
yarns:
  deep: {name: Deep, colour: "#1f3d5c"}   # keep
  foam:
    name: Foam
    colour: "#dfe9e4"
pieces:
  cover:
    form: tube
    stripes:
      # from the bottom
      - deep 16   # wide
      - mirror: [foam 9, deep 4]
      - foam 2
price: 1.10
---
Text {{ cover.worked_rows }}.
"""


def changed(new, old=PLAIN):
    """Lines that went and lines that came."""
    gone = [line for line in old.splitlines() if line not in new.splitlines()]
    return gone, [line for line in new.splitlines() if line not in old.splitlines()]


def with_front(change, data=PLAIN):
    front = json.loads(json.dumps(front_of(data)))
    change(front)
    return rewritten(data, NAME, front)


@pytest.mark.parametrize(
    ("change", "gone", "come"),
    [
        (lambda f: f.update(title="Yours"), [b'title: "Mine"  # the name'], [b'title: "Yours"  # the name']),
        (lambda f: f.update(summary="It's ours"), [b"summary: 'It''s mine'"], [b"summary: 'It''s ours'"]),
        (lambda f: f["yarns"]["deep"].update(colour="#000000"), [b'  deep: {name: Deep, colour: "#1f3d5c"}   # keep'],
         [b'  deep: {name: Deep, colour: "#000000"}   # keep']),
        (lambda f: f["yarns"]["foam"].update(weight=5), [], [b"    weight: 5"]),
        (lambda f: f["yarns"]["deep"].update(weight=5), [b'  deep: {name: Deep, colour: "#1f3d5c"}   # keep'],
         [b'  deep: {name: Deep, colour: "#1f3d5c", weight: 5}   # keep']),
        (lambda f: f["pieces"]["cover"]["stripes"].__setitem__(0, "deep 17"), [b"      - deep 16   # wide"],
         [b"      - deep 17   # wide"]),
        (lambda f: f["pieces"]["cover"]["stripes"][1]["mirror"].append("deep 5"), [b"      - mirror: [foam 9, deep 4]"],
         [b"      - mirror: [foam 9, deep 4, deep 5]"]),
        (lambda f: f["pieces"]["cover"]["stripes"].pop(0), [b"      - deep 16   # wide"], []),
        (lambda f: f["pieces"]["cover"]["stripes"].insert(0, "foam 1"), [], [b"      - foam 1"]),
        (lambda f: f.update(published="2026-09-05"), [], [b"published: 2026-09-05"]),
        (lambda f: f.pop("price"), [b"price: 1.10"], []),
    ],
)  # fmt: skip
@pytest.mark.parametrize("newline", [b"\n", b"\r\n"])
@pytest.mark.parametrize("bom", [b"", b"\xef\xbb\xbf"])
def test_one_change_is_one_line(change, gone, come, newline, bom):
    old = bom + PLAIN.replace(b"\n", newline).removesuffix(newline)
    new = with_front(change, old)
    assert changed(new, old) == (gone, come)
    assert new.startswith(bom + b"---" + newline)
    assert new.count(b"\r\n") == new.count(b"\n") or newline == b"\n"
    assert not new.endswith(newline)


def test_a_number_keeps_its_spelling_when_the_page_can_not_say_it():
    assert with_front(lambda f: f.update(price=1.1)) == PLAIN


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"deep: {name: Deep,", b"deep: &d {name: Deep,"),
        (b"deep 16", b"&d deep 16"),
        (b'title: "Mine"', b'mine: &m {a: 1}\ntitle: "Mine"'),
    ],
)  # fmt: skip
def test_what_is_repeated_elsewhere_is_not_written(old, new):
    data = PLAIN.replace(old, new)

    def change(front):
        front["yarns"]["deep"]["colour"] = "#000000"
        front["pieces"]["cover"]["stripes"][0] = "deep 17"
        front.get("mine", {}).update(a=2)

    with pytest.raises(NotWritten, match=r"Line [0-9]+ can’t be changed from here.*repeated"):
        with_front(change, data)


def test_what_is_an_alias_or_taken_in_is_not_written():
    data = PLAIN.replace(b"name: Foam", b"name: *n").replace(b"name: Deep,", b"name: &n Deep,")
    with pytest.raises(NotWritten, match=r"Line 7 .*repeated"):
        with_front(lambda f: f["yarns"]["deep"].update(name="Deeper"), data)
    with pytest.raises(NotWritten, match=r"Line 9 .*repeated"):
        with_front(lambda f: f["yarns"]["foam"].update(name="Froth"), data)
    changed_beside = with_front(lambda f: f["yarns"]["foam"].update(colour="#000000"), data)
    assert b'colour: "#000000"' in changed_beside
    merged = PLAIN.replace(b"yarns:\n", b"base: &b {weight: 5}\nyarns:\n").replace(
        b"{name: Deep,", b"{<<: *b, name: Deep,"
    )
    with pytest.raises(NotWritten, match="taken from elsewhere by <<"):
        with_front(lambda f: f["yarns"]["deep"].update(colour="#000000"), merged)


@pytest.mark.parametrize(
    "slip",
    [b'title: "Mine', b"title:Mine", b"\ttitle: Mine", b"title: [Mine", b"title: a: b"],
)
def test_a_file_with_a_slip_is_not_written_and_the_slip_is_named(slip):
    data = PLAIN.replace(b'title: "Mine"  # the name', slip)
    document = read_document(data, NAME)[0]
    with pytest.raises(
        NotWritten, match=r"mended by hand first\. content/patterns/mine\.md:[0-9]+"
    ):
        rewritten(data, NAME, {**document.front, "summary": "Other"})


@pytest.mark.parametrize("data", [b"", b"---\n---\n", b"no front", b"\xff\xfe", b"---\n- a\n---\n"])
def test_a_file_without_front_matter_is_not_written(data):
    with pytest.raises(NotWritten):
        rewritten(data, NAME, {"title": "x"})


def test_a_text_that_only_looks_like_something_else_stays_text():
    for text in (
        "yes",
        "012",
        "1.10",
        "#fff",
        "a: b",
        "- a",
        "null",
        "",
        " x",
        "{{ a }}",
        "*",
        "&",
    ):
        new = with_front(lambda f, text=text: f.update(title=text, note=text))
        assert front_of(new)["title"] == front_of(new)["note"] == text


def test_a_text_of_many_lines_gives_way_whole():
    data = PLAIN.replace(b"summary: 'It''s mine'\n", b"summary: |\n  It is\n  mine\n\n")
    new = with_front(lambda f: f.update(summary="Other"), data)
    assert b"summary: Other\n\n\n# yarns" in new
