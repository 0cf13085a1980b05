"""Sheets coloured by hand and photographed; or filled in a paint program and saved."""

from __future__ import annotations

import io
from dataclasses import dataclass, field

import cv2
import numpy as np
from PIL import Image

from camera.sheets import Sheet, encoded, linear, page_pixels, rgb

DPI = 200.0
MM = DPI / 25.4


@dataclass
class Hand:
    """How a sheet is coloured: one tool, one temper."""

    tool: str = "pencil"
    key: int = 0
    """How many boxes of the key are coloured, from A on."""
    seed: int = 0
    edges: bool = True
    """Whether the hatched rows are coloured along with their stripe."""


@dataclass
class Camera:
    """How a sheet is photographed. Every share is of what the task allows."""

    seed: int = 0
    long_side: int = 2200
    tilt: float = 0.6
    turn: float | None = None
    light: float = 0.6
    cast: tuple[float, float, float] = (1.0, 0.94, 0.82)
    blur: float = 0.8
    noise: float = 4.0
    quality: int = 75
    shadow: bool = False
    curl_mm: float = 0.0
    paper: tuple[float, float, float] = (0.92, 0.92, 0.92)
    table: tuple[int, int, int] = field(default=(110, 92, 76))


def coloured(
    one: Sheet, number: int, rows: list[int], colours: list[str], hand: Hand
) -> np.ndarray:
    """A page coloured by hand, in linear light."""
    lot = np.random.default_rng(hand.seed * 1000 + number)
    page = one.pages[number - 1]
    light = linear(page_pixels(one, number, DPI))
    outline = page["outline"]
    before = one.subject.ends[0].rows
    bands = [b for b in page["bands"] if hand.edges or not b["allowance"]]
    runs: list[list] = []
    for band in bands:
        at = min(max(band["row"] - before - 1, 0), len(rows) - 1)
        if runs and runs[-1][0] == rows[at]:
            runs[-1][1].append(band)
        else:
            runs.append([rows[at], [band]])
    left, right = outline["x"], outline["x"] + outline["width"]
    for letter, group in runs:
        if colours[letter] == "":
            continue
        top = min(b["y"] for b in group)
        foot = max(b["y"] for b in group) + page["band"]
        _lay(
            lot,
            light,
            (left, top, right, foot),
            page["band"],
            tool=hand.tool,
            colour=colours[letter],
        )
    for n, box in enumerate(page["key"][: hand.key]):
        if colours[n] == "":
            continue
        area = (box["x"], box["y"], box["x"] + box["width"], box["y"] + box["height"])
        _lay(lot, light, area, 3.0, tool=hand.tool, colour=colours[n])
    return light


def _lay(lot, light, area, band, *, tool, colour) -> None:
    """Lay a tool's colour over an area (mm): strokes, gaps, overruns, two passes."""
    left, top, right, foot = (v * MM for v in area)
    over = band / 6 * MM
    y0, y1 = int(top - over) - 3, int(foot + over) + 4
    x0, x1 = int(left - 2 * MM) - 3, int(right + 2 * MM) + 4
    part = np.zeros((y1 - y0, x1 - x0), np.float32)
    width = {"pencil": 0.7, "marker": 1.9, "highlighter": 3.2, "brush": 2.4}[tool] * MM
    width = min(width, foot - top)
    spill = lot.uniform(0, over)
    for _ in range(2 if tool == "pencil" or lot.random() < 0.4 else 1):
        step = width * lot.uniform(0.7, 0.95)
        y = top + width / 2 - spill * lot.random()
        while y < foot + spill * 0.8 - width * 0.3:
            y_here = min(max(y, top - spill + width / 2), foot + spill - width / 2)
            xs = np.linspace(left + lot.normal(0, 0.5 * MM), right + lot.normal(0, 0.5 * MM), 14)
            wobble = np.cumsum(lot.normal(0, 0.02 * MM, 14))
            ys = np.clip(y_here + wobble, top - over + width / 2, foot + over - width / 2)
            v0 = max(int(ys.min() - y0 - width) - 2, 0)
            slab = part[v0 : int(ys.max() - y0 + width) + 3]
            stroke = np.zeros_like(slab)
            points = np.round(np.stack([xs - x0, ys - y0 - v0], 1) * 16).astype(np.int32)
            cv2.polylines(stroke, [points], False, 1.0, max(round(width), 1), cv2.LINE_8, 4)
            press = lot.uniform(0.82, 1.0)
            if tool == "pencil":  # wax between which the paper shows
                slab[:] = 1 - (1 - slab) * (1 - 0.62 * press * stroke)
            else:  # a felt pen's layer, deeper where two overlap
                slab[:] = np.maximum(slab, press * stroke) + 0.1 * np.minimum(slab, stroke)
            y += step
        _closed(part, (x0, y0), (left, right, foot), width, 0.6 * band * MM)
    part = cv2.GaussianBlur(part, (0, 0), 0.8)[..., None]
    ink = linear(rgb(colour))
    if tool == "pencil":
        grain = lot.standard_normal(part.shape[:2], np.float32)
        part *= np.clip(0.93 + 0.5 * cv2.GaussianBlur(grain, (0, 0), 1.3), 0.35, 1.0)[..., None]
        light[y0:y1, x0:x1] *= 1 - np.clip(part, 0, 0.99) * (1 - ink)
    else:
        light[y0:y1, x0:x1] *= np.maximum(ink, 0.004) ** np.clip(part, 0, 1.3)


def _closed(part, origin, area, width, most) -> None:
    """One more stroke along a stripe's foot where a whole row would stay white: no hand leaves it.

    A gap, and a stroke that only reaches into a row, stay.
    """
    left, right, foot = (int(v) for v in area)
    x0, y0 = origin
    inner = part[:, left - x0 + 20 : right - x0 - 20]
    inked = np.flatnonzero((inner > 0.2).mean(axis=1) > 0.5)
    if len(inked) and foot - y0 - inked[-1] > most:
        first = foot - y0 - round(width)
        part[first : foot - y0, left - x0 : right - x0] = np.maximum(
            part[first : foot - y0, left - x0 : right - x0], 0.9)  # fmt: skip


def photographed(light: np.ndarray, camera: Camera) -> bytes:
    """A photo of a page (linear light, at `DPI`) as a JPEG's bytes."""
    lot = np.random.default_rng(camera.seed)
    high, wide = light.shape[:2]
    turn = camera.turn if camera.turn is not None else float(
        lot.choice([0, 90, 180, 270]) + lot.uniform(-14, 14))  # fmt: skip
    tilt = np.deg2rad(25 * camera.tilt * lot.uniform(0.5, 1, 2) * lot.choice([-1, 1], 2) / 1.42)
    bend = (camera.curl_mm * MM, lot.choice(["x", "y"]), lot.uniform(0.35, 0.65))
    project = _projection((wide, high), np.deg2rad(turn), tilt, bend)
    grid = np.stack(np.meshgrid(np.linspace(0, wide, 30), np.linspace(0, high, 42)), -1)
    seen = project(grid.reshape(-1, 2))
    low, far = seen.min(0), seen.max(0)
    margin = 0.04 * (far - low).max()
    scale = camera.long_side / ((far - low).max() + 2 * margin)
    size = np.ceil((far - low + 2 * margin) * scale).astype(int)
    maps = _inverse(project, (wide, high), low - margin, scale, size)
    field_ = _shade(lot, size, camera)
    sharp = cv2.GaussianBlur(light, (0, 0), max(0.45 / scale * 0.7, 0.01)) if scale < 0.9 else light
    paper = sharp * np.float32(camera.paper)
    photo = cv2.remap(paper, *maps, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT,
                      borderValue=tuple(map(float, linear(camera.table))))  # fmt: skip
    photo = photo * field_[..., None] * np.float32(camera.cast)
    photo = cv2.GaussianBlur(photo, (0, 0), camera.blur) if camera.blur else photo
    out = encoded(photo) + camera.noise * lot.standard_normal(photo.shape, np.float32)
    image = Image.fromarray(np.clip(out, 0, 255).astype(np.uint8))
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", quality=camera.quality)
    return buffer.getvalue()


def _projection(size, turn, tilt, bend):
    """Page pixels -> picture plane, by a pinhole camera; the page may be bent along one way."""
    wide, high = size
    middle = np.array([wide / 2, high / 2])
    far = 1.6 * max(size)
    (ca, sa), (cb, sb) = ((np.cos(v), np.sin(v)) for v in tilt)
    rotate = np.array([[ca, 0, sa], [0, 1, 0], [-sa, 0, ca]]) @ np.array(
        [[1, 0, 0], [0, cb, -sb], [0, sb, cb]])  # fmt: skip
    ct, st = np.cos(turn), np.sin(turn)
    height, along, top = bend

    def project(points):
        share = points / np.array(size)
        s = np.clip(share[:, 0] if along == "x" else share[:, 1], -0.2, 1.2)
        z = height * np.sin(np.pi * np.clip(s, 0, 1) ** (np.log(0.5) / np.log(top)))
        flat = points - middle
        space = np.column_stack([flat, -z]) @ rotate.T
        depth = far / (far + space[:, 2])
        seen = space[:, :2] * depth[:, None]
        return seen @ np.array([[ct, st], [-st, ct]])

    return project


def _inverse(project, size, low, scale, shape):
    """For each pixel of the photo, where on the page it looks."""
    wide, high = size
    corners = np.array([[0, 0], [wide, 0], [wide, high], [0, high]], float)
    flat = cv2.getPerspectiveTransform(
        ((project(corners) - low) * scale).astype(np.float32), corners.astype(np.float32)
    )
    step = 8
    xs, ys = np.arange(0, shape[0] + step, step), np.arange(0, shape[1] + step, step)
    pixels = np.stack(np.meshgrid(xs, ys), -1).reshape(-1, 1, 2).astype(np.float64)
    wanted = pixels.reshape(-1, 2)
    guess = cv2.perspectiveTransform(pixels, flat).reshape(-1, 2)
    for _ in range(12):
        seen = ((project(guess) - low) * scale).reshape(-1, 1, 2)
        guess += cv2.perspectiveTransform(pixels, flat).reshape(-1, 2) - cv2.perspectiveTransform(
            seen, flat).reshape(-1, 2)  # fmt: skip
    del wanted
    maps = guess.reshape(len(ys), len(xs), 2).astype(np.float32)
    big = cv2.resize(maps, None, fx=step, fy=step, interpolation=cv2.INTER_LINEAR)
    # cv2.resize places samples at pixel centres: shift so that node k stands at pixel k * step.
    shift = np.float32([[1, 0, -(step - 1) / 2], [0, 1, -(step - 1) / 2]])
    big = cv2.warpAffine(big, shift, (big.shape[1], big.shape[0]), borderMode=cv2.BORDER_REPLICATE)
    big = big[: shape[1], : shape[0]]
    return big[..., 0].copy(), big[..., 1].copy()


def _shade(lot, size, camera) -> np.ndarray:
    """Light over the photo: from one side up to 2:1, and a thumb's shadow."""
    wide, high = size
    angle = lot.uniform(0, 2 * np.pi)
    x, y = np.meshgrid(np.linspace(-0.5, 0.5, wide), np.linspace(-0.5, 0.5, high))
    ramp = (x * np.cos(angle) + y * np.sin(angle)) / (abs(np.cos(angle)) + abs(np.sin(angle)))
    field_ = 2.0 ** (-(camera.light) * (ramp + 0.5))
    if camera.shadow:
        side = lot.choice([-0.5, 0.5])
        cx, cy = (
            (side, lot.uniform(-0.3, 0.3)) if lot.random() < 0.5 else (lot.uniform(-0.3, 0.3), side)
        )
        rx, ry = lot.uniform(0.12, 0.3, 2)
        r = np.hypot((x - cx) / rx, (y - cy) / ry)
        field_ *= 1 - lot.uniform(0.25, 0.5) / (1 + np.exp((r - 1) / 0.12))
    return field_.astype(np.float32)


def painted(
    one: Sheet,
    number: int,
    rows: list[int],
    colours: list[str],
    *,
    dpi: float = 150,
    how: str = "fill",
    key: int = 0,
    kind: str = "PNG",
    resampled: float | None = None,
) -> bytes:
    """A page filled in a paint program: flat colours between the lines, or laid over them."""
    page = one.pages[number - 1]
    image = page_pixels(one, number, dpi)
    mm = dpi / 25.4
    outline, before = page["outline"], one.subject.ends[0].rows
    areas = []
    for band in page["bands"]:
        letter = rows[min(max(band["row"] - before - 1, 0), len(rows) - 1)]
        areas.append((outline["x"], band["y"], outline["width"], page["band"], colours[letter]))
    for n, box in enumerate(page["key"][:key]):
        areas.append((box["x"], box["y"], box["width"], box["height"], colours[n]))
    for x, y, w, h, colour in areas:
        if not colour:
            continue
        x0, y0 = round(x * mm), round(y * mm)
        x1, y1 = round((x + w) * mm), round((y + h) * mm)
        part = image[y0:y1, x0:x1]
        if how == "over":
            part[:] = rgb(colour)
        elif how == "fill":  # the lines stay, anti-aliased as they are
            part[part.min(axis=2) > 215] = rgb(colour)
        else:  # multiply
            part[:] = (part.astype(np.float32) * np.float32(rgb(colour)) / 255).round()
    picture = Image.fromarray(image)
    if resampled:
        size = [round(v * resampled) for v in picture.size]
        picture = picture.resize(size, Image.Resampling.LANCZOS)
    if kind == "RGBA":
        alpha = Image.fromarray(np.where(np.asarray(picture).min(2) > 250, 0, 255).astype(np.uint8))
        picture.putalpha(alpha)
        kind = "PNG"
    buffer = io.BytesIO()
    picture.save(buffer, kind, **({"quality": 85} if kind in ("JPEG", "WEBP") else {}))
    return buffer.getvalue()
