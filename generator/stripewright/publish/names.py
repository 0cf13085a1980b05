"""Which names a published file may have: those that mean the same on every system."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Iterable

_LONGEST = 200
"""Bytes of one part of a name. File systems allow 255; the rest is room for a working name."""

_FORBIDDEN = re.compile(r'[\x00-\x1f\x7f<>:"\\|?*]')
_RESERVED = re.compile(
    r"(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(\..*)?", re.IGNORECASE
)
"""Microsoft, "Naming Files, Paths, and Namespaces": names that Windows keeps for devices."""

HIDDEN = frozenset({".nojekyll"})
"""The hidden files that a site may have, at its top."""


def what_is_wrong(name: str) -> str:
    """Why a path from the site's root can't be a published file's; empty when it can."""
    for part in name.split("/"):
        if part in ("", ".", ".."):
            return say("it leaves its folder or has an empty part")
        if _FORBIDDEN.search(part):
            return say("it has a character that file names can't have on every system")
        if _RESERVED.fullmatch(part):
            return say("“{part}” is a device's name on Windows", part)
        if part.endswith((".", " ")) or part.startswith(" "):
            return say("a part of it begins or ends with a space, or ends with a dot")
        if part.startswith(".") and name not in HIDDEN:
            return say("a part of it begins with a dot")
        try:
            length = len(part.encode())
        except UnicodeEncodeError:
            return say("it is not Unicode text")
        if length > _LONGEST:
            return say("a part of it is longer than {longest} bytes", _LONGEST)
    return ""


def check_file_names(names: Iterable[str]) -> list[Problem]:
    """Every name that can't be written everywhere, and every two that can't stand side by side."""
    problems = []
    seen: dict[str, str] = {}
    for name in sorted(names):
        if wrong := what_is_wrong(name):
            problems.append(error(Place(name), say("this can't be a file's name: {wrong}", wrong)))
            continue
        parts = name.split("/")
        for end in range(1, len(parts) + 1):
            here = "/".join(parts[:end])
            last = end == len(parts)
            # A folder may be met again, spelt the same; a file may not be met at all.
            kept = seen.setdefault(folded(here), here if last else here + "/")
            if kept != (here if last else here + "/"):
                problems.append(
                    error(
                        Place(name),
                        say("this and {rstrip} are one name on some systems", kept.rstrip("/")),
                        "give one of the two another slug",
                    )
                )
                break
    return problems


def folded(name: str) -> str:
    """A name as systems see it that don't tell letters' case or ways of writing accents apart."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())
