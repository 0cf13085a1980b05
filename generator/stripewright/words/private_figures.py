"""Figures of a paid pattern that an author's own words may give away."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

_UNITS = "two three four five six seven eight nine"
_TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_WORDS = "|".join(f"{_UNITS} {_TEENS} {_TENS} hundred dozen".split())
_DIGITS = r"\d{1,6}(?:[.,]\d{1,3}){0,3}"
_NUMBER = rf"(?:{_DIGITS}|(?:{_WORDS})(?:[- ](?:and[- ])?(?:one|{_WORDS})){{0,5}})"
_ROWS = rf"\b{_NUMBER}[- ](?:[a-z]+ ){{0,2}}?(?:rows?|rounds?|rnds?|courses?)\b|\brows? \d+"
_COUNTER = r"\bRC ?:? ?\d+|\bcounter\b[^.!?]{0,40}?\b\d{1,4}\b"
_BALL = r"(?! ?(?:/|an? ball|balls?\b|skeins?\b|cakes?\b|cones?\b|hanks?\b))"
_AMOUNT = (
    rf"(?<![/\d.,] )(?<![/\d.,])\b{_NUMBER} ?(?:g|gr|grams?|grammes?|kg|oz|ounces?|yds?|yards?)\b"
    rf"{_BALL}|(?<!/ )(?<!/)\b{_NUMBER} ?(?:m|metres?|meters?)\b"
    r"(?=[^.!?]{0,24}?\b(?:yarn|wool|cotton|thread))"
)
_KINDS = (
    ("a count of rows", re.compile(_ROWS, re.IGNORECASE)),
    ("a reading of the row counter", re.compile(_COUNTER, re.IGNORECASE)),
    ("an amount of yarn", re.compile(_AMOUNT, re.IGNORECASE)),
)


def private_figures(text: str) -> Iterator[tuple[str, str]]:
    """What a text tells of a pattern's rows, counter or yarn: what it is, and the words.

    A ball's own weight and length (`100 g / 120 m`, `two 50 g balls`) are on its band, and public.
    """
    line = " ".join(text.split())
    for what, pattern in _KINDS:
        if found := pattern.search(line):
            yield what, found[0]
