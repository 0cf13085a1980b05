"""The memo of `publish`, on disk.

An entry can be missing or damaged, but not stale, and runs no code; the folder can be deleted at
any time.
"""

from __future__ import annotations

import hashlib
import io
import pickle
from dataclasses import is_dataclass
from enum import StrEnum
from functools import lru_cache
from importlib import metadata, resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import Said
from stripewright.digests import digest_of
from stripewright.pipeline.store import DiskStore
from stripewright.problems import has_errors

if TYPE_CHECKING:
    from collections.abc import Collection

    from stripewright.pipeline.memo import Kept

ENGINES = ("babel", "coloraide", "jinja2", "markdown-it-py", "nh3", "pillow", "pydantic", "pypdf",
           "pyyaml", "rcssmin", "rjsmin", "segno", "typst")  # fmt: skip
"""Libraries whose next version may give other bytes."""

_RUNS = "stripewright.__main__"
"""The one module of the program that does something when it is read."""
_SETS = {("builtins", "frozenset"), ("builtins", "set")}


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


class DiskMemo:
    """The entries of one studio, beside its files; can be pickled.

    Args:
        folder: where they are kept; made when it is needed.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.store = DiskStore(folder)

    def __reduce__(self) -> tuple[type[DiskMemo], tuple[Path]]:
        return DiskMemo, (self.folder,)

    def _name(self, key: str) -> str:
        """What an entry is kept under: what another version of the program made is none."""
        return digest_of(f"{program()} {key}".encode())

    def find(self, key: str) -> Kept | None:
        """An entry; None when there is none, or it isn't what was written. Raises Damaged."""
        data = self.store.find(self._name(key)) or b""
        digest, _, body = data.partition(b"\n")
        if digest.decode("ascii", "replace") != digest_of(body):
            return None
        try:
            kept: Kept = _OnlyOurs(io.BytesIO(body)).load()
        except Exception:  # noqa: BLE001  # whatever is wrong with an entry, it is none
            return None
        return kept

    def keep(self, key: str, kept: Kept) -> None:
        """Keep an entry, if it is sound: what is wrong is told anew each time.

        Raises:
            Damaged, OSError: it can't be kept.
        """
        if has_errors(kept.value.problems):
            return
        body = pickle.dumps(kept, protocol=5)
        self.store.keep(self._name(key), digest_of(body).encode() + b"\n" + body)
        self.store.commit()

    def sweep(self, keys: Collection[str], digests: Collection[str]) -> None:
        """Forget every other entry and file."""
        self.store.sweep({*map(self._name, keys), *digests})


class _OnlyOurs(pickle.Unpickler):
    """Reads plain data of this program's own types, so that a meddled-with entry can't run code."""

    def find_class(self, module: str, name: str) -> Any:
        """Only data classes, named tuples and enumerations of the program, and plain sets."""
        if module.startswith("stripewright.") and module != _RUNS and "." not in name:
            found = super().find_class(module, name)
            if isinstance(found, type) and (found is Said or _is_data(found)):
                return found
        elif (module, name) in _SETS:
            return super().find_class(module, name)
        raise pickle.UnpicklingError(f"{module}.{name} has no place in a cache")


def _is_data(found: type) -> bool:
    named_tuple = issubclass(found, tuple) and hasattr(found, "_fields")
    return is_dataclass(found) or named_tuple or issubclass(found, StrEnum)
