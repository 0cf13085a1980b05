"""Home, catalogue, tags, posts and all pages that are not patterns', as they are asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.pipeline.faults import problem_of_fault

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.problems import Problem
    from stripewright.studio import Studio

    Waiting = Mapping[str, Callable[[], bytes]]
    """Pages still to be made, by path."""


class Lists:
    """Each page is made when it is asked for, and kept until something that it shows changes."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self.faults: dict[str, Problem] = {}
        """Of pages that could not be made, by path."""
        self._key: object = None
        self._waiting: Waiting = {}
        self._pages: dict[str, bytes] = {}
        self._last: dict[str, bytes] = {}

    def page(self, path: str, key: object, waiting: Callable[[], Waiting]) -> bytes | None:
        """A page, or what it last was where it can't be made; None where there is none.

        Args:
            path: from the site's root.
            key: equal while what pages are made of is the same.
            waiting: gives the pages, to be made, after the key changed.
        """
        try:
            if key != self._key:
                self._last |= self._pages
                self._pages = {}
                self._waiting = waiting()
                self._key = key
            if path not in self._waiting:
                return None
            if path not in self._pages:
                self._pages[path] = self._waiting[path]()
            self.faults.pop(path, None)
        except Exception as fault:  # noqa: BLE001  # told on the page; what was last made stays
            self.faults[path] = problem_of_fault(fault, path, self.studio)
            return self._last.get(path)
        return self._pages[path]
