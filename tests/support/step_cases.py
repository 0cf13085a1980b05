"""Case files of steps: a pattern file whose comments say what its steps must tell.

    # > cover.change = Stop at the first needle, ... slowly.     the whole text of that step
    # > cover.3 ~ change as at the first change                  a part of it
    # > cover.3 ~! short tail                                    what it must not say
    # > never ~ lay the tube flat                                what no step says
    # > making-up: tie_tails, seam_end, fill                     techniques of a group, in order
    # > mitt@10 slit = Thumb: the slit begins: Knit back ...     an event's title and text
    # > supplies: Blunt yarn needle, Crochet hook, ...           what to have at hand

An expectation is a comment of the front matter, anywhere in it; one that goes on does so in
comments that begin with three spaces. Files are found by themselves: adding one takes no Python.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from stripewright.source.reader import read_document
from stripewright.words.supplies import supplies
from stripewright.words.write import write
from support.patterns import SETTINGS, worked_from

CASES = sorted((Path(__file__).parent.parent / "words" / "cases").glob("*.md"))
_ONE = re.compile(r"(?P<key>[\w.-]+(?:@\d+ \w+)?)\s*(?P<how>=|~!|~|:)\s*(?P<what>.*)", re.DOTALL)


@dataclass(frozen=True)
class Expected:
    key: str
    how: str
    what: str

    def check(self, steps, groups, at_hand):
        """Raises AssertionError, naming what was expected."""
        if self.key == "never":
            said = [key for key, text in steps.items() if self.what.lower() in text.lower()]
            assert not said, f"{self.what!r} is said in {said}: {steps[said[0]]}"
        elif self.how == ":":
            found = at_hand if self.key == "supplies" else groups[self.key]
            assert ", ".join(found) == self.what
        elif self.how == "=":
            assert steps[self.key] == self.what
        else:
            assert (self.what in steps[self.key]) == (self.how == "~"), steps[self.key]


def expectations(text):
    """Those of a case's source, in order."""
    found = []
    for line in text.split("\n"):
        if line.strip().startswith("# > "):
            found.append(line.strip().removeprefix("# > "))
        elif found and line.strip().startswith("#   "):
            found[-1] += " " + line.strip()[1:].strip()
    return [Expected(**_ONE.fullmatch(one).groupdict()) for one in found]


def told(path, text):
    """A case's steps and events by key, the techniques of its groups, and its supplies by name."""
    worked = worked_from(text, slug=path.stem)
    document, _ = read_document(text.encode(), f"content/patterns/{path.name}")
    written, problems = write(worked, document, SETTINGS)
    assert written is not None, problems
    steps = {step.key: step.text for group in written.groups for step in group.steps}
    for piece, events in written.events.items():
        steps |= {f"{piece}@{one.row} {one.kind}": f"{one.title}: {one.text}" for one in events}
    groups = {group.key: [s.technique for s in group.steps] for group in written.groups}
    return steps, groups, [one.name for one in supplies(worked)]
