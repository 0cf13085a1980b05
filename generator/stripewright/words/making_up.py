"""Making up: the order that follows from the pieces' facts, or the author's, as steps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.problems import Problem, error
from stripewright.words.facts import nearest
from stripewright.words.units import counter_text, mass_text
from stripewright.words.written import StepGroup

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
    "close_seam": "seamed", "close_gathered": "gathered",
}  # fmt: skip
"""Techniques that are done to one end of a piece, with the edge that they make."""

FINISHES: Mapping[EdgeKind, str] = {
    "open": "finish_edge",
    "hemmed": "hem",
    "gathered": "gather",
    "seamed": "seam_end",
}

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
    steps = tuple(
        teller.step(
            task.do,
            f"making-up.{number}",
            _facts(task, teller),
            piece=task.pieces[0].key if len(task.pieces) == 1 else None,
            note=task.note,
        )
        for number, task in enumerate(tasks, 1)
    )
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
    pieces = worked.pieces
    linings = {piece.lining_of: piece for piece in pieces if piece.lining_of}
    covers = [piece for piece in pieces if not piece.lining_of]
    for piece in covers:
        if piece.filled:
            yield from _filled(piece, linings.get(piece.key))
        else:
            yield from _plain(piece)
            if piece.key in linings:
                yield from _plain(linings[piece.key], piece)
                yield Task("line_open", (linings[piece.key], piece))
    joined = tuple(piece for piece in covers if piece.sides == "joined")
    if sum(piece.make for piece in joined) > 1:
        yield Task("join_panels", joined)
    for piece in covers[1:]:
        if any(word in piece.key.split("_") for word in HANDLES):
            yield Task("attach", (piece, covers[0]))
    yield from (Task("fringe", (piece,)) for piece in covers if piece.fringe)
    if worked.pattern.kind == "bunting":
        yield Task("string", tuple(covers))
    loose = tuple(piece for piece in covers if not piece.filled)
    if loose:
        yield Task("weave_in", loose)
        yield Task("wash", loose)
    if worked.pattern.steam:
        yield Task("press", tuple(covers))


def _filled(piece: WorkedPiece, lining: WorkedPiece | None) -> Iterator[Task]:
    """Close one end, line, fill, close the other."""
    inside = lining or piece
    both = (piece, lining) if lining else (piece,)
    yield Task("tie_tails", (piece,))
    for one in both:
        yield Task("gather" if one.ends[0].edge == "gathered" else "seam_end", (one,), "first")
    if lining:
        yield Task("line", (lining, piece))
    yield Task("fill", (inside,))
    for one in reversed(both):
        do = "close_gathered" if one.ends[1].edge == "gathered" else "close_seam"
        yield Task(do, (one,), "last")


def _plain(piece: WorkedPiece, cover: WorkedPiece | None = None) -> Iterator[Task]:
    """Finish the ends, fold, sew the sides; a lining is closed where its cover is."""
    edges = [end.edge for end in (cover or piece).ends]
    if cover:
        edges = [edge if edge in {"seamed", "gathered"} else "open" for edge in edges]
    if edges == ["grafted", "grafted"]:
        yield Task("graft", (piece,))
    elif edges[0] == edges[1]:
        yield Task(FINISHES[edges[0]], (piece,), "both")
    else:
        for edge, end in zip(edges, ("first", "last"), strict=True):
            if edge != "grafted":
                yield Task(FINISHES[edge], (piece,), end)
    if piece.fold is not None and piece.form == "tube" and "grafted" not in edges:
        closed = edges in (["gathered", "gathered"], ["seamed", "seamed"])
        yield Task("fold_layers" if closed else "tuck_layers", (piece,))
    elif piece.fold is not None:
        yield Task("fold", (piece,))
    if piece.sides == "seamed":
        yield Task("seam_sides", (piece,))


def _facts(task: Task, teller: Teller) -> dict[str, object]:
    """What a technique's text may name; every name is always there."""
    pieces = task.pieces or teller.worked.pieces
    first = pieces[0]
    titles = [piece.title for piece in pieces]
    last = task.end == "last"
    line = first.plan[-1 if last else 0]
    sides = task.do in {"seam_sides", "join_panels"}
    copies = sum(piece.make for piece in pieces)
    which = "side" if sides else "last" if last else "first"
    return {
        "piece": titles[0], "pieces": _listed(titles),
        "copies": copies, "all": "both" if copies == 2 else f"all {copies}",
        "end": ENDS.get(task.end, "the end"),
        "tail": teller.length(teller.tail(f"{first.key}.{which}")),
        "letter": line.letter, "yarn": teller.yarn_names[line.yarn],
        "allowance": first.ends[1 if last else 0].rows, "folded": first.fold is not None,
        "gaps": _gaps(first), "lining": titles[0], "cover": titles[-1], "target": titles[-1],
        "attached": _listed(titles[:-1] or titles),
        **_filling(teller), **_fringe(first, teller),
    }  # fmt: skip


def _listed(titles: Iterable[str]) -> str:
    *most, last = titles
    return f"{', '.join(most)} and {last}" if most else last


def _gaps(piece: WorkedPiece) -> str:
    return ", ".join(
        f"{opening.what} from {counter_text(opening.first - 1)} to {counter_text(opening.last)}"
        for opening in piece.openings
    )


def _filling(teller: Teller) -> dict[str, object]:
    filling = teller.worked.filling
    if filling is None:
        return {"amount": "enough", "material": "filling", "firmness": FIRMNESS["medium"],
                "many": False}  # fmt: skip
    amount = mass_text(filling.mass_g.value, teller.settings.units)
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
        "cut": teller.length(fringe.cut_cm),
        "finished": teller.length(fringe.finished_cm),
        "tassels": fringe.tassels,
        "strands": fringe.strands,
    }
