"""content/stash.yaml, read beside the settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.digests import digest_of
from stripewright.pattern.read import as_model, spare_model
from stripewright.pattern.stash import Stash
from stripewright.pipeline.sources import read_file
from stripewright.problems import Place, Problem, Refused, error, has_errors
from stripewright.source.reader import read_settings
from stripewright.studio import STASH

if TYPE_CHECKING:
    from stripewright.pipeline.sources import SourceFile
    from stripewright.studio import Studio


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


def stash_of(studio: Studio) -> Stash:
    """The studio's stash. Raises Refused where there is none, or it has a mistake."""
    path = studio.root / STASH
    if not path.exists():
        raise no_stash()
    source, problems = read_file(studio, path)
    stash, found = read_stash(source)
    if stash is None or has_errors([*problems, *found]):
        raise Refused([*problems, *found])
    return stash


def no_stash() -> Refused:
    """What to say where there is none."""
    problem = error(
        Place(STASH),
        "this studio has no stash",
        "list your yarns in it, like yarns: {deep: {name: Deep water, "
        'colour: "#1f3d5c", left: 340 g}}',
    )
    return Refused([problem])


def stash_stamp(stash: Stash | None) -> str:
    """A fingerprint of a stash: what is made of a pattern that points to it depends on it."""
    if stash is None:
        return ""
    return digest_of(f"{stash.broken:d}{stash.model_dump_json()}".encode())


def may_point_to_stash(data: bytes) -> bool:
    """Whether a pattern's file may name the stash, in plain letters or in escaped ones."""
    return b"stash" in data or b"\\" in data
