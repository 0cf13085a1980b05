"""Rows: stripes as the author gives them, built out in full and shared out of a target."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from itertools import groupby
from math import lcm
from typing import TYPE_CHECKING, NamedTuple

from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.run import Run
from stripewright.pattern.stripes import (
    Drawn,
    Faded,
    Fibonacci,
    FromData,
    Graded,
    Mirror,
    Repeat,
    StripeItem,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.pattern.tables import Record
    from stripewright.source.places import Path


@dataclass(frozen=True, slots=True)
class RowShare:
    """One stripe built out: its yarn, its visible rows or share, its least rows if it has some."""

    yarn: str
    count: float
    least: int | None
    by_yarn: ByYarn | None = None
    """Where its rows follow from its yarn; then `count` is 1, the fewest."""
    record: Record | None = None
    """The record that it is knitted for, where it is made from data."""
    at: Path = ()
    """What it was written by: the way there from the list of stripes."""
    slot: int = 0
    """Which of the stripes it is that one written series makes, from 0."""


class StripeRows(NamedTuple):
    """A yarn and the visible rows knitted in it without a break."""

    yarn: str
    rows: int
    written: tuple[int, ...] = ()
    """The rows of each, where several were written next to each other; else empty."""
    records: tuple[tuple[Record, int], ...] = ()
    """The records that it is knitted for, each with its rows."""


def stripe_count(items: Sequence[StripeItem]) -> int:
    """How many stripes the items come to, counted without building them out."""
    total = 0
    for item in items:
        match item:
            case Run() | ByYarn():
                total += 1
            case Repeat():
                total += item.repeat * stripe_count(item.stripes)
            case Mirror():
                total += 2 * stripe_count(item.mirror) - (item.middle == "once")
            case Faded():
                total += 2 * item.bands
            case FromData():
                total += (
                    len(list(groupby(one.yarn for one in item.table.records))) if item.table else 0
                )
            case _:
                total += item.stripes
    return total


def build_stripes(items: Sequence[StripeItem], at: Path = ()) -> list[RowShare]:
    """Build stripes out in full: one part a stripe, in the order they are knitted.

    Counts are visible rows or shares, as they were written. Look at `stripe_count` first: a few
    repeats inside each other come to millions. What is written once and knitted twice, as in
    `mirror:`, has one place. `at` is the way to the list.
    """
    parts: list[RowShare] = []
    for number, item in enumerate(items):
        here = (*at, number)
        match item:
            case Run():
                parts.append(RowShare(item.yarn, item.count, item.least, at=here))
            case ByYarn():
                parts.append(RowShare(item.yarn, 1, None, item, at=here))
            case Repeat():
                parts += build_stripes(item.stripes, (*here, "stripes")) * item.repeat
            case Mirror():
                half = build_stripes(item.mirror, (*here, "mirror"))
                back = half if item.middle == "twice" else half[:-1]
                parts += half + back[::-1]
            case FromData():
                parts += (
                    RowShare(one.yarn, one.rows, None, record=one, at=here, slot=slot)
                    for slot, one in enumerate(item.table.records if item.table else ())
                )
            case _:
                parts += (
                    RowShare(yarn, count, None, at=here, slot=slot)
                    for slot, (yarn, count) in enumerate(_series(item))
                )
    return parts


def _series(item: Fibonacci | Graded | Faded | Drawn) -> Iterator[tuple[str, int]]:
    if isinstance(item, Fibonacci):
        return _fibonacci(item)
    if isinstance(item, Graded):
        return _graded(item)
    return _faded(item) if isinstance(item, Faded) else _drawn(item)


def _graded(item: Graded) -> Iterator[tuple[str, int]]:
    for number in range(item.stripes):
        yield item.graded[number % len(item.graded)], item.first + item.by * number


def _fibonacci(item: Fibonacci) -> Iterator[tuple[str, int]]:
    counts = [1, 1]
    while len(counts) < item.stripes:
        counts.append(counts[-1] + counts[-2])
    counts = counts[: item.stripes]
    if item.order == "shrinking":
        counts.reverse()
    for number, count in enumerate(counts):
        yield item.fibonacci[number % len(item.fibonacci)], count * item.times


def _faded(item: Faded) -> Iterator[tuple[str, int]]:
    """From all but one row of the first yarn to one row, in even steps, the second the mirror."""
    falls, steps = item.band - 2, max(item.bands - 1, 1)
    firsts = [0] * item.bands
    for number in range((item.bands + 1) // 2):
        # rounded half down, so that the first band never loses its last row of the second yarn
        firsts[number] = item.band - 1 - (2 * falls * number + steps) // (2 * steps)
        firsts[-1 - number] = item.band - firsts[number]
    if item.bands % 2:
        firsts[item.bands // 2] = (item.band + 1) // 2
    for rows in firsts:
        yield item.faded[0], rows
        yield item.faded[1], item.band - rows


def _drawn(item: Drawn) -> Iterator[tuple[str, int]]:
    """No yarn follows itself; a yarn named twice is drawn twice as often."""
    lots = _lots(item.seed)
    previous = ""
    for _ in range(item.stripes):
        hat = [yarn for yarn in item.drawn if yarn != previous]
        previous = hat[next(lots) * len(hat) >> 64]
        yield previous, item.least + (next(lots) * (item.most - item.least + 1) >> 64)


def _lots(seed: str) -> Iterator[int]:
    return split_mix(int.from_bytes(sha256(seed.encode()).digest()[:8], "big"))


def split_mix(state: int) -> Iterator[int]:
    """Whole numbers under 2**64, the same on any machine and Python version.

    Args:
        state: the start, under 2**64; for an author's seed, the first eight bytes of its SHA-256.

    Source: SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators",
    OOPSLA 2014).
    """
    mask = (1 << 64) - 1
    while True:
        state = (state + 0x9E3779B97F4A7C15) & mask
        mixed = ((state ^ (state >> 30)) * 0xBF58476D1CE4E5B9) & mask
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & mask
        yield mixed ^ (mixed >> 31)


def share(total: int, shares: Sequence[float], leasts: Sequence[int]) -> list[int]:
    """Share whole rows out by largest remainder (Hamilton's method), none under its least.

    Args:
        total: rows to share out.
        shares: each part's share, over 0, in any unit.
        leasts: the fewest rows of each part, 0 or more.

    Returns:
        Rows of each part; they sum to `total` exactly. A part whose fair share is over its least
        gets that share within one row. A list that reads the same both ways stays so wherever
        `total` allows: an even total, or a middle part, which may then be one row off its share.

    Raises:
        ValueError: when the leasts come to more than the total, or a share is not over 0.

    Source: Hamilton's method of largest remainders; the tie rule is our own.
    """
    if sum(leasts) > total:
        raise ValueError(f"{total} rows can't hold parts of at least {sum(leasts)} rows together")
    weights = _whole(shares)
    floors, rest, whole = _held_up(total, weights, leasts)
    rows = list(leasts)
    remainders: list[tuple[int, int]] = []
    left = rest
    for index, weight in enumerate(weights):
        if index in floors:
            continue
        rows[index], remainder = divmod(rest * weight, whole)
        left -= rows[index]
        remainders.append((-remainder, index))
    remainders.sort()
    mirrored = weights == weights[::-1] and list(leasts) == list(leasts)[::-1]
    for index in _winners(remainders, left, len(weights) if mirrored else 0):
        rows[index] += 1
    return rows


def _whole(shares: Sequence[float]) -> list[int]:
    """The shares as whole numbers in the same ratio, read as the decimals they were written as."""
    exact = [int(one) if one == int(one) else Fraction(repr(one)) for one in shares]
    if min(exact) <= 0:
        raise ValueError("a share is over 0")
    scale = lcm(*(one.denominator for one in exact))
    return [int(one * scale) for one in exact]


def _held_up(
    total: int, weights: Sequence[int], leasts: Sequence[int]
) -> tuple[set[int], int, int]:
    """The parts that their least holds up, and the rows and weights left for all others."""
    rest, whole = total, sum(weights)
    if all(total * weight >= least * whole for weight, least in zip(weights, leasts, strict=True)):
        return set(), rest, whole
    by_need = sorted(
        range(len(weights)), key=lambda i: Fraction(leasts[i], weights[i]), reverse=True
    )
    held = 0  # the last part that is left has just what is left, so this ends
    while rest * weights[by_need[held]] < leasts[by_need[held]] * whole:
        rest -= leasts[by_need[held]]
        whole -= weights[by_need[held]]
        held += 1
    return set(by_need[:held]), rest, whole


def _winners(remainders: list[tuple[int, int]], left: int, mirrored: int) -> list[int]:
    """The parts that get one of the rows left over; `mirrored` is the length of a mirrored list.

    `remainders` holds (minus the remainder, index), sorted: largest remainder first, and first
    come first among equals. In a mirrored list the equals are taken in pairs, from the ends inward,
    and an odd row that is left goes to, or comes from, the middle.
    """
    order = [index for _, index in remainders]
    if not mirrored or remainders[left - 1][0] != remainders[left][0]:
        return order[:left]
    level = remainders[left][0]
    won = [index for value, index in remainders if value < level]
    far = mirrored - 1
    firsts = [index for value, index in remainders if value == level and index < far - index]
    pairs = [end for index in firsts for end in (index, far - index)]
    middle = mirrored // 2 if mirrored % 2 else -1
    need = left - len(won)
    if need % 2 and middle in won:
        won.remove(middle)
        need += 1
    elif need % 2 and middle in order:
        won.append(middle)
        need -= 1
    return won + pairs[:need]


def merged(stripes: Sequence[StripeRows]) -> list[StripeRows]:
    """The stripes with neighbours of one yarn made one: there is no change between them."""
    joined: list[StripeRows] = []
    for stripe in stripes:
        if joined and joined[-1].yarn == stripe.yarn:
            last = joined[-1]
            records = last.records + stripe.records
            parts = (last.written or (last.rows,)) + (stripe.written or (stripe.rows,))
            joined[-1] = StripeRows(
                stripe.yarn, last.rows + stripe.rows, () if records else parts, records
            )
        else:
            joined.append(stripe)
    return joined
