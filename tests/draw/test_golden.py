"""Kept drawings of every kind: a picture compared by its pixels, and a grid of letters to read.

    pytest tests/draw --renew -s

makes them anew and prints the grids that changed; look at the pictures before keeping them.
"""

from __future__ import annotations

import io
from difflib import unified_diff
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageChops

from stripewright.draw.draw import draw_all
from stripewright.paper.picture import png
from stripewright.words.written import PatternText, Prose, Step, StepGroup
from support.drawn import KINDS, kind

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern

GOLDEN = Path(__file__).parent / "golden"
WIDE = 240
"""Pixels of a kept picture."""
ACROSS, DOWN = 60, 8
"""Letters across a grid, and pixels that one stands for downwards: a letter is twice as high as
it is wide."""
NEAR = 40
"""How far a pixel may be from a yarn's colour, in 0 to 255 a channel, and still be its letter."""
UNLIKE, FEW = 32, 0.002
"""A pixel is another when a channel differs by more; a picture when more of its pixels are."""

STEPS = {
    "cushion": [
        ("seam_end", "cover"), ("seam_end", "lining"), ("line", None), ("fill", "lining"),
        ("close_seam", "lining"), ("close_seam", "cover"),
    ],
    "hat": [("gather", "hat"), ("fold_layers", "hat"), ("weave_in", None)],
}  # fmt: skip
"""Making up as techniques and pieces: what words call them is tested elsewhere."""


def plain_words(name: str) -> PatternText:
    """Steps that are named by their techniques, counted from 9."""
    steps = tuple(
        Step(number, f"making-up.{number}", do.replace("_", " "), "", piece, do)
        for number, (do, piece) in enumerate(STEPS.get(name, []), 9)
    )
    nothing = Prose("", ())
    return PatternText((StepGroup("making-up", "Making up", steps),), (), nothing, nothing, {})


def pictures_of(name: str) -> dict[str, Image.Image]:
    """The finished view of a kind; for a cushion and a hat every drawing."""
    worked = kind(name)
    drawings = draw_all(worked, plain_words(name), prefix=worked.slug)
    shown = drawings.everything() if name in ("cushion", "hat") else (drawings.finished,)
    return {one.name: Image.open(io.BytesIO(png(one.svg, WIDE))).convert("RGB") for one in shown}


def grid_of(picture: Image.Image, worked: WorkedPattern) -> str:
    """The picture as letters: a yarn's letter, `.` for paper, `+` for ink and shade."""
    inks = {yarn.letter: bytes.fromhex(yarn.colour[1:]) for yarn in worked.yarns} | {
        ".": b"\xff" * 3
    }

    def letter(pixel: tuple[int, ...]) -> str:
        far = {
            sign: max(abs(one - other) for one, other in zip(pixel, ink, strict=True))
            for sign, ink in inks.items()
        }
        nearest = min(far, key=lambda sign: far[sign])
        return nearest if far[nearest] <= NEAR else "+"

    step = picture.width / ACROSS
    lines = (
        "".join(letter(picture.getpixel((int((x + 0.5) * step), y))) for x in range(ACROSS))
        for y in range(DOWN // 2, picture.height, DOWN)
    )
    return "\n".join(line.rstrip(".") for line in lines) + "\n"


def kept_picture(path: Path) -> Image.Image | None:
    return Image.open(path).convert("RGB") if path.is_file() else None


def unlike(one: Image.Image, other: Image.Image | None) -> float:
    """The share of pixels that are another; 1 for a picture of another size."""
    if other is None or one.size != other.size:
        return 1.0
    most = ImageChops.difference(one, other).convert("RGB").split()
    worst = ImageChops.lighter(ImageChops.lighter(most[0], most[1]), most[2])
    counts = worst.histogram()
    return sum(counts[UNLIKE + 1 :]) / (one.width * one.height)


@pytest.mark.parametrize("name", KINDS)
def test_drawings_are_the_kept_ones(name: str, renewing: bool) -> None:
    for file, picture in pictures_of(name).items():
        grid, kept = grid_of(picture, kind(name)), GOLDEN / f"{file}.txt"
        before = kept.read_text(encoding="utf-8") if kept.is_file() else ""
        difference = "".join(
            unified_diff(before.splitlines(True), grid.splitlines(True), file, "now")
        )
        other = unlike(picture, kept_picture(GOLDEN / f"{file}.png"))
        if renewing and (difference or other):
            print(difference)
            kept.write_text(grid, encoding="utf-8")
            small = picture.quantize(256, dither=Image.Dither.NONE)
            small.save(GOLDEN / f"{file}.png", optimize=True)
        else:
            assert not difference, difference
            assert other <= FEW, f"{file}: {other:.1%} of its pixels are others"


def test_a_stripe_of_another_yarn_is_seen() -> None:
    """What the comparison is for: one row's colour changes the grid and enough pixels."""
    before = pictures_of("scarf")["scarf-finished"]
    after = before.copy()
    after.paste((255, 0, 255), (60, 100, 180, 104))
    assert (
        grid_of(after, kind("scarf")) != grid_of(before, kind("scarf"))
        or unlike(after, before) > FEW
    )
    assert unlike(after, before) > FEW
    assert unlike(before, before.copy()) == 0


def test_no_kept_drawing_is_orphaned() -> None:
    expected = {
        f"{file}.{end}" for name in KINDS for file in pictures_of(name) for end in ("txt", "png")
    }
    assert {path.name for path in GOLDEN.iterdir()} == expected
