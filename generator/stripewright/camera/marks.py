"""Corner marks: where they are in a picture, and the page laid flat by them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import cv2
import numpy as np

from stripewright.paper.marks import SIDE_MM, corner_marks
from stripewright.paper.sheet_plan import PAPERS_MM

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.camera.arrays import Pixels, Reals


SMALL = 1500
"""Pixels of the longer side under which a picture is enlarged before marks are looked for."""
AROUND_MM, AROUND_PX = 14.0, 8.0
"""How far around its place a missing mark is looked for, and with how many pixels to a mm."""
LEAST_MARKS = 3
"""Three marks are twelve corners: they lay a flat page flat, and a thumb may be on the fourth."""
STRAIGHT_MM, STRAIGHT_PX = 0.1, 0.35
"""How far off the corners of a page seen from straight above may be: in mm, or in pixels."""
COARSE = 4.0
"""Pixels to a mm up to which corners are found half as well."""
CELL_PX, CELL_EDGE = 8, 0.25
"""A mark's cell is looked at with so many pixels, this share of it left out at each side: a blurred
picture carries a cell's black over its edge, and fewer pixels take it for the white one's."""
OTHER_PAPER = 2.0
"""How much worse the other paper must fit for the marks to say which it is."""

Corners = dict[int, "Reals"]
"""A mark's number -> its four corners in pixels, clockwise from its own top left."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A page found in a picture."""

    paper: str
    """`a4` or `letter`."""
    sure: bool
    """Whether the marks alone tell the paper."""
    straight: bool
    """Whether the picture sees the page from straight above: scanned, or painted on a screen."""
    to_picture: Reals
    """3 × 3, from mm on the page to pixels of the picture."""
    found: tuple[int, ...]
    """The marks seen."""
    residual_mm: float
    """Root mean square of the corners' distance from where a flat page has them."""
    pixels_per_mm: float
    """The least over the page: how finely the picture shows it."""


def find_marks(pixels: Pixels) -> Corners:
    """The corner marks in a picture, by OpenCV's detector, tried in several ways."""
    grey = cv2.cvtColor(pixels, cv2.COLOR_RGB2GRAY)
    best: Corners = {}
    for image, scale in _tries(grey):
        best = _detected(image, scale) | best
        if len(best) == 4:
            break
    return _looked_up(grey, best) if len(best) in (2, 3) else best


def _looked_up(grey: Pixels, found: Corners) -> Corners:
    """With the marks that are missing looked for where the others say they are, laid flat."""
    best = found
    for paper, size in PAPERS_MM.items():
        places = mark_corners_mm(paper)
        page = np.concatenate([places[number] for number in sorted(found)])
        seen = np.concatenate([found[number] for number in sorted(found)])
        to_picture, _ = cv2.findHomography(page, seen, 0)
        if to_picture is None or _least_scale(to_picture, paper) is None:
            continue
        more = dict(found)
        for number in set(places) - set(found):
            left, top = np.clip(places[number].min(axis=0) - AROUND_MM, -AROUND_MM, size)
            part = flattened(grey, to_picture, (SIDE_MM + 2 * AROUND_MM,) * 2, AROUND_PX,
                             (float(left), float(top)), smooth=True)  # fmt: skip
            for image in (part, cv2.equalizeHist(part)):
                there = _detected(image, 1.0).get(number)
                if there is not None:
                    at = there / AROUND_PX + np.array([left, top])
                    more[number] = cv2.perspectiveTransform(at[:, None], to_picture)[:, 0]
                    break
        best = more if len(more) > len(best) else best
    return best


def _tries(grey: Pixels) -> Iterator[tuple[Pixels, float]]:
    """The picture as it is, enlarged, reduced, evened; each with its scale."""
    longest = max(grey.shape)
    if longest < SMALL:
        for times in (3, 2, 4):
            yield cv2.resize(grey, None, fx=times, fy=times, interpolation=cv2.INTER_CUBIC), times
    elif longest > 2600:
        scale = 2000 / longest
        yield cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), scale
    yield grey, 1.0
    yield cv2.createCLAHE(3.0, (8, 8)).apply(cv2.GaussianBlur(grey, (0, 0), 1.2)), 1.0
    for side in (1200, 900):
        scale = side / longest
        if scale < 0.8:
            yield cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), scale


def _detected(image: Pixels, scale: float) -> Corners:
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    options = cv2.aruco.DetectorParameters()
    options.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    options.cornerRefinementWinSize = 4
    options.adaptiveThreshWinSizeMin, options.adaptiveThreshWinSizeMax = 5, 65
    options.adaptiveThreshWinSizeStep = 12
    options.minMarkerPerimeterRate = 0.02
    options.perspectiveRemovePixelPerCell = CELL_PX
    options.perspectiveRemoveIgnoredMarginPerCell = CELL_EDGE
    corners, ids, _ = cv2.aruco.ArucoDetector(dictionary, options).detectMarkers(image)
    found: Corners = {}
    if ids is None:
        return found
    for number, four in zip(ids.ravel(), corners, strict=True):
        points = (four[0].astype(np.float64) + 0.5) / scale
        if number < 4 and (int(number) not in found or _span(points) > _span(found[int(number)])):
            found[int(number)] = points
    return found


def _span(points: Reals) -> float:
    return float(np.linalg.norm(points[2] - points[0]))


def lay_flat(found: Corners, paper: str = "") -> Laid | None:
    """Which paper the marks stand on and where; None for too few of them, or for no page.

    A curled page's marks may fit another paper better than its own: name the paper once it is
    known.

    Pixels are counted from the picture's corner: the first pixel's middle is at 0.5.
    """
    if len(found) < LEAST_MARKS:
        return None
    tried = sorted(
        (laid for one in PAPERS_MM if paper in ("", one)
         and (laid := _fitted(found, one)) is not None),
        key=lambda laid: laid.residual_mm,
    )  # fmt: skip
    if not tried:
        return None
    best = tried[0]
    clear = len(tried) == 1 or tried[1].residual_mm > OTHER_PAPER * best.residual_mm
    return replace(best, sure=clear)


def mark_corners_mm(paper: str) -> dict[int, Reals]:
    """Where the four corners of each mark stand on the page."""
    square = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float64) * SIDE_MM
    return {
        mark["id"]: square + np.array([mark["x"], mark["y"]])
        for mark in corner_marks(*PAPERS_MM[paper])
    }


def _fitted(found: Corners, paper: str) -> Laid | None:
    places = mark_corners_mm(paper)
    page = np.concatenate([places[number] for number in sorted(found)])
    seen = np.concatenate([found[number] for number in sorted(found)])
    to_picture, _ = cv2.findHomography(page, seen, 0)
    if to_picture is None or abs(np.linalg.det(to_picture)) < 1e-12:
        return None
    residual = _residual(to_picture, page, seen)
    scanned = _straight(page, seen)
    rest = _residual(scanned, page, seen)
    per_mm = max(float(np.linalg.norm(scanned[:2, 0])), 0.1)
    fine = max(STRAIGHT_MM, (STRAIGHT_PX if per_mm > COARSE else 2 * STRAIGHT_PX) / per_mm)
    straight = len(found) == 4 and rest < min(max(1.25 * residual, 0.08), fine)
    if straight:  # fewer numbers from as many corners are more exact
        to_picture, residual = scanned, rest
    scale = _least_scale(to_picture, paper)
    if scale is None or not np.isfinite(residual):
        return None
    return Laid(
        paper=paper, sure=False, straight=straight, to_picture=to_picture,
        found=tuple(sorted(found)), residual_mm=residual, pixels_per_mm=scale,
    )  # fmt: skip


def _residual(to_picture: Reals, page: Reals, seen: Reals) -> float:
    back = cv2.perspectiveTransform(seen[:, None], np.linalg.inv(to_picture))[:, 0]
    return float(np.sqrt(((back - page) ** 2).sum(1).mean()))


def _straight(page: Reals, seen: Reals) -> Reals:
    """The page as a scanner or a paint program has it: scaled along both sides, and turned."""
    terms = np.column_stack([page, np.ones(len(page))])
    found, *_ = np.linalg.lstsq(terms, seen, rcond=None)
    return np.vstack([found.T, [0, 0, 1]])


def _least_scale(to_picture: Reals, paper: str) -> float | None:
    """The fewest pixels to a mm at the page's corners; None for a page turned inside out."""
    wide, high = PAPERS_MM[paper]
    corners = np.array([[0, 0], [wide, 0], [wide, high], [0, high]], np.float64)
    weights = corners @ to_picture[2, :2] + to_picture[2, 2]
    if weights.min() <= 0 < weights.max() or weights.max() < 0:
        return None
    scales = []
    for corner in corners:
        near = corner + np.array([[0.0, 0], [1, 0], [0, 1]])
        seen = cv2.perspectiveTransform(near[:, None], to_picture)[:, 0]
        across, down = seen[1] - seen[0], seen[2] - seen[0]
        if across[0] * down[1] - across[1] * down[0] <= 0:
            return None
        scales.append(min(np.linalg.norm(across), np.linalg.norm(down)))
    return float(min(scales))


def flattened(
    pixels: Pixels, to_picture: Reals, size_mm: tuple[float, float], per_mm: float,
    from_mm: tuple[float, float] = (0.0, 0.0), *, smooth: bool = False,
) -> Pixels:  # fmt: skip
    """A part of the page as seen from straight above, `per_mm` pixels to a mm.

    Args:
        pixels: the picture.
        to_picture: 3 × 3, from mm on the page to its pixels.
        size_mm: of the part.
        per_mm: pixels to a mm.
        from_mm: the part's top left corner.
        smooth: by cubic interpolation, which keeps edges and overshoots beside them.
    """
    left, top = from_mm
    # Pixel k's middle is at k + 0.5, here and in the picture.
    place = np.array([[1 / per_mm, 0, left + 0.5 / per_mm], [0, 1 / per_mm, top + 0.5 / per_mm],
                      [0, 0, 1]])  # fmt: skip
    shift = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1.0]])
    size = (round(size_mm[0] * per_mm), round(size_mm[1] * per_mm))
    flat = cv2.warpPerspective(
        pixels, shift @ to_picture @ place, size,
        flags=(cv2.INTER_CUBIC if smooth else cv2.INTER_LINEAR) | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_CONSTANT, borderValue=(0, 0, 0),
    )  # fmt: skip
    return flat.astype(np.uint8)
