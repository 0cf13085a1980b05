"""The words in a PDF of ours: page text, titles, alternative texts.

It reads what our own typesetter writes (ISO 32000-1: objects in the clear, streams deflated, fonts
with a ToUnicode map) and is quick enough to run on every PDF of a site. It is no reader for the
PDFs of others.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator, Mapping

_OBJECT = re.compile(rb"(?:^|\n)(\d+) 0 obj\s*")
_PAGE = re.compile(rb"/Type\s*/Page\b")
_CONTENTS = re.compile(rb"/Contents\s*(?:(\d+) 0 R|\[([^\]]*)\])")
_RESOURCES = re.compile(rb"/Resources\s*(\d+) 0 R")
_REFERENCE = re.compile(rb"(\d+) 0 R")
_FONTS = re.compile(rb"/Font\s*<<(.*?)>>", re.DOTALL)
_FONT = re.compile(rb"/(\w+)\s+(\d+) 0 R")
_TO_UNICODE = re.compile(rb"/ToUnicode\s*(\d+) 0 R")
_CHARS = re.compile(rb"beginbfchar(.*?)endbfchar", re.DOTALL)
_RANGES = re.compile(rb"beginbfrange(.*?)endbfrange", re.DOTALL)
_PAIR = re.compile(rb"<(\w+)>\s*<(\w+)>")
_TRIPLE = re.compile(rb"<(\w+)>\s*<(\w+)>\s*<(\w+)>")
# A literal string may hold parentheses in pairs, as they are, and any others behind a backslash.
_FLAT = rb"(?:[^\\()]++|\\.)*+"
_NESTED = rb"(?:[^\\()]++|\\.|\((?:[^\\()]++|\\.|\(" + _FLAT + rb"\))*+\))*+"
_STRING = re.compile(rb"\((" + _NESTED + rb")\)|<([0-9A-Fa-f]{4,})>", re.DOTALL)
_GAP = b"\xff\xfd"
"""Stands between two text objects: no font has so many glyphs."""
_NOTHING = b"\\\n"
"""A line that goes on: nothing, and the end of an octal code."""
_SHOWN = re.compile(rb"/(\w+) [\d.-]+ Tf|" + _STRING.pattern, re.DOTALL)

Glyphs = Mapping[int, str]


def text_of_pdf(data: bytes) -> str:
    """Every word that the PDF shows or says of itself."""
    objects = dict(_objects(data))
    plain: list[str] = []
    for body in objects.values():
        if not body.endswith(b"endstream"):
            plain.extend(_said(body))
        elif b"/Metadata" in body[:200]:
            plain.append(_stream(body).decode("utf-8", "replace"))
    fonts: dict[int, Glyphs] = {}
    for number, resources in _drawn(objects):
        table = _fonts(objects.get(resources, b""), objects, fonts)
        plain.append("".join(_words(_stream(objects.get(number, b"")), table)))
    return "\n".join(plain)


def _objects(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Each object's number and inside."""
    for part in data.split(b"endobj"):
        found = _OBJECT.search(part)
        if found:
            yield int(found[1]), part[found.end() :].rstrip()


def _stream(body: bytes) -> bytes:
    head, _, rest = body.partition(b"stream")
    packed = rest.removesuffix(b"endstream").lstrip(b"\r").removeprefix(b"\n")
    if b"FlateDecode" not in head:
        return packed
    try:
        return zlib.decompressobj().decompress(packed)
    except zlib.error:
        return b""


def _drawn(objects: Mapping[int, bytes]) -> Iterator[tuple[int, int]]:
    """Streams that draw, each with the object that names its fonts."""
    for number, body in objects.items():
        is_stream = body.endswith(b"endstream")
        resources = _RESOURCES.search(body.partition(b"stream")[0] if is_stream else body)
        if resources is None:
            continue
        if is_stream:
            yield number, int(resources[1])
        elif _PAGE.search(body):
            for contents in _CONTENTS.finditer(body):
                for part in _REFERENCE.finditer(contents[2] or contents[1] + b" 0 R"):
                    yield int(part[1]), int(resources[1])


def _fonts(
    resources: bytes, objects: Mapping[int, bytes], known: dict[int, Glyphs]
) -> dict[bytes, Glyphs]:
    named: dict[bytes, Glyphs] = {}
    table = _FONTS.search(resources)
    for name, number in _FONT.findall(table[1]) if table else ():
        font = int(number)
        if font not in known:
            to_unicode = _TO_UNICODE.search(objects.get(font, b""))
            cmap = _stream(objects.get(int(to_unicode[1]), b"")) if to_unicode else b""
            known[font] = _glyphs(cmap)
        named[name] = known[font]
    return named


def _glyphs(cmap: bytes) -> Glyphs:
    glyphs: dict[int, str] = {}
    for part in _CHARS.findall(cmap):
        glyphs |= {int(code, 16): _utf16(text) for code, text in _PAIR.findall(part)}
    for part in _RANGES.findall(cmap):
        for first, last, text in _TRIPLE.findall(part):
            start = _utf16(text)
            for step in range(int(last, 16) - int(first, 16) + 1):
                glyphs[int(first, 16) + step] = start[:-1] + chr(ord(start[-1]) + step)
    return glyphs


def _utf16(digits: bytes) -> str:
    return bytes.fromhex(digits.decode()).decode("utf-16-be", "replace")


def _words(stream: bytes, fonts: Mapping[bytes, Glyphs]) -> Iterator[str]:
    """What a stream's text objects show; outlines, most of a drawing, stand outside them."""
    now, codes = b"", list[bytes]()
    for part in stream.split(b"BT")[1:]:
        for font, literal, digits in _SHOWN.findall(part.partition(b"ET")[0]):
            if not font:
                codes.append(_literal(digits) if digits else literal)
            elif font != now:
                yield _read(codes, fonts.get(now, {}))
                now, codes = font, []
        codes.append(_GAP)
    yield _read(codes, fonts.get(now, {}))


def _read(codes: list[bytes], glyphs: Glyphs) -> str:
    """Two bytes a glyph: read as UTF-16, its codes stand where characters would."""
    raw = _raw(_NOTHING.join(codes))
    return raw.decode("utf-16-be", "replace").translate({**glyphs, 0xFFFD: " "})


def _literal(digits: bytes) -> bytes:
    return b"".join(b"\\%03o" % byte for byte in bytes.fromhex(digits.decode()))


def _said(body: bytes) -> Iterator[str]:
    for literal, digits in _STRING.findall(body):
        raw = bytes.fromhex(digits[: len(digits) // 2 * 2].decode()) if digits else _raw(literal)
        if raw.startswith(b"\xfe\xff"):
            yield raw[2:].decode("utf-16-be", "replace")
        else:
            yield raw.decode("latin-1")


def _raw(literal: bytes) -> bytes:
    """A literal string's bytes: escapes by octal code or by letter, undone."""
    if b"\\" not in literal:
        return literal
    safe = literal.replace(b"\\\\", b"\\134").replace(b"\\(", b"(").replace(b"\\)", b")")
    return safe.decode("unicode_escape").encode("latin-1", "replace")
