"""What a paid pattern keeps for its buyers, in the forms that it could leak in.

The guard at the end of publishing looks for these in every file. They are plain data, so that
they can be kept in the cache and sent between processes.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.addresses import sold_files
from stripewright.compute.heights import HEIGHTS

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.words.written import PatternText, Prose

LEAST_SENTENCE = 32
"""Characters; shorter sentences ("Weave in the ends neatly.") are common speech and no one's
secret."""
LEAST_PLAN = 4
"""Stripes; three numbers in a row stand in any text by chance."""

STAMP = 16
"""Bytes of a fingerprint: two alike by chance are not to be expected in any studio."""

_ENDS = ".!?…"
"""Signs that end a sentence where a space stands after them; every line ends one, too."""


@dataclass(frozen=True, slots=True)
class Secrets:
    """What must not be found on the site.

    Attributes:
        slug: whose it is.
        sentences: private sentences, normalised by `normal`, longest first.
        plans: row plans as they could be written: worked rows a stripe, visible rows a stripe,
            and the row counter's readings; of a mirrored piece its halves too, for one tells the
            other; each at least `LEAST_PLAN` numbers long.
        files: names of files that belong to buyers.
    """

    slug: str
    sentences: tuple[str, ...]
    plans: tuple[tuple[int, ...], ...]
    files: tuple[str, ...] = ()
    heights: bool = False
    """Whether its own drawings may show the true heights of its stripes."""


@dataclass(frozen=True, slots=True)
class PublishedPhrases:
    """What a free pattern says where a paid one keeps its secrets; so it is no one's secret.

    Fingerprints alone are kept, so that those of thousands of patterns fit into memory.

    Attributes:
        slug: whose it is.
        stamps: the fingerprints, `STAMP` bytes each, one after another.
    """

    slug: str
    stamps: bytes

    def among(self, wanted: Container[bytes]) -> set[bytes]:
        """Those of its fingerprints that are wanted."""
        each = (self.stamps[at : at + STAMP] for at in range(0, len(self.stamps), STAMP))
        return {one for one in each if one in wanted}


def stamp(text: str) -> bytes:
    """The fingerprint of a text."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).digest()[:STAMP]


def stamp_of_plan(plan: tuple[int, ...]) -> bytes:
    """The fingerprint of a row plan."""
    return stamp(repr(plan))


def stamps_of(one: Secrets) -> set[bytes]:
    """The fingerprints of all that a pattern's sentences and plans say."""
    return {*map(stamp, one.sentences), *map(stamp_of_plan, one.plans)}


def said_by(one: Secrets) -> PublishedPhrases:
    """What a free pattern says."""
    return PublishedPhrases(one.slug, b"".join(sorted(stamps_of(one))))


def normal(text: str) -> str:
    """A text as it is compared: small letters, every run of white space one space."""
    return " ".join(text.split()).casefold()


def secrets_of(worked: WorkedPattern, written: PatternText) -> Secrets:
    """What a pattern keeps for its buyers; of a free one, all that it says.

    What its public introduction, title or summary says itself is no secret.
    """
    texts, public = list(_private_texts(worked, written)), ""
    told = [_text(written.intro), worked.pattern.title, worked.pattern.summary]
    if worked.pattern.access == "free":
        texts += told
    else:
        public = normal(" ".join(told))
    sentences = {
        sentence
        for text in texts
        for sentence in _sentences(text)
        if len(sentence) >= LEAST_SENTENCE and " " in sentence and sentence not in public
    }
    everything = [worked, *(size.worked for size in worked.sizes)]
    plans = {
        plan
        for one in everything
        for piece in one.pieces
        for plan in _plans(piece)
        if len(plan) >= LEAST_PLAN
    }
    return Secrets(
        slug=worked.slug,
        sentences=tuple(sorted(sentences, key=lambda text: (-len(text), text))),
        plans=tuple(sorted(plans)),
        files=sold_files(worked.slug, worked.size_keys),
        heights=worked.pattern.reveal == HEIGHTS,
    )


def _sentences(text: str) -> list[str]:
    """A text's sentences, `normal`."""
    lines = "\n".join(map(normal, text.split("\n")))
    for end in _ENDS:
        lines = lines.replace(f"{end} ", f"{end}\n")
    return lines.split("\n")


def sheets_secrets(slug: str) -> Secrets:
    """What a paid book of planning sheets keeps: its files."""
    return Secrets(slug, (), (), sold_files(slug))


def _private_texts(worked: WorkedPattern, written: PatternText) -> Iterator[str]:
    """The author's own words. The steps' words are common to all patterns; their rows are plans."""
    yield _text(written.body)
    for text in written.sizes.values():
        yield _text(text.body)
    pattern = worked.pattern
    yield from (correction.text for correction in pattern.corrections)
    yield from (change.text for change in pattern.changes)
    yield from (step.note for step in pattern.making_up or () if step.note)
    yield from pattern.techniques.values()


def _text(prose: Prose) -> str:
    """The words of the author's Markdown, block by block, without its marks."""
    blocks = []
    for token in prose.tokens:
        if token.type == "inline":
            parts = (child.content or " " for child in token.children or ())
            blocks.append("".join(parts))
        elif token.content:
            blocks.append(token.content)
    return "\n".join(blocks)


def _plans(piece: WorkedPiece) -> tuple[tuple[int, ...], ...]:
    whole = (
        tuple(line.rows for line in piece.plan),
        tuple(line.visible for line in piece.plan),
        tuple(line.last for line in piece.plan),
        tuple(line.first for line in piece.plan),
    )
    if not any(plan == plan[::-1] for plan in whole[:2]):
        return whole
    half = (len(piece.plan) + 1) // 2
    return (*whole, *(plan[:half] for plan in whole), *(plan[-half:] for plan in whole))
