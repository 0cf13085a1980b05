"""What a planning sheet says of itself to a machine, in 38 characters of a QR code.

One whole number in a mixed radix, written in base 36 behind a mark that tells the form of the
code: `SW1`. 38 capitals and digits are what a QR code of version 2 holds at error correction M
(ISO/IEC 18004, table 7).
"""

from __future__ import annotations

import hashlib
import struct
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, get_args

from stripewright.compute.worked import WorkedGauge
from stripewright.compute.worked_piece import WorkedEnd
from stripewright.paper.sheet_subject import ENDS_OF_FORM, Subject
from stripewright.pattern.edge import EdgeKind

if TYPE_CHECKING:
    from collections.abc import Mapping

LENGTH: Final = 38
PREFIX: Final = "SW1"
"""Another form of the code begins otherwise."""
CODE_MM: Final = 20.0
"""Of the printed code, its quiet zone of four modules on each side included."""
MODULES: Final = 33
"""Across the printed code: 25 and the quiet zone."""

FORMS: Final = tuple(ENDS_OF_FORM)
_BEDS: Final = ("circular", "flat")
_PAPERS: Final = ("a4", "letter")
EDGE_CODES: Final[tuple[EdgeKind, ...]] = get_args(EdgeKind)
_DIGITS: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_FIELDS: Final[Mapping[str, int]] = {
    "form": len(FORMS),
    "bed": len(_BEDS),
    "paper": len(_PAPERS),
    "first_edge": len(EDGE_CODES),
    "last_edge": len(EDGE_CODES),
    "first_rows": 256,
    "last_rows": 256,
    "needles": 1024,
    "stitches": 1024,
    "visible": 1 << 15,
    "panels": 201,
    "fold": 1 << 15,
    "part": 512,
    "across": 1 << 29,
    "along": 1 << 29,
    "title": 1 << 20,
}
"""Each field with how many values it has; more of them never fit into a sheet's file."""
_CHECK: Final = 499
"""The number's remainder by this prime stands behind it: a code of someone else's is refused."""


@dataclass(frozen=True, slots=True)
class Coded:
    """What a code says: the sheet, which page of it, and the paper."""

    subject: Subject
    """Its title is the form's word; the code has no room for the maker's own."""
    part: int
    """1 for the page that begins at the cast-on end."""
    paper: str
    """`a4` or `letter`."""
    digest: int
    """Of the title: tells two sheets of one shape apart."""


def coded_gauge(gauge: WorkedGauge) -> WorkedGauge:
    """A gauge as exactly as the code keeps it, to two parts in ten million."""
    across, along = _real(_bits(gauge.stitches_per_cm)), _real(_bits(gauge.rows_per_cm))
    return replace(gauge, stitches_per_cm=across, rows_per_cm=along)


def title_digest(title: str) -> int:
    """20 bits of a title."""
    return int.from_bytes(hashlib.sha256(title.encode()).digest()[:4]) >> 12


def packed_code(subject: Subject, part: int, paper: str) -> str:
    """The text of a page's code.

    Args:
        subject: what the sheet is for.
        part: the page's number, from 1.
        paper: `a4` or `letter`.
    """
    first, last = subject.ends
    values = {
        "form": FORMS.index(subject.form),
        "bed": _BEDS.index(subject.bed),
        "paper": _PAPERS.index(paper),
        "first_edge": EDGE_CODES.index(first.edge),
        "last_edge": EDGE_CODES.index(last.edge),
        "first_rows": first.rows,
        "last_rows": last.rows,
        "needles": subject.needles,
        "stitches": subject.stitches,
        "visible": subject.visible,
        "panels": subject.panels,
        "fold": subject.fold or 0,
        "part": part,
        "across": _bits(subject.gauge.stitches_per_cm),
        "along": _bits(subject.gauge.rows_per_cm),
        "title": title_digest(subject.title),
    }
    number = 0
    for name, size in _FIELDS.items():
        if not 0 <= values[name] < size:
            raise ValueError(f"a sheet's {name} is {values[name]}, which its code can't hold")
        number = number * size + values[name]
    return PREFIX + _base36(number * _CHECK + number % _CHECK)


def unpack(text: str) -> Coded | None:
    """What a code's text says; None for a code that is not one of ours."""
    if len(text) != LENGTH or not text.startswith(PREFIX) or set(text) - set(_DIGITS):
        return None
    number, check = divmod(int(text[len(PREFIX) :], 36), _CHECK)
    if number % _CHECK != check:
        return None
    values = {}
    for name, size in reversed(list(_FIELDS.items())):
        number, values[name] = divmod(number, size)
    return None if number else _coded(values)


def _coded(values: Mapping[str, int]) -> Coded | None:
    gauge = WorkedGauge(_real(values["across"]), _real(values["along"]), swatches=0)
    sound = 0 < gauge.stitches_per_cm < 1e6 and 0 < gauge.rows_per_cm < 1e6
    counts = (values["visible"], values["stitches"], values["panels"], values["part"])
    if not sound or not all(counts):
        return None
    form = FORMS[values["form"]]
    subject = Subject(
        title=form,
        form=form,
        bed=_BEDS[values["bed"]],
        needles=values["needles"],
        stitches=values["stitches"],
        gauge=gauge,
        visible=values["visible"],
        ends=(
            WorkedEnd(EDGE_CODES[values["first_edge"]], values["first_rows"]),
            WorkedEnd(EDGE_CODES[values["last_edge"]], values["last_rows"]),
        ),
        panels=values["panels"],
        fold=values["fold"] or None,
    )
    return Coded(subject, values["part"], _PAPERS[values["paper"]], values["title"])


def _bits(value: float) -> int:
    """A positive number in 29 bits: IEEE 754's binary32 without its sign and last two bits."""
    bits = int.from_bytes(struct.pack(">f", value)) + 2  # to the nearest that is kept
    return bits >> 2


def _real(bits: int) -> float:
    (value,) = struct.unpack(">f", (bits << 2).to_bytes(4))
    return float(value)


def _base36(number: int) -> str:
    digits = ""
    while number:
        number, digit = divmod(number, 36)
        digits = _DIGITS[digit] + digits
    return digits.rjust(LENGTH - len(PREFIX), "0")
