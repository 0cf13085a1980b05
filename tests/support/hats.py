"""A hat as a pattern file, whose numbers can be worked by hand.

30 stitches on 24 cm are 1.25 to the cm, 40 rows on 20 cm are 2 to the cm.
"""

from __future__ import annotations

GATHERED = "ends: [gathered, gathered], fold: half, rows: 90,\n        parts: [pine 20, foam 10]"
CHILD = (
    "child: {title: Child, machine: {bed: circular, needles: 54}, fit: {head: 49 cm}, "
    "audience: child}"
)
CHANGE = """Hello.

## Change

The first change of this size is at {{ hat.change(1) }}, over {{ hat.stitches }} needles.
"""


def hat_file(
    *keys: str, piece: str = GATHERED, sizes: tuple[str, ...] = (CHILD,), body: str = CHANGE
) -> str:
    """A hat's file.

    Args:
        keys: what its front matter says besides, a line each.
        piece: how it is knitted.
        sizes: its further sizes, a line each.
        body: the author's words.
    """
    return "\n".join(
        [
            "---",
            "title: Lee hat",
            "summary: A hat in sizes.",
            "kind: hat",
            "published: 2026-01-05",
            *keys,
            "machine: {bed: circular, needles: 60}",
            "swatch: {stitches: 30, rows: 40, width: 24 cm, length: 20 cm, mass: 31 g}",
            "yarns:",
            '  pine: {name: Pine, colour: "#20453c", weight: 5, ball: 100 g / 118 m, price: 6.40}',
            '  foam: {name: Foam, colour: "#dfeee4", weight: 5, ball: 100 g / 118 m, price: 6.40}',
            "pieces:",
            f"  hat: {{title: Hat, form: tube, {piece}}}",
            "sizes:",
            *(f"  {size}" for size in sizes),
            "---",
            body,
        ]
    )
