"""Gauge: stitches and rows per cm, from swatches or as the author typed it in."""

from __future__ import annotations

from math import fsum
from statistics import stdev
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.tables import WEIGHTS, yarn_classes
from stripewright.compute.worked import WorkedGauge
from stripewright.figures import decimal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.notes import Notes
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.quantities import StatedGauge
    from stripewright.pattern.yarns import Swatch

SLACK = 2.0
"""Stitches to 4 in that a gauge may stand outside its yarn's class before a warning."""


def gauge_of(swatches: Sequence[Swatch], stated: StatedGauge | None) -> WorkedGauge:
    """The gauge of a pattern, unrounded.

    Args:
        swatches: counted and measured test pieces; their mean is taken, each weighing the same.
        stated: the gauge typed in, used when there is no swatch.

    Returns:
        Stitches and rows per cm, with the sample standard deviation over several swatches.

    Raises:
        ValueError: for neither a swatch nor a stated gauge.

    Source: the definition, counts over lengths.
    """
    if not swatches:
        if stated is None:
            raise ValueError("a gauge needs a swatch or a stated gauge")
        over = stated.over_cm
        return WorkedGauge(stated.stitches / over, stated.rows / over, swatches=0)
    across = [swatch.stitches / swatch.width for swatch in swatches]
    along = [swatch.rows / swatch.length for swatch in swatches]
    several = len(swatches) > 1
    return WorkedGauge(
        fsum(across) / len(across),
        fsum(along) / len(along),
        swatches=len(swatches),
        stitches_spread=stdev(across) if several else None,
        rows_spread=stdev(along) if several else None,
    )


def check_class(pattern: Pattern, gauge: WorkedGauge, notes: Notes) -> None:
    """Warn for each yarn whose class stands more than `SLACK` stitches from the gauge.

    Yarns held together are left out: their class is that of one strand.
    Source: Craft Yarn Council, Standard Yarn Weight System.
    """
    found = gauge.stitches_4in
    for key, yarn in pattern.yarns.items():
        if yarn.weight is None or yarn.strands > 1:
            continue
        known = yarn_classes()[yarn.weight]
        if known.low - SLACK <= found <= known.high + SLACK:
            continue
        notes.warning(
            ("yarns", key, "weight"),
            say(
                "a gauge of {found} stitches to 4 in is far from weight {number} ({name}), "
                "which has {low} to {high}",
                decimal(found, 1),
                yarn.weight,
                say(WEIGHTS[yarn.weight]),
                known.low,
                known.high,
            ),
            "check the swatch, its measures, and the yarn's weight class",
        )
