"""What was made before, so that only what changed is made again.

An entry is found by a key over everything that it was made from: the program, the settings, the
theme, what was asked for, and the source file. What the key can't hold (the pictures that the page
turned out to show, and whether its day has come) stands in the entry and is checked when it is
taken. Nothing is ever updated in place, so an entry can be missing but not stale; the folder can
be deleted at any time.
"""

from __future__ import annotations

import hashlib
import io
import pickle
from dataclasses import dataclass, field, is_dataclass
from enum import StrEnum
from functools import lru_cache
from importlib import metadata, resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stripewright.pipeline.photos import MOST_BYTES as MOST_PHOTO
from stripewright.pipeline.store import DiskStore, digest_of, write_whole
from stripewright.studio import NotRead, read_bytes

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stripewright.pipeline.context import Context
    from stripewright.pipeline.sources import SourceFile

ENGINES = ("babel", "coloraide", "jinja2", "markdown-it-py", "nh3", "pillow", "pydantic", "pypdf",
           "pyyaml", "rcssmin", "rjsmin", "segno", "svgwrite", "typst")  # fmt: skip
"""Libraries whose next version may give other bytes."""

_RUNS = "stripewright.__main__"
"""The one module of the program that does something when it is read."""
_SETS = {("builtins", "frozenset"), ("builtins", "set")}


@dataclass(frozen=True)
class Kept:
    """What was made from one source file.

    Attributes:
        value: what its maker gave, without the files.
        files: path -> digest of its bytes in the store.
        pictures: name -> digest of each picture that it shows, as it stands in content/photos.
    """

    value: Any
    files: Mapping[str, str]
    pictures: Mapping[str, str] = field(default_factory=dict)


@lru_cache(maxsize=1)
def program() -> str:
    """A fingerprint of the program: its own files and the libraries' versions."""
    stamp = hashlib.sha256()
    package = Path(str(resources.files("stripewright")))
    for path in sorted(package.rglob("*")):
        if path.is_file() and path.suffix != ".pyc":
            stamp.update(path.relative_to(package).as_posix().encode() + b"\0")
            stamp.update(hashlib.sha256(path.read_bytes()).digest())
    for name in ENGINES:
        stamp.update(f"{name} {metadata.version(name)}\n".encode())
    return stamp.hexdigest()


def surroundings(context: Context) -> str:
    """A fingerprint of what all source files are made with; the day is left to the entries."""
    options = context.options
    stamp = hashlib.sha256(program().encode())
    stamp.update(context.settings.model_dump_json().encode())
    stamp.update(repr((options.drafts, options.preview, options.paper)).encode())
    stamp.update(repr((context.site.menu, sorted(context.site.empty))).encode())
    for name, data in sorted(context.theme.files.items()):
        stamp.update(name.encode() + b"\0" + hashlib.sha256(data).digest())
    return stamp.hexdigest()


class Cache:
    """The entries of one studio.

    Args:
        folder: where they are kept; made when it is needed.
        around: the fingerprint of what every file is made with.
        pictures: file name -> path of the studio's pictures.
    """

    def __init__(self, folder: Path, around: str, pictures: Mapping[str, Path]) -> None:
        self.folder = folder
        self.store = DiskStore(folder / "files")
        self._around = around
        self._pictures = pictures

    def key(self, source: SourceFile) -> str:
        """Where an entry stands."""
        name = source.name.encode()
        return hashlib.sha256(
            self._around.encode() + len(name).to_bytes(4, "big") + name + source.data
        ).hexdigest()

    def _path(self, key: str) -> Path:
        return self.folder / "entries" / key

    def take(self, key: str) -> Kept | None:
        """What was made from a source before, if every part of it still holds."""
        try:
            data = self._path(key).read_bytes()
        except OSError:
            return None
        digest, _, body = data.partition(b"\n")
        if digest.decode("ascii", "replace") != digest_of(body):
            return None
        try:
            kept: Kept = _OnlyOurs(io.BytesIO(body)).load()
        except Exception:  # noqa: BLE001  # whatever is wrong with an entry, it is none
            return None
        whole = all(self.store.has(digest) for digest in kept.files.values())
        same = all(self.picture(name) == digest for name, digest in kept.pictures.items())
        return kept if whole and same else None

    def keep(
        self, key: str, value: Any, files: Mapping[str, bytes], pictures: Iterable[str]
    ) -> Kept:
        """Keep what was made from a source. Raises OSError."""
        kept = Kept(
            value,
            {path: self.store.put(data) for path, data in files.items()},
            {name: self.picture(name) for name in pictures},
        )
        body = pickle.dumps(kept, protocol=5)
        write_whole(self._path(key), digest_of(body).encode() + b"\n" + body)
        return kept

    def picture(self, name: str) -> str:
        """A fingerprint of a picture as it stands in the studio; empty when it is gone."""
        path = self._pictures.get(name)
        if path is None or not path.is_file():
            return ""
        try:
            return digest_of(read_bytes(path, MOST_PHOTO))
        except NotRead as fault:
            return str(fault)


def sweep(folder: Path, keys: set[str], digests: set[str]) -> None:
    """Forget every entry and file of a cache that a run had no use for."""
    entries = folder / "entries"
    for path in entries.iterdir() if entries.is_dir() else ():
        if path.name not in keys:
            path.unlink(missing_ok=True)
    DiskStore(folder / "files").sweep(digests)


class _OnlyOurs(pickle.Unpickler):
    """Reads plain data of this program's own types, so that a meddled-with entry can't run code."""

    def find_class(self, module: str, name: str) -> Any:
        """Only data classes, named tuples and enumerations of the program, and plain sets."""
        if module.startswith("stripewright.") and module != _RUNS and "." not in name:
            found = super().find_class(module, name)
            if isinstance(found, type) and _is_data(found):
                return found
        elif (module, name) in _SETS:
            return super().find_class(module, name)
        raise pickle.UnpicklingError(f"{module}.{name} has no place in a cache")


def _is_data(found: type) -> bool:
    named_tuple = issubclass(found, tuple) and hasattr(found, "_fields")
    return is_dataclass(found) or named_tuple or issubclass(found, StrEnum)
