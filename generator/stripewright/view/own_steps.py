"""What a page needs to tell its steps anew for a reader's own machine: texts, and what they name.

`themes/shared/assets/own-steps.js` puts the figures in, as `words.steps`, `words.tasks` and
`words.making_up` do, in the page's own locale: it has the techniques' texts as data and the few
words that stand in their fields, and looks for nothing in what is written on the page.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import N_, _, plain, spoken
from stripewright.compute.worked_piece import DEEP_HEM
from stripewright.in_script import in_script
from stripewright.pattern.pieces import Fill
from stripewright.words.events import SIDES, needle_named
from stripewright.words.making_up import BIG_STITCHES, HANDLES, asked, techniques_of
from stripewright.words.steps import FEW_CHANGES
from stripewright.words.tasks import ENDS, FIRMNESS, MEDIUM
from stripewright.words.techniques import (
    closing,
    finishing,
    own_data,
    shipped_data,
    shipped_techniques,
    technique,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from stripewright.catalogue import Locale
    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.edge import EdgeKind
    from stripewright.pattern.settings import Settings

WORDS = (
    N_("at {needle}, where the counter trips"), N_("at the end of the row"), N_("round"),
    N_("row"), N_("inside"), N_("at the edge"), N_(", {number} strands held together"),
    N_("the first change of {piece}"), N_("the first change"), N_("stripe {number}"),
    N_("the {piece}"), N_("{most} and {last}"), N_("the end"), N_("the two layers of the panel"),
    N_("the two layers"), N_(" of {pieces}"), N_("of the first rows{of} (up to {reading})"),
    N_("of the last rows{of} (from {reading} on)"), N_("live stitch of {end}"),
    N_("loop of the cast-on edge"), N_("{end} of {pieces}"), N_("it"), N_("each"), N_("both"),
    N_("all {number}"), N_("{what} from {first} to {last}"), N_("enough"), N_("filling"),
    N_("about {amount}"), N_("{yarn} {rows}"), N_("last {rows}"), N_("first {rows}"),
    N_("the needle half way round from {needle}"), N_("Stripes {first} to {last}"),
    N_("Before each stripe change yarns as at {change}; then knit until the counter reads "
       "what its line in the plan says, and tick it off there."),
    N_("Knit on down the plan, each stripe until the counter reads what its line there says, "
       "and tick it off. Between two stripes change yarns as at {change}."),
    N_("Each stripe by itself"),
)  # fmt: skip
"""Messages that stand in the fields of steps, as `words` has them."""


def step_data(worked: WorkedPattern) -> dict[str, Any]:
    """What one size's steps depend on, beside the numbers of its pieces."""
    pattern = worked.pattern
    fill = pattern.fill or Fill()
    names = frozenset(shipped_techniques()) | pattern.techniques.keys()
    known = names | {one.do for one in pattern.making_up or ()}
    tasks = None if pattern.making_up is None else [
        [task.do, [piece.key for piece in task.pieces], task.end, task.note]
        for task in asked(worked, known)
    ]  # fmt: skip
    return {
        "knot": pattern.tails.knot,
        "jogs": pattern.jogs == "soften",
        "setting": next((one.setting for one in pattern.swatches if one.setting), ""),
        "steam": pattern.steam,
        "material": fill.material or _("filling"),
        "firmness": _(FIRMNESS[fill.firmness]),
        "tasks": tasks,
        "pieces": {piece.key: _piece(piece) for piece in worked.pieces},
    }


def _piece(piece: WorkedPiece) -> dict[str, Any]:
    machine = piece.machine
    return {
        "bed": machine.bed,
        "needles": machine.needles,
        "every": machine.every,
        "hold": machine.hold or "",
        "counter_at": needle_named(machine.counter_at),
        "live": [end.live for end in piece.ends],
        "tassel": None if piece.fringe is None else piece.fringe.finished_cm,
    }


class Telling(dict[str, Any]):
    """The texts that any size's steps may need, with the words in them, as plain data.

    Many patterns have the same: it is put together, and written as JSON, once for all of them.
    """

    __slots__ = ("script",)

    script: str
    """The same as it stands in a script."""


def text_data(worked: WorkedPattern, settings: Settings) -> Telling:
    """A pattern's texts, in the locale spoken."""
    own = {**settings.techniques, **worked.pattern.techniques}
    sizes = (worked, *(size.worked for size in worked.sizes))
    needed = _needed(sizes)
    edges = {end.edge for one in sizes for piece in one.pieces for end in piece.ends}
    return _telling(
        spoken(),
        tuple(sorted((name, own.get(name)) for name in needed)),
        tuple(sorted(edges)),
        worked.pattern.waste.rows,
        us=settings.terms == "us",
    )


@lru_cache(maxsize=256)
def _telling(
    _words: Locale,
    texts: tuple[tuple[str, str | None], ...],
    edges: tuple[EdgeKind, ...],
    waste_rows: int,
    *,
    us: bool,
) -> Telling:
    told = Telling(
        said={message: told for message in WORDS if (told := plain(message)) != message},
        known={
            "us": us,
            "cast_off": _("cast off"),
            "colour": _("colour"),
            "waste_rows": waste_rows,
        },
        ends={key: _(text) for key, text in ENDS.items()},
        where={side: [_(text) for text in texts] for side, texts in SIDES.items()},
        edges={edge: _edge(edge) for edge in edges},
        firmness=_(MEDIUM),
        graft_for=technique("graft").tail_for,
        texts={name: _text(name, own) for name, own in texts},
        deep=DEEP_HEM,
        big=BIG_STITCHES,
        few=FEW_CHANGES,
        handles=HANDLES,
    )
    told.script = in_script(told)
    return told


def _edge(edge: EdgeKind) -> dict[str, Any]:
    how = technique(finishing(edge))
    return {
        "finishing": finishing(edge),
        "closing": closing(edge),
        "takes_up": how.takes_up,
        "tail_for": how.tail_for,
    }


def _text(name: str, own: str | None) -> list[Any]:
    """A technique's title and text as data, whose tail it names, and whether it makes an edge."""
    how = technique(name)
    text = shipped_data(how.text) if own is None else own_data(own)
    return [shipped_data(how.title), text, how.tail, bool(how.edge)]


def _needed(sizes: Iterable[WorkedPattern]) -> set[str]:
    found = {name for name, each in shipped_techniques().items() if each.always}
    for one in sizes:
        found |= {*techniques_of(one), *_by_pattern(one)}
        for piece in one.pieces:
            found |= {*_by_piece(piece)}
    return found


def _by_pattern(worked: WorkedPattern) -> Iterator[str]:
    if worked.pattern.jogs == "soften":
        yield "soften_jog"
    if worked.pattern.tails.knot == "later":
        yield "tie_tails"
    if any(yarn.strands > 1 or yarn.marl for yarn in worked.yarns):
        yield "hold_together"


def _by_piece(piece: WorkedPiece) -> Iterator[str]:
    opening = "slit" if piece.form == "tube" else "gap"
    if piece.openings:
        yield from (opening, f"at_{opening}", f"at_{opening}_end")
    if any(end.edge == "hemmed" for end in piece.ends):
        yield from ("mark_hem", "at_hem", "weave_under")
    if piece.fold is not None:
        yield from ("mark_fold", "at_fold")
    if piece.brim is not None:
        yield from ("mark_turn_up", "at_turn_up")
    if piece.joins:
        yield from ("mark_join", "at_join")
    if any(end.grafted or end.edge == "grafted" for end in piece.ends):
        yield "at_graft"
    if piece.filled:
        yield "at_fill_gap"
    if piece.make > 1:
        yield "again"
