"""Real planning sheets, printed by the program, as pixels; and stripes to colour them with."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
import pypdfium2

from stripewright.paper.sheet_plan import pages_of
from stripewright.paper.sheet_subject import of_sheet
from stripewright.paper.sheets import sheets_pdf
from stripewright.pattern.sheets import SheetOf, Sheets


@dataclass(frozen=True)
class Sheet:
    """A sheet as its file asks for it, on one paper."""

    asked: tuple[tuple[str, object], ...]
    paper: str

    @property
    def subject(self):
        return of_sheet(self.model)

    @property
    def model(self) -> SheetOf:
        return SheetOf.model_validate(
            {k: dict(v) if isinstance(v, tuple) else v for k, v in self.asked}
        )

    @property
    def pages(self):
        return pages_of(self.subject, self.paper)


def sheet(paper: str = "a4", **asked) -> Sheet:
    asked = {
        "title": "Plan",
        "form": "tube",
        "machine": {"bed": "circular", "needles": 46},
        "gauge": "12.5 sts x 20 rows / 10 cm",
        "rows": 90,
    } | asked
    return Sheet(
        tuple((k, tuple(v.items()) if isinstance(v, dict) else v) for k, v in asked.items()), paper
    )


@lru_cache(maxsize=8)
def printed(one: Sheet) -> bytes:
    """The sheet's PDF."""
    asked = {k: dict(v) if isinstance(v, tuple) else v for k, v in one.asked}
    book = {"title": "Plans", "summary": "To colour in.", "sheets": [asked]}
    return sheets_pdf(Sheets.model_validate(book), one.paper)[0]


@lru_cache(maxsize=24)
def _page(one: Sheet, number: int, dpi: float) -> np.ndarray:
    document = pypdfium2.PdfDocument(printed(one))
    image = document[number - 1].render(scale=dpi / 72).to_numpy()[:, :, :3]
    document.close()
    return np.ascontiguousarray(image[:, :, ::-1])


def page_pixels(one: Sheet, number: int, dpi: float) -> np.ndarray:
    """A page as a printer lays it down: RGB."""
    return _page(one, number, dpi).copy()


def stripes(lot: np.random.Generator, rows: int, letters: int, least: int = 1) -> list[int]:
    """A colour's number for each visible row: stripes of 1 to 14 rows, no two neighbours alike."""
    out: list[int] = []
    last = -1
    order = list(lot.permutation(letters))
    while len(out) < rows:
        number = order.pop() if order else int(lot.integers(letters))
        if number == last:
            continue
        last = number
        out += [number] * int(lot.integers(least, 15))
    return out[:rows]


def linear(colour) -> np.ndarray:
    """sRGB, 0 to 255, in linear light (IEC 61966-2-1)."""
    c = np.asarray(colour, np.float32) / 255
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4).astype(np.float32)


def encoded(light: np.ndarray) -> np.ndarray:
    """Linear light as sRGB, 0 to 255."""
    light = np.clip(light, 0, 1)
    return 255 * np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def rgb(colour: str) -> tuple[int, int, int]:
    return tuple(int(colour[n : n + 2], 16) for n in (1, 3, 5))


@cache
def science():
    """colour-science, a reference library for colour."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it tells of optional libraries that are not needed here
        import colour

        _ = colour.SDS_ILLUMINANTS, colour.SDS_COLOURCHECKERS, colour.RGB_COLOURSPACES
    return colour
