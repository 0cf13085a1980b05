"""Yarns and what else to have at hand, as they are told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.compute.tables import WEIGHTS
from stripewright.figures import Figures, counted, listed
from stripewright.phrases import Measure, Phrase, phrase

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import BallCount, WorkedYarn
    from stripewright.pattern.settings import Settings
    from stripewright.words.supplies import Supply


@dataclass(frozen=True, slots=True)
class BuyView:
    """Balls of one size to buy."""

    balls: int
    count: str
    """3 balls."""
    ball: Measure
    """Mass of one."""
    cost: str | None
    leftover: Measure | None
    """None when nothing is left, or it isn't told."""
    text: Phrase
    """3 balls of 100 g (3.5 oz), 120 m (131 yd) each, £13.50 in all."""


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A yarn: how much it takes, where that is told, and what to buy."""

    letter: str
    role: str
    name: str
    colour: str
    weight: int | None
    weight_class: str
    """5 (bulky); "" when it isn't known."""
    fibre: str
    """What it is made of, and what is held together: wool, 2 strands held together."""
    about: str
    """"about " before an estimate, else ""."""
    length: Measure | None
    mass: Measure | None
    uses: Phrase | None
    """about 340 m (372 yd), 180 g (6.3 oz)."""
    buy: BuyView | None
    others: tuple[Phrase, ...]
    """Balls of the other sizes that it is sold in, which would do as well."""


@dataclass(frozen=True, slots=True)
class SupplyView:
    """Anything else to have at hand: filling, waste yarn, a needle."""

    name: str
    mass: Measure | None
    amount: Phrase | None
    """about 240 g (8.5 oz)."""
    what: str = ""
    """filling or waste: what a reader's own machine changes."""


def material(
    yarn: WorkedYarn, names: Mapping[str, str], settings: Settings, figures: Figures
) -> MaterialView:
    """A yarn with what it takes and what to buy; `names` are those of all yarns, by key."""
    length = figures.measure("m", yarn.length_m.value) if yarn.length_m else None
    mass = figures.measure("g", yarn.mass_g.value) if yarn.mass_g else None
    about = bool(yarn.length_m and yarn.length_m.estimated)
    said = _("about {amount}", amount="") if about else ""
    uses = Phrase(length, *((", ", mass) if mass else ())) if length else None
    if uses and about:
        uses = phrase(_("about {amount}"), amount=uses)
    kind = "" if yarn.weight is None else f"{yarn.weight} ({_(WEIGHTS[yarn.weight])})"
    buy = _buy(yarn.balls, settings, figures) if yarn.balls else None
    others = tuple(
        _buy(count, settings, figures).text for count in yarn.choices if count != yarn.balls
    )
    return MaterialView(yarn.letter, yarn.role, yarn.name, yarn.colour, yarn.weight, kind,
                        _fibre(yarn, names), said, length, mass, uses, buy, others)  # fmt: skip


def _fibre(yarn: WorkedYarn, names: Mapping[str, str]) -> str:
    """What a yarn is made of, and the strands that are held together."""
    held = _("{number} strands held together", number=yarn.strands) if yarn.strands > 1 else ""
    if yarn.marl:
        strands = listed(names[key] for key in yarn.marl)
        held = _("one strand each of {yarns}, held together", yarns=strands)
    return ", ".join(filter(None, (yarn.fibre, held)))


def _buy(count: BallCount, settings: Settings, figures: Figures) -> BuyView:
    many = counted(count.balls, "ball", "balls")
    ball, each = figures.measure("g", count.mass_g), figures.measure("m", count.length_m)
    cost = None
    if count.cost is not None:
        cost = figures.price(count.cost, count.currency or settings.currency)
    if cost:
        text = phrase(
            _("{balls} of {mass}, {length} each, {cost} in all"),
            balls=many,
            mass=ball,
            length=each,
            cost=cost,
        )
    else:
        text = phrase(_("{balls} of {mass}, {length} each"), balls=many, mass=ball, length=each)
    leftover = figures.measure("g", count.leftover_g) if count.leftover_g else None
    return BuyView(count.balls, many, ball, cost, leftover, text)


def supply(one: Supply, figures: Figures) -> SupplyView:
    """A thing to have at hand."""
    mass = figures.measure("g", one.mass_g) if one.mass_g else None
    amount = mass or (figures.measure("m", one.length_m) if one.length_m else None)
    told = Phrase(amount) if amount else None
    if told and one.estimated:
        told = phrase(_("about {amount}"), amount=told)
    return SupplyView(one.name, mass, told, one.what)


def cost_of(yarns: Sequence[WorkedYarn], settings: Settings, figures: Figures) -> str | None:
    """What all balls cost; None when one has no price, or they are in several currencies."""
    bought = [yarn.balls for yarn in yarns]
    costs = [count.cost for count in bought if count and count.cost is not None]
    currencies = {count.currency or settings.currency for count in bought if count}
    if len(costs) < len(bought) or len(currencies) != 1:
        return None
    return figures.price(sum(costs), currencies.pop())
