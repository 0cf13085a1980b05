"""Tasks of making up: a technique and the pieces it is done to, told as a step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.figures import filling_told, rc
from stripewright.words.techniques import technique
from stripewright.words.titles import capital, listed, small, the

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedPiece
    from stripewright.words.teller import Teller
    from stripewright.words.written import Step

ENDS = {"first": "the cast-on end", "last": "the take-off end", "both": "both ends"}


FIRMNESS = {"light": "soft enough to fold", "medium": "plump, but still soft to lean on",
            "firm": "hard to press flat"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do: a technique, the pieces it is done to, and the end (first, last, both)."""

    do: str
    pieces: tuple[WorkedPiece, ...] = ()
    end: str = ""
    note: str = ""


def told(teller: Teller, number: int, task: Task, tasks: Sequence[Task]) -> Step:
    """A task as a step. Its text doesn't begin with the piece that nobody could mistake."""
    facts = _facts(task, teller) | _among(number, tasks)
    pieces = tuple(piece.key for piece in task.pieces)
    key = f"making-up.{number}"
    step = teller.step(task.do, key, facts, pieces=pieces, note=task.note)
    begun = f"{facts['pieces']}: "
    if (facts["of"] or len(teller.worked.pieces) == 1) and step.text.startswith(begun):
        return replace(step, text=capital(step.text.removeprefix(begun)))
    return step


def _facts(task: Task, teller: Teller) -> dict[str, object]:
    """What a technique's text may name; every name is always there."""
    pieces = task.pieces or teller.worked.pieces
    first = pieces[0]
    titles = [piece.title for piece in pieces]
    how = technique(task.do)
    last = task.end == "last" or how.tail == "last"
    line = first.plan[-1 if last else 0]
    copies = sum(piece.make for piece in pieces)
    which = "side" if how.tail == "side" else "last" if last else "first"
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


def _among(number: int, tasks: Sequence[Task]) -> dict[str, object]:
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
