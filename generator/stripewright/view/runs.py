"""Stripes that the plan tells whole, told in one step: a row is said once, where it is ticked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.words.written import StripeRun

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from stripewright.words.written import Step, StepGroup

    ShownSteps = Mapping[str, tuple[Step | StripeRun, ...]]
    """By the key of a group, its steps as they are shown: those of a run as one."""

FEWEST = 4
"""Stripes in a row that are told as one."""


def shown_steps(groups: Iterable[StepGroup]) -> ShownSteps:
    """The steps of each group as page and paper show them."""
    return {group.key: tuple(in_runs(group)) for group in groups}


def in_runs(group: StepGroup) -> Iterator[Step | StripeRun]:
    """The steps of a group; those that follow each other down the plan as one."""
    run: list[Step] = []
    for step in group.steps:
        if not _goes_on(run, step):
            yield from _told(run)
            run = []
        if step.change is None:
            yield step
        else:
            run.append(step)
    yield from _told(run)


def _goes_on(run: list[Step], step: Step) -> bool:
    """Whether a step is one more of a run: the change between two is the same all along."""
    like = run[-1].change if run else None
    return bool(run and step.change) and like in ("", step.change)


def _told(run: list[Step]) -> list[Step] | list[StripeRun]:
    if len(run) < FEWEST:
        return run
    first, last = run[0], run[-1]
    title = _("Stripes {first} to {last}", first=_stripe(first), last=_stripe(last))
    if first.change:
        text = _(
            "Before each stripe change yarns as at {change}; then knit until the counter reads "
            "what its line in the plan says, and tick it off there.",
            change=last.change or "",
        )
    else:
        text = _(
            "Knit on down the plan, each stripe until the counter reads what its line there says, "
            "and tick it off. Between two stripes change yarns as at {change}.",
            change=last.change or "",
        )
    return [StripeRun(f"{first.number}\N{EN DASH}{last.number}", title, text, tuple(run))]


def _stripe(step: Step) -> str:
    return step.key.rpartition(".")[2]
