"""content/stash.yaml, read beside the settings."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

from stripewright.pattern.read import as_model, spare_model
from stripewright.pattern.stash import Stash
from stripewright.problems import Problem, has_errors
from stripewright.source.reader import read_settings

if TYPE_CHECKING:
    from stripewright.pipeline.sources import SourceFile


def read_stash(source: SourceFile | None) -> tuple[Stash | None, list[Problem]]:
    """The studio's stash and what is wrong with it; None where there is none.

    One with mistakes is handed back as it was meant, so that patterns don't tell them again.
    """
    if source is None:
        return None, []
    document, problems = read_settings(source.data, source.name)
    stash, found = as_model(document, Stash)
    problems += found
    if stash is None or has_errors(problems):
        spare = stash or spare_model(document, Stash) or Stash(yarns={})
        return spare.as_spare(), problems
    return stash, problems


def stash_stamp(stash: Stash | None) -> str:
    """A fingerprint of a stash: what is made of a pattern that points to it depends on it."""
    if stash is None:
        return ""
    return hashlib.sha256(f"{stash.broken:d}{stash.model_dump_json()}".encode()).hexdigest()


def may_point_to_stash(data: bytes) -> bool:
    """Whether a pattern's file may name the stash, in plain letters or in escaped ones."""
    return b"stash" in data or b"\\" in data
