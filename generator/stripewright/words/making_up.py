"""Making up: the order that follows from the pieces' facts, or the author's, as steps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.problems import Problem, error
from stripewright.words.facts import nearest
from stripewright.words.tasks import Task, told
from stripewright.words.techniques import closing, finishing, technique
from stripewright.words.written import StepGroup

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.source.document import Document
    from stripewright.words.techniques import Techniques
    from stripewright.words.teller import Teller

HANDLES = ("handle", "strap", "tie", "loop", "band")
"""Pieces with such a name are attached to the first piece."""


def making_up(teller: Teller) -> tuple[StepGroup, list[Problem]]:
    """The steps of making up, and what is wrong with those that the author gave."""
    if teller.worked.pattern.making_up is None:
        tasks, problems = list(usual(teller.worked)), list[Problem]()
    else:
        tasks, problems = stated(teller.worked, teller.document, teller.techniques)
    steps = tuple(told(teller, number, task, tasks) for number, task in enumerate(tasks, 1))
    return StepGroup("making-up", "Making up", steps), problems


def stated(
    worked: WorkedPattern, document: Document, techniques: Techniques
) -> tuple[list[Task], list[Problem]]:
    """The author's own steps; unknown techniques are told with the nearest known."""
    pieces = {piece.key: piece for piece in worked.pieces}
    steps = worked.pattern.making_up or ()
    tasks: list[Task] = []
    problems: list[Problem] = []
    done: dict[str, int] = {}
    for index, step in enumerate(steps):
        place = document.place("making_up", index)
        if step.do not in techniques.names:
            hint = nearest(step.do, techniques.names)
            problems.append(error(place, f"there is no technique “{step.do}”", hint))
            continue
        chosen = tuple(pieces[key] for key in step.pieces)
        alike = [
            other for other in steps if technique(other.do).edge and other.pieces == step.pieces
        ]
        end = _which_end(step.do, chosen, done, len(alike)) if technique(step.do).edge else ""
        tasks.append(Task(step.do, chosen, end, step.note or ""))
    return tasks, problems


def _which_end(do: str, pieces: tuple[WorkedPiece, ...], done: dict[str, int], alike: int) -> str:
    """Which end a step means: the one with its edge, else the first before the last."""
    if not pieces:
        return "both"
    piece = pieces[0]
    edges, how = [end.edge for end in piece.ends], technique(do)
    if how.edge and edges.count(how.edge) == 1:
        return "first" if edges[0] == how.edge else "last"
    if how.at == "last":
        return "last"
    if alike == 1:
        return "both"
    done[piece.key] = done.get(piece.key, 0) + 1
    return "first" if done[piece.key] == 1 else "last"


def usual(worked: WorkedPattern) -> Iterator[Task]:
    """Making up as the pieces ask for it: ends, folds and sides, filling, joining, the rest."""
    linings: dict[str | None, WorkedPiece] = {
        piece.lining_of: piece for piece in worked.pieces if piece.lining_of
    }
    covers = tuple(piece for piece in worked.pieces if not piece.lining_of)
    for piece in covers:
        if piece.filled:
            yield from _filled(piece, linings.get(piece.key))
    loose = tuple(piece for piece in covers if not piece.filled)
    for alike in _alike(loose, linings):
        yield from _plain(alike)
        if lining := linings.get(alike[0].key):
            yield from _plain((lining,))
            yield Task("weave_in", (alike[0], lining))
            yield Task("line_open", (lining, alike[0]))
    joined = tuple(piece for piece in covers if piece.sides == "joined")
    if sum(piece.make for piece in joined) > 1:
        yield Task("join_panels", joined)
    for piece in covers[1:]:
        if any(word in piece.key.split("_") for word in HANDLES):
            yield Task("attach", (piece, covers[0]))
    yield from (Task("fringe", (piece,)) for piece in covers if piece.fringe)
    if worked.pattern.kind == "bunting":
        yield Task("string", covers)
    woven = (piece for piece in loose if piece.key not in linings)
    if hanging := tuple(piece for piece in woven if not (_shut(piece) or _layered(piece))):
        yield Task("weave_in", hanging)
    if loose:
        yield Task("wash", loose)
    if worked.pattern.steam:
        yield Task("press", covers)


def _shut(piece: WorkedPiece) -> bool:
    """Whether nobody can get at its inside once its ends are closed."""
    return piece.form == "tube" and all(end.edge not in ("open", "hemmed") for end in piece.ends)


def _layered(piece: WorkedPiece) -> bool:
    """Whether it is a tube folded into itself, with the wrong sides between the layers."""
    return piece.form == "tube" and piece.fold is not None


def _alike(
    pieces: Iterable[WorkedPiece], linings: Mapping[str | None, WorkedPiece]
) -> Iterator[tuple[WorkedPiece, ...]]:
    """Pieces that are finished the same way, told together; what is folded or sewn stands alone."""
    groups: dict[object, list[WorkedPiece]] = {}
    for piece in pieces:
        alone = piece.fold is not None or piece.sides == "seamed" or piece.key in linings
        ends = tuple((end.edge, end.rows) for end in piece.ends)
        groups.setdefault(piece.key if alone else (piece.form, ends), []).append(piece)
    yield from map(tuple, groups.values())


def _filled(piece: WorkedPiece, lining: WorkedPiece | None) -> Iterator[Task]:
    """Close one end, line, fill, close the other; an end that a lining leaves open is finished."""
    both = (piece, lining) if lining else (piece,)
    yield Task("tie_tails", (piece,))
    if piece.ring:
        if lining:
            yield Task("line_ring", (lining, piece))
        yield from (Task("graft_part", (one,)) for one in reversed(both))
        yield Task("fill", both[-1:])
        yield from (Task("close_ring", (one,)) for one in reversed(both))
        return
    for one in both:
        bare = [one.lining_of is not None and end.edge == "open" for end in one.ends]
        edge = one.ends[0].edge
        first = finishing(edge) if closing(edge) else "seam_end"
        yield Task("finish_edge" if bare[0] else first, (one,), "both" if all(bare) else "first")
        if bare == [False, True]:
            yield Task("finish_edge", (one,), "last")
    if lining:
        yield Task("line", (lining, piece))
    yield Task("fill", both[-1:])
    for one in reversed(both):
        if one.lining_of is None or one.ends[1].edge != "open":
            yield Task(closing(one.ends[1].edge) or "close_seam", (one,), "last")


def _plain(pieces: tuple[WorkedPiece, ...]) -> Iterator[Task]:
    """Finish the ends, fold, sew the sides."""
    piece = pieces[0]
    edges = [end.edge for end in piece.ends]
    shut = _shut(piece)
    if shut or (piece.form == "tube" and piece.fringe):
        yield Task("tie_tails", pieces)
    if edges == ["grafted", "grafted"]:
        yield Task("graft", pieces)
    elif edges[0] == edges[1]:
        yield Task(finishing(edges[0]), pieces, "both")
    else:
        for edge, end in zip(edges, ("first", "last"), strict=True):
            if edge != "grafted" or piece.girth_cm is not None:
                yield Task(finishing(edge), pieces, end)
    if _layered(piece) and "grafted" not in edges:
        if not shut:
            yield Task("weave_in", pieces)
        yield Task("fold_layers" if shut else "tuck_layers", pieces)
    elif piece.fold is not None:
        yield Task("fold", pieces)
    if piece.sides == "seamed":
        yield Task("seam_sides", pieces)
