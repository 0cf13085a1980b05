"""The words and numbers that a published file shows or carries, whatever kind of file it is."""

from __future__ import annotations

import html
import re
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.publish.pdf_text import text_of_pdf
from stripewright.view.secrets import LEAST_SENTENCE, normal

if TYPE_CHECKING:
    from collections.abc import Iterator

PLAIN = (".html", ".xml", ".svg", ".json", ".webmanifest", ".txt", ".js", ".css", ".csv", ".md")

_COMMENT = re.compile(r"<!--|-->|<!\[CDATA\[|\]\]>")
_TAG = re.compile(
    r"</?(?:a|abbr|b|cite|code|del|em|i|ins|kbd|mark|q|s|small|span|strong|sub|sup|tspan|u|wbr)"
    r"(?:\s[^>]*)?>|(<)[^>]*>"
)
"""A tag; one that parts the words on its sides gives its `<`."""
_OUTLINE = re.compile(r" (?:d|points)=\"[^\"]*\"")
"""Most of a drawing's bytes, and no words."""
_VALUE = re.compile(r"=\"([^\"]*)\"")
_SAYING = re.compile(rf"=\"([^\"]{{{LEAST_SENTENCE},}})\"")
"""An attribute's value that is long enough for a sentence."""
_SINGLE = re.compile(r"='([^']*)'")
_ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})|\\([nrt\"'/\\])")
_NUMBER = re.compile(r"(?<![\w.])\d{1,5}(?![\w]|\.\d)")


@dataclass(frozen=True, slots=True)
class Words:
    """What a file says.

    Attributes:
        texts: normalised: what it shows, then what those of its attributes carry that are long
            enough for a sentence.
        marked_up: the file with its markup.
    """

    texts: tuple[str, ...]
    marked_up: str = ""

    def numbers(self) -> Iterator[tuple[str, list[int]]]:
        """What it shows, then what its attributes carry, each with its whole numbers in order."""
        for text in (self.texts[0], _values(self.marked_up, _VALUE)):
            yield text, list(map(int, _NUMBER.findall(text)))


def places_of_numbers(text: str) -> list[tuple[int, int]]:
    """Where each of a text's whole numbers starts and ends."""
    return [found.span() for found in _NUMBER.finditer(text)]


def words_in(path: str, data: bytes) -> Words:
    """Read a file as a curious reader would: markup aside, escapes undone, archives opened."""
    if path.endswith(PLAIN):
        return _marked_up(data.decode("utf-8", "replace"))
    if data.startswith(b"\x89PNG"):
        return Words((normal(" ".join(_png_texts(data))),))
    if data.startswith(b"\xff\xd8"):
        return Words((normal(" ".join(_jpeg_texts(data))),))
    if data.startswith(b"%PDF"):
        return Words((normal(text_of_pdf(data)),))
    return Words(("",))


def _marked_up(text: str) -> Words:
    if "\\" in text:
        text = _ESCAPED.sub(_unescaped, text)
    if "<" not in text:
        return Words((normal(html.unescape(text)),))
    if "<!-" in text or "<![" in text:
        text = _COMMENT.sub(" ", text)
    text = _OUTLINE.sub("", text)
    shown = "".join(filter(None, _TAG.split(text))).replace("<", " ")
    return Words((normal(html.unescape(shown)), normal(_values(text, _SAYING))), text)


def _values(text: str, kind: re.Pattern[str]) -> str:
    values = kind.findall(text)
    if "='" in text:
        values += _SINGLE.findall(text)
    return html.unescape(" ".join(values))


def _unescaped(match: re.Match[str]) -> str:
    if match[1]:
        return chr(int(match[1], 16))
    return " " if match[2] in "nrt" else match[2]


def _png_texts(data: bytes) -> Iterator[str]:
    """Text chunks of a PNG (W3C PNG, third edition, 11.3.3), inflated where they are packed."""
    at = 8
    while at + 8 <= len(data):
        length = int.from_bytes(data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if kind in (b"tEXt", b"eXIf"):
            yield body.replace(b"\0", b" ").decode("utf-8", "replace")
        elif kind in (b"zTXt", b"iTXt"):
            yield _png_long_text(body, always_packed=kind == b"zTXt")
        at += 12 + length


def _png_long_text(body: bytes, *, always_packed: bool) -> str:
    """zTXt: keyword, 0, method, text. iTXt: keyword, 0, packed?, method, two more words, text."""
    keyword, _, rest = body.partition(b"\0")
    if always_packed:
        text = _inflated(rest[1:])
    else:
        inside = rest[2:].split(b"\0", 2)[-1]
        text = _inflated(inside) if rest[:1] == b"\1" else inside.decode("utf-8", "replace")
    return f"{keyword.decode('latin-1')} {text}"


def _inflated(packed: bytes) -> str:
    try:
        return zlib.decompressobj().decompress(packed, 1 << 20).decode("utf-8", "replace")
    except zlib.error:
        return ""


def _jpeg_texts(data: bytes) -> Iterator[str]:
    """Comments and application segments of a JPEG (ITU-T T.81, annex B), up to the picture."""
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF and data[at + 1] != 0xDA:
        length = int.from_bytes(data[at + 2 : at + 4])
        if data[at + 1] == 0xFE or 0xE0 <= data[at + 1] <= 0xEF:
            yield data[at + 4 : at + 2 + length].decode("utf-8", "replace")
        at += 2 + length
