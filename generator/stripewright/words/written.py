"""A pattern put into words: what a beginner reads at the machine, and the author's own text."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markdown_it.token import Token


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do. `text` is plain text, one or more sentences, never markup.

    `first` and `last` are worked rows (1-based, both included) for a step that knits a stripe.
    """

    number: int
    """Counted through the whole pattern; drawings refer to it."""
    key: str
    """Unique in the pattern and stable while the pattern's shape is: `cover.3`, `making-up.2`."""
    title: str
    text: str
    piece: str | None = None
    """The piece that it is done to, when it is one."""
    technique: str | None = None
    letter: str | None = None
    first: int | None = None
    last: int | None = None
    pieces: tuple[str, ...] = ()
    """The pieces that it is done to alike, when they are several."""
    change: str | None = None
    """For a stripe that the plan tells whole: the change that its own is like (`the first change`),
    or "" where a step before it changes, or nothing has to be changed. None for any other step."""


@dataclass(frozen=True, slots=True)
class StripeRun:
    """Stripes one after another that are knitted down the plan: told once, not one by one."""

    number: str
    """Those of its steps, `5-15`, by an en dash."""
    title: str
    text: str
    steps: tuple[Step, ...]

    @property
    def key(self) -> str:
        """That of the first of its steps, where a link to all of them leads."""
        return self.steps[0].key


@dataclass(frozen=True, slots=True)
class StepGroup:
    """The steps of one piece, or of making up."""

    key: str
    """A piece's key, or `making-up`."""
    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class ToldEvent:
    """Something that happens along a piece, other than a change of stripe, in short words."""

    row: int
    """What the counter reads when it happens."""
    kind: str
    """As `compute.events.Event` has it: slit, slit_end, gap, gap_end, hem, fold, turn_up, join,
    graft, fill_gap, repeat, repeat_end."""
    title: str
    text: str
    until: int | None
    """The counter's reading when it is over."""
    number: int
    """Of the opening, or how many stripes repeat."""
    times: int
    """How often they do."""


@dataclass(frozen=True, slots=True)
class CautionText:
    """A caution with its text."""

    key: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Prose:
    """The author's Markdown after templating: what it says as text, and its tokens."""

    source: str
    tokens: tuple[Token, ...]

    @property
    def empty(self) -> bool:
        """Whether there is nothing in it."""
        return not self.tokens


@dataclass(frozen=True, slots=True)
class PatternText:
    """All words of a pattern."""

    groups: tuple[StepGroup, ...]
    cautions: tuple[CautionText, ...]
    intro: Prose
    """Above the first heading: public."""
    body: Prose
    """From the first heading on: for buyers only when the pattern is paid."""
    events: Mapping[str, tuple[ToldEvent, ...]]
    """What happens along each piece, by its key."""
    steps_at: int | None = None
    """Before which of the body's tokens the author wants the steps; None is after all of them."""
    sizes: Mapping[str, PatternText] = field(default_factory=dict)
    """The words of each further size, by its key; their events go by the piece alone."""

    def of_size(self, key: str) -> PatternText:
        """The words of one size alone, by its key; those of the base as `base`."""
        return replace(self, sizes={}) if key == "base" else self.sizes[key]

    @property
    def public(self) -> PatternText:
        """What everyone may read of a paid pattern: its introduction and its cautions."""
        sizes = {key: replace(text.public, intro=Prose("", ())) for key, text in self.sizes.items()}
        return PatternText((), self.cautions, self.intro, Prose("", ()), {}, sizes=sizes)

    @property
    def before(self) -> Prose:
        """What of the body stands above the steps."""
        return Prose(self.body.source, self.body.tokens[: self.steps_at])

    @property
    def after(self) -> Prose:
        """What of the body stands below the steps and making up."""
        at = len(self.body.tokens) if self.steps_at is None else self.steps_at
        return Prose(self.body.source, self.body.tokens[at:])
