"""What a page needs to work a pattern anew for its reader's own machine, as plain data.

`themes/shared/assets/own-machine.js` takes it through the same arithmetic as `compute`: sharing
rows out, ends, sizes, filling, yarn, balls. Of a paid pattern's public twin there are no stripes
and no yarn: sizes alone.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from stripewright.compute.brim import brim_end
from stripewright.compute.filling import DENSITY
from stripewright.compute.marl import knitted_yarns
from stripewright.compute.piece_context import decider, edges_of, ends_of, sides_of
from stripewright.compute.yarn import metres_per_gram
from stripewright.figures import Figures
from stripewright.in_script import in_script
from stripewright.pattern.making import Pace
from stripewright.view.own_steps import step_data, text_data

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern, WorkedYarn
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Piece
    from stripewright.pattern.settings import Settings

_EVENT = "stripewright:numbers"
"""What a page hears when the data is there."""


def own_machine_data(worked: WorkedPattern, settings: Settings) -> dict[str, Any]:
    """A pattern's inputs: lengths in cm, yarn in m, masses in g, unrounded; yarns by number.

    Each further size has what is otherwise than in the one written out.
    """
    given = _of_size(worked, settings)
    if worked.nominal:
        return given
    sizes = {size.key: _of_size(size.worked, settings) for size in worked.sizes}
    further = {
        key: {name: value for name, value in one.items() if value != given[name]}
        for key, one in sizes.items()
    }
    return given | {"telling": text_data(worked, settings)} | ({"sizes": further} if sizes else {})


def _of_size(worked: WorkedPattern, settings: Settings) -> dict[str, Any]:
    pattern, gauge = worked.pattern, worked.gauge
    pace = worked.pace or Pace()
    given: dict[str, Any] = {
        "slug": worked.slug,
        "kind": pattern.kind,
        "machine": [pattern.machine.bed, pattern.machine.needles, pattern.machine.every],
        "gauge": [gauge.stitches_per_cm, gauge.rows_per_cm],
        "pieces": [_piece(piece, worked) for piece in worked.pieces],
        "join": list(pattern.join),
        "figures": _figures(worked, settings),
        "pace": pace.model_dump(),
        "waste": pattern.waste.rows,
        "fill": _fill(worked),
        "fit": None if worked.fit is None else [worked.fit.head_cm, worked.fit.ease],
    }
    return given if worked.nominal else given | _yarns(worked) | {"steps": step_data(worked)}


def own_machine_script(data: Mapping[str, Any]) -> bytes:
    """The data as a script that hands it to the page: from disk a page can fetch nothing else."""
    telling = data.get("telling")
    detail = in_script({name: value for name, value in data.items() if name != "telling"})
    if telling is not None:
        detail = f'{detail[:-1]},"telling":{telling.script}}}'
    return f'document.dispatchEvent(new CustomEvent("{_EVENT}",{{detail:{detail}}}));\n'.encode()


def _yarns(worked: WorkedPattern) -> dict[str, Any]:
    pattern, loop = worked.pattern, worked.loop_cm
    number = {yarn.key: at for at, yarn in enumerate(worked.yarns)}
    knitted = {line.yarn for piece in worked.pieces for line in piece.plan}
    held = knitted_yarns(pattern.yarns, knitted)
    reach = next((mpg / one.strands for one in held if (mpg := metres_per_gram(one))), None)
    weights = [s.mass / (s.stitches * s.rows) for s in pattern.swatches if s.mass is not None]
    return {
        "loop": [loop.value, loop.low, loop.high, loop.estimated],
        "stitch_g": sum(weights) / len(weights) if weights else None,
        "reach": reach,
        "margin": pattern.margin,
        "tails": [pattern.tails.inside, pattern.tails.seam],
        "yarns": [_yarn(yarn, pattern, number) for yarn in worked.yarns],
    }


def _yarn(yarn: WorkedYarn, pattern: Pattern, number: Mapping[str, int]) -> dict[str, Any]:
    written = pattern.yarns[yarn.key]
    return {
        "key": yarn.key,
        "letter": yarn.letter,
        "name": yarn.name,
        "colour": yarn.colour,
        "strands": yarn.strands,
        "marl": [number[key] for key in yarn.marl],
        "reach": metres_per_gram(written),
        "balls": [
            [
                one.ball.mass_g,
                one.ball.length_m,
                one.ball.metres_per_gram,
                None if one.price is None else one.price.amount,
                None if one.price is None else one.price.currency or "",
            ]
            for one in written.on_sale
        ],
    }


def _piece(piece: WorkedPiece, worked: WorkedPattern) -> dict[str, Any]:
    given = {
        "key": piece.key, "title": piece.title, "form": piece.form, "make": piece.make,
        "stitches": piece.stitches, "sides": piece.sides, "filled": piece.filled,
        "lining": piece.lining_of, "width": piece.flat_width_cm,
        "length": piece.finished_length_cm, "up": [piece.made_up_width_cm, piece.made_up_length_cm],
        "edges": [end.edge for end in piece.ends],
        "folded": piece.fold is not None, "brimUp": piece.brim is not None,
        "girth": piece.girth_cm is not None,
    }  # fmt: skip
    if worked.nominal:
        bag = piece.girth_cm is None and piece.sides == "seamed"
        return given | {"bed": None, "needles": None, "bag": bag}
    pieces, number = worked.pattern.pieces, {yarn.key: at for at, yarn in enumerate(worked.yarns)}
    said = {
        name: getattr(decider(pieces, piece.key, name), name)
        for name in ("machine", "needles", "fringe", "carry", "attach", "openings", "width")
    }
    written, fringe, attach = pieces[piece.key], said["fringe"], said["attach"]
    return given | {
        "bed": None if said["machine"] is None else said["machine"].in_work,
        "needles": said["needles"],
        "rows": [piece.visible_rows, *(end.rows for end in piece.ends)],
        "ends": [[end.edge, end.rows] for end in ends_of(pieces, piece.key)],
        "plan": [[number[line.yarn], line.visible] for line in piece.plan],
        "own": written.length is not None or written.rows is not None,
        "least": written.least,
        "fold": sides_of(pieces, piece.key)[1],
        "brim": _brim(pieces, piece.key),
        "openings": [[gap.what, gap.after, gap.rows, gap.side] for gap in said["openings"]],
        "fringe": None if fringe is None else
            [fringe.length, fringe.strands, fringe.every,
             None if fringe.yarn is None else number[fringe.yarn]],
        "carry": said["carry"],
        "attach": None if attach is None else [attach.to, attach.at],
        "wish": said["width"],
    }  # fmt: skip


def _brim(pieces: Mapping[str, Piece], key: str) -> list[int | None] | None:
    """Which end is the brim (0, 1), its doubled rows and those turned up."""
    brim = decider(pieces, key, "brim").brim
    if brim is None:
        return None
    return [brim_end(edges_of(pieces, key)), brim.doubled, brim.turned_up]


def _fill(worked: WorkedPattern) -> dict[str, Any]:
    """How densely it is filled; grams where they were weighed and nothing tells how densely."""
    fill, held = worked.pattern.fill, worked.filling
    weighed = None if fill is None else fill.mass
    firm = "medium" if fill is None else fill.firmness
    density = (fill.density if fill is not None else None) or DENSITY[firm]
    if weighed is not None and held is not None:
        density, weighed = 1000 * weighed / held.volume_cm3, None
    return {"density": density, "weighed": weighed}


def _figures(worked: WorkedPattern, settings: Settings) -> dict[str, Any]:
    """How the studio tells figures, for a script that must tell them alike."""
    figures = Figures.of(settings)
    point = figures.number(0.5, 1)[1]
    group = re.sub(r"\d", "", figures.number(1000))
    currencies = {
        one.currency or settings.currency
        for yarn in worked.yarns
        for one in yarn.choices
        if one.cost is not None
    }
    return {
        "imperial": figures.imperial,
        "terms": settings.terms,
        "marks": [point, group],
        "currency": settings.currency,
        "prices": {code: figures.price(1234.5, code) for code in sorted(currencies)},
    }
