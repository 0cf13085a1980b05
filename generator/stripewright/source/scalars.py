"""Single values of YAML, read as people mean them.

YAML 1.1 takes `no` for false, `1:30` for ninety, `012` for ten and `2026-09-05` for an object of
its own. Here only `true`, `false`, empty (also `null`, `~`) and decimal numbers are anything but
text; what a text means is for the model to say.
"""

from __future__ import annotations

import re

Scalar = str | int | float | bool | None

_INT = re.compile(r"[-+]?[0-9]{1,18}")
_FLOAT = re.compile(r"[-+]?(?:[0-9]{1,18}\.[0-9]{0,18}|\.[0-9]{1,18})")
_WORDS: dict[str, Scalar] = {
    "": None, "~": None, "null": None, "Null": None, "NULL": None,
    "true": True, "True": True, "TRUE": True,
    "false": False, "False": False, "FALSE": False,
}  # fmt: skip
_STARTS = frozenset("0123456789+-.")


class SpeltInt(int):
    """A whole number that remembers how it was written, like `012`."""

    text: str

    def __str__(self) -> str:
        return self.text


class SpeltFloat(float):
    """A number that remembers how it was written, like `1.10`."""

    text: str

    def __str__(self) -> str:
        return self.text


def plain_scalar(text: str) -> Scalar:
    """The value of an unquoted scalar."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] in _STARTS:
        if _INT.fullmatch(text):
            whole = int(text)
            return whole if str(whole) == text else _spelt(SpeltInt, text)
        if _FLOAT.fullmatch(text):
            number = float(text)
            return number if str(number) == text else _spelt(SpeltFloat, text)
    return text


def _spelt(kind: type[SpeltInt | SpeltFloat], text: str) -> SpeltInt | SpeltFloat:
    spelt = kind(text)
    spelt.text = text
    return spelt


def short(text: str) -> str:
    """A text on one line, cut where it gets too long for a message."""
    line = " ".join(text.split())
    return line if len(line) <= 60 else line[:57] + "…"


_INVISIBLE = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # controls; tab and line feed may stand in longer text
    "\u2028\u2029"  # line and paragraph separators
    "\u202a-\u202e\u2066-\u2069"  # embeddings, overrides and isolates turn text around unseen
    "\u200b\u2060\ufeff\u180e\ufff9-\ufffb\ufffe\uffff"  # zero-width spaces, annotations
    "\U000e0001]"
    "|(?<![\U0001f3f4\U000e0020-\U000e007f])[\U000e0020-\U000e007f]"  # tags, but in a flag's emoji
)


def invisible(text: str) -> re.Match[str] | None:
    """The first character that can't be seen and changes what is read around it.

    Right-to-left scripts and their marks (U+200E, U+200F, U+061C), U+200C between letters, and
    U+200D inside emoji and scripts that need it, are all let through: they are part of writing.
    """
    return _INVISIBLE.search(text)
