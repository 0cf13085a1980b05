"""What passes from stage to stage of a source file, and what it gives to the site. Plain data."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import say
from stripewright.compute.heights import true_heights
from stripewright.compute.public import equal_bands
from stripewright.problems import has_errors

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pages.cards import Card
    from stripewright.pipeline.context import Options
    from stripewright.pipeline.moved import Moved
    from stripewright.problems import Problem
    from stripewright.view.secrets import PublishedPhrases, Secrets
    from stripewright.view.views import PostView, SheetView
    from stripewright.words.boundary import Public
    from stripewright.words.links import OwnLink
    from stripewright.words.written import PatternText

ALWAYS = ""
"""The day on which something appears that never waits: earlier than any."""


def held_back(published: str | None, options: Options) -> str:
    """Why something is not published yet: "", "draft" or "held back until DATE"."""
    if published is None:
        return "draft"
    return (
        say("held back until {published}", published) if published > options.on.isoformat() else ""
    )


class Sound(NamedTuple):
    """A pattern without an error: its numbers and its words."""

    worked: WorkedPattern
    written: PatternText
    drawn: WorkedPattern | None = None
    """What its drawings are made from, where that isn't `worked`."""

    def of_size(self, key: str) -> Sound:
        """One size alone, by its key; the one that is written out as `base`."""
        return Sound(self.worked.of_size(key), self.written.of_size(key))

    @property
    def for_everyone(self) -> Sound:
        """All of a free pattern, and of a paid one its public twin.

        Here, and nowhere else, free and paid part ways: what comes after shows all of what it is
        given.
        """
        return self.public if self.worked.pattern.access == "paid" else self

    @property
    def public(self) -> Sound:
        """The twin that everyone may see of a paid pattern."""
        return Sound(equal_bands(self.worked), self.written.public, true_heights(self.worked))


@dataclass(frozen=True)
class Output:
    """Everything that a source file gives to the site, whatever its kind; can be pickled."""

    name: str
    """The source file's name."""
    slug: str
    problems: tuple[Problem, ...]
    held: str = ""
    access: str = "free"
    files: Mapping[str, bytes] = field(default_factory=dict)
    card: Card | None = None
    """Of a pattern; None when it is held back, or broken."""
    view: PostView | SheetView | None = None
    """Of anything else, for the pages that show it; None as above."""
    secrets: Secrets | None = None
    """What a paid pattern keeps: it must not be found on the site."""
    said: PublishedPhrases | None = None
    """What a free pattern says: it is no secret, even if a paid one says it too."""
    published: str | None = None
    """The day it appears, as an ISO date; None of a draft."""
    pictures: tuple[str, ...] = ()
    """Names of the studio's pictures that it shows, to anyone or to its buyers."""
    links: tuple[OwnLink, ...] = ()
    """What its texts link to on the site."""
    mentions: tuple[OwnLink, ...] = ()
    """Patterns that a post says it is about; one that is held back is not linked to yet."""
    public: Public | None = None
    """How much of a paid pattern's text everyone may read."""
    stash: tuple[str, ...] = ()
    """Keys of the stash's yarns that it shows."""
    formerly: tuple[Moved, ...] = ()
    """Addresses that it had before."""
    letters: tuple[str, ...] = ()
    """The yarns' letters as stripes first use them, where that isn't the alphabet's order."""
    parts: Mapping[str, str] = field(default_factory=dict)
    """Of a pattern's page, the digest of each part of what it tells (`view.contents`)."""

    @property
    def kind(self) -> str:
        """Its folder in content."""
        return PurePosixPath(self.name).parent.name

    @property
    def shown(self) -> Card | PostView | SheetView | None:
        """What lists and its own page show of it; None where anything is wrong with it."""
        return None if has_errors(self.problems) else self.card or self.view
