"""The words and numbers that a text says, markup aside and escapes undone."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.view.secrets import LEAST_SENTENCE

if TYPE_CHECKING:
    from collections.abc import Iterator

_COMMENT = re.compile(r"<!--|-->|<!\[CDATA\[|\]\]>")
_TAG = re.compile(
    r"<(?:/?(?:a|abbr|b|cite|code|del|em|i|ins|kbd|mark|q|s|small|span|strong|sub|sup|tspan|u|wbr)"
    r"(?:\s[^>]*)?>|(?<=(<))[^>]*>)"
)
"""A tag; one that parts the words on its sides gives its `<`."""
_OUTLINE = re.compile(r" (?:d|points)=\"[^\"]*\"")
"""Most of a drawing's bytes, and no words."""
_VALUE = re.compile(r"=\"([^\"]*)\"")
_SAYING = re.compile(rf"=\"([^\"]{{{LEAST_SENTENCE},}})\"")
"""An attribute's value that is long enough for a sentence."""
_SINGLE = re.compile(r"='([^']*)'")
_ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})|\\([nrt\"'/\\])")
_NUMBER = re.compile(r"\d(?<![\w.].)\d{0,4}(?![\w]|\.\d)")
"""A whole number. What stands before it is looked at once there is a digit: there are few."""


@dataclass(frozen=True, slots=True)
class FileWords:
    """What a file says.

    Attributes:
        texts: word by word, normalised: what it shows, then what those of its attributes carry
            that are long enough for a sentence.
        marked_up: the file with its markup; empty when it has none.
    """

    texts: tuple[list[str], ...]
    marked_up: str = ""

    def numbers(self) -> Iterator[tuple[str, list[int]]]:
        """What it shows, then what its attributes carry, each with its whole numbers in order."""
        for text in (" ".join(self.texts[0]), _values(self.marked_up, _VALUE)):
            yield text, list(map(int, _NUMBER.findall(text)))


def places_of_numbers(text: str) -> list[tuple[int, int]]:
    """Where each of a text's whole numbers starts and ends."""
    return [found.span() for found in _NUMBER.finditer(text)]


def plain_words(text: str) -> FileWords:
    """A text without markup."""
    return FileWords((_words(text),))


def marked_up(text: str) -> FileWords:
    """A page, a drawing, a feed, data or code, as a curious reader would read it."""
    if "\\" in text:
        text = _ESCAPED.sub(_unescaped, text)
    if "<" not in text:
        return plain_words(html.unescape(text))
    text = _OUTLINE.sub("", text)
    if "<!-" in text or "<![" in text:
        text = _COMMENT.sub(" ", text)
    shown = "".join(filter(None, _TAG.split(text))).replace("<", " ")
    return FileWords((_words(html.unescape(shown)), _words(_values(text, _SAYING))), text)


def _words(text: str) -> list[str]:
    """The words of a text as `normal` gives them."""
    return text.casefold().split()


def _values(text: str, kind: re.Pattern[str]) -> str:
    values = kind.findall(text)
    if "='" in text:
        values += _SINGLE.findall(text)
    return html.unescape(" ".join(values))


def _unescaped(match: re.Match[str]) -> str:
    if match[1]:
        return chr(int(match[1], 16))
    return " " if match[2] in "nrt" else match[2]
