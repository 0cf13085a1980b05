"""Whether a line of text reads like a heading, whatever it is made with.

Lines come with private characters around what is printed in bold (see `boundary`).
"""

from __future__ import annotations

import re
import unicodedata

_MOST_WORDS = 12
"""A heading is short; a longer line without a full stop is a sentence that lacks one."""

_BOLD = re.compile("\ue003[^\ue004]*(?:\ue004|$)")
_RUN_IN = re.compile("^[^\ue003\ue004\\w]*\ue003[^\ue004]*(?:[.:!?–—]\\W{0,9}\ue004|\ue004\\s*:)")
"""Bold words with a stop of their own at the start of a line: **Before you start.** Knit so."""
_STARRED = re.compile(r"(\*\*|__)(.{1,200}?)\1")
"""Marks of bold print that were not read as such, for what stands beside them: they are shown."""
_MARKS = str.maketrans("", "", "\ue003\ue004")
_SIGNS = str.maketrans(dict.fromkeys("♯⌗⋕⧣⩨⌘", "#"))
"""Characters that pass for a number sign, beside those that compatibility makes one."""
_TAGS = re.compile(
    r"<\s{0,3}/?\s{0,3}(?:h[1-6]|hgroup|summary|legend|caption|dt|th|header|title|center)\b"
    r"|\brole\s*=\s*[\"']?\s*heading|\baria-level\b",
    re.IGNORECASE,
)
_OTHER_MARKUP = re.compile(
    r"^\W*h[1-6]\.\s|^\s*={1,6}\s*\w|\\(?:part|chapter|(?:sub)*section|paragraph)\b"
    r"|\[\s*(?:h[1-6]|b|size|heading)\b[^\]]{0,40}\]",
    re.IGNORECASE,
)
"""Headings as other ways of writing have them: wikis, typesetters, boards."""
_SENTENCE_ENDS = ".!?…,;。！？．｡،؛؟۔।"  # other scripts' stops too
_UNSEEN = frozenset(("Cf", "Cc", "Co", "Cn", "Mn", "Me"))
"""Kinds of characters that take no room of their own: formats, controls, accents to add."""
_ADDRESS = re.compile(r"://|\w@\w")


def strikes(line: str, *, under: str = "", entry: bool = False) -> bool:
    """Whether a line reads like a heading wherever it stands.

    Args:
        line: the line, with the marks of bold print.
        under: the line above it in the same paragraph.
        entry: whether it is one of several entries in a list or a table's row.
    """
    line = _STARRED.sub("\ue003\\2\ue004", line)
    text = _plain(line.translate(_MARKS))
    if _TAGS.search(text) or _OTHER_MARKUP.search(text):
        return True
    letters = [at for at, char in enumerate(text) if char.isalnum()]
    before = text[: letters[0]] if letters else text
    squeezed = "".join(text.split())
    after = text[letters[-1] + 1 :] if letters else ""
    starred = any(mark in before and mark in after for mark in "*_")
    if "#" in before or "##" in squeezed or starred:
        return True
    if not letters:
        return bool(under.strip()) and re.fullmatch(r"([^.])\1{2,}", squeezed) is not None
    if _all_bold(line) or (_RUN_IN.match(line) and not entry):
        return True
    return not entry and (_all_capitals(text) or _dressed_up(line))


def heads(line: str) -> bool:
    """Whether a line that stands alone above others reads like their title: short, with no end."""
    text = _plain(line.translate(_MARKS)).strip()
    words = text.split()
    if not any(char.isalnum() for char in text) or _ADDRESS.search(text):
        return False
    spaced_out = len(words) > 2 and all(len(word) == 1 for word in words)
    return (len(words) <= _MOST_WORDS or spaced_out) and not _has_ended(text)


def _plain(line: str) -> str:
    """A line as it is seen: compatible characters made one, invisible ones gone."""
    if line.isascii() and line.isprintable():
        return line
    seen = unicodedata.normalize("NFKC", line).translate(_SIGNS)
    kinds = ((char, unicodedata.category(char)) for char in seen)
    return "".join(
        " " if kind[0] == "Z" or char == "\t" else char
        for char, kind in kinds
        if kind not in _UNSEEN or char == "\t"
    )


def _has_ended(text: str) -> bool:
    """Whether a line ends as a sentence, or a part of one, does; ornaments after it don't count."""
    end = len(text)
    while end and not text[end - 1].isalnum() and text[end - 1] not in _SENTENCE_ENDS + ":":
        end -= 1
    return bool(end) and text[end - 1] in _SENTENCE_ENDS


def _all_bold(line: str) -> bool:
    """Whether nothing but numbers and ornaments stands outside the bold print."""
    bold = "".join(_BOLD.findall(line)).translate(_MARKS)
    rest = _BOLD.sub("", line)
    return any(map(str.isalnum, bold)) and not any(map(str.isalpha, rest))


def _all_capitals(text: str) -> bool:
    cased = [char for char in text if char.isupper() or char.islower()]
    return len(cased) > 3 and all(map(str.isupper, cased)) and len(text.split()) <= _MOST_WORDS


def _dressed_up(line: str) -> bool:
    """Whether most letters are look-alikes: mathematical bold, full width, small capitals."""
    letters = [char for char in line if char.isalpha()]
    odd = [
        char
        for char in letters
        if ord(char) > 0x1000 and unicodedata.normalize("NFKC", char) != char
    ]
    return len(odd) > 2 and len(odd) * 2 > len(letters)
