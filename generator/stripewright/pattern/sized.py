"""A size's own pieces: what it says of a piece, laid over the base's, and checked the same way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from stripewright.catalogue import say
from stripewright.pattern.check import findings_of
from stripewright.pattern.mistakes import mistakes
from stripewright.pattern.pieces import Piece
from stripewright.problems import Problem, error, nearest

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.sizes import Size
    from stripewright.source.document import Document
    from stripewright.source.places import Path

ROWS = frozenset({"stripes", "parts", "yarn", "length", "rows"})
"""What says how many rows a piece has: a size that says one of them isn't worked from the base."""


def fill_in_sizes(pattern: Pattern, document: Document) -> list[Problem]:
    """Lay what each size says of its pieces over the base's; each size keeps its whole pieces.

    Returns:
        What is wrong with them, at the size's own lines.
    """
    problems: list[Problem] = []
    base = {finding.message for finding in findings_of(pattern)}
    for key, size in pattern.sizes.items():
        made, found = _pieces(pattern, key, size, document)
        if not found and made:
            variant = pattern.model_copy(update={"pieces": {**pattern.pieces, **made}, "sizes": {}})
            for finding in findings_of(variant):
                if finding.message not in base:
                    place = document.place("sizes", key, *finding.path)
                    found.append(Problem(place, finding.severity, finding.message, finding.hint))
        size.keep_pieces(made)
        problems += found
    return problems


def _pieces(
    pattern: Pattern, key: str, size: Size, document: Document
) -> tuple[dict[str, Piece], list[Problem]]:
    made: dict[str, Piece] = {}
    problems: list[Problem] = []
    written = document.front.get("pieces") or {}
    for name, said in size.pieces.items():
        path: Path = ("sizes", key, "pieces", name)
        if name not in pattern.pieces:
            place = document.key_place(*path)
            problems.append(
                error(place, say("no piece is called {name}", name), nearest(name, pattern.pieces))
            )
            continue
        raw = written.get(name)
        try:
            whole = Piece.model_validate(_laid_over(raw if isinstance(raw, dict) else {}, said))
        except ValidationError as fault:
            problems += mistakes(fault.errors(include_url=False), document, Piece, path)
            continue
        made[name] = _kept(pattern.pieces[name], whole, said)
    return made, problems


def _laid_over(base: Mapping[str, Any], said: Mapping[str, Any]) -> dict[str, Any]:
    """The base's values, with a size's in their place: mappings go into one another."""
    rows = said.keys() & {"stripes", "parts", "yarn"}
    gone = {"stripes", "parts", "yarn"} if rows else set()
    if rows or said.keys() & {"length", "rows"}:
        gone |= {"length", "rows"}
    return _deep({key: value for key, value in base.items() if key not in gone}, said)


def _deep(base: Mapping[str, Any], said: Mapping[str, Any]) -> dict[str, Any]:
    laid = dict(base)
    for key, value in said.items():
        under, mappings = laid.get(key), isinstance(value, dict)
        laid[key] = _deep(under, value) if mappings and isinstance(under, dict) else value
    return laid


def _kept(base: Piece, whole: Piece, said: Mapping[str, Any]) -> Piece:
    """What the size says, and the base's own values (with the tables they were read from)."""
    names = set(said)
    if names & ROWS:
        names |= ROWS
    if names & {"length", "rows"} and not set(said) & {"stripes", "parts", "yarn"}:
        names -= {"stripes", "parts", "yarn"}
    return base.model_copy(update={name: getattr(whole, name) for name in sorted(names)})
