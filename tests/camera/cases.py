"""Made-up sheets, coloured and photographed or painted, with what is on them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from camera.sheets import Sheet, linear, rgb, sheet, stripes
from camera.simulator import Camera, Hand, coloured, painted, photographed
from stripewright.camera.colours import differences, hex_of, lab_of
from stripewright.camera.read import Reading, read_pictures

SHAPES = (
    {"form": "tube", "machine": {"bed": "circular", "needles": 46}, "rows": 78},
    {"form": "filled", "machine": {"bed": "circular", "needles": 40}, "rows": 68},
    {"form": "filled", "machine": {"bed": "circular", "needles": 40}, "rows": 90},
    {"form": "hat", "machine": {"bed": "circular", "needles": 60}, "rows": 48},
    {"form": "panel", "machine": {"bed": "flat", "needles": 30}, "rows": 84,
     "gauge": "22 sts x 30 rows / 10 cm"},
    {"form": "tube", "machine": {"bed": "circular", "needles": 22}, "rows": 40},
    {"form": "panel", "machine": {"bed": "flat", "needles": 50}, "rows": 120,
     "gauge": "16 sts x 22 rows / 10 cm"},
    {"form": "blanket", "machine": {"bed": "flat", "needles": 50}, "rows": 80, "panels": 4,
     "gauge": "16 sts x 22.4 rows / 10 cm"},
)  # fmt: skip
APART = 16.0
"""CIEDE2000 between a case's colours, at least: what a maker would choose for stripes."""


@dataclass
class Case:
    """Pictures of one sheet, and the number of the colour of each visible row."""

    sheet: Sheet
    pictures: list[tuple[str, bytes]]
    rows: list[int]
    colours: list[str]
    key: int


def palette(lot: np.random.Generator, count: int, apart: float = APART) -> list[str]:
    """Colours of yarn, told apart, none nearly white."""
    found: list[str] = []
    while len(found) < count:
        light = linear(lot.integers(8, 250, 3))
        lab = lab_of(light)
        known = [lab_of(linear(rgb(colour))) for colour in found] + [np.array([100.0, 0, 0])]
        if min(float(differences(lab, other)) for other in known) >= apart:
            found.append(hex_of(light))
    return found


def by_hand(seed: int) -> Case:
    """A sheet coloured by hand and photographed, each page by itself."""
    lot = np.random.default_rng([seed, 1])
    one = sheet(str(lot.choice(["a4", "letter"])), **SHAPES[int(lot.integers(len(SHAPES)))])
    count = int(lot.integers(2, 7))
    colours = palette(lot, count)
    rows = stripes(lot, one.subject.visible, count)
    key = count if lot.random() < 0.5 else 0
    tool = str(lot.choice(["pencil", "marker", "highlighter", "brush"]))
    pictures = []
    for page in lot.permutation(len(one.pages)):
        number = int(page) + 1
        light = coloured(one, number, rows, colours,
                         Hand(tool, key if number == 1 else 0, seed, bool(lot.random() < 0.5)))  # fmt: skip
        pictures.append((f"photo-{number}.jpg", photographed(light, camera(lot, seed + number))))
    return Case(one, pictures, rows, colours, key)


def camera(lot: np.random.Generator, seed: int) -> Camera:
    """A phone in someone's hand, as well as the task allows."""
    warm = lot.uniform(-0.22, 0.22)
    return Camera(
        seed=seed,
        long_side=int(lot.integers(1500, 2800)),
        tilt=lot.uniform(0, 1),
        light=lot.uniform(0, 1),
        cast=(min(1, 1 + warm), 1 - abs(warm) * 0.3, min(1, 1 - warm)),
        blur=lot.uniform(0.3, 1.2),
        noise=lot.uniform(1, 6),
        quality=int(lot.choice([60, 75, 90])),
        shadow=bool(lot.random() < 0.4),
        curl_mm=float(lot.choice([0, 0, 2, 4])),
        paper=tuple((0.9 * np.array([1, lot.uniform(0.96, 1), lot.uniform(0.86, 1)])).tolist()),
    )


def on_screen(seed: int) -> Case:
    """A sheet filled in a paint program and saved at 50 to 300 dpi."""
    lot = np.random.default_rng([seed, 2])
    one = sheet(str(lot.choice(["a4", "letter"])), **SHAPES[int(lot.integers(len(SHAPES)))])
    count = int(lot.integers(2, 8))
    colours = palette(lot, count, 8.0)
    rows = stripes(lot, one.subject.visible, count)
    key = count if lot.random() < 0.5 else 0
    dpi = float(lot.choice([50, 60, 72, 96, 120, 150, 200, 300]))
    drawn = float(lot.choice([1.0, 1.5, 2.0])) if dpi <= 150 else 1.0
    kind = str(lot.choice(["PNG", "PNG", "JPEG", "WEBP", "RGBA"]))
    if kind in ("JPEG", "WEBP") and dpi < 96:
        kind = "PNG"
    pictures = [
        (f"page-{page + 1}", painted(
            one, page + 1, rows, colours, dpi=dpi * drawn, key=key if page == 0 else 0, kind=kind,
            how=str(lot.choice(["fill", "over", "multiply"])),
            resampled=1 / drawn if drawn > 1 else None))
        for page in lot.permutation(len(one.pages)).tolist()
    ]  # fmt: skip
    return Case(one, pictures, rows, colours, key)


def judged(case: Case, reading: Reading) -> tuple[str, set[int]]:
    """`exact`, `doubted`, or `wrong`: some row is read as another's colour and not doubted.

    Returns:
        The word, and the rows (from 1) that are wrong.
    """
    if not reading.pieces:
        return "doubted", set()
    wrong: set[int] = set()
    for piece in reading.pieces:
        wrong |= _wrong(case, list(piece.letters))
    doubted = {doubt.row for doubt in reading.doubts}
    whole = 0 in doubted
    if wrong - doubted and not whole:
        return "wrong", wrong - doubted
    return ("doubted" if doubted else "exact"), wrong


def _wrong(case: Case, letters: list[str]) -> set[int]:
    """Rows whose letter isn't the one that most rows of their colour have, or that shares it."""
    if len(letters) != len(case.rows):
        return set(range(1, len(case.rows) + 1))
    names: dict[int, str] = {}
    for colour in set(case.rows):
        own = [x for x, n in zip(letters, case.rows, strict=True) if n == colour]
        names[colour] = max(sorted(set(own)), key=own.count)
    if case.key:
        names = {colour: "ABCDEFGH"[colour] for colour in names}
    out = {n for n, (x, c) in enumerate(zip(letters, case.rows, strict=True), 1) if x != names[c]}
    for colour, name in names.items():
        if list(names.values()).count(name) > 1:
            out |= {n for n, c in enumerate(case.rows, 1) if c == colour}
    return out


def read(case: Case) -> Reading:
    """What the program makes of it."""
    reading, _ = read_pictures(case.pictures)
    return reading
