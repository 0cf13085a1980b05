"""A pattern worked for somebody's own machine: needles and gauge as they were typed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import say
from stripewright.compute.work import work_anew
from stripewright.pattern.base import Wrong
from stripewright.pattern.quantities import stated_gauge
from stripewright.pattern.read import as_model
from stripewright.pattern.sizes import Size
from stripewright.pipeline.output import Sound
from stripewright.problems import Place, Problem, Refused, error, has_errors, in_order, warning
from stripewright.source.document import Document
from stripewright.source.yaml_tree import read_yaml
from stripewright.words.write import write

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern, WorkedSize
    from stripewright.pattern.settings import Settings
    from stripewright.pattern.yarns import Machine
    from stripewright.words.written import PatternText

LEAST_NEEDLES, MOST_NEEDLES = 4, 1000
"""As in a pattern's `machine:`."""
SWATCH = "{stitches: 30, rows: 44, width: 20 cm, length: 20 cm}"


@dataclass(frozen=True, slots=True)
class OwnMachine:
    """What somebody knits on, as typed; None is as the pattern was designed."""

    needles: int | None = None
    gauge: str | None = None
    swatch: str | None = None
    keep: str = "rows"

    @property
    def other(self) -> bool:
        """Whether anything is otherwise than designed."""
        return (self.needles, self.gauge, self.swatch) != (None, None, None)


def as_size(own: OwnMachine, base: WorkedPattern) -> tuple[Size | None, list[Problem]]:
    """What somebody knits on as a size of the pattern, or what is wrong with it."""
    if own.gauge is not None and own.swatch is not None:
        what = say("--gauge and --swatch both say the gauge")
        return None, [error(Place("--swatch"), what, "keep one")]
    given: dict[str, Any] = {"keep": own.keep}
    machine = base.pattern.machine
    problems = [] if own.needles is None else _needles(own.needles, machine)
    if own.gauge is not None:
        try:
            given["gauge"] = stated_gauge(own.gauge)
        except Wrong as fault:
            problems.append(error(Place("--gauge"), fault.message, fault.hint))
    if own.swatch is not None:
        tree, found = read_yaml(f"swatch: {own.swatch}\n", "--swatch", 1)
        if has_errors(found):
            what = say("“{swatch}” is not a swatch", own.swatch)
            return None, [error(Place("--swatch"), what, say("write it like '{swatch}'", SWATCH))]
        given["swatch"] = tree.front.get("swatch")
    size, found = as_model(_Typed("own", given), Size)
    problems += found
    if size is None or problems:
        return None, problems
    if own.needles is not None:
        bed = machine.model_copy(update={"needles": own.needles})
        size = size.model_copy(update={"machine": bed})
    return size, []


class _Typed(Document):
    """What was typed: each value stands at its option."""

    def place(self, *path: str | int) -> Place:
        """The option that a value was given by."""
        return Place(f"--{path[0]}")

    key_place = place


def _needles(needles: int, machine: Machine) -> list[Problem]:
    if not LEAST_NEEDLES <= needles <= MOST_NEEDLES:
        what = say("{needles} needles can't be right", needles)
        hint = say(
            "write a number from {least_needles} to {most_needles}", LEAST_NEEDLES, MOST_NEEDLES
        )
        return [error(Place("--needles"), what, hint)]
    if machine.bed == "circular" and needles % machine.every:
        what = say(
            "every {every} doesn't go round {needles} needles evenly", machine.every, needles
        )
        return [error(Place("--needles"), what, say("write a multiple of {every}", machine.every))]
    return []


def on_own_machine(
    own: OwnMachine, sound: Sound, document: Document, settings: Settings
) -> tuple[Sound, list[Problem]]:
    """A pattern worked and written anew. Raises Refused for what can't be worked.

    Args:
        own: what is otherwise, and what is kept.
        sound: the pattern as it was designed.
        document: where it was written.
        settings: the studio's.

    Returns:
        Its numbers and words, and warnings.
    """
    size, problems = as_size(own, sound.worked)
    if size is None:
        raise Refused(in_order(problems))
    worked, problems = work_anew(sound.worked, size, document, settings)
    if worked is None:
        raise Refused(in_order(problems))
    written, found = write(worked, document, settings)
    problems += found
    if written is None or has_errors(problems):
        raise Refused(in_order(problems))
    return Sound(worked, written), in_order(problems)


def each_on_own_machine(
    own: OwnMachine, sound: Sound, document: Document, settings: Settings
) -> tuple[Sound, list[Problem]]:
    """The same for every size of a pattern. One that can't be worked is left out, and told.

    Raises Refused where the base can't be worked.
    """
    base, problems = on_own_machine(own, sound.of_size("base"), document, settings)
    sizes: list[WorkedSize] = []
    texts: dict[str, PatternText] = {}
    for size in sound.worked.sizes:
        try:
            anew, found = on_own_machine(own, sound.of_size(size.key), document, settings)
        except Refused as fault:
            problems += [_left_out(size, one) for one in fault.problems if has_errors([one])]
            continue
        problems += [one for one in found if one not in problems]
        sizes.append(replace(size, worked=anew.worked))
        texts[size.key] = anew.written
    named = base.worked.pattern.model_copy(update={"base": sound.worked.pattern.base})
    worked = replace(base.worked, pattern=named, sizes=tuple(sizes))
    return Sound(worked, replace(base.written, sizes=texts)), in_order(problems)


def _left_out(size: WorkedSize, why: Problem) -> Problem:
    what = say("size {title} can't be worked so: {why}", size.title, why.message)
    return warning(why.place, what, why.hint)
