"""Tasks of making up: a technique and the pieces it is done to, told as a step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _
from stripewright.figures import filling_told, listed, rc
from stripewright.phrases import capital
from stripewright.words.events import goes_in
from stripewright.words.pieces import brim_shows, small, the
from stripewright.words.techniques import technique

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.brim import WorkedBrim
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.words.teller import StepWriter
    from stripewright.words.written import Step

ENDS = {"first": N_("the cast-on end"), "last": N_("the take-off end"), "both": N_("both ends")}


_END = N_("the end")
FIRMNESS = {
    "light": N_("soft enough to fold"),
    "medium": N_("plump, but still soft to lean on"),
    "firm": N_("hard to press flat"),
}
MEDIUM = FIRMNESS["medium"]
"""What is told where the pattern doesn't say how firmly it is filled."""


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do: a technique, the pieces it is done to, and the end (first, last, both)."""

    do: str
    pieces: tuple[WorkedPiece, ...] = ()
    end: str = ""
    note: str = ""


def task_step(teller: StepWriter, number: int, task: Task, tasks: Sequence[Task]) -> Step:
    """A task as a step. Its text doesn't begin with the piece that nobody could mistake."""
    facts = _facts(task, teller) | _among(number, tasks)
    waste = _waste(task, facts, tasks[: number - 1], teller)
    pieces = tuple(piece.key for piece in task.pieces)
    key = f"making-up.{number}"
    step = teller.step(task.do, key, facts | {"waste": waste}, pieces=pieces, note=task.note)
    begun = f"{facts['pieces']}: "
    if (facts["of"] or len(teller.worked.pieces) == 1) and step.text.startswith(begun):
        return replace(step, text=capital(step.text.removeprefix(begun)))
    return step


def _facts(task: Task, teller: StepWriter) -> dict[str, object]:
    """What a technique's text may name; every name is always there."""
    pieces = task.pieces or teller.worked.pieces
    first = pieces[0]
    titles = [piece.title for piece in pieces]
    named = [*map(the, titles)]
    how = technique(task.do)
    last = task.end == "last" or how.tail == "last"
    line = first.plan[-1 if last else 0]
    copies = sum(piece.make for piece in pieces)
    which = "side" if how.tail == "side" else "last" if last else "first"
    return {
        "piece": small(titles[0]), "the_piece": named[0],
        "pieces": capital(listed(map(small, titles))), "the_pieces": listed(named),
        "copies": copies, "all": _all(copies), "attached_copies": first.make,
        "attached_all": _all(first.make),
        "end": _(ENDS.get(task.end, _END)), "both_ends": task.end == "both", "last": last,
        "tail": teller.tail(f"{first.key}.{which}"),
        "letter": line.letter, "yarn": teller.yarn_names[line.yarn],
        "grafted": line.grafted if last else line.grafted_before, "laid_by": last and not line.rows,
        "yarns": len({line.yarn for piece in pieces for line in piece.plan}),
        "allowance": first.ends[1 if last else 0].rows, "folded": first.fold is not None,
        "inner": first.lining_of is not None, "filled": _is_filled(first, teller),
        "form": first.form, "ring": first.ring, "turned": _turned(pieces),
        "same": first.ends[0].edge == first.ends[1].edge, "odd": first.stitches % 2 == 1,
        "slit": any(gap.side != "both" for gap in first.openings),
        "gaps": _gaps(first), "stripes": max(len(piece.plan) for piece in pieces),
        "the_lining": named[0], "the_cover": named[-1],
        "target": named[-1], "attached": listed(named[:-1] or named),
        "order": _order(teller), "hung_by": _hung_by(pieces), "goes_in": goes_in(first),
        "width": teller.figures.length(first.flat_width_cm),
        "length": teller.figures.length(first.made_up_length_cm),
        "layers": _("the two layers of the panel") if first.form == "panel"
                  else _("the two layers"),
        **_brim(first, pieces, teller), **_end(task, first), **_filling(first, teller),
        **_fringe(pieces, teller),
    }  # fmt: skip


def _brim(
    first: WorkedPiece, pieces: Sequence[WorkedPiece], teller: StepWriter
) -> dict[str, object]:
    """A brim that is turned up, and which of the tails lie on what shows of it."""
    wrong = [piece for piece in pieces if piece.brim and piece.brim.layers == 1]
    told = [
        _up_to_the_turn(brim, _(" of {pieces}", pieces=the(piece.title)) if pieces[1:] else "")
        for piece in wrong
        if (brim := piece.brim)
    ]
    brim = first.brim
    return {
        "shown_wrong": listed(told) if told else "",
        "brim_stripes": len(brim.bands) if brim else 0,
        "brim_at": rc(brim.turn) if brim else "",
        "hem_covers": listed(map(rc, first.under_hem)) if first.under_hem else "",
        "brim_rows": brim.rows if brim else 0,
        "brim_layers": brim.layers if brim else 0,
        "brim_height": teller.figures.length(brim.rows / teller.worked.gauge.rows_per_cm)
        if brim
        else "",
        "brim_shows": brim_shows(first, teller.worked),
    }


def _up_to_the_turn(brim: WorkedBrim, of: str) -> str:
    if brim.end == "first":
        return _("of the first rows{of} (up to {reading})", of=of, reading=rc(brim.turn))
    return _("of the last rows{of} (from {reading} on)", of=of, reading=rc(brim.turn))


def _end(task: Task, piece: WorkedPiece) -> dict[str, object]:
    """The stitches at an end, live or not, and where the piece is sewn on."""
    first, last = piece.ends
    live = (last if task.end == "last" else first).live
    stands = piece.attachment.row if piece.attachment else None
    loops = _("live stitch of {end}", end=_(ENDS.get(task.end, _END)))
    return {
        "live": live,
        "loops": loops if live else _("loop of the cast-on edge"),
        "hung": task.end == "last" and not first.live,
        "marked": (last if task.end == "last" else first).deep,
        "sits": rc(stands) if stands is not None else "",
    }


def _hung_by(pieces: Sequence[WorkedPiece]) -> str:
    """The end that is the top of what hangs: the take-off end, unless that one is the point."""
    by: dict[str, list[str]] = {}
    for piece in pieces:
        pointed = piece.ends[1].edge == "gathered" != piece.ends[0].edge
        by.setdefault("first" if pointed else "last", []).append(the(piece.title))
    if len(by) == 1:
        return "".join(_(ENDS[end]) for end in by)
    told = (_("{end} of {pieces}", end=_(ENDS[end]), pieces=listed(by[end])) for end in by)
    return listed(told)


def _waste(
    task: Task, facts: Mapping[str, object], before: Sequence[Task], teller: StepWriter
) -> str:
    """How the waste yarn comes off at a task's end; in full the first time."""
    ends = {"first", "last"} if task.end == "both" or not task.end else {task.end}
    if technique(task.do).tail == "last":
        ends = {"first", "last"}
    done = [one for one in before if technique(one.do).edge and one.pieces]
    before_ends = {one.end for one in done}
    told_before = {"first", "last"} if "both" in before_ends else before_ends
    end = _(ENDS["both"]) if len(ends) == 2 else facts["end"]
    again = "first" in ends and ends <= told_before
    about = {
        "end": end,
        "both_ends": len(ends) == 2,
        "last": ends == {"last"},
        "again": again,
        "as_you_go": task.do.startswith("graft"),
    }
    return teller.told("waste_off", {**facts, **about})[1]


def _turned(pieces: Sequence[WorkedPiece]) -> str:
    """Which of some pieces have to be turned inside out to reach their wrong side."""
    hollow = [piece for piece in pieces if piece.form == "tube" or piece.sides == "seamed"]
    if len(hollow) == len(pieces):
        return _("it") if sum(piece.make for piece in pieces) == 1 else _("each")
    return listed(the(piece.title) for piece in hollow) if hollow else ""


def _is_filled(piece: WorkedPiece, teller: StepWriter) -> bool:
    """Whether it is filled, or lines what is."""
    return piece.filled or bool(piece.lining_of and teller.worked.piece(piece.lining_of).filled)


def _order(teller: StepWriter) -> str:
    """The order in which panels lie side by side, where the author says it."""
    titles = {piece.key: small(piece.title) for piece in teller.worked.pieces}
    return ", ".join(titles[key] for key in teller.worked.pattern.join)


def _among(number: int, tasks: Sequence[Task]) -> dict[str, object]:
    """What tells a task from others of its kind: whose end it is, and the piece it was shown on."""
    task = tasks[number - 1]
    alike = [one for one in tasks if (one.do, one.end) == (task.do, task.end) and one.pieces]
    several = bool(task.end and task.pieces) and len(alike) > 1
    shown = next((one for one in tasks[: number - 1] if one in alike), None) if several else None
    return {
        "of": _(" of {pieces}", pieces=listed(the(piece.title) for piece in task.pieces))
        if several
        else "",
        "like": listed(the(piece.title) for piece in shown.pieces) if shown else "",
    }


def _all(copies: int) -> str:
    return _("both") if copies == 2 else _("all {number}", number=copies)


def _gaps(piece: WorkedPiece) -> str:
    return ", ".join(
        _(
            "{what} from {first} to {last}",
            what=opening.what,
            first=rc(opening.first - 1),
            last=rc(opening.last),
        )
        for opening in piece.openings
    )


def _filling(piece: WorkedPiece, teller: StepWriter) -> dict[str, object]:
    filling = teller.worked.filling
    if filling is None:
        return {
            "amount": _("enough"),
            "material": _("filling"),
            "firmness": _(MEDIUM),
            "many": False,
        }
    many = sum(piece.make for piece in teller.worked.pieces if piece.filled) > 1
    each = dict(filling.pieces).get(piece.lining_of or piece.key) if many else None
    grams = filling_told((each or filling.mass_g).value, weighed=filling.weighed)
    amount = teller.figures.mass(grams)
    return {
        "amount": amount if filling.weighed and not each else _("about {amount}", amount=amount),
        "material": filling.material or _("filling"),
        "firmness": _(FIRMNESS[filling.firmness]),
        "many": many and each is None,
    }


def _fringe(pieces: Sequence[WorkedPiece], teller: StepWriter) -> dict[str, object]:
    """The fringe of a piece, or of panels that are joined, along all of them."""
    fringe = pieces[0].fringe
    if fringe is None:
        return {"cut": "", "finished": "", "tassels": 0, "strands": 0, "every": 0, "along": False,
                "layers_through": 1, "fringe_first": "", "fringe_last": ""}  # fmt: skip
    first, last = (teller.worked.yarn(key).letter for key in fringe.yarns)
    return {
        "cut": teller.figures.length(fringe.cut_cm),
        "finished": teller.figures.length(fringe.finished_cm),
        "tassels": sum(piece.all_tassels for piece in pieces) if fringe.along else fringe.tassels,
        "along": bool(fringe.along),
        "strands": fringe.strands,
        "every": fringe.every,
        "layers_through": fringe.layers,
        "fringe_first": first,
        "fringe_last": last,
    }
