"""What stands beside a pattern: its film, its photos, what was corrected and what is new."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, StringConstraints, Tag

from stripewright.pattern.base import (
    PHOTO,
    AuthorModel,
    Https,
    OneLine,
    Yes,
)
from stripewright.pattern.quantity_types import Clock, Day


class Chapter(AuthorModel):
    """A part of the video."""

    at: Clock | None = Field(default=None, examples=["2:30"])
    """Where it begins, like 2:30; while it is left to fill in, the chapter isn't shown."""
    title: OneLine = Field(max_length=120, examples=["The cover"])
    """What it shows."""
    step: OneLine | None = Field(default=None, max_length=60, examples=["cover"])
    """The step it belongs to: a piece's key, `making up`, or a technique's name."""


def _list_or_words(value: Any) -> str:
    return "<words>" if isinstance(value, str) else "<list>"


Chapters = Annotated[
    Annotated[tuple[Chapter, ...], Tag("<list>"), Field(max_length=200)]
    | Annotated[Literal["from steps"], Tag("<words>")],
    Discriminator(_list_or_words),
]
"""The parts of a film, or that they are to be made from the steps."""


class Video(AuthorModel):
    """A film of how it is made."""

    url: Https = Field(examples=["https://video.example.org/bolster"])
    """Its address."""
    title: OneLine | None = Field(default=None, max_length=120, examples=["Making the bolster"])
    """What it is called."""
    chapters: Chapters = Field(
        default=(), examples=["[{at: 2:30, title: The cover, step: cover}]", "from steps"]
    )
    """Its parts; `from steps` lists them as the steps go, to paste here with their times left to
    fill in."""

    @property
    def parts(self) -> tuple[Chapter, ...]:
        """Its parts as they are listed; none while they are still to be made from the steps."""
        return () if isinstance(self.chapters, str) else self.chapters


class Correction(AuthorModel):
    """Something that was wrong and is mended."""

    date: Day
    """When it was mended."""
    text: str = Field(
        min_length=1, max_length=1000, examples=["The third change is at RC 41, not 14."]
    )
    """What changed, for someone who has begun."""


class Change(AuthorModel):
    """What is otherwise in a version, in the author's words."""

    version: OneLine = Field(max_length=20, examples=["1.2"])
    """The version that it is new in."""
    text: str = Field(
        min_length=1,
        max_length=1000,
        examples=["The slit is two rows longer; the yarn is the same."],
    )
    """What changed, for someone who has an older one."""


class Photo(AuthorModel):
    """A picture in content/photos."""

    file: Annotated[str, StringConstraints(pattern=PHOTO, max_length=120)] = Field(
        examples=["bolster.jpg"]
    )
    """The file's name."""
    alt: OneLine = Field(max_length=300, examples=["The bolster on a window seat."])
    """What it shows, in words."""
    main: Yes = Field(default=False, examples=["yes"])
    """Whether it is the pattern's main picture, on page, card, cover and where a link is shared."""
