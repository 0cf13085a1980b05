"""Pictures of the studio, cleaned for publishing: no place, camera or date, and no bombs."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING, Any

from stripewright.addresses import photo_of, photo_path
from stripewright.catalogue import say
from stripewright.digests import digest_of
from stripewright.pipeline.photo_files import FORMATS, PhotoFiles, files_of, saved
from stripewright.problems import Place, Problem, did_you_mean, error
from stripewright.studio import NotRead, read_bytes

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from PIL.Image import Image

_MOST_BYTES = 40 << 20
PHOTO_PIXELS = 60_000_000
"""A picture of 60 million pixels takes 240 MB in memory, less as a JPEG; cameras stay under it."""
MOST_MEMORY = 340 << 20
"""Bytes that a picture may take while it is read and scaled, by `_memory`."""
MOST_SCANS = 64
"""Passes of a progressive JPEG; encoders write about ten, and each takes as long as the picture."""
PIXEL = {"1": 3, "L": 2, "P": 5.5, "RGB": 5.5}
"""Bytes that a pixel of a mode takes at most, with the copies that scaling needs; measured."""
PIXEL_OF_OTHERS = 10.0
PIXEL_OF_WEBP = 17.0
_WIDEST = 1600
"""Pixels; a page never shows more."""
_ENOUGH = _WIDEST * 3 // 2
"""Pixels to scale a picture down from, so that it is as sharp as from all of them."""
_TALLEST = 20_000
"""Pixels."""
ORIENTATION = 0x0112
"""Exif (CIPA DC-008), 4.6.4: how the camera was held, 1 (upright) to 8; from 5 on sideways."""
TURNS = {2: 0, 3: 3, 4: 1, 5: 5, 6: 4, 7: 6, 8: 2}
"""Orientation -> what makes it upright, as Pillow's `Transpose` counts them."""
_ALONE = PhotoFiles()
"""Of a picture that isn't for pages: nothing else is made of it."""


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A picture as it is published; width and height in pixels."""

    name: str
    data: bytes
    width: int
    height: int
    more: PhotoFiles = _ALONE
    """The same in other widths and formats."""

    @property
    def files(self) -> dict[str, bytes]:
        """Path from the site's root -> bytes, of everything that is published of it."""
        own = {} if self.more.fallback else {self.path: self.data}
        return own | self.more.all

    @property
    def shown(self) -> str:
        """Where what any browser reads of it stands on the site."""
        return self.more.fallback.path if self.more.fallback else self.path

    @property
    def webp_widths(self) -> tuple[tuple[str, int], ...]:
        """Path and width in pixels of the same as WebP, from narrow to wide."""
        return tuple((file.path, file.width) for file in self.more.webp)

    @property
    def path(self) -> str:
        """Where it stands on the site, unless a JPEG of it stands there instead."""
        return photo_path(self.name)


def clean_photo(path: Path, place: Place) -> tuple[CleanPhoto | None, list[Problem]]:
    """Read a picture, turn it upright, scale it down and drop all its metadata.

    Of a picture with several frames, the first is taken.

    Args:
        path: the picture, JPEG, PNG or WebP.
        place: the line that names it.
    """
    from PIL import Image, UnidentifiedImageError

    smaller = say("save it at {widest} pixels wide; pages never show more", _WIDEST)
    try:
        if path.stat().st_size > _MOST_BYTES:
            return None, [error(place, say("{name} is larger than 40 MB", path.name), smaller)]
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a damaged picture is told below, not warned of
            with Image.open(path, formats=tuple(FORMATS)) as picture:
                _check_size(picture.width * picture.height)
                if (why := _too_much(picture, path)) is not None:
                    return None, [error(place, say("{file} {what}", path.name, why), smaller)]
                return _saved(_plain(picture), picture.format or "", path.name), []
    except Image.DecompressionBombError:
        return None, [error(place, say("{name} has over 60 million pixels", path.name), smaller)]
    except UnidentifiedImageError:
        what = say("is not a picture that can be read")
    except Exception as fault:  # noqa: BLE001  # decoders raise anything over a damaged picture
        what = say("is a picture that can't be read ({why})", fault)
    return None, [
        error(place, say("{file} {what}", path.name, what), "save it again as JPEG, PNG or WebP")
    ]


def _check_size(pixels: int) -> None:
    from PIL import Image

    if pixels > PHOTO_PIXELS:
        raise Image.DecompressionBombError


def _too_much(picture: Image, path: Path) -> str | None:
    """What makes a picture too much to read, if anything does."""
    megabytes = _memory(picture) / (1 << 20)
    if megabytes > MOST_MEMORY >> 20:
        kind = say(
            "{format} of {width:.0f} million pixels",
            picture.format,
            picture.width * picture.height / 1000000.0,
        )
        return say("is a {kind}, which would take {megabytes:.0f} MB to read", kind, megabytes)
    if picture.format == "JPEG" and path.read_bytes().count(b"\xff\xda") > MOST_SCANS:
        return say(
            "is a JPEG of over {most_scans} scans, as no camera or program saves one", MOST_SCANS
        )
    return None


def _memory(picture: Any) -> float:
    """Bytes that reading and scaling a picture takes, about."""
    pixels = picture.width * picture.height
    each = PIXEL.get(picture.mode, PIXEL_OF_OTHERS)
    if picture.format == "WEBP":
        each = PIXEL_OF_WEBP
    elif picture.mode == "P" and "transparency" in picture.info:
        each = PIXEL_OF_OTHERS
    elif picture.format == "JPEG":
        each /= 4 if min(picture.width, picture.height) >= 2 * _ENOUGH else 1
        if "progressive" in picture.info:  # all of its coefficients are kept, 2 bytes each
            samples = [across * down for _, across, down, _ in picture.layer]
            each += 2 * sum(samples) / max(samples)
    return float(pixels * each)


def _plain(picture: Image) -> Image:
    """The pixels as they are seen: upright, in sRGB or grey, 8 bits each, no wider than shown."""
    from PIL.Image import Transpose

    profile, held = picture.info.get("icc_profile"), picture.getexif().get(ORIENTATION)
    orientation = held if isinstance(held, int) else 1
    if picture.format != "JPEG":  # a JPEG is scaled while it is read, and converted after that
        picture = _eight_bits(picture)
    sideways = orientation >= 5
    if picture.format == "JPEG":  # decoded no larger than need be; nothing to other formats
        part = _ENOUGH / (picture.height if sideways else picture.width)
        picture.draft(None, (ceil(picture.width * part), ceil(picture.height * part)))
    picture.thumbnail((_TALLEST, _WIDEST) if sideways else (_WIDEST, _TALLEST))
    if profile:
        picture = _in_srgb(picture, profile)
    picture = _eight_bits(picture)
    return picture.transpose(Transpose(TURNS[orientation])) if orientation in TURNS else picture


def _eight_bits(picture: Image) -> Image:
    """Without a palette, and with transparency as a channel, so that scaling leaves no seams."""
    if picture.mode in ("RGBA", "LA"):
        return picture
    if "transparency" in picture.info or picture.mode in ("PA", "RGBa", "La"):
        return picture.convert("RGBA")
    if picture.mode.startswith("I"):  # 16 bits of grey; only the upper 8 can be seen
        return picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if picture.mode in ("1", "F"):
        return picture.convert("L")
    return picture if picture.mode in ("RGB", "L", "CMYK") else picture.convert("RGB")


def _in_srgb(picture: Image, profile: bytes) -> Image:
    """The picture in the colours of the web; as it is when its profile is of no use."""
    from PIL import Image, ImageCms

    if picture.mode not in ("RGB", "RGBA", "CMYK"):
        return picture
    colours = picture.convert("RGB") if picture.mode == "RGBA" else picture
    try:
        seen = ImageCms.profileToProfile(
            colours, io.BytesIO(profile), ImageCms.createProfile("sRGB"), outputMode="RGB"
        )
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return picture
    if seen is None or picture.mode != "RGBA":
        return seen or picture
    return Image.merge("RGBA", (*seen.split(), picture.getchannel("A")))


def _saved(picture: Image, kind: str, name: str) -> CleanPhoto:
    if picture.mode == "CMYK" or (kind == "JPEG" and picture.mode != "RGB"):
        picture = picture.convert("RGB")
    return CleanPhoto(name, saved(picture, kind), picture.width, picture.height)


class PhotoLibrary:
    """The studio's pictures by file name, each cleaned when it is first asked for."""

    def __init__(self, paths: Mapping[str, Path]) -> None:
        self.paths = dict(paths)
        self._clean: dict[str, tuple[CleanPhoto | None, list[Problem]]] = {}
        self._prints: dict[str, str] = {}

    def __getstate__(self) -> dict[str, Path]:
        """Only the paths travel to a worker."""
        return self.paths

    def __setstate__(self, paths: dict[str, Path]) -> None:
        self.__init__(paths)  # type: ignore[misc]  # a worker's shelf begins empty

    def take(self, name: str, place: Place) -> tuple[CleanPhoto | None, list[Problem]]:
        """A cleaned picture, or what is wrong with it or with the line that names it."""
        if name not in self.paths:
            hint = did_you_mean(name, self.paths, "put the picture into content/photos")
            return None, [
                error(place, say("there is no picture {name} in content/photos", name), hint)
            ]
        if name not in self._clean:
            photo, problems = clean_photo(self.paths[name], place)
            if photo is not None:
                photo = replace(photo, more=files_of(name, photo.data))
            self._clean[name] = photo, problems
        photo, problems = self._clean[name]
        return photo, [replace(problem, place=place) for problem in problems]

    def file(self, path: str) -> bytes | None:
        """What stands at a picture's path on the site; None for nothing."""
        photo, _problems = self.take(photo_of(path), Place(path))
        return photo.files.get(path) if photo else None

    def fingerprint(self, name: str) -> str:
        """A fingerprint of a picture as it stands in the studio; empty when there is none."""
        if name not in self._prints:
            self._prints[name] = self._fingerprint(name)
        return self._prints[name]

    def _fingerprint(self, name: str) -> str:
        path = self.paths.get(name)
        if path is None or not path.is_file():
            return ""
        try:
            return digest_of(read_bytes(path, _MOST_BYTES))
        except NotRead as fault:
            return str(fault)
