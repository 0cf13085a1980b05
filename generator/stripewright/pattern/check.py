"""What only shows between the parts of a pattern: names, dates and counts that don't agree.

Everything here is known from what the author wrote; what needs a gauge is `compute`'s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _, say
from stripewright.pattern.base import Finding
from stripewright.pattern.check_pieces import of_pieces
from stripewright.pattern.slugs import WINDOWS
from stripewright.problems import Problem, Severity, nearest, warning

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from stripewright.pattern.base import AuthorModel
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.sizes import Size
    from stripewright.source.document import Document
    from stripewright.source.places import Path

RESERVED = frozenset(
    # Jinja's own words, and names that templates have besides those of pieces and yarns.
    ["and", "or", "not", "in", "is", "if", "else", "for", "true", "false", "none", "import",
     "loop", "self", "super", "caller", "varargs", "kwargs", "range", "dict", "lipsum", "cycler",
     "joiner", "namespace", "pattern", "studio", "machine", "gauge", "yarns", "pieces", "sizes",
     "steps"]
)  # fmt: skip
"""Names that a yarn or a piece can't have, because the texts' templates need them."""


PLACEHOLDERS = frozenset(
    ["your name", "my stripes", "title", "your title", "untitled", "new pattern", "name", "todo",
     "tbd", "xxx", "..."]
)  # fmt: skip
"""What stands where a name should, in small letters: a new studio's, and the usual ones."""


def check_pattern(
    pattern: Pattern, document: Document, touched: Collection[Path] = frozenset()
) -> list[Problem]:
    """What is wrong between the parts of a pattern.

    Args:
        pattern: what the author wrote.
        document: where they wrote it.
        touched: paths that nothing is to be said about, nor about anything under them, when
            the pattern stands in for one with mistakes; then nothing is said that may wait.
    """
    problems = []
    for finding in findings_of(pattern):
        path = finding.path
        if touched and finding.severity is Severity.WARNING:
            continue
        if touched and any(path[:end] in touched for end in range(len(path) + 1)):
            continue
        place = document.key_place(*path) if finding.key else document.place(*path)
        problems.append(Problem(place, finding.severity, finding.message, finding.hint))
    return problems


def check_names(made: AuthorModel, document: Document) -> list[Problem]:
    """Warn of a title or a maker that still waits to be written.

    Args:
        made: the front matter of any kind of file.
        document: where it was written.
    """
    names = ((key, getattr(made, key, None)) for key in ("title", "maker", "credit"))
    return [
        warning(
            document.place(key),
            say("{key} is still “{name}”", key, name),
            say("write your own: everyone will read it")
            if key == "title"
            else say("write your own name: everyone will read it"),
        )
        for key, name in names
        if isinstance(name, str) and name.strip().replace("…", "...").lower() in PLACEHOLDERS
    ]


def findings_of(pattern: Pattern) -> Iterator[Finding]:
    """What is wrong between the parts of a pattern, by its path."""
    yield from _names(pattern)
    yield from _roles(pattern)
    yield from of_pieces(pattern)
    yield from _making_up(pattern)
    yield from _dates(pattern)
    yield from _chapters(pattern)
    yield from _sizes(pattern)
    yield from _colourways(pattern)
    yield from _photos(pattern)
    if pattern.reveal and pattern.access != "paid":
        yield Finding(
            ("reveal",),
            "reveal is for paid patterns: everyone sees all of a free one",
            "take it out",
        )


def _names(pattern: Pattern) -> Iterator[Finding]:
    for kind, keys in (("yarns", pattern.yarns), ("pieces", pattern.pieces)):
        for key in keys:
            if key in RESERVED:
                yield Finding(
                    (kind, key),
                    say("{key} can't be a name here: the text's templates use it", key),
                    say("write another, like my_{key}", key),
                    key=True,
                )
    for key in pattern.pieces:
        if key in pattern.yarns:
            yield Finding(
                ("pieces", key),
                say("{key} is a yarn too, and the text's templates know each by its name", key),
                "rename one of them",
                key=True,
            )


def _roles(pattern: Pattern) -> Iterator[Finding]:
    taken: dict[str, str] = {}
    for key, yarn in pattern.yarns.items():
        if yarn.role and (other := taken.setdefault(yarn.role, key)) != key:
            yield Finding(
                ("yarns", key, "role"),
                say("{key} and {other} are both {role}", key, other, yarn.role),
                "give each yarn a role of its own, or leave roles out",
            )


def _making_up(pattern: Pattern) -> Iterator[Finding]:
    for number, step in enumerate(pattern.making_up or ()):
        for place, piece in enumerate(step.pieces):
            if piece not in pattern.pieces:
                yield Finding(
                    ("making_up", number, "pieces", place),
                    say("no piece is called {piece}", piece),
                    nearest(piece, pattern.pieces),
                )


def _dates(pattern: Pattern) -> Iterator[Finding]:
    published, updated = pattern.published, pattern.updated
    if published and updated and updated < published:
        yield Finding(
            ("updated",),
            say("updated {updated} is before published {published}", updated, published),
            "swap them, or leave updated out",
        )
    for number, correction in enumerate(pattern.corrections):
        if published and correction.date < published:
            yield Finding(
                ("corrections", number, "date"),
                say("this correction is from before the pattern appeared, {published}", published),
                "correct the date, or leave the correction out: nobody has begun yet",
            )


def _chapters(pattern: Pattern) -> Iterator[Finding]:
    if pattern.video is None:
        return
    before = -1
    for number, chapter in enumerate(pattern.video.parts):
        if chapter.at is None:
            continue
        if chapter.at <= before:
            yield Finding(
                ("video", "chapters", number, "at"),
                "this chapter begins no later than the one above it",
                "list the chapters in the order of the film",
            )
        before = max(before, chapter.at)


def _colourways(pattern: Pattern) -> Iterator[Finding]:
    for key, colourway in pattern.colourways.items():
        for yarn in colourway.yarns:
            path: Path = ("colourways", key, "yarns", yarn)
            if yarn not in pattern.yarns:
                yield Finding(
                    path, say("no yarn is called {yarn}", yarn), nearest(yarn, pattern.yarns)
                )
            elif pattern.yarns[yarn].marl:
                yield Finding(
                    path,
                    _("{yarn} is a marl, and has the colours of its yarns", yarn=yarn),
                    _("give those their colours"),
                )


def _sizes(pattern: Pattern) -> Iterator[Finding]:
    if pattern.pdf == "apart" and not pattern.sizes:
        yield Finding(
            ("pdf",),
            "pdf: apart is for patterns with sizes, and this has none",
            "add sizes:, or take it out",
        )
    if "base" in pattern.sizes:
        yield Finding(
            ("sizes", "base"),
            "base is the size that the pattern is written in",
            "call this size otherwise; the written one gets its name by base: {title: Adult}",
            key=True,
        )
    called = {pattern.base.title if pattern.base else ""}
    own_machines = all(piece.machine for piece in pattern.pieces.values())
    for key, size in pattern.sizes.items():
        if (name := size.title or key.replace("_", " ")) in called:
            yield Finding(
                ("sizes", key, "title") if size.title else ("sizes", key),
                say("another size is called {name} too", name),
                "give each a name of its own: readers choose by it",
                key=not size.title,
                severity=Severity.WARNING,
            )
        called.add(name)
        yield from _size(key, size, own_machines=own_machines)


def _size(key: str, size: Size, *, own_machines: bool) -> Iterator[Finding]:
    """What is wrong with one size by itself."""
    if size.machine and own_machines:
        yield Finding(
            ("sizes", key, "machine"),
            "no piece is knitted on this machine: each has its own",
            "say it of the pieces, under this size's pieces:",
            severity=Severity.WARNING,
        )
    if size.swatch is not None and size.gauge is not None:
        yield Finding(
            ("sizes", key, "gauge"), "swatch and gauge both say the gauge", "keep the swatch"
        )
    if not size.model_fields_set - {"title", "keep"}:
        yield Finding(
            ("sizes", key),
            say("the size {key} changes nothing", key),
            "add what is otherwise, like machine: {bed: circular, needles: 60}",
            key=True,
        )


def _photos(pattern: Pattern) -> Iterator[Finding]:
    mains = [number for number, photo in enumerate(pattern.photos) if photo.main]
    for number in mains[1:]:
        yield Finding(
            ("photos", number, "main"),
            say("{file} is the main picture already", pattern.photos[mains[0]].file),
            "keep main: yes at one picture alone",
        )
    for number, photo in enumerate(pattern.photos):
        if photo.file.lower().split(".")[0] in WINDOWS:
            yield Finding(
                ("photos", number, "file"),
                say("{file} can't be a file's name on Windows", photo.file),
                say("rename it, like my-{file}", photo.file),
            )
