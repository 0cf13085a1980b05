"""A cleaned picture in every form that pages ask for: widths as WebP, a JPEG, one colour.

WebP, which every browser since 2020 reads; AVIF only comes with Pillow from 11.3 on, later than
the least version that this program runs with.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, NamedTuple

from stripewright.addresses import fallback_path, width_path
from stripewright.paper.picture import on_white

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTHS = (480, 960, 1600)
"""Pixels: of a telephone, a half of a desk's screen, a whole one. By eye, no source."""
_WEBP_MOST = 16_383
"""Pixels that a WebP may have on a side (RFC 9649, 2.7)."""
_QUALITY = 80
FORMATS: dict[str, dict[str, Any]] = {
    "JPEG": {"quality": 85, "optimize": True, "progressive": True},
    "PNG": {"optimize": True},
    "WEBP": {"quality": 85, "method": 4},
}
"""How a picture is saved in each format that is published."""


class PhotoFile(NamedTuple):
    """A picture in one width, in pixels: where it stands on the site, and its bytes."""

    path: str
    width: int
    data: bytes


class PhotoFiles(NamedTuple):
    """What else is published of a picture."""

    webp: tuple[PhotoFile, ...] = ()
    """From narrow to wide, none wider than the picture itself."""
    fallback: PhotoFile | None = None
    """A JPEG of a picture in another format, unless it can be seen through."""
    colour: str = "#ffffff"
    """All of it as one colour, to stand there while it loads."""

    @property
    def all(self) -> dict[str, bytes]:
        """Path from the site's root -> bytes."""
        every = (*self.webp, *((self.fallback,) if self.fallback else ()))
        return {one.path: one.data for one in every}


def files_of(name: str, data: bytes) -> PhotoFiles:
    """Make a cleaned picture in every width that is asked for.

    Args:
        name: its file's name.
        data: the picture as it is published, without any metadata.
    """
    from PIL import Image

    with Image.open(io.BytesIO(data)) as picture:
        picture.load()
        fallback = None
        if picture.format != "JPEG" and "A" not in picture.getbands():
            opaque = picture.convert("RGB")
            fallback = PhotoFile(fallback_path(name), picture.width, saved(opaque, "JPEG"))
        return PhotoFiles(tuple(_widths(name, picture)), fallback, _colour(picture))


def _widths(name: str, picture: Image) -> list[PhotoFile]:
    if picture.height > _WEBP_MOST:
        return []
    widths = [*(width for width in WIDTHS if width < picture.width), picture.width]
    seen = (
        picture
        if picture.mode in ("RGB", "RGBA")
        else picture.convert("RGBA" if "A" in picture.getbands() else "RGB")
    )
    return [
        PhotoFile(
            width_path(name, width), width, saved(_scaled(seen, width), "WEBP", quality=_QUALITY)
        )
        for width in widths
    ]


def _scaled(picture: Image, width: int) -> Image:
    from PIL.Image import Resampling

    if width == picture.width:
        return picture
    height = max(round(picture.height * width / picture.width), 1)
    return picture.resize((width, height), Resampling.LANCZOS)


def _colour(picture: Image) -> str:
    red, green, blue = on_white(picture).resize((1, 1), resample=4).tobytes()
    return f"#{red:02x}{green:02x}{blue:02x}"


def saved(picture: Image, kind: str, **how: object) -> bytes:
    """A picture as a file of its pixels alone; `how` says what it is saved otherwise with."""
    from PIL import Image

    # A new image takes the pixels and nothing else: no EXIF, no XMP, no comment, no profile.
    bare = Image.new(picture.mode, picture.size)
    bare.paste(picture)
    out = io.BytesIO()
    bare.save(out, kind, **(FORMATS[kind] | how))
    return out.getvalue()
