"""The stash against a studio's patterns: what can be knitted from it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _, say
from stripewright.compute.basket import Basket, BedRows, held_against, rows_on_beds
from stripewright.compute.reach import LongestPiece, YarnAtHand, longest
from stripewright.pattern.amounts import YarnAmount, yarn_amount
from stripewright.pattern.base import Wrong
from stripewright.pipeline.context import make_context
from stripewright.pipeline.make import work_source
from stripewright.pipeline.output import held_back
from stripewright.pipeline.sources import noting_file, read_any, read_sources
from stripewright.pipeline.stash import no_stash
from stripewright.problems import Place, Problem, Refused, did_you_mean, error, has_errors, in_order
from stripewright.studio import STASH

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.pattern.stash import Stash
    from stripewright.pipeline.context import Options
    from stripewright.pipeline.make import WorkedSource
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.sources import SourceFile
    from stripewright.studio import Studio


@dataclass(frozen=True)
class Baskets:
    """What the stash gives: for each pattern, and for each yarn."""

    stash: Stash
    settings: Settings
    patterns: tuple[Basket, ...]
    rows: Mapping[str, tuple[BedRows, ...]]
    """By the yarn's key in the stash."""
    problems: tuple[Problem, ...]
    """Of patterns that were left out for them, and warnings."""


def baskets(
    studio: Studio, options: Options, files: Sequence[Path] = (), yarn: str | None = None
) -> Baskets:
    """Hold patterns against the stash: those of `files`, or all that are published.

    Args:
        studio: with a stash.
        options: the day that decides what is published.
        files: patterns to look at, published or not.
        yarn: tell of this one of the stash alone.

    Raises:
        Refused: settings or stash have mistakes, there is no stash, or no such yarn in it.
    """
    sources, problems = read_sources(studio)
    context, found = make_context(studio, sources, options)
    problems += found
    if context is None or has_errors(problems):
        raise Refused(in_order(problems))
    stash = _stash_of(context.settings, yarn)
    works = [_worked(one, context.settings) for one in sources.of("patterns")]
    found = [problem for one in works if not one.sound for problem in one.problems]
    beds = named = [one.sound.worked for one in works if one.sound and _is_out(one.sound, options)]
    if files:
        read = [read_any(studio, path) for path in files]
        works = [_worked(source, context.settings) for source, _ in read if source]
        found = [one for _, told in read for one in told]
        found += [problem for one in works for problem in one.problems]
        named = [one.sound.worked for one in works if one.sound]
    keys = [yarn] if yarn else list(stash.yarns)
    return Baskets(
        stash,
        context.settings,
        tuple(held_against(one, stash) for one in named),
        {key: rows_on_beds(key, stash.yarns[key], beds) for key in keys},
        tuple(in_order([*problems, *found])),
    )


def _stash_of(settings: Settings, yarn: str | None) -> Stash:
    """The stash, with that yarn in it if one is asked for. Raises Refused."""
    if settings.stash is None:
        raise no_stash()
    if yarn is not None and yarn not in settings.stash.yarns:
        what = say("the stash has no yarn called {yarn}", yarn)
        hint = did_you_mean(yarn, settings.stash.yarns, "list it there")
        raise Refused([error(Place(STASH), what, hint)])
    return settings.stash


def _worked(source: SourceFile, settings: Settings) -> WorkedSource:
    with noting_file(source.name):
        return work_source(source, settings)


def _is_out(sound: Sound, options: Options) -> bool:
    published = sound.worked.pattern.published
    return not held_back(published.isoformat() if published else None, options)


def longest_with(
    worked: WorkedPattern, written: Sequence[str], settings: Settings, file: str
) -> list[LongestPiece]:
    """The longest that each piece of a pattern can be with some yarn, as it was asked for.

    Args:
        worked: the pattern.
        written: amounts, each of all yarns together (`140 g`) or of one (`deep 140 g`).
        settings: the studio's.
        file: the pattern's, for problems.

    Raises:
        Refused: an amount can't be read, names no yarn, or nothing says what the yarn weighs.
    """
    at_hand: list[YarnAtHand] = []
    problems: list[Problem] = []
    for text in written:
        try:
            one = _at_hand(text, worked.pattern.yarns)
        except Wrong as fault:
            problems.append(error(Place(file), fault.message, fault.hint))
        else:
            at_hand.append(one)
            problems += _unweighed(worked, one.yarn, one.amount, file)
    if problems:
        raise Refused(problems)
    return longest(worked, at_hand, settings)


def _at_hand(text: str, yarns: Iterable[str]) -> YarnAtHand:
    """Yarn as the command line gives it: `140 g`, `deep 140 g`. Raises Wrong."""
    first, _, rest = text.strip().partition(" ")
    of_one, right = first in yarns, say("write it like 140 g or 200 m")
    if first[:1].isalpha() and not of_one:
        hint = did_you_mean(first, yarns, "write 140 g, or name a yarn of it")
        raise Wrong(say("--with {text}: no yarn is called {first}", text, first), hint)
    try:
        amount = yarn_amount(rest if of_one else text)
    except Wrong as fault:
        raise Wrong(say("--with {text}: {message}", text, fault.message), right) from None
    if amount.takes:
        raise Wrong(say("--with {text} says no amount", text), right)
    return YarnAtHand(first if of_one else "", amount)


def _unweighed(worked: WorkedPattern, key: str, amount: YarnAmount, file: str) -> list[Problem]:
    if amount.mass_g is None:
        return []
    return [
        error(
            Place(file),
            say("nothing says what {key} weighs", one.key),
            _("give it its ball, weigh the swatch, or write metres"),
        )
        for one in worked.yarns
        if key in ("", one.key) and not one.marl and one.mass_g is None and one.rows
    ]
