"""The search for what `support.paid` hides, in everything that everyone may see."""

from __future__ import annotations

import io
import re
import zlib
from typing import TYPE_CHECKING

import pypdf
from PIL import Image

from stripewright.addresses import SHARE
from support.paid import MARK, Paid

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

NUMBER = re.compile(r"(?<![\w.#-])0*(\d{4,5})(?![\w-]|\.\d)")

PLACED = re.compile(r'\s(?:[xy][12]?|width|height|viewBox|d|transform|points)="[^"]*"')
"""Where a drawing's parts stand: any number at all. That none hangs on the rows, the twins prove."""


def readings(path: str, data: bytes) -> Iterable[str]:
    """A file as it stands, and what is packed inside it."""
    yield data.decode("latin-1")
    if data.startswith(b"%PDF"):
        yield "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)
        for stream in re.findall(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
            try:
                yield zlib.decompressobj().decompress(stream).decode("latin-1")
            except zlib.error:
                continue
    if data.startswith(b"\x89PNG"):
        with Image.open(io.BytesIO(data)) as picture:
            picture.load()
            yield str(picture.info)


def leaks(files: Mapping[str, bytes], patterns: Iterable[Paid]) -> list[str]:
    """Every mark in any file or its name, and every number of a pattern in its own files."""
    found = []
    for path, data in files.items():
        for text in (path, *readings(path, data)):
            found += [f"{path}: {mark}" for mark in MARK.findall(text)]
    for one in patterns:
        for path, data in files.items():
            if path.startswith((f"patterns/{one.slug}/", f"texts/{one.slug}/")) and (
                not path.endswith(SHARE)
            ):
                numbers = {int(n) for n in NUMBER.findall(PLACED.sub("", data.decode()))}
                found += [f"{path}: {n}" for n in sorted(numbers & one.numbers)]
    return found
