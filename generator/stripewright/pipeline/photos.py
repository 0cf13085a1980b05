"""Pictures of the studio, cleaned for publishing: no place, camera or date, and no bombs."""

from __future__ import annotations

import difflib
import hashlib
import io
import warnings
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

MOST_BYTES = 40 << 20
MOST_PIXELS = 60_000_000
"""A picture of 60 million pixels takes 180 MB in memory; cameras stay under it."""
WIDEST = 1600
"""Pixels; a page never shows more."""
FORMATS: dict[str, dict[str, Any]] = {
    "JPEG": {"quality": 85, "optimize": True, "progressive": True},
    "PNG": {"optimize": True},
    "WEBP": {"quality": 85, "method": 4},
}


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A picture as it is published; width and height in pixels."""

    name: str
    data: bytes
    width: int
    height: int

    @property
    def path(self) -> str:
        """Where it stands on the site."""
        return f"photos/{self.name}"

    @property
    def digest(self) -> str:
        """A fingerprint of its bytes."""
        return hashlib.sha256(self.data).hexdigest()


def clean_photo(path: Path, place: Place) -> tuple[CleanPhoto | None, list[Problem]]:
    """Read a picture, turn it upright, scale it down and drop all its metadata.

    Args:
        path: the picture, JPEG, PNG or WebP.
        place: the line that names it.
    """
    from PIL import Image, ImageOps  # noqa: PLC0415  # only studios with photos pay for it

    if path.stat().st_size > MOST_BYTES:
        return None, [error(place, f"{path.name} is larger than 40 MB",
                            f"save it at {WIDEST} pixels wide; pages never show more")]  # fmt: skip
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path, formats=tuple(FORMATS)) as picture:
                _check_size(picture.width * picture.height)
                kind = picture.format or ""
                upright = ImageOps.exif_transpose(picture)
                upright.thumbnail((WIDEST, 20_000))
                return _saved(upright, kind, path.name), []
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return None, [error(place, f"{path.name} has over 60 million pixels",
                            f"save it at {WIDEST} pixels wide; pages never show more")]  # fmt: skip
    except (OSError, ValueError, SyntaxError) as fault:
        return None, [error(place, f"{path.name} is not a picture that can be read ({fault})",
                            "save it again as JPEG, PNG or WebP")]  # fmt: skip


def _check_size(pixels: int) -> None:
    from PIL import Image  # noqa: PLC0415  # see clean_photo

    if pixels > MOST_PIXELS:
        raise Image.DecompressionBombError


def _saved(picture: object, kind: str, name: str) -> CleanPhoto:
    from PIL import Image  # noqa: PLC0415  # see clean_photo

    assert isinstance(picture, Image.Image)  # noqa: S101  # for the type checker
    if kind == "JPEG" and picture.mode != "RGB":
        picture = picture.convert("RGB")
    # A new image takes the pixels and nothing else: no EXIF, no XMP, no comment, no profile.
    bare = Image.new(picture.mode, picture.size)
    if picture.mode == "P":
        bare.putpalette(picture.getpalette() or [])
    bare.paste(picture)
    out = io.BytesIO()
    bare.save(out, kind, **FORMATS[kind])
    return CleanPhoto(name, out.getvalue(), bare.width, bare.height)


class Shelf:
    """The studio's pictures by file name, each cleaned when it is first asked for."""

    def __init__(self, paths: Mapping[str, Path]) -> None:
        self.paths = dict(paths)
        self._clean: dict[str, tuple[CleanPhoto | None, list[Problem]]] = {}

    def __getstate__(self) -> dict[str, Path]:
        """Only the paths travel to a worker."""
        return self.paths

    def __setstate__(self, paths: dict[str, Path]) -> None:
        self.__init__(paths)  # type: ignore[misc]  # a worker's shelf begins empty

    def take(self, name: str, place: Place) -> tuple[CleanPhoto | None, list[Problem]]:
        """A cleaned picture, or what is wrong with it or with the line that names it."""
        if name not in self.paths:
            near = difflib.get_close_matches(name, self.paths, n=1)
            hint = f"did you mean {near[0]}?" if near else "put the picture into content/photos"
            return None, [error(place, f"there is no picture {name} in content/photos", hint)]
        if name not in self._clean:
            self._clean[name] = clean_photo(self.paths[name], place)
        photo, problems = self._clean[name]
        return photo, [replace(problem, place=place) for problem in problems]
