"""A picture's bytes -> its pixels, upright: photo, scan, painted picture, or pages of a PDF.

Pictures are hostile input: each is measured before it is decoded, decoded no larger than it is
read, and any fault of a decoder becomes a `Problem`.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from PIL.Image import Image

    from stripewright.camera.arrays import Pixels


_MOST_BYTES = 120 << 20
MOST_PIXELS = 60_000_000
"""Decoded whole, 60 million pixels take 180 MB."""
MOST_PIXELS_JPEG = 250_000_000
"""A JPEG is scaled down while it is decoded."""
READ_SIDE = 4200
"""Pixels of the longer side that a sheet is read from; more shows nothing more."""
LEAST_SIDE = 40
"""Pixels of the longer side: a bar's other side may have few."""
_MOST_PAGES = 40
PDF_DPI = 200
_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF", "HEIF")
SAVE = say("save it as JPEG or PNG, or photograph the sheet again")


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture, or one page of a PDF."""

    name: str
    pixels: Pixels


def load(data: bytes, name: str) -> tuple[list[Picture], list[Problem]]:
    """The pixels of a picture, or of every page of a PDF.

    Args:
        data: JPEG, PNG, WebP, TIFF, BMP, GIF, HEIC or PDF; only a first frame is read.
        name: of the file, for problems.

    Returns:
        The pictures, upright, no transparency left, in sRGB; and what is wrong with them.
    """
    place = Place(name)
    if len(data) > _MOST_BYTES:
        return [], [
            error(place, say("this is larger than {most_bytes} MB", _MOST_BYTES >> 20), SAVE)
        ]
    if not data:
        return [], [error(place, "this file is empty", SAVE)]
    if data[:1024].lstrip().startswith(b"%PDF-"):
        return _pages(data, name)
    try:
        return [Picture(name, _decoded(data))], []
    except _TooLarge as fault:
        return [], [error(place, fault.args[0], "save it smaller: 4,000 pixels a side are plenty")]
    except _TooSmall as fault:
        return [], [error(place, fault.args[0], "save it larger, or photograph it from nearer")]
    except _NoPicture:
        return [], [error(place, "this is not a picture that can be read", SAVE)]
    except Exception as fault:  # noqa: BLE001  # decoders raise anything over a damaged picture
        why = " ".join(str(fault).split())[:200]
        return [], [
            error(place, say("this picture is damaged and can't be read ({why})", why), SAVE)
        ]


class _TooLarge(Exception):
    pass


class _TooSmall(Exception):
    pass


class _NoPicture(Exception):
    pass


def _decoded(data: bytes) -> Pixels:
    import numpy as np
    from PIL import Image, ImageOps, UnidentifiedImageError
    from pillow_heif import register_heif_opener

    register_heif_opener(thumbnails=False)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a damaged picture is told, not warned of
        try:
            opened = Image.open(io.BytesIO(data), formats=_FORMATS)
        except UnidentifiedImageError as fault:
            raise _NoPicture from fault
        except Image.DecompressionBombError as fault:
            raise _TooLarge(
                say("this picture has over {most_pixels:,} pixels", MOST_PIXELS)
            ) from fault
        with opened as picture:
            _measure(picture)
            picture.draft("RGB", (READ_SIDE // 2, READ_SIDE // 2))
            upright = ImageOps.exif_transpose(_smaller(picture))
            return np.ascontiguousarray(np.asarray(_plain(upright), np.uint8))


def _measure(picture: Image) -> None:
    pixels = picture.width * picture.height
    most = MOST_PIXELS_JPEG if picture.format in ("JPEG", "MPO") else MOST_PIXELS
    if pixels > most:
        raise _TooLarge(
            say("this picture has {pixels:,} pixels; {most:,} are the most", pixels, most)
        )
    if max(picture.size) < LEAST_SIDE or min(picture.size) < 4:
        raise _TooSmall(
            say(
                "this picture is {width} × {height} pixels: too small",
                picture.width,
                picture.height,
            )
        )


def _smaller(picture: Image) -> Image:
    """No larger than it is read, by whole steps: each pixel the mean of a square."""
    step = -(-max(picture.size) // READ_SIDE)
    if step == 1 or picture.mode in ("P", "1"):
        return picture
    return picture.reduce(step)


def _plain(picture: Image) -> Image:
    """On white paper, in sRGB."""
    from PIL import Image, ImageCms

    if picture.mode.startswith("I"):  # 16 bits of grey; only the upper 8 can be seen
        picture = picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    see_through = picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info
    profile = picture.info.get("icc_profile")
    if see_through:
        picture = picture.convert("RGBA")
        sheet = Image.new("RGBA", picture.size, "white")
        picture = Image.alpha_composite(sheet, picture).convert("RGB")
    elif profile and picture.mode in ("RGB", "CMYK"):
        try:
            made: Any = ImageCms.profileToProfile(
                picture, io.BytesIO(profile), ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
            picture = made or picture
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            pass  # a profile of no use: its colours are read as they stand
    return picture.convert("RGB")


def _pages(data: bytes, name: str) -> tuple[list[Picture], list[Problem]]:
    """Every page of a PDF, with what a paint program laid over it."""
    import pypdfium2

    place = Place(name)
    try:
        document = pypdfium2.PdfDocument(data, autoclose=True)
    except pypdfium2.PdfiumError as fault:
        why = " ".join(str(fault).split())[:120]
        return [], [
            error(place, say("this PDF can't be read ({why})", why), "save its page as PNG")
        ]
    try:
        if len(document) > _MOST_PAGES:
            return [], [
                error(
                    place,
                    say(
                        "this PDF has {document} pages; {most_pages} are the most",
                        len(document),
                        _MOST_PAGES,
                    ),
                    "save the coloured pages as a PDF of their own",
                )
            ]
        pictures = []
        for number in range(len(document)):
            title = name if len(document) == 1 else say("{name}, page {number}", name, number + 1)
            try:
                pictures.append(Picture(title, _page(document[number])))
            except (pypdfium2.PdfiumError, ValueError) as fault:
                why = " ".join(str(fault).split())[:120]
                return [], [
                    error(place, say("page {number} can't be drawn ({why})", number + 1, why), SAVE)
                ]
        return pictures, []
    finally:
        document.close()


def _page(page: Any) -> Pixels:
    import numpy as np

    longest = max(page.get_size())
    if not 1 <= longest < 1e6:
        raise ValueError("its size makes no sense")
    scale = min(PDF_DPI / 72, READ_SIDE / longest)
    drawn = page.render(scale=scale, may_draw_forms=True).to_numpy()
    return np.ascontiguousarray(drawn[:, :, 2::-1])
