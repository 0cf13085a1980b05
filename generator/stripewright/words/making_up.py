"""Making up: the order that follows from the pieces' facts, or the author's, as steps."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.figures import filling_told, rc
from stripewright.problems import Problem, error
from stripewright.words.facts import nearest
from stripewright.words.titles import capital, listed, small, the
from stripewright.words.written import Step, StepGroup

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.pattern.pieces import EdgeKind
    from stripewright.source.document import Document
    from stripewright.words.techniques import Techniques
    from stripewright.words.teller import Teller

ENDS = {"first": "the cast-on end", "last": "the take-off end", "both": "both ends"}

AT_AN_END: Mapping[str, EdgeKind] = {
    "finish_edge": "open", "hem": "hemmed", "gather": "gathered", "seam_end": "seamed",
    "graft_end": "grafted", "close_seam": "seamed", "close_gathered": "gathered",
    "close_grafted": "grafted",
}  # fmt: skip
"""Techniques that are done to one end of a piece, with the edge that they make."""

FINISHES: Mapping[EdgeKind, str] = {
    "open": "finish_edge",
    "hemmed": "hem",
    "gathered": "gather",
    "seamed": "seam_end",
    "grafted": "graft_end",
}

CLOSINGS: Mapping[EdgeKind, str] = {"gathered": "close_gathered", "grafted": "close_grafted"}
"""How the last end of a filled piece is closed, where it isn't sewn."""

FIRMNESS = {"light": "soft enough to fold", "medium": "plump, but still soft to lean on",
            "firm": "hard to press flat"}  # fmt: skip

HANDLES = ("handle", "strap", "tie", "loop", "band")
"""Pieces with such a name are attached to the first piece."""


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do: a technique, the pieces it is done to, and the end (first, last, both)."""

    do: str
    pieces: tuple[WorkedPiece, ...] = ()
    end: str = ""
    note: str = ""


def making_up(teller: Teller) -> tuple[StepGroup, list[Problem]]:
    """The steps of making up, and what is wrong with those that the author gave."""
    if teller.worked.pattern.making_up is None:
        tasks, problems = list(usual(teller.worked)), list[Problem]()
    else:
        tasks, problems = stated(teller.worked, teller.document, teller.techniques)
    steps = tuple(_told(teller, number, task, tasks) for number, task in enumerate(tasks, 1))
    return StepGroup("making-up", "Making up", steps), problems


def _told(teller: Teller, number: int, task: Task, tasks: list[Task]) -> Step:
    """A task as a step. Its text doesn't begin with the piece that nobody could mistake."""
    facts = _facts(task, teller) | _among(number, tasks)
    pieces = tuple(piece.key for piece in task.pieces)
    key = f"making-up.{number}"
    step = teller.step(task.do, key, facts, pieces=pieces, note=task.note)
    begun = f"{facts['pieces']}: "
    if (facts["of"] or len(teller.worked.pieces) == 1) and step.text.startswith(begun):
        return replace(step, text=capital(step.text.removeprefix(begun)))
    return step


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
        alike = [other for other in steps if other.do in AT_AN_END and other.pieces == step.pieces]
        end = _which_end(step.do, chosen, done, len(alike)) if step.do in AT_AN_END else ""
        tasks.append(Task(step.do, chosen, end, step.note or ""))
    return tasks, problems


def _which_end(do: str, pieces: tuple[WorkedPiece, ...], done: dict[str, int], alike: int) -> str:
    """Which end a step means: the one with its edge, else the first before the last."""
    if not pieces:
        return "both"
    piece = pieces[0]
    edges = [end.edge for end in piece.ends]
    if edges.count(AT_AN_END[do]) == 1:
        return "first" if edges[0] == AT_AN_END[do] else "last"
    if do.startswith("close"):
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
        first = FINISHES[edge] if edge in CLOSINGS else "seam_end"
        yield Task("finish_edge" if bare[0] else first, (one,), "both" if all(bare) else "first")
        if bare == [False, True]:
            yield Task("finish_edge", (one,), "last")
    if lining:
        yield Task("line", (lining, piece))
    yield Task("fill", both[-1:])
    for one in reversed(both):
        if one.lining_of is None or one.ends[1].edge != "open":
            yield Task(CLOSINGS.get(one.ends[1].edge, "close_seam"), (one,), "last")


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
        yield Task(FINISHES[edges[0]], pieces, "both")
    else:
        for edge, end in zip(edges, ("first", "last"), strict=True):
            if edge != "grafted" or piece.girth_cm is not None:
                yield Task(FINISHES[edge], pieces, end)
    if _layered(piece) and "grafted" not in edges:
        if not shut:
            yield Task("weave_in", pieces)
        yield Task("fold_layers" if shut else "tuck_layers", pieces)
    elif piece.fold is not None:
        yield Task("fold", pieces)
    if piece.sides == "seamed":
        yield Task("seam_sides", pieces)


def _facts(task: Task, teller: Teller) -> dict[str, object]:
    """What a technique's text may name; every name is always there."""
    pieces = task.pieces or teller.worked.pieces
    first = pieces[0]
    titles = [piece.title for piece in pieces]
    last = task.end == "last" or task.do in {"graft", "graft_part", "close_ring"}
    line = first.plan[-1 if last else 0]
    sides = task.do in {"seam_sides", "join_panels"}
    copies = sum(piece.make for piece in pieces)
    which = "side" if sides else "last" if last else "first"
    return {
        "piece": small(titles[0]), "the_piece": the(titles[0]),
        "pieces": capital(listed(map(small, titles))), "the_pieces": listed(map(the, titles)),
        "copies": copies, "all": _all(copies), "attached_copies": first.make,
        "attached_all": _all(first.make),
        "end": ENDS.get(task.end, "the end"),
        "tail": teller.tail(f"{first.key}.{which}"),
        "letter": line.letter, "yarn": teller.yarn_names[line.yarn],
        "allowance": first.ends[1 if last else 0].rows, "folded": first.fold is not None,
        "inner": first.lining_of is not None,
        "form": first.form, "ring": first.ring,
        "same": first.ends[0].edge == first.ends[1].edge,
        "gaps": _gaps(first), "stripes": max(len(piece.plan) for piece in pieces),
        "lining": the(titles[0]), "cover": the(titles[-1]),
        "target": the(titles[-1]), "attached": listed(map(the, titles[:-1] or titles)),
        **_filling(teller), **_fringe(first, teller),
    }  # fmt: skip


def _among(number: int, tasks: list[Task]) -> dict[str, object]:
    """What tells a task from others of its kind: whose end it is, and the piece it was shown on."""
    task = tasks[number - 1]
    alike = [one for one in tasks if (one.do, one.end) == (task.do, task.end) and one.pieces]
    several = bool(task.end and task.pieces) and len(alike) > 1
    shown = next((one for one in tasks[: number - 1] if one in alike), None) if several else None
    return {
        "of": f" of {listed(the(piece.title) for piece in task.pieces)}" if several else "",
        "like": listed(the(piece.title) for piece in shown.pieces) if shown else "",
    }


def _all(copies: int) -> str:
    return "both" if copies == 2 else f"all {copies}"


def _gaps(piece: WorkedPiece) -> str:
    return ", ".join(
        f"{opening.what} from {rc(opening.first - 1)} to {rc(opening.last)}"
        for opening in piece.openings
    )


def _filling(teller: Teller) -> dict[str, object]:
    filling = teller.worked.filling
    if filling is None:
        return {"amount": "enough", "material": "filling", "firmness": FIRMNESS["medium"],
                "many": False}  # fmt: skip
    grams = filling_told(filling.mass_g.value, weighed=filling.weighed)
    amount = teller.figures.mass(grams)
    return {
        "amount": amount if filling.weighed else f"about {amount}",
        "material": filling.material or "filling",
        "firmness": FIRMNESS[filling.firmness],
        "many": sum(piece.make for piece in teller.worked.pieces if piece.filled) > 1,
    }


def _fringe(piece: WorkedPiece, teller: Teller) -> dict[str, object]:
    fringe = piece.fringe
    if fringe is None:
        return {"cut": "", "finished": "", "tassels": 0, "strands": 0}
    return {
        "cut": teller.figures.length(fringe.cut_cm),
        "finished": teller.figures.length(fringe.finished_cm),
        "tassels": fringe.tassels,
        "strands": fringe.strands,
    }
