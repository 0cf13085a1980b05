"""What follows from what was coloured: the program's own stages, from the pattern to its telling.

Nothing is read but what is given, and nothing is written.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import n_, speaking, tell
from stripewright.compute.colour import VIEWS, seen
from stripewright.compute.rows import build_stripes, share
from stripewright.compute.yarn_left import rows_left
from stripewright.draw.finished.view import finished
from stripewright.figures import Figures, rc
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.stripes import of_kind
from stripewright.pipeline.make import work_document
from stripewright.pipeline.sources import SourceFile
from stripewright.preview.easel.paths import Coloured
from stripewright.problems import has_errors, in_order
from stripewright.view.numbers import numbers
from stripewright.words.write import write

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pieces import Piece
    from stripewright.pattern.settings import Settings
    from stripewright.problems import Problem
    from stripewright.view.materials import MaterialView
    from stripewright.view.numbers import Numbers
    from stripewright.words.written import PatternText, ToldEvent

BODY = 1_000_000
"""Problems of the text are told by line from here; those of values by the number of their path."""


def answer(
    front: Mapping[str, Any],
    body: str,
    settings: Settings,
    *,
    name: str,
    sight: str = "normal",
    tables: Iterable[tuple[str, bytes]] = (),
) -> dict[str, Any]:
    """What the page shows beside the piece, as plain values.

    Args:
        front: all of the front matter.
        body: the text under it.
        settings: the studio's.
        name: the file's name.
        sight: of `compute.colour.VIEWS`, how the picture is seen.
        tables: names and bytes of the tables that it may be made with.
    """
    document = Coloured(name, front, None, body, BODY, tables=dict(tables))
    done = work_document(SourceFile(name, b""), document, settings, [])
    made: dict[str, Any] = {}
    if done.worked is not None:
        own = done.settings or settings  # with the pattern's units and terms
        with speaking(own.words):
            made = _made(done.worked, done.written, document, own, sight)
    return made | {
        "problems": [_problem(one, document) for one in in_order(done.problems)],
        "sound": not has_errors(done.problems),
    }


def _problem(problem: Problem, document: Coloured) -> dict[str, Any]:
    if problem.place.file != document.file:  # a table's own line
        return {
            "severity": str(problem.severity),
            "hint": tell(problem.hint),
            "message": f"{problem.place}: {tell(problem.message)}",
            "path": (),
        }
    line, paths = problem.place.line, document.numbered
    at: dict[str, Any] = (
        {"line": line - BODY + 1}
        if line >= BODY
        else {"path": paths[line - 1] if 0 < line <= len(paths) else ()}
    )
    return {
        "severity": str(problem.severity),
        "message": tell(problem.message),
        "hint": tell(problem.hint),
        **at,
    }


def _made(
    worked: WorkedPattern,
    written: PatternText | None,
    document: Coloured,
    settings: Settings,
    sight: str,
) -> dict[str, Any]:
    if written is None:  # the text has a mistake: the numbers are told without it
        bare = Coloured(document.file, document.front, None, "", BODY)
        written, _ = write(worked, bare, settings)
    figures = Figures.of(settings)
    seen_so = _as_seen(worked, sight) if sight in VIEWS[1:] else worked
    made: dict[str, Any] = {
        "finished": finished(seen_so, prefix=f"easel-{worked.slug}").svg,
        "yarns": {yarn.key: {"letter": yarn.letter, "name": yarn.name,
                              "seen": _seen(yarn.colour)}
                  for yarn in worked.yarns},
        "pieces": _pieces(worked, written, figures, left=_left(worked, settings)),
        "sizes": [{"key": size.key, "title": size.title,
                   "told": _told(numbers(size.worked, settings)),
                   "pieces": _pieces(size.worked, written, figures, f"{size.key}.",
                                     _left(size.worked, settings))}
                  for size in worked.sizes],
        "told": _told(numbers(worked, settings)),
        "proposals": [[one.second, one.proposal] for one in worked.clashes if one.proposal],
    }  # fmt: skip
    return made


def _left(worked: WorkedPattern, settings: Settings) -> dict[str, float]:
    """What the stash has of the pattern's yarns, in g."""
    return settings.stash.left_of(worked.pattern) if settings.stash else {}


def _as_seen(worked: WorkedPattern, sight: str) -> WorkedPattern:
    """The same pattern in colours as a kind of sight has them."""
    yarns = (replace(yarn, colour=_seen(yarn.colour)[sight]) for yarn in worked.yarns)
    return replace(worked, yarns=tuple(yarns))


@lru_cache(maxsize=1024)
def _seen(colour: str) -> dict[str, str]:
    """A colour as each kind of sight has it, as #rrggbb."""
    return {view: seen(colour, view).convert("srgb").fit().to_string(hex=True) for view in VIEWS}


def _pieces(
    worked: WorkedPattern,
    words: PatternText | None,
    figures: Figures,
    prefix: str = "",
    left: Mapping[str, float] = MappingProxyType({}),
) -> dict[str, dict[str, Any]]:
    told_of = words.events if words else {}
    return {
        piece.key: _piece(piece, worked, figures)
        | {
            "marks": _marks(piece, told_of.get(prefix + piece.key, ())),
            "left": rows_left(worked, piece, left),
        }
        for piece in worked.pieces
    }


def _piece(piece: WorkedPiece, worked: WorkedPattern, figures: Figures) -> dict[str, Any]:
    written = worked.pattern.pieces.get(piece.key)
    per_cm = worked.gauge.rows_per_cm
    return {
        "title": piece.title,
        "form": piece.form,
        "stitches": piece.stitches,
        "width_cm": piece.flat_width_cm,
        "row_cm": 1 / per_cm,
        "stitch_cm": 1 / worked.gauge.stitches_per_cm,
        "visible": piece.visible_rows,
        "worked": piece.worked_rows,
        "lining_of": piece.lining_of,
        "parts": _parts(piece, written),
        "plan": _plan(piece, figures, per_cm),
        "width": figures.length(piece.flat_width_cm),
        "length": figures.length(piece.finished_length_cm),
    }


def _parts(piece: WorkedPiece, written: Piece | None) -> list[list[Any]]:
    """Each stripe's yarn and visible rows, and where it is written; taken from elsewhere, plain.

    Its place leads from the list of stripes to what is written, with a number among those that one
    written series makes. What is done to one stripe of a `mirror:` is done to both.
    """
    if written is None:
        return []
    parts = build_stripes(written.stripes or written.parts or ())
    if not parts:
        return [[line.yarn, line.visible, [], n] for n, line in enumerate(piece.plan)]
    rows = [int(part.count) for part in parts]
    if written.parts is not None:
        leasts = [part.least or written.least for part in parts]
        rows = share(piece.visible_rows, [part.count for part in parts], leasts)
    elif any(of_kind(written.stripes or (), (), ByYarn)):
        rows = [rows for line in piece.plan for rows in line.written or (line.visible,)]
    return [[one.yarn, n, list(one.at), one.slot] for one, n in zip(parts, rows, strict=True)]


def _plan(piece: WorkedPiece, figures: Figures, per_cm: float) -> list[dict[str, Any]]:
    """The plan's lines, each with what the counter and the tape read where it ends."""
    told_length = figures.in_inches if figures.imperial else figures.in_cm
    lines, visible = [], 0
    for line in piece.plan:
        visible += line.visible
        lines.append({"letter": line.letter, "yarn": line.yarn, "rows": line.visible,
                      "before": line.allowance_before, "after": line.allowance_after,
                      "rc": rc(line.last), "at": told_length(visible / per_cm)})  # fmt: skip
    return lines


def _marks(piece: WorkedPiece, events: Sequence[ToldEvent]) -> list[dict[str, Any]]:
    """What happens along the piece, as it is told, by the visible rows below it."""
    before = piece.plan[0].allowance_before
    return [{"kind": event.kind, "what": event.title, "number": event.number,
             "from": event.row - before, "to": (event.until or event.row) - before}
            for event in events if not event.kind.startswith("repeat")
            and not event.kind.endswith("_end")]  # fmt: skip


def _told(numbers: Numbers) -> dict[str, Any]:
    """Sizes, rows, yarns, things at hand, time and cost, each as the page tells it."""
    return {
        "sizes": [
            [size.title, f"{size.text}{f' ({size.note})' if size.note else ''}"]
            for size in numbers.sizes
        ],
        "rows": [
            [piece.title, _stitched(piece.worked_rows, piece.stitches, piece.off)]
            for piece in numbers.pieces
        ],
        "yarns": [[yarn.letter, yarn.name, _yarn(yarn)] for yarn in numbers.materials],
        "supplies": [[one.name, str(one.amount or "")] for one in numbers.supplies],
        "time": numbers.time,
        "cost": numbers.cost or "",
        "clashes": list(numbers.clashes),
    }


def _stitched(rows: int, stitches: int, off: object) -> str:
    told = [
        n_("{number} row", "{number} rows", rows),
        n_("{number} stitch", "{number} stitches", stitches),
    ]
    return ", ".join([*told, str(off)] if off else told)


def _yarn(yarn: MaterialView) -> str:
    buy = yarn.buy
    parts = (yarn.uses, buy and buy.count, buy and buy.cost)
    return ", ".join(str(part) for part in parts if part)
