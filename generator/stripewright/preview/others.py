"""Posts, pages and planning sheets in the preview: where one is broken, as it last was whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.pipeline.faults import problem_of_fault
from stripewright.pipeline.rest import OtherContent, make_other_content
from stripewright.pipeline.sources import SourceFile, Sources
from stripewright.problems import Problem, Severity
from stripewright.studio import KINDS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.pipeline.context import Context
    from stripewright.pipeline.photos import PhotoLibrary
    from stripewright.studio import Studio

Files = dict[str, dict[str, SourceFile]]
"""Sources by kind and name."""

Made = tuple[OtherContent, dict[str, bytes], list[Problem]]
"""Views of the last good state, the files that stand beside them, and what is wrong now."""


class Others:
    """Made when asked for, and kept until one of their files is saved."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self.version = 0
        """Counted up each time they are made."""
        self._good: dict[str, SourceFile] = {}
        self._made: Made | None = None
        self._last: Made = (OtherContent((), (), ()), {}, [])

    def changed(self, name: str | None = None, source: SourceFile | None = None) -> None:
        """A file was saved, or (no source) is gone; without a name, all are to be made again."""
        self._made = None
        if name is not None and source is None:
            self._good.pop(name, None)

    def made(self, files: Files, context: Context, shelf: PhotoLibrary) -> Made:
        """Everything, from what is saved."""
        if self._made is None:
            self.version += 1
            now = {kind: files[kind] for kind in KINDS if kind != "patterns"}
            try:
                self._made = self._last = self._make(now, context, shelf)
            except Exception as fault:  # noqa: BLE001  # told on the page; what was made last stays
                problem = problem_of_fault(fault, "posts, pages and sheets", self.studio)
                self._made = *self._last[:2], [problem]
        return self._made

    def _make(self, now: Files, context: Context, shelf: PhotoLibrary) -> Made:
        rest, beside, problems = make_other_content(_sources(now), context, shelf)
        broken = {p.place.file for p in problems if p.severity is Severity.ERROR}
        for of_kind in now.values():
            self._good |= {n: source for n, source in of_kind.items() if n not in broken}
        if broken:
            good = {kind: {n: self._good[n] for n in of_kind if n in self._good}
                    for kind, of_kind in now.items()}  # fmt: skip
            rest, beside, _ = make_other_content(_sources(good), context, shelf)
        return rest, beside, problems


def _sources(files: Mapping[str, Mapping[str, SourceFile]]) -> Sources:
    in_order = {kind: tuple(of[name] for name in sorted(of)) for kind, of in files.items()}
    return Sources(None, in_order)
