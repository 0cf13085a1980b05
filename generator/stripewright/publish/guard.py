"""The last look before writing: nothing of a paid pattern may be in what is to be published.

The public view keeps it out by construction; this check finds it all the same if a theme, a bug
or a pasted paragraph has let it in, and then nothing is published.
"""

from __future__ import annotations

import itertools
from math import log2
from typing import TYPE_CHECKING, TypeVar

from stripewright.addresses import ASSETS, pattern_of
from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error, warning
from stripewright.publish.bands import shows_bands
from stripewright.publish.opening import opened
from stripewright.publish.reading import places_of_numbers
from stripewright.studio import STASH
from stripewright.view.secrets import stamp, stamp_of_plan, stamps_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from stripewright.publish.opening import Opened
    from stripewright.publish.reading import FileWords
    from stripewright.view.secrets import PublishedPhrases, Secrets

_Plan = tuple[int, ...]
_Run = tuple[str, ...]
_Item = TypeVar("_Item")

LONG, SHORT = 4, 2
"""Words that a sentence is looked up by: few texts share four by chance, many share two."""
"""Where a theme's own files are published."""
HEAD = 4
"""A plan is looked up by its first four numbers."""
STRIDES = range(1, 7)
"""Numbers that may stand from one row of a table to the next."""
_CLOSE = 6
"""Characters between numbers written as a list: `16, 9, 9` or `16, 9 and 9`."""
LISTED_BITS, SCATTERED_BITS, OWN_BITS = 12.0, 40.0, 24.0
"""How unlikely a plan must be to stand there by chance: as a plain list of numbers; with other
things in between; with other things in between, in a file of the pattern itself."""

_STASH_HINT = say(
    "nothing was published; of the stash only name, colour, weight class, fibre, ball and "
    "price of yarns that published patterns point to are public"
)
_HINT = say(
    "nothing was published; take it out of what everyone may read, or make the pattern free"
)


def find_leaks(
    files: Mapping[str, bytes], secrets: Iterable[Secrets], public: Iterable[PublishedPhrases] = ()
) -> list[Problem]:
    """Look for a paid pattern's sentences, row plans and files in what is to be written.

    Args:
        files: path -> bytes of the whole site.
        secrets: what the paid patterns keep.
        public: what the free patterns say in the same places. A sentence that a free pattern
            also says, or stripes that it also has, are no one's secret.

    Returns:
        One error for each file and pattern and kind of leak, naming all three; none is silence.
    """
    kept = tuple(secrets)
    if not kept or not files:
        return []
    watch = _Watch(kept, tuple(public))
    found: list[Problem] = []
    for path in sorted(files):
        found += watch.look(path, files[path])
    return found


class _Watch:
    """Everything that is looked for, filed so that one reading of a file looks for it all."""

    def __init__(self, kept: Sequence[Secrets], public: Sequence[PublishedPhrases]) -> None:
        wanted = set().union(*map(stamps_of, kept))
        said = set().union(*(one.among(wanted) for one in public))
        self.sentences: dict[_Run, tuple[tuple[str, str], ...]] = {}
        self.plans: dict[_Plan, list[tuple[_Plan, str]]] = {}
        self.files = {name: one.slug for one in kept for name in one.files}
        self.own = {one.slug: [plan for plan in one.plans if not _is_even(plan)] for one in kept}
        self.shown = {one.slug for one in kept if one.heights}
        """Whose own drawings may show its bands, because its maker says so."""
        self.free = {one.slug for one in public}
        for one in kept:
            for sentence in one.sentences:
                if stamp(sentence) not in said:
                    key = _key(sentence)
                    self.sentences[key] = (*self.sentences.get(key, ()), (sentence, one.slug))
            for plan in self.own[one.slug]:
                if stamp_of_plan(plan) not in said:
                    self.plans.setdefault(plan[:HEAD], []).append((plan, one.slug))
        self.drawn: dict[str, list[_Plan]] = {}
        """Plans that can hardly be drawn by chance."""
        for plan, slug in (each for many in self.plans.values() for each in many):
            if _bits(plan) >= LISTED_BITS:
                self.drawn.setdefault(slug, []).append(plan)
        self.lengths = sorted({len(key) for key in self.sentences})

    def look(self, path: str, data: bytes) -> list[Problem]:
        """What one file gives away, or what is inside it."""
        owner = pattern_of(path)
        found: dict[tuple[str, str], Problem] = {}
        for one in opened(path, data):
            if one.unread:
                found["", one.unread] = _unread(path, one)
            for slug, kind, what in self._given_away(one, owner):
                found.setdefault((slug, kind), _told(path, one.path, slug, what))
        return [*found.values()]

    def _given_away(self, one: Opened, owner: str) -> Iterator[tuple[str, str, str]]:
        """Whose it is, the kind of leak, and the leak in words."""
        name = one.path.rpartition("/")[2]
        if name in self.files and owner not in self.free:
            yield self.files[name], "file", "a file"
        for slug, sentence in self._sentences(one.words).items():
            yield slug, "sentence", say("a sentence (“{sentence}”)", sentence[:60])
        for slug, plan in self._plans(one.words, owner).items():
            yield slug, "plan", say("a row plan ({map})", ", ".join(map(str, plan[:8])))
        for slug, plan in self._bands(one, owner):
            yield (
                slug,
                "bands",
                say("bands as high as its row plan ({map})", ", ".join(map(str, plan[:8]))),
            )

    def _bands(self, one: Opened, owner: str) -> Iterator[tuple[str, _Plan]]:
        """Plans that are drawn: the pattern's own on its pages, anyone's in what a theme brings."""
        if owner in self.shown:
            return
        if owner in self.own and one.path.endswith((".html", ".svg")):
            plan = shows_bands(one.data.decode("utf-8", "replace"), self.own[owner])
            if plan:
                yield owner, plan
        elif one.path.startswith(ASSETS) and b"<svg" in one.data:
            drawn = one.data.decode("utf-8", "replace")
            for slug, plans in self.drawn.items():
                plan = shows_bands(drawn, plans) or shows_bands(drawn, plans, any_shape=True)
                if plan:
                    yield slug, plan

    def _sentences(self, words: FileWords) -> dict[str, str]:
        found: dict[str, str] = {}
        for parts in words.texts:
            for length in self.lengths:
                if self.sentences.keys().isdisjoint(_runs(parts, length)):
                    continue  # mostly, and for a third of what comes after
                text = " ".join(parts)
                for key in dict.fromkeys(filter(self.sentences.get, _runs(parts, length))):
                    for sentence, slug in self.sentences[key]:
                        if slug not in found and sentence in text:
                            found[slug] = sentence
        return found

    def _plans(self, words: FileWords, owner: str) -> dict[str, _Plan]:
        found: dict[str, _Plan] = {}
        if owner in self.free:
            # Its numbers are its own: they come from no other pattern's file.
            return found
        for text, numbers in words.numbers():
            for stride in STRIDES:
                for plan, slug in self._standing(text, numbers, stride, owner):
                    found.setdefault(slug, plan)
        return found

    def _standing(
        self, text: str, numbers: Sequence[int], stride: int, owner: str
    ) -> Iterator[tuple[_Plan, str]]:
        """Plans that stand among the numbers of a text, one in every `stride` of them."""
        if self.plans.keys().isdisjoint(_runs(numbers, HEAD, stride)):
            return  # nearly always, and for half of what a set of them would take
        for head in self.plans.keys() & set(_runs(numbers, HEAD, stride)):
            starts = [at for at, here in enumerate(_runs(numbers, HEAD, stride)) if here == head]
            for plan, slug in self.plans[head]:
                for at in starts:
                    stop = at + stride * (len(plan) - 1) + 1
                    if tuple(numbers[at:stop:stride]) == plan and self._tells(
                        plan, text, range(at, stop, stride), own=slug == owner
                    ):
                        yield plan, slug

    def _tells(self, plan: _Plan, text: str, where: range, *, own: bool) -> bool:
        """Whether a plan that stands in a text can hardly stand there by chance."""
        spans = places_of_numbers(text)
        gaps = (spans[at + 1][0] - spans[at][1] for at in where[:-1])
        listed = where.step == 1 and all(gap <= _CLOSE for gap in gaps)
        return _bits(plan) >= (LISTED_BITS if listed else OWN_BITS if own else SCATTERED_BITS)


def _runs(items: Sequence[_Item], length: int, stride: int = 1) -> Iterator[tuple[_Item, ...]]:
    """Every so many items of a sequence that stand one in every `stride` of it."""
    return zip(*(items[n * stride :] for n in range(length)), strict=False)


def _bits(plan: _Plan) -> float:
    """How much a plan tells: about the bits to write it down, a number that came before half."""
    seen: set[int] = set()
    bits = 0.0
    for number in plan:
        bits += log2(2 + number) * (0.5 if number in seen else 1.0)
        seen.add(number)
    return bits


def _is_even(plan: _Plan) -> bool:
    """Whether its numbers go up by the same step: pages count like that everywhere."""
    return len({b - a for a, b in itertools.pairwise(plan)}) < 2


def _key(sentence: str) -> _Run:
    """What a sentence is looked up by: its longest word, and those after it.

    Long words are rare, so few places of a text need a closer look. A sentence's first and last
    word may stand in a text with a quotation mark grown to them, so they are used only if need be.
    """
    parts = sentence.split(" ")
    length = LONG if len(parts) >= LONG + 2 else SHORT
    runs = [*_runs(parts, length)]
    return max(runs[1:-1] or runs, key=lambda run: (len(run[0]), run))


def _told(path: str, inside: str, slug: str, what: str) -> Problem:
    where = say(" (in {inside})", inside) if inside != path else ""
    if slug == STASH:
        said = what.removeprefix("a sentence (").removesuffix(")")
        return error(
            Place(path),
            say("this would publish {said} of {stash}{where}", said, STASH, where),
            _STASH_HINT,
        )
    return error(
        Place(path),
        say("this would publish {what} of the paid pattern “{slug}”{where}", what, slug, where),
        _HINT,
    )


def _unread(path: str, one: Opened) -> Problem:
    message = say("this can't be looked through for what paid patterns keep: {unread}", one.unread)
    if one.too_much:
        return error(Place(path), message, "nothing was published; take it out, or make it smaller")
    return warning(Place(path), message, "make sure that no pack is in it")
