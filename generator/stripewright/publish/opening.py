"""Any file opened as a curious reader would open it: texts, pictures, PDFs, and what archives hold.

What a file is, its first bytes say, and not its name: a pack that was given another name is a pack.
"""

from __future__ import annotations

import base64
import binascii
import bz2
import gzip
import io
import logging
import lzma
import re
import tarfile
import warnings
import zipfile
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import say
from stripewright.publish.reading import FileWords, marked_up, plain_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pypdf import PdfReader

_DEEPEST = 5
"""Archives inside one another that are opened."""
MOST_UNPACKED = 256 << 20
"""What one file may hold, unpacked."""

_ZIP_END, _ZIP_TAIL = b"PK\5\6", 1 << 16
_CARRIED = re.compile(r"data:[^,\"'<>()\s]{0,200};base64,([A-Za-z0-9+/=%\s]{40,})")
"""A file carried inside a text as its address (RFC 2397)."""
_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_PICTURES = (b"\x89PNG", b"\xff\xd8", b"GIF8", b"RIFF", b"II*\0", b"MM\0*", b"BM")
_PNG_TEXTS = (b"tEXt", b"zTXt", b"iTXt", b"eXIf")
_UNPACKERS = ((b"\x1f\x8b", gzip.open), (b"BZh", bz2.open), (b"\xfd7zXZ\0", lzma.open))
_PACKED = (b"PK\3\4", *(mark for mark, _ in _UNPACKERS))


@dataclass(frozen=True, slots=True)
class Opened:
    """A file, or one inside it.

    Attributes:
        path: where it is; one inside another is named after it, `assets/gift.zip/page.pdf`.
        words: what it says.
        data: its bytes.
        unread: why it could not be read, or not all of it; empty when it could.
    """

    path: str
    words: FileWords
    data: bytes = b""
    unread: str = ""
    too_much: bool = False
    """Whether it was not read for its size."""


class _Left:
    """How much more may be unpacked."""

    def __init__(self) -> None:
        self.bytes = MOST_UNPACKED

    def take(self, data: bytes) -> bytes:
        self.bytes -= len(data)
        if self.bytes < 0:
            raise _TooMuch
        return data


class _TooMuch(Exception):
    """More than can be looked through."""


_NOTHING = FileWords(([],))
_DAMAGED = (OSError, EOFError, ValueError, KeyError, NotImplementedError, RuntimeError,
            zlib.error, lzma.LZMAError, tarfile.TarError, zipfile.BadZipFile)  # fmt: skip
"""What the readers of archives raise for one that is broken, locked, or of an unknown kind."""


def opened(path: str, data: bytes) -> Iterator[Opened]:
    """A file and whatever is inside it."""
    try:
        yield from _opened(path, data, _Left(), 0)
    except _TooMuch:
        yield Opened(path, _NOTHING, unread="it holds too much", too_much=True)


def _opened(path: str, data: bytes, left: _Left, depth: int) -> Iterator[Opened]:
    if depth > _DEEPEST:
        raise _TooMuch
    for kind, inside in (
        (_is_zip, _in_zip),
        (_is_tar, _in_tar),
        (_is_packed, _unpacked),
        (_is_pdf, _in_pdf),
    ):
        if kind(data):
            yield from _inside(path, inside(path, data, left), left, depth)
    if data.startswith(_PICTURES):
        yield Opened(path, plain_words(" ".join(_in_picture(data))), data)
    elif not data.startswith(_PACKED) and not _is_pdf(data):
        text = _decoded(data)
        yield Opened(path, marked_up(text), data)
        if ";base64," in text:
            yield from _inside(path, _carried(path, text, left), left, depth)


def _inside(
    path: str, members: Iterator[Opened | tuple[str, bytes]], left: _Left, depth: int
) -> Iterator[Opened]:
    """Open each file of an archive in its turn; one that fails tells why, and ends it."""
    try:
        for member in members:
            if isinstance(member, Opened):
                yield member
            else:
                yield from _opened(f"{path}/{member[0]}", member[1], left, depth + 1)
    except _DAMAGED as fault:
        yield Opened(path, _NOTHING, unread=say("it can't be opened ({why})", str(fault)[:180]))


def _is_zip(data: bytes) -> bool:
    # A zip's index stands at its end, so one may follow anything: a picture, a program.
    return data.rfind(_ZIP_END, max(0, len(data) - _ZIP_TAIL - 22)) >= 0


def _in_zip(_path: str, data: bytes, left: _Left) -> Iterator[tuple[str, bytes]]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        entries = [entry for entry in archive.infolist() if not entry.is_dir()]
        # Names say something even where what they stand for is locked.
        yield from ((entry.filename, b"") for entry in entries)
        for entry in entries:
            with archive.open(entry) as file:
                yield entry.filename, left.take(file.read(left.bytes + 1))


def _is_tar(data: bytes) -> bool:
    return data[257:262] == b"ustar"


def _in_tar(_path: str, data: bytes, left: _Left) -> Iterator[tuple[str, bytes]]:
    with tarfile.open(fileobj=io.BytesIO(data), mode="r:") as archive:
        for entry in archive:
            file = archive.extractfile(entry) if entry.isfile() else None
            if file:
                yield entry.name, left.take(file.read(left.bytes + 1))


def _is_packed(data: bytes) -> bool:
    return data.startswith(_PACKED[1:])


def _unpacked(path: str, data: bytes, left: _Left) -> Iterator[tuple[str, bytes]]:
    unpacker = next(one for mark, one in _UNPACKERS if data.startswith(mark))
    name = path.rpartition("/")[2].rpartition(".")[0] or "inside"
    with unpacker(io.BytesIO(data)) as file:
        yield name, left.take(file.read(left.bytes + 1))


def _carried(_path: str, text: str, left: _Left) -> Iterator[tuple[str, bytes]]:
    for number, found in enumerate(_CARRIED.finditer(text), 1):
        packed = re.sub(r"%[0-9a-fA-F]{2}|\s|=", "", found[1])
        try:
            yield f"data {number}", left.take(base64.b64decode(packed + "=" * (-len(packed) % 4)))
        except binascii.Error:
            continue


def _decoded(data: bytes) -> str:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return data.decode(encoding, "replace")
    if b"\0" in data[:1024]:
        data = data.replace(b"\0", b"")  # two bytes a letter, or no text at all
    return data.decode("utf-8", "replace")


def _in_picture(data: bytes) -> Iterator[str]:
    """What a picture says beside its pixels: comments, camera data, any text of its maker's."""
    is_png = data.startswith(b"\x89PNG")
    if is_png and not any(kind in data for kind in _PNG_TEXTS):
        return
    from PIL import Image, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of size and of odd tags: no pixel is looked at
            with Image.open(io.BytesIO(data)) as picture:
                if is_png:
                    picture.load()  # what stands below the pixels is read with them only
                yield from _said([*picture.info.items(), *getattr(picture, "applist", ())])
                yield from _said(dict(picture.getexif()))
    except (UnidentifiedImageError, Image.DecompressionBombError, SyntaxError, *_DAMAGED):
        # Half a picture, or none at all: what it says can be read all the same.
        yield _decoded(data)


def _said(value: Any) -> Iterator[str]:
    """Every text in some data, however deep."""
    if isinstance(value, bytes):
        yield value.replace(b"\0", b" ").decode("utf-8", "replace")
    elif isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from _said([*value.items()])
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _said(one)


def _is_pdf(data: bytes) -> bool:
    return b"%PDF-" in data[:1024] and b"endobj" in data


def _in_pdf(path: str, data: bytes, left: _Left) -> Iterator[Opened | tuple[str, bytes]]:
    """What a PDF's pages show, what it says of itself, and the files attached to it."""
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    # It says more of a file than anyone wants to hear; what it can't read is told by us.
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        reader = PdfReader(io.BytesIO(data))
        texts = [page.extract_text() for page in reader.pages]
        texts += _strings(reader)
        attached = [(name, one) for name, many in reader.attachments.items() for one in many]
    except (PyPdfError, RecursionError, AttributeError, TypeError, IndexError) as fault:
        # The reader fails in any of these ways for a PDF that is broken, or locked.
        yield Opened(path, _NOTHING, unread=say("it can't be opened ({why})", str(fault)[:180]))
        return
    yield Opened(path, plain_words("\n".join(texts)), data)
    for name, one in attached:
        yield name, left.take(one)


def _strings(reader: PdfReader) -> Iterator[str]:
    """Every text string of a PDF's objects: titles, alternative texts, notes, bookmarks."""
    from pypdf.generic import ArrayObject, DictionaryObject, TextStringObject

    waiting: list[Any] = [
        reader.get_object(number)
        for number in {*(n for each in reader.xref.values() for n in each), *reader.xref_objStm}
    ]
    while waiting:
        one = waiting.pop()
        if isinstance(one, TextStringObject):
            yield one
        elif isinstance(one, DictionaryObject):
            waiting += [one.raw_get(key) for key in one]
            if one.get("/Type") == "/Metadata":
                yield one.get_data().decode("utf-8", "replace")  # type: ignore[attr-defined]  # a stream
        elif isinstance(one, ArrayObject):
            waiting += list.__iter__(one)
