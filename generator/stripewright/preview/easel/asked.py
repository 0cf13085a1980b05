"""What a request asks for, taken apart: bounded, whole, and nothing that a file can't hold."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _, tell
from stripewright.phrases import capital

if TYPE_CHECKING:
    from stripewright.problems import Problem

_MOST_BYTES = 1 << 20
"""Of a request; a source file has no more."""
_MOST_DEPTH = 24
_MOST_VALUES = 20_000


class Unfit(Exception):
    """A request that can't be meant; the text says why."""


def in_a_sentence(problem: Problem) -> str:
    """What is wrong and what would be right, as a request's answer says it."""
    return f"{capital(tell(problem.message))}: {tell(problem.hint)}."


def request_of(data: bytes) -> dict[str, Any]:
    """A request's JSON object.

    Raises:
        Unfit: it is no such thing, or holds what no front matter can.
    """
    try:
        found = json.loads(data.decode(), parse_constant=_no_constant)
    except (ValueError, RecursionError):
        raise Unfit(_("This is not readable as JSON.")) from None
    if not isinstance(found, dict):
        raise Unfit(_("This is not an object."))
    _look_through(found)
    return found


def text_of(found: dict[str, Any], name: str) -> str | None:
    """A member that is text, or null or not there.

    Raises:
        Unfit: it is something else.
    """
    value = found.get(name)
    if value is not None and not isinstance(value, str):
        raise Unfit(_("{name} is not text.", name=name))
    return value


def front_of(found: dict[str, Any]) -> dict[str, Any]:
    """The front matter that a request carries.

    Raises:
        Unfit: there is none.
    """
    front = found.get("front")
    if not isinstance(front, dict):
        raise Unfit(_("There is no front matter."))
    return front


def _no_constant(name: str) -> Any:
    raise ValueError(name)


def _look_through(root: Any) -> None:
    stack, count = [(root, 0)], 0
    while stack:
        value, depth = stack.pop()
        count += 1
        if depth > _MOST_DEPTH or count > _MOST_VALUES:
            raise Unfit(_("This is nested too deep, or holds too much."))
        if isinstance(value, dict):
            stack += ((inner, depth + 1) for pair in value.items() for inner in pair)
        elif isinstance(value, list):
            stack += ((inner, depth + 1) for inner in value)
        elif isinstance(value, str) and any("\ud800" <= letter <= "\udfff" for letter in value):
            raise Unfit(_("A text holds half a character."))
        elif (
            isinstance(value, int | float) and abs(value) > 1e18
        ):  # more digits than a value may have
            raise Unfit(_("A number is too large."))
