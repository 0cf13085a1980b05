"""What the stash gives, on a terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stripewright.catalogue import _
from stripewright.figures import Figures, counted, listed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.compute.basket import Basket, YarnNeed
    from stripewright.pattern.stash import Stash
    from stripewright.pipeline.basket import Baskets


def show_baskets(found: Baskets, *, only_yarn: bool = False) -> None:
    """Print each pattern against the stash, then each yarn's rows, in the studio's own units."""
    figures, console = Figures.of(found.settings), Console(highlight=False)
    if not only_yarn:
        for one in found.patterns:
            console.print(_verdict(one), soft_wrap=True, markup=False, style="bold")
            console.print(_needs(one, found.stash, figures))
        if not found.patterns:
            console.print(_("No pattern is published yet."), markup=False)
    for line in _rows(found, figures):
        console.print(line, soft_wrap=True, markup=False)


def _verdict(one: Basket) -> str:
    title = one.worked.pattern.title
    if one.enough:
        return _("{pattern}: enough of everything", pattern=title)
    lacking = [need.name for need in one.needs if not need.enough]
    if one.with_stand_ins:
        return _(
            "{pattern}: enough, with other colours for {yarns}",
            pattern=title,
            yarns=listed(lacking),
        )
    if all(need.enough or need.just_enough for need in one.needs):
        return _("{pattern}: just enough, without all of the margin", pattern=title)
    return _("{pattern}: lacks {yarns}", pattern=title, yarns=listed(lacking))


def _needs(one: Basket, stash: Stash, figures: Figures) -> Table:
    table = Table()
    for head, right in ((_("key"), False), (_("yarn"), False), (_("it takes"), True),
                        (_("with the margin"), True), (_("there is"), True), (_("enough"), False),
                        (_("could stand in"), False)):  # fmt: skip
        table.add_column(head, justify="right" if right else "left")
    for need in one.needs:
        takes = "–" if need.takes_g is None else figures.measure("g", need.takes_g).own
        wanted = figures.measure("m", need.need_m).own
        if need.need_g is not None:
            wanted = figures.measure("g", need.need_g).own
        there = figures.measure("g", need.left_g).own if need.source else "–"
        table.add_row(need.letter, Text(need.name), takes, wanted, there,
                      _enough(need, figures), Text(_stand_in(need, stash, figures)))  # fmt: skip
    return table


def _enough(need: YarnNeed, figures: Figures) -> str:
    if need.over_g is None:
        return _("not known: it has no ball")
    told = figures.measure("g", abs(need.over_g)).own
    if need.enough:
        return _("yes, {amount} over", amount=told)
    if need.just_enough:
        return _("just: {amount} of the margin are missing", amount=told)
    return _("no, {amount} missing", amount=told)


def _stand_in(need: YarnNeed, stash: Stash, figures: Figures) -> str:
    other = need.stand_in
    if other is None:
        return "" if need.enough else _("nothing")
    name, apart = stash.yarns[other.key].name, figures.number(other.difference, 1)
    there = figures.measure("g", other.left_g).own
    return _("{yarn} ({key}), {amount}; colours {apart} apart (CIEDE2000)", yarn=name,
             key=other.key, amount=there, apart=apart)  # fmt: skip


def _rows(found: Baskets, figures: Figures) -> Iterator[str]:
    """A line for each yarn of the stash, and one for each bed."""
    for key, beds in found.rows.items():
        yarn = found.stash.yarns[key]
        where = f"; {yarn.where}" if yarn.where else ""
        yield f"{key}: {yarn.name}, {figures.measure('g', yarn.left_g)}{where}"
        for one in beds:
            yield "    " + _(
                "{rows} on {needles} needles, {bed} bed (gauge of {pattern})",
                rows=counted(one.rows, "row", "rows"),
                needles=one.needles,
                bed=_(one.bed),
                pattern=one.pattern,
            )
        if not beds:
            yield "    " + _("rows not known: it has no ball, or no pattern is of its weight class")


def basket_object(found: Baskets) -> dict[str, Any]:
    """The same as the object that `basket --json` prints; masses in g, lengths in m, two digits.

    `over_g` is what is left over with the margin kept, below 0 what is lacking; what isn't known is
    null. `enough` of a pattern is about all its yarns, `with_swaps` about those that stand in.
    """
    return {
        "patterns": [
            {
                "pattern": one.worked.slug,
                "title": one.worked.pattern.title,
                "enough": one.enough,
                "with_swaps": one.with_stand_ins,
                "lacks": [need.key for need in one.needs if not need.enough],
                "yarns": [_need_object(need, found.stash) for need in one.needs],
            }
            for one in found.patterns
        ],
        "yarns": {
            key: {
                "name": found.stash.yarns[key].name,
                "colour": found.stash.yarns[key].colour,
                "left_g": round(found.stash.yarns[key].left_g, 2),
                "where": found.stash.yarns[key].where,
                "rows": [
                    {"bed": b.bed, "needles": b.needles, "rows": b.rows, "pattern": b.pattern}
                    for b in beds
                ],
            }
            for key, beds in found.rows.items()
        },
    }


def _need_object(need: YarnNeed, stash: Stash) -> dict[str, Any]:
    def told(value: float | None) -> float | None:
        return None if value is None else round(value, 2)

    other = need.stand_in
    swap = None
    if other is not None:
        yarn = stash.yarns[other.key]
        swap = {"stash": other.key, "name": yarn.name, "colour": yarn.colour,
                "difference": round(other.difference, 2), "left_g": told(other.left_g),
                "need_g": told(other.need_g)}  # fmt: skip
    return {
        "key": need.key,
        "name": need.name,
        "stash": need.source,
        "takes_g": told(need.takes_g),
        "margin": need.margin,
        "need_g": told(need.need_g),
        "need_m": told(need.need_m),
        "left_g": told(need.left_g) if need.source else None,
        "over_g": told(need.over_g),
        "enough": need.enough,
        "just_enough": need.just_enough,
        "swap": swap,
    }
