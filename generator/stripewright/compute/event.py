"""What can happen along a piece, as plain data: an event, and a stretch of stripes that repeats."""

from __future__ import annotations

from typing import Literal, NamedTuple, get_args

EventKind = Literal[
    "begin", "slit_end", "gap_end", "repeat_end", "hem", "fold", "turn_up", "join", "change",
    "repeat", "slit", "gap", "graft", "fill_gap", "end",
]  # fmt: skip

ORDER: tuple[EventKind, ...] = get_args(EventKind)
"""What comes first at one reading: what ends, then what is marked, then what begins."""


class Event(NamedTuple):
    """Something to do, or to know, when the row counter shows a reading.

    | kind | what happens | what | side | until | number | times |
    | --- | --- | --- | --- | --- | --- | --- |
    | begin | the first stripe begins | its yarn | | its last row | 1 | |
    | change | the next stripe begins | its yarn | | its last row | its number | |
    | slit | a tube is knitted back and forth | its name | which | its last row | its number | |
    | slit_end | it is knitted in the round again | its name | which | | its number | |
    | gap | from here a side edge stays unsewn | its name | which | its last row | its number | |
    | gap_end | to here | its name | which | | its number | |
    | hem | the edge of a hem that is turned up | | first, last | | | |
    | fold | the piece is folded here | | first, last: what goes inside; none of a bag | | | |
    | turn_up | the brim is turned up here | | first, last | | its rows | |
    | join | another piece is attached here | its key | | | | |
    | repeat | a block of stripes begins that repeats | | | last row of all | stripes | how often |
    | repeat_end | the last of them is done | | | | stripes | how often |
    | graft | grafting makes the row beyond that end | its yarn | first, last | | its stripe | |
    | fill_gap | a filled piece stays open here | | last | | | |
    | end | the piece is done | its yarn | | | | |

    Stripes and openings are numbered from 1, as they are told.
    """

    row: int
    """What the counter reads when it happens: 0 before the first row."""
    kind: EventKind
    what: str = ""
    side: str = ""
    until: int | None = None
    """The counter's reading when it is over."""
    number: int = 0
    times: int = 1


class WorkedRepeat(NamedTuple):
    """A block of neighbouring stripes that is knitted several times over, without a difference."""

    first: int
    """Where it begins in the plan, from 0."""
    stripes: int
    """Lines of the plan in one of them."""
    times: int
