"""What of the stash must not be found on the site: where yarns are, and what no pattern shows.

Of a yarn that a published pattern points to, its name, colour, weight class, fibre, ball and price
are public, and nothing else of the stash is. What the author says elsewhere in so many words is no
secret; a single word ("attic") is common speech and can't be looked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.studio import STASH
from stripewright.view.secrets import Secrets, normal

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from stripewright.pattern.stash import Stash

LEAST_PHRASE = 6
"""Characters of a phrase that is looked for; it has two words at the least."""


def stash_secrets(stash: Stash, shown: Collection[str], said: Iterable[str]) -> Secrets:
    """The phrases of a stash that the guard looks for.

    Args:
        stash: the yarns that there are.
        shown: keys of those that published patterns point to.
        said: the author's texts, each a whole file.
    """
    phrases = {normal(text) for text in _phrases(stash, shown)}
    phrases -= {normal(stash.yarns[key].name) for key in shown if key in stash.yarns}
    phrases = {one for one in phrases if " " in one and len(one) >= LEAST_PHRASE}
    for text in said:
        if not phrases:
            break
        everything = normal(text)
        phrases = {one for one in phrases if one not in everything}
    return Secrets(STASH, tuple(sorted(phrases, key=lambda one: (-len(one), one))), ())


def _phrases(stash: Stash, shown: Collection[str]) -> Iterator[str]:
    for key, yarn in stash.yarns.items():
        if key not in shown:
            yield yarn.name
        if yarn.where:
            yield yarn.where
            yield f"where: {yarn.where}"
        if yarn.note:
            yield yarn.note
        yield f"left: {yarn.left.text}"
