"""A reading as a pattern's text: a draft that `proof` accepts, each doubtful row a comment."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from stripewright.camera.told import UNKNOWN
from stripewright.catalogue import _, tell
from stripewright.compute.colour_words import words_for
from stripewright.compute.letters import in_order_of_use
from stripewright.figures import counted

if TYPE_CHECKING:
    from stripewright.camera.read import Reading
    from stripewright.camera.told import PieceRead
    from stripewright.paper.sheet_subject import Subject

_FREE = "machine: {bed: circular, needles: 40}\ngauge: 14 sts x 21 rows / 10 cm"
"""For a plain bar, which says nothing of either."""
BLANK = "uncoloured"


def draft_of(reading: Reading, title: str) -> str:
    """A pattern file with the machine, gauge and form of the sheet.

    Args:
        reading: with at least one piece.
        title: of the pattern.
    """
    keys = yarn_keys(reading)
    subject = next((piece.subject for piece in reading.pieces if piece.subject), None)
    filled = any(piece.subject and piece.subject.form == "filled" for piece in reading.pieces)
    read = _("Read from a coloured planning sheet.")
    plain = _("A plain bar says neither machine nor gauge: these are examples.")
    parts = [
        "---",
        f"title: {json.dumps(title, ensure_ascii=False)}",
        f"summary: {read}",
        *( [_machine(subject), _gauge(subject)] if subject
           else [f"# {plain}", _FREE] ),
        *(["fill: medium"] if filled else []),
        "yarns:",
        *_yarns(reading, keys),
        "pieces:",
    ]  # fmt: skip
    for number, piece in enumerate(reading.pieces):
        parts += _piece(reading, number, piece, keys)
    other = {_machine(p.subject) + _gauge(p.subject) for p in reading.pieces if p.subject}
    if len(other) > 1:
        first = _("The sheets differ in machine or gauge: these are the first one's.")
        parts.append(f"# {first}")
    parts += ["---", read, ""]
    return "\n".join(parts)


def stripes_of(reading: Reading) -> str:
    """The yarns and each piece's stripes, to paste into a pattern."""
    keys = yarn_keys(reading)
    lines = ["yarns:", *_yarns(reading, keys)]
    for number, piece in enumerate(reading.pieces):
        lines += ["", f"# {piece.title}: {counted(len(piece.letters), 'row', 'rows')}", "stripes:"]
        lines += _stripes(reading, number, piece, keys, "  ")
    return "\n".join(lines)


def yarn_keys(reading: Reading) -> dict[str, str]:
    """Letter -> the yarn's key, made from its colour's word, in the order of use."""
    words = words_for(reading.colours.values())
    named = dict(zip(reading.colours, (word.replace(" ", "_") for word in words), strict=True))
    used = (letter for piece in reading.pieces for letter, _rows in piece.stripes)
    keys = in_order_of_use(named, used)
    if any(UNKNOWN in piece.letters for piece in reading.pieces):
        keys[UNKNOWN] = BLANK
    return keys


def _yarns(reading: Reading, keys: dict[str, str]) -> list[str]:
    lines = []
    for letter, key in keys.items():
        colour = reading.colours.get(letter, "#ffffff")
        name = key.replace("_", " ").capitalize()
        lines.append(f'  {key}: {{name: {name}, colour: "{colour}"}}  # {letter}')
    return lines


def _machine(subject: Subject) -> str:
    return f"machine: {{bed: {subject.bed}, needles: {subject.needles}}}"


def _gauge(subject: Subject) -> str:
    gauge = subject.gauge
    return f"gauge: {gauge.stitches_10cm:.6g} sts x {gauge.rows_10cm:.6g} rows / 10 cm"


def _piece(reading: Reading, number: int, piece: PieceRead, keys: dict[str, str]) -> list[str]:
    subject = piece.subject
    key = "piece" if len(reading.pieces) == 1 else f"piece_{number + 1}"
    lines = [f"  {key}:", f"    title: {json.dumps(piece.title, ensure_ascii=False)}"]
    if subject is None:
        lines.append("    form: panel")
    else:
        lines.append(f"    form: {'tube' if subject.tube else 'panel'}")
        if subject.stitches != subject.needles:
            lines.append(f"    needles: {subject.stitches}")
        if subject.panels > 1 and "panel" not in piece.title:
            lines += [f"    make: {subject.panels}", "    sides: joined"]
        ends = [f"{{edge: {end.edge}, rows: {end.rows}}}" for end in subject.ends]
        lines.append(f"    ends: [{', '.join(ends)}]")
    lines.append("    stripes:  # " + _("visible rows, from the cast-on end"))
    return lines + _stripes(reading, number, piece, keys, "      ")


def _stripes(
    reading: Reading, number: int, piece: PieceRead, keys: dict[str, str], indent: str
) -> list[str]:
    """One line a stripe, each doubt above the stripe that its rows begin in."""
    doubts = runs_of(reading, number)
    lines, row = [], 0
    for letter, rows in piece.stripes:
        lines += [f"{indent}# {text}" for first, text in doubts if row < first <= row + rows]
        lines.append(f"{indent}- {keys[letter]} {rows}")
        row += rows
    return lines


def runs_of(reading: Reading, piece: int) -> list[tuple[int, str]]:
    """A piece's doubts, rows that follow each other with one message taken together.

    Returns:
        First row, and the text with its rows.
    """
    runs: list[tuple[int, int, str]] = []
    for doubt in reading.doubts:
        if doubt.piece != piece or not doubt.row:
            continue
        if runs and runs[-1][2] == doubt.message and runs[-1][1] == doubt.row - 1:
            runs[-1] = (runs[-1][0], doubt.row, doubt.message)
        else:
            runs.append((doubt.row, doubt.row, doubt.message))
    out = []
    for first, last, text in runs:
        rows = _("row {first}", first=first)
        if first != last:
            rows = _("rows {first} to {last}", first=first, last=last)
        out.append((first, f"{rows}: {tell(text)}"))
    return out
