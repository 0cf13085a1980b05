"""Stripes that are told as one step, and those that say something of their own."""

import pytest

from stripewright.view.runs import in_runs
from stripewright.words.written import Step, StepGroup, StripeRun


def told(*changes: str | None) -> list[str]:
    steps = tuple(
        Step(at, f"cover.{at}", f"Stripe {at}", "", change=change)
        for at, change in enumerate(changes, 1)
    )
    return [str(one.number) for one in in_runs(StepGroup("cover", "Cover", steps))]


FIRST = "the first change"


@pytest.mark.parametrize(
    ("changes", "numbers"),
    [
        ((None, "", FIRST, FIRST, FIRST, None), ["1", "2–5", "6"]),
        (("", FIRST, FIRST), ["1", "2", "3"]),  # too few
        ((FIRST,) * 4, ["1–4"]),
        ((FIRST, FIRST, None, FIRST, FIRST), ["1", "2", "3", "4", "5"]),
        ((FIRST, FIRST, "", FIRST, FIRST, FIRST), ["1", "2", "3–6"]),
        ((FIRST,) * 4 + ("the first change of the cover",) * 4, ["1–4", "5–8"]),
        ((), []),
    ],
)
def test_runs_go_on_while_the_change_is_the_same(changes, numbers):
    assert told(*changes) == numbers


def test_a_run_says_where_it_changes():
    steps = [Step(7, "body.5", "Stripe 5", "", change="")]
    steps += [Step(at, f"body.{at - 2}", "", "", change=FIRST) for at in range(8, 12)]
    (run,) = in_runs(StepGroup("body", "Body", tuple(steps)))
    assert isinstance(run, StripeRun)
    assert run.title == "Stripes 5 to 9"
    assert run.text.endswith("Between two stripes change yarns as at the first change.")
    (run,) = in_runs(StepGroup("body", "Body", tuple(steps[1:])))
    assert run.text.startswith("Before each stripe change yarns as at the first change; then ")
