"""What happens along a piece in short words: plan, counter, schematic and paper print these."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _
from stripewright.figures import rc
from stripewright.words.pieces import the
from stripewright.words.written import ToldEvent

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.compute.event import Event
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.words.teller import StepWriter

SIDES = {
    "left": (
        N_("on the left of the tube as it lies flat"),
        N_("left edge, as seen from the right side"),
    ),
    "right": (
        N_("on the right of the tube as it lies flat"),
        N_("right edge, as seen from the right side"),
    ),
    "both": (
        N_("on the left and right of the tube as it lies flat"),
        N_("left and right edge, as seen from the right side"),
    ),
}
"""Where an opening is, of a tube and of a panel."""
STRIPES = frozenset({"begin", "change", "end"})
"""Events that the stripes of a plan tell themselves."""


def told_events(teller: StepWriter, piece: WorkedPiece) -> tuple[ToldEvent, ...]:
    """All that happens along a piece but its stripes, in order, each with its title and words."""
    return tuple(_told(teller, piece))


def _told(teller: StepWriter, piece: WorkedPiece) -> Iterator[ToldEvent]:
    for event in piece.events:
        if event.kind not in STRIPES:
            facts, name = event_facts(teller, piece, event), f"at_{event.kind}"
            title, text = teller.told(name, facts)
            yield ToldEvent(
                event.row, event.kind, title, text, event.until, event.number, event.times
            )


def event_facts(teller: StepWriter, piece: WorkedPiece, event: Event) -> dict[str, object]:
    """What a text about an event may name."""
    last = event.until or event.row
    what, letter = event.what, ""
    if event.kind == "join":
        what = the(teller.worked.piece(what).title)
    elif event.kind == "graft":
        letter = teller.worked.yarn(what).letter
    side = SIDES.get(event.side)
    return {
        "what": what, "side": event.side, "form": piece.form, "letter": letter,
        "at": rc(event.row), "until": rc(last), "rows": last - event.row,
        "number": event.number, "times": event.times, "repeated": repeated(piece, event),
        "turn": _turn(piece, event), "goes_in": goes_in(piece),
        "where": _(side[piece.form == "panel"]) if side else "",
    }  # fmt: skip


def repeated(piece: WorkedPiece, event: Event) -> str:
    """The rows of a block's first time, at its beginning or end: `11–36`; empty for all else."""
    for block in piece.repeats:
        first = piece.plan[block.first]
        last = piece.plan[block.first + block.stripes - 1]
        end = piece.plan[block.first + block.stripes * block.times - 1]
        if (event.kind, event.row) in (("repeat", first.first - 1), ("repeat_end", end.last)):
            return f"{first.first}–{last.last}"
    return ""


def needle_named(mark: str | None) -> str:
    """A needle as a sentence names it: by its number, its mark, or as the first."""
    if mark is None:
        return _("the first needle")
    if mark.isdigit():
        return _("needle {number}", number=mark)
    return mark if mark.lower().startswith(("the ", "needle ")) else _("the {mark}", mark=mark)


def _turn(piece: WorkedPiece, event: Event) -> str:
    """Where a slit's rows turn: at the counter's needle; one on the other side, half way round."""
    counter_at = needle_named(piece.machine.counter_at)
    sides = [gap.side for gap in piece.openings if gap.side != "both"]
    opposite = event.side in ("left", "right") and sides[:1] not in ([event.side], [])
    return (
        _("the needle half way round from {needle}", needle=counter_at) if opposite else counter_at
    )


def goes_in(piece: WorkedPiece) -> str:
    """The worked rows of a double layer that go inside: `first 47`."""
    if piece.fold is None:
        return ""
    inside = piece.inside
    rows = piece.worked_rows - piece.fold if inside == "last" else piece.fold
    return _("last {rows}", rows=rows) if inside == "last" else _("first {rows}", rows=rows)
