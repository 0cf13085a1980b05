"""The worked numbers as facts, for the author's templates: pieces and yarns by key, and `pattern`.

What a paid pattern's public introduction may say is decided here, once: there, what would tell
rows or yarn is withheld, by name and with the reason.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import N_, say, say_n
from stripewright.figures import rc, rounded
from stripewright.words.facts import Ask, Facts, Hinted, Later, Length, Mass, YarnLength

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.compute.worked import WorkedPattern, WorkedYarn
    from stripewright.compute.worked_piece import PlanLine, WorkedPiece
    from stripewright.figures import Figures

PUBLIC_PIECE = frozenset(
    {"key", "title", "form", "make", "stitches", "flat_width", "girth", "finished_length"}
)
PUBLIC_PATTERN = frozenset({"title", "summary", "kind", "level", "version", "bed", "needles"})
PUBLIC_YARN = frozenset({"key", "letter", "role", "name", "colour", "weight", "fibre", "balls"})
WITHHELD = (
    N_("{name} can't stand in the introduction of a paid pattern: everyone may read that"),
    N_("move it below the first heading, which only buyers read, or say it without numbers"),
)


def namespace(worked: WorkedPattern, figures: Figures) -> dict[str, object]:
    """Everything that a template may name.

    Args:
        worked: the pattern; of a public twin, what a paid pattern keeps for its buyers is left out.
        figures: how the studio tells figures.
    """
    title = worked.pattern.title
    kept = _public if worked.nominal else _whole
    facts: dict[str, object] = {"pattern": kept("pattern", _pattern(worked), PUBLIC_PATTERN, title)}
    for yarn in worked.yarns:
        facts[yarn.key] = kept(yarn.key, _yarn(yarn, figures), PUBLIC_YARN, yarn.name)
    for piece in worked.pieces:
        told = _piece(piece, worked, figures)
        facts[piece.key] = kept(piece.key, told, PUBLIC_PIECE, piece.title)
    return facts


def _whole(key: str, facts: dict[str, object], _shown: frozenset[str], title: str) -> Facts:
    return Facts(key, facts, title=title)


def _public(key: str, facts: dict[str, object], shown: frozenset[str], title: str) -> Facts:
    withheld = {
        name: (say(WITHHELD[0], f"{key}.{name}"), WITHHELD[1])
        for name in facts
        if name not in shown
    }
    return Facts(key, {name: facts[name] for name in facts if name in shown}, withheld, title)


def _pattern(worked: WorkedPattern) -> dict[str, object]:
    pattern = worked.pattern
    return {
        "title": pattern.title,
        "summary": pattern.summary,
        "kind": pattern.kind,
        "level": pattern.level,
        "version": pattern.version,
        "bed": pattern.machine.bed,
        "needles": pattern.machine.needles,
        "waste_rows": pattern.waste.rows,
        "rows": sum(piece.worked_rows * piece.make for piece in worked.pieces),
        "minutes": int(rounded(worked.time.total.value)),
    }


def _yarn(yarn: WorkedYarn, figures: Figures) -> dict[str, object]:
    return {
        "key": yarn.key,
        "letter": yarn.letter,
        "role": yarn.role,
        "name": yarn.name,
        "colour": yarn.colour,
        "weight": yarn.weight,
        "fibre": yarn.fibre or "",
        "balls": yarn.balls.balls if yarn.balls else None,
        "rows": yarn.rows,
        "length": YarnLength(yarn.length_m.value, figures) if yarn.length_m else None,
        "mass": Mass(yarn.mass_g.value, figures) if yarn.mass_g else None,
        "leftover": Mass(yarn.balls.leftover_g, figures) if yarn.balls else None,
    }


def _piece(piece: WorkedPiece, worked: WorkedPattern, figures: Figures) -> dict[str, object]:
    def length(cm: float) -> Length:
        return Length(rounded(cm) if worked.nominal else cm, figures)

    names = {yarn.key: yarn.name for yarn in worked.yarns}
    return {
        "key": piece.key,
        "title": piece.title,
        "form": piece.form,
        "make": piece.make,
        "stitches": piece.stitches,
        "worked_rows": piece.worked_rows,
        "visible_rows": piece.visible_rows,
        "flat_width": length(piece.flat_width_cm),
        "girth": length(piece.girth_cm) if piece.girth_cm is not None else None,
        "finished_length": length(piece.finished_length_cm),
        "worked_length": length(piece.worked_length_cm),
        "fold": rc(piece.fold) if piece.fold is not None else None,
        "brim": rc(piece.brim.turn) if piece.brim is not None else None,
        "worn_length": length(piece.made_up_length_cm),
        "stripes": len(piece.plan),
        "changes": piece.changes,
        "change": Ask("change", _change_of(piece), "change(2)"),
        "plan": Later(lambda: tuple(_line(line, names) for line in piece.plan)),
    }


def _change_of(piece: WorkedPiece) -> Callable[[object], str]:
    def change(number: object) -> str:
        changes = piece.changes
        if isinstance(number, bool) or not isinstance(number, int):
            raise Hinted("change wants a whole number", "write it like change(2), for the second")
        if not 1 <= number <= len(changes):
            raise Hinted(say_n("{piece} has {number} change; there is no change {asked}",
                               "{piece} has {number} changes; there is no change {asked}",
                               len(changes), piece.key, number),
                         say("the first is change(1), the last change({last})", len(changes))
                         if changes else say("a plain piece has none"))  # fmt: skip
        return rc(changes[number - 1])

    return change


def _line(line: PlanLine, names: Mapping[str, str]) -> Facts:
    return Facts(
        "a stripe",
        {
            "letter": line.letter,
            "yarn": names[line.yarn],
            "first": line.first,
            "last": line.last,
            "rows": line.rows,
            "visible": line.visible,
            "rc": rc(line.last),
        },
        title=f"{line.letter} {line.rows}",
    )
