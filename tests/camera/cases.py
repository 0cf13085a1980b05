"""Made-up sheets, coloured and photographed or painted, with what is on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from camera.sheets import Sheet, linear, rgb, sheet, stripes
from camera.simulator import Camera, Hand, coloured, painted, photographed
from stripewright.camera.colours import differences, hex_of, lab_of
from stripewright.camera.read import Reading, read_pictures

if TYPE_CHECKING:
    from collections.abc import Callable

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


def one_hue(lot: np.random.Generator, count: int) -> list[str]:
    """Colours of one hue, each 4.5 to 19 CIEDE2000 from the nearest."""
    apart = lot.uniform(4.5, 12)
    while True:
        light = linear(lot.integers(8, 250, (6000, 3)))
        lab = lab_of(light)
        angle = np.arctan2(lab[:, 2], lab[:, 1])
        fit = (np.abs(np.angle(np.exp(1j * (angle - angle[0])))) < 0.12) & (
            np.hypot(lab[:, 1], lab[:, 2]) > 15) & (lab[:, 0] > 20)  # fmt: skip
        found: list[int] = []
        for n in np.flatnonzero(fit & (differences(lab, np.array([100.0, 0, 0])) > 14)):
            near = min((float(differences(lab[n], lab[m])) for m in found), default=apart)
            if apart <= near <= 1.6 * apart:
                found.append(int(n))
            if len(found) == count:
                return [hex_of(light[m]) for m in found]
        apart *= 0.95


def by_hand(seed: int) -> Case:
    """A sheet coloured by hand and photographed, each page by itself."""
    lot = np.random.default_rng([seed, 1])
    return _by_hand(lot, seed, lambda: palette(lot, int(lot.integers(2, 7))), 0.5)


def of_one_hue(seed: int) -> Case:
    """The same with two to four yarns of one hue, half of them with another one; rarely a key."""
    lot = np.random.default_rng([seed, 5])
    return _by_hand(lot, seed, lambda: (one_hue(lot, int(lot.integers(2, 5)))
                                        + palette(lot, int(lot.integers(2)))), 0.3)  # fmt: skip


def _by_hand(
    lot: np.random.Generator, seed: int, pens: Callable[[], list[str]], with_key: float
) -> Case:
    one = sheet(str(lot.choice(["a4", "letter"])), **SHAPES[int(lot.integers(len(SHAPES)))])
    colours = pens()
    count = len(colours)
    rows = stripes(lot, one.subject.visible, count)
    key = count if lot.random() < with_key else 0
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
