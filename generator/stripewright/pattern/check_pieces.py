"""What only shows between the pieces of a pattern: names, needles and yarns that don't agree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.pattern.base import Finding
from stripewright.pattern.run import Run
from stripewright.pattern.stripes import of_kind, yarns_named
from stripewright.problems import Severity, nearest

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Piece
    from stripewright.pattern.yarns import Machine
    from stripewright.source.places import Path


_NTH = (
    "",
    "",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
)


def of_pieces(pattern: Pattern) -> Iterator[Finding]:
    """What doesn't agree between the pieces, and between them and the yarns and the bed."""
    yield from _marls(pattern)
    named = {key: _named(key, piece) for key, piece in pattern.pieces.items()}
    for key, piece in pattern.pieces.items():
        yield from _yarns(pattern, named[key])
        yield from _counts(key, piece)
        yield from _form(pattern, key, piece)
    yield from _likes(pattern)
    yield from _attached(pattern)
    yield from _joined(pattern)
    yield from _unused(pattern, {yarn for each in named.values() for yarn, _ in each})


def _marls(pattern: Pattern) -> Iterator[Finding]:
    for key, yarn in pattern.yarns.items():
        for number, strand in enumerate(yarn.marl):
            path: Path = ("yarns", key, "marl", number)
            plain = [name for name, other in pattern.yarns.items() if not other.marl]
            if strand not in pattern.yarns:
                yield Finding(
                    path, say("no yarn is called {strand}", strand), nearest(strand, plain)
                )
            elif pattern.yarns[strand].marl:
                yield Finding(
                    path,
                    say("{strand} is a marl itself", strand),
                    "name the yarns that are held together",
                )


_Named = tuple[str | None, "Path"]
"""A yarn's key as a piece names it, and the path it stands at."""


def _named(key: str, piece: Piece) -> list[_Named]:
    """Every yarn that a piece names."""
    at: Path = ("pieces", key)
    named: list[_Named] = [(piece.yarn, (*at, "yarn"))]
    if piece.fringe:
        named.append((piece.fringe.yarn, (*at, "fringe", "yarn")))
    named += yarns_named(piece.stripes or (), (*at, "stripes"))
    named += yarns_named(piece.parts or (), (*at, "parts"))
    return named


def _yarns(pattern: Pattern, named: Iterable[_Named]) -> Iterator[Finding]:
    for yarn, path in named:
        if yarn is not None and yarn not in pattern.yarns:
            yield Finding(path, say("no yarn is called {yarn}", yarn), nearest(yarn, pattern.yarns))


def _counts(key: str, piece: Piece) -> Iterator[Finding]:
    for run, path in of_kind(piece.stripes or (), ("pieces", key, "stripes"), Run):
        if run.count != int(run.count):
            less = max(int(run.count), 1)
            yield Finding(
                (*path, "count"),
                say("{yarn} {count:g} is not whole rows", run.yarn, run.count),
                say(
                    "write {less} or {less2}, or use parts with a length to share out",
                    less,
                    less + 1,
                ),
            )
        if run.least is not None:
            yield Finding(
                (*path, "least"),
                say(
                    "least says nothing under stripes: {yarn} has {count:g} rows",
                    run.yarn,
                    run.count,
                ),
                "leave it out, or write parts with a length to share out",
            )


def _bed(pattern: Pattern, key: str) -> Machine:
    """The bed that a piece is knitted on: its own, that of the piece it is like, or the pattern's.

    The chain of `like` may still lead round in a ring, or to nothing.
    """
    passed: list[str] = []
    while key in pattern.pieces and key not in passed:
        piece = pattern.pieces[key]
        if piece.machine is not None:
            return piece.machine
        passed.append(key)
        key = piece.like or ""
    return pattern.machine


def _form(pattern: Pattern, key: str, piece: Piece) -> Iterator[Finding]:
    at: Path = ("pieces", key)
    bed = _bed(pattern, key)
    if piece.needles is not None and piece.needles > bed.in_work:
        beside = say(", {in_work} of them in work", bed.in_work) if bed.every > 1 else ""
        yield Finding(
            (*at, "needles"),
            say(
                "{key} takes {needles} needles, and the bed has {needles2}{beside}",
                key,
                piece.needles,
                bed.needles,
                beside,
            ),
            say("write {in_work} or less", bed.in_work),
        )
    if piece.form != "tube" or (piece.like is not None and piece.like not in pattern.pieces):
        return
    if piece.sides != "open":
        yield Finding(
            (*at, "sides"),
            say("{key} is a tube, which has no sides", key),
            "leave sides out, or write form: panel",
        )
    if bed.bed == "flat":
        yield Finding(
            (*at, "form"),
            "a flat bed with one row of needles knits no tube",
            "write form: panel and sides: seamed, unless yours has two",
            severity=Severity.WARNING,
        )
    elif piece.needles is not None and piece.needles < bed.in_work:
        which = say("every {nth} needle", _NTH[bed.every]) if bed.every > 1 else say("every needle")
        yield Finding(
            (*at, "needles"),
            say("a tube takes {which} of a circular bed, all {in_work}", which, bed.in_work),
            "leave needles out, or write form: panel",
        )


def _likes(pattern: Pattern) -> Iterator[Finding]:
    pieces = pattern.pieces
    for key, piece in pieces.items():
        path: Path = ("pieces", key, "like")
        if piece.like is None:
            continue
        if piece.like not in pieces:
            yield Finding(
                path,
                say("no piece is called {like}", piece.like),
                nearest(piece.like, [k for k in pieces if k != key]),
            )
            continue
        trail, following = [key], piece.like
        while following in pieces and following not in trail:
            trail.append(following)
            following = pieces[following].like or ""
        if following == key:
            yield Finding(
                path,
                " is like ".join([*trail, key]),
                "one of them needs rows of its own: stripes, parts, or a yarn with a length",
            )


def _attached(pattern: Pattern) -> Iterator[Finding]:
    for key, piece in pattern.pieces.items():
        if piece.attach is None:
            continue
        others = [other for other in pattern.pieces if other != key]
        path: Path = ("pieces", key, "attach", "to")
        if piece.attach.to not in pattern.pieces:
            yield Finding(
                path,
                say("no piece is called {to}", piece.attach.to),
                nearest(piece.attach.to, others),
            )
        elif piece.attach.to == key:
            yield Finding(path, say("{key} can't be attached to itself", key), nearest(key, others))


def _joined(pattern: Pattern) -> Iterator[Finding]:
    for number, key in enumerate(pattern.join):
        if key not in pattern.pieces:
            yield Finding(
                ("join", number), say("no piece is called {key}", key), nearest(key, pattern.pieces)
            )
    for key, piece in pattern.pieces.items():
        laid = pattern.join.count(key)
        if laid and laid != piece.make:
            yield Finding(
                ("join",),
                say(
                    "{key} lies there {laid} times, and its make says {make}",
                    key,
                    laid,
                    piece.make,
                ),
                say("write make: {laid} for {key}, or name it {make} times", laid, key, piece.make),
            )


def _unused(pattern: Pattern, used: set[str | None]) -> Iterator[Finding]:
    used |= {strand for key, yarn in pattern.yarns.items() if key in used for strand in yarn.marl}
    if used - {None} - pattern.yarns.keys():
        return  # a misspelt name is told already, and may be the one that is missing here
    for key in pattern.yarns:
        if key not in used:
            yield Finding(
                ("yarns", key),
                say("no piece uses the yarn {key}", key),
                "take it out, or use it in a stripe",
                key=True,
                severity=Severity.WARNING,
            )
