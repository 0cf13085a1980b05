"""How far a run is, told to whoever watches."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[str, int, int], None]
"""Told of each step: what is done, how many of it are done, how many there are."""


def quiet(_step: str, _done: int, _of: int) -> None:
    """Progress that nobody watches."""
