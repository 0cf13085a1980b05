"""Making up: the order that follows from the pieces' facts, or the author's, as steps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _, say
from stripewright.problems import Problem, error, nearest
from stripewright.words.tasks import Task, task_step
from stripewright.words.techniques import closing, finishing, technique
from stripewright.words.written import StepGroup

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.source.document import Document
    from stripewright.words.techniques import Techniques
    from stripewright.words.teller import StepWriter

HANDLES = ("handle", "strap", "tie", "loop", "band")
"""Pieces with such a name are attached to the first piece, unless they say where they go."""

BIG_STITCHES = 3000
"""From so many stitches on a piece is worth looking over for dropped ones (common practice, no
source)."""


def techniques_of(worked: WorkedPattern) -> tuple[str, ...]:
    """The techniques of making up, the author's or the usual ones, each once, in order."""
    stated = worked.pattern.making_up
    names = (task.do for task in usual(worked)) if stated is None else (one.do for one in stated)
    return tuple(dict.fromkeys(names))


def making_up(teller: StepWriter) -> tuple[StepGroup, list[Problem]]:
    """The steps of making up, and what is wrong with those that the author gave."""
    if teller.worked.pattern.making_up is None:
        tasks, problems = list(usual(teller.worked)), list[Problem]()
    else:
        tasks, problems = stated(teller.worked, teller.document, teller.techniques)
    steps = tuple(task_step(teller, number, task, tasks) for number, task in enumerate(tasks, 1))
    return StepGroup("making-up", _("Making up"), steps), problems


def stated(
    worked: WorkedPattern, document: Document, techniques: Techniques
) -> tuple[list[Task], list[Problem]]:
    """The author's own steps; unknown techniques are told with the nearest known."""
    problems: list[Problem] = []
    for index, step in enumerate(worked.pattern.making_up or ()):
        if step.do not in techniques.names:
            place = document.place("making_up", index)
            hint = nearest(step.do, techniques.names)
            problems.append(error(place, say("there is no technique “{do}”", step.do), hint))
    return list(asked(worked, techniques.names)), problems


def asked(worked: WorkedPattern, known: Collection[str]) -> Iterator[Task]:
    """The author's own steps, as far as they are known, each with the end that it means."""
    pieces = {piece.key: piece for piece in worked.pieces}
    steps = worked.pattern.making_up or ()
    done: dict[str, int] = {}
    for step in steps:
        if step.do not in known:
            continue
        chosen = tuple(pieces[key] for key in step.pieces)
        alike = [
            other for other in steps if technique(other.do).edge and other.pieces == step.pieces
        ]
        end = _which_end(step.do, chosen, done, len(alike)) if technique(step.do).edge else ""
        yield Task(step.do, chosen, end, step.note or "")


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
    if looked_over := tuple(piece for piece in worked.pieces if _looked_over(piece)):
        yield Task("mend", looked_over)
    for piece in covers:
        if piece.filled:
            yield from _filled(worked, piece, linings.get(piece.key))
    loose = tuple(piece for piece in covers if not piece.filled)
    for alike in _alike(loose, linings):
        yield from _plain(worked, alike)
        if lining := linings.get(alike[0].key):
            yield from _plain(worked, (lining,))
            yield Task("weave_in", (alike[0], lining))
            yield Task("line_open", (lining, alike[0]))
    woven = (piece for piece in loose if piece.key not in linings)
    if hanging := tuple(piece for piece in woven if not (_shut(piece) or _layered(piece))):
        yield Task("weave_in", hanging)
    yield from _joined(worked, covers)
    stuffed = {piece.key for piece in covers if piece.filled}
    flat = tuple(piece for piece in loose if sewn_to(piece, worked) not in stuffed)
    if any(piece.sides != "joined" for piece in flat):
        yield Task("wash", flat)
    if worked.pattern.steam:
        yield Task("press", covers)
    yield from (Task("turn_up", (piece,)) for piece in covers if piece.brim)
    if worked.pattern.kind == "bunting":
        yield Task("string", covers)


def _joined(worked: WorkedPattern, covers: tuple[WorkedPiece, ...]) -> Iterator[Task]:
    """What brings pieces together, once each is finished: panels, things sewn on, fringe."""
    panels = tuple(piece for piece in covers if piece.sides == "joined")
    if sum(piece.make for piece in panels) > 1:
        yield Task("block", panels)
        yield Task("join_panels", panels)
    by_key = {piece.key: piece for piece in covers}
    for piece in covers:
        if target := by_key.get(sewn_to(piece, worked)):
            yield Task("attach", (piece, target))
    whole = tuple(piece for piece in panels if piece.fringe and piece.fringe.along)
    if whole:
        yield Task("fringe", whole)
    yield from (Task("fringe", (one,)) for one in covers if one.fringe and one not in whole)


def sewn_to(piece: WorkedPiece, worked: WorkedPattern) -> str:
    """The key of the piece that this one is sewn on to: the author's, or a handle's first piece."""
    if piece.attachment:
        return piece.attachment.to
    first = next(one for one in worked.pieces if not one.lining_of)
    handle = any(word in piece.key.split("_") for word in HANDLES)
    return first.key if handle and piece.key != first.key and not piece.lining_of else ""


def _shut(piece: WorkedPiece) -> bool:
    """Whether nobody can get at its inside once its ends are closed."""
    round_ = piece.form == "tube" or (piece.sides == "seamed" and piece.fold is None)
    return round_ and all(end.edge not in ("open", "hemmed") for end in piece.ends)


def _looked_over(piece: WorkedPiece) -> bool:
    """Whether dropped stitches are looked for: it is big, or nobody can mend it once it is shut."""
    return piece.filled or _shut(piece) or piece.stitches * piece.worked_rows >= BIG_STITCHES


def _layered(piece: WorkedPiece) -> bool:
    """Whether it is a tube folded into itself, with the wrong sides between the layers."""
    return piece.form == "tube" and piece.fold is not None


def _alike(
    pieces: Iterable[WorkedPiece], linings: Mapping[str | None, WorkedPiece]
) -> Iterator[tuple[WorkedPiece, ...]]:
    """Pieces that are finished the same way, told together; what is folded or sewn stands alone."""
    groups: dict[object, list[WorkedPiece]] = {}
    for piece in pieces:
        ends = tuple((end.edge, end.rows) for end in piece.ends)
        to_each_other = ends[0] == ends[1] and ends[0][0] in ("grafted", "seamed")
        alone = piece.fold is not None or piece.sides == "seamed" or piece.key in linings
        alone = alone or any(end.deep for end in piece.ends)
        alone = alone or (to_each_other and (piece.form == "panel" or piece.ring))
        groups.setdefault(piece.key if alone else (piece.form, ends), []).append(piece)
    yield from map(tuple, groups.values())


def _filled(
    worked: WorkedPattern, piece: WorkedPiece, lining: WorkedPiece | None
) -> Iterator[Task]:
    """Sew what is sewn first, close one end, line, fill, close the other."""
    both = (piece, lining) if lining else (piece,)
    yield from _tied(worked, (piece,))
    if piece.ring:
        if lining:
            yield Task("line_ring", (lining, piece))
        yield from (Task("graft_part", (one,)) for one in reversed(both))
        yield Task("fill", both[-1:])
        yield from (Task("close_ring", (one,)) for one in reversed(both))
        return
    for one in both:
        yield from _begun(one)
    if lining:
        yield Task("line", (lining, piece))
    yield Task("fill", both[-1:])
    for one in reversed(both):
        if one.form == "panel" and one.fold is not None:
            yield Task("close_edges", (one,))
        elif one.lining_of is None or one.ends[1].edge != "open":
            yield Task(closing(one.ends[1].edge) or "close_seam", (one,), "last")


def _begun(piece: WorkedPiece) -> Iterator[Task]:
    """A filled piece or its lining, up to where it is filled: its sides, then its first end."""
    if piece.form == "panel":
        if piece.fold is not None:
            yield Task("fold", (piece,))
        if piece.sides == "seamed" or piece.fold is not None:
            yield Task("seam_sides", (piece,))
        if piece.fold is not None:
            return
    bare = [piece.lining_of is not None and end.edge == "open" for end in piece.ends]
    edge = piece.ends[0].edge
    first = finishing(edge) if closing(edge) else "seam_end"
    yield Task("finish_edge" if bare[0] else first, (piece,), "both" if all(bare) else "first")
    if bare == [False, True]:
        yield Task("finish_edge", (piece,), "last")


def _tied(worked: WorkedPattern, pieces: tuple[WorkedPiece, ...]) -> Iterator[Task]:
    """Tails that stay inside are knotted, unless they were at the machine or there are none."""
    if worked.pattern.tails.knot == "later" and (several := tuple(p for p in pieces if p.changes)):
        yield Task("tie_tails", several)


def _plain(worked: WorkedPattern, pieces: tuple[WorkedPiece, ...]) -> Iterator[Task]:
    """Finish the ends, fold, sew the sides; a seamed panel's sides before an end is closed."""
    piece = pieces[0]
    edges = [end.edge for end in piece.ends]
    shut = _shut(piece)
    sides_first = piece.sides == "seamed" and piece.fold is None and any(map(closing, edges))
    if shut or (piece.form == "tube" and piece.fringe):
        yield from _tied(worked, pieces)
    if sides_first:
        yield Task("seam_sides", pieces)
    if any(end.deep for end in piece.ends) and piece.girth_cm and piece.under_hem:
        yield Task("weave_under", pieces)
    bag = piece.form == "panel" and piece.fold is not None and edges == ["seamed", "seamed"]
    if not bag:
        yield from _ends(pieces)
    if _layered(piece) and "grafted" not in edges:
        if not shut:
            yield Task("weave_in", pieces)
        yield Task("fold_layers" if shut else "tuck_layers", pieces)
    elif piece.fold is not None:
        yield Task("fold", pieces)
    if piece.sides == "seamed" and not sides_first:
        yield Task("seam_sides", pieces)
    if bag:
        yield Task("seam_ends", pieces)


def _ends(pieces: tuple[WorkedPiece, ...]) -> Iterator[Task]:
    """Finish both ends; without waste yarn an open one is cast on, and cast off at the machine."""
    piece = pieces[0]
    edges = [end.edge for end in piece.ends]
    flat = piece.form == "panel" and piece.sides != "seamed"
    live = piece.ends[0].live
    if edges == ["grafted", "grafted"]:
        yield Task("graft", pieces)
    elif flat and edges == ["seamed", "seamed"]:
        yield Task("seam_ends", pieces)
    elif edges[0] == edges[1] and live:
        yield Task(finishing(edges[0]), pieces, "both")
    else:
        for edge, end in zip(edges, ("first", "last"), strict=True):
            if (live or edge != "open") and (edge != "grafted" or piece.girth_cm is not None):
                yield Task(finishing(edge), pieces, end)
