"""Bytes become text, or a problem that names the line."""

import codecs

import pytest

from stripewright.source.decode import MOST_BYTES
from stripewright.source.reader import read_document, read_settings

PLAIN = "---\ntitle: Café\n---\nWords.\n"


def told(data):
    return [(p.place.line, p.place.column, p.message) for p in read_document(data, "a.md")[1]]


@pytest.mark.parametrize(
    "data",
    [
        PLAIN.encode(),
        codecs.BOM_UTF8 + PLAIN.encode(),
        PLAIN.replace("\n", "\r\n").encode(),
        PLAIN.replace("\n", "\r").encode(),
        PLAIN.replace("---\n", "--- \t\n").encode(),
    ],
    ids=["plain", "bom", "crlf", "cr", "spaces after the dashes"],
)
def test_what_editors_write_just_works(data):
    document, problems = read_document(data, "a.md")
    assert problems == []
    assert document.front == {"title": "Café"}
    assert document.body == "Words.\n"
    assert document.body_line == 4
    assert document.whole


def test_invalid_utf8_names_each_line_and_column():
    problems = told("---\ntitle: ok\nsummary: caf\xe9\n---\nna\xefve\n".encode("latin-1"))
    assert [(line, column) for line, column, _ in problems] == [(3, 13), (5, 3)]
    assert "0xe9 is not UTF-8" in problems[0][2]
    assert "“é”" in problems[0][2]


def test_the_rest_is_still_read_after_a_bad_byte():
    document, problems = read_document(
        b"---\ntitle: ok\nsummary: caf\xe9\nlevel: *x\n---\n", "a.md"
    )
    assert [p.place.line for p in problems] == [3, 4]
    assert document.front["title"] == "ok"


def test_many_bad_lines_are_counted_not_listed():
    assert len(told(b"---\n" + b"\xe9\n" * 5000)) < 15


def test_utf16_binary_empty_and_large_files_are_refused():
    [(_, _, utf16)] = told(PLAIN.encode("utf-16"))
    assert "UTF-16" in utf16
    [(_, _, binary)] = told(b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")
    assert "not a text file" in binary
    assert [m for _, _, m in told(b"")] == ["the file is empty"]
    assert [m for _, _, m in told(b" \n\n\t\n")] == ["the file is empty"]
    [(line, _, large)] = told(b"---\n" + b"a" * MOST_BYTES)
    assert line == 1
    assert "at most 1 MiB" in large
    [(line, _, long)] = told(PLAIN.encode() + b"a\n" * 150_000)
    assert line > 4
    assert "over 200,000 characters" in long
    assert not told(PLAIN.encode() + b"a" * 190_000)


@pytest.mark.parametrize("where", ["front", "body"])
def test_control_characters_are_told_with_line_and_column(where):
    text = "---\ntitle: a\x07b\n---\n" if where == "front" else "---\ntitle: ab\n---\na\x1bb\n"
    [(line, column, message)] = [t for t in told(text.encode()) if "control" in t[2]]
    assert (line, column) == ((2, 9) if where == "front" else (4, 2))
    assert ("U+0007" if where == "front" else "U+001B") in message


def test_line_separators_do_not_shift_the_lines():
    document, problems = read_document("---\ntitle: a\u2028b\nlevel: x\n---\n".encode(), "a.md")
    assert [(p.place.line, p.place.column) for p in problems] == [(2, 9)]
    assert document.place("level").line == 3


def test_settings_may_be_fenced_or_not():
    for text in ("title: x\n", "---\ntitle: x\n", "---\ntitle: x\n---\n", "title: x\n...\n"):
        document, problems = read_settings(text.encode(), "studio.yaml")
        assert (document.front, problems) == ({"title": "x"}, []), text
    document, problems = read_settings(b"", "studio.yaml")
    assert (document.front, problems, document.whole) == ({}, [], True)
