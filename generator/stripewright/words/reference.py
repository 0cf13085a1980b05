"""What a pattern's text and techniques can say, as Markdown for the reference.

Made from the vocabulary itself, so that it can't grow old; tests hold the meanings complete.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.words.filters import FILTERS
from stripewright.words.namespace import PUBLIC_PATTERN, PUBLIC_PIECE, PUBLIC_YARN
from stripewright.words.techniques import names_in, shipped_techniques

if TYPE_CHECKING:
    from collections.abc import Mapping
    from collections.abc import Set as AbstractSet

PIECE: Mapping[str, str] = {
    "key": "its key",
    "title": "what it is called",
    "form": "tube or panel",
    "make": "how many are knitted",
    "stitches": "stitches, which is needles in work",
    "worked_rows": "rows that the machine knits",
    "visible_rows": "rows that show once it is made up",
    "stripes": "how many stripes it has",
    "changes": "the counter's reading at each change, as a list",
    "change": "`change(2)`: the counter's reading at the second change, like RC 027",
    "plan": "its stripes as a list; each has letter, yarn, first, last, rows, visible and rc",
    "fold": "the counter's reading at the fold",
    "brim": "the counter's reading where the brim is turned up",
    "flat_width": "width laid flat",
    "girth": "all round, of a tube",
    "finished_length": "length made up",
    "worn_length": "length made up, folded and with its brim turned up",
    "worked_length": "length as it comes off the machine",
}
"""What each fact of a piece means, by its name."""

YARN: Mapping[str, str] = {
    "key": "its key",
    "letter": "its letter",
    "role": "MC, CC1, CC2, ...",
    "name": "what it is called",
    "colour": "its colour, like #1f3d5c",
    "weight": "its weight class",
    "fibre": "what it is made of",
    "balls": "balls to buy",
    "rows": "rows knitted in it",
    "length": "how much of it is used, by length",
    "mass": "how much of it is used, by mass",
    "leftover": "what is left of the balls",
}
"""What each fact of a yarn means, by its name."""

PATTERN: Mapping[str, str] = {
    "title": "its title",
    "summary": "its summary",
    "kind": "what it is",
    "level": "its level",
    "version": "its version",
    "bed": "circular or flat",
    "needles": "needles on the bed",
    "waste_rows": "rows of waste yarn at each end",
    "rows": "rows of all pieces together",
    "minutes": "minutes to knit and make up",
}
"""What each fact of the whole pattern means, by its name."""


FILTER: Mapping[str, str] = {
    "cm": "a length in cm alone",
    "inch": "a length in inches alone",
    "m": "yarn in m alone",
    "yd": "yarn in yards alone",
    "g": "a mass in g alone",
    "oz": "a mass in ounces alone",
    "rc": "a row as the counter shows it: `27 | rc` is RC 027",
    "round": "to whole numbers, or `round(1)` to one decimal",
    "abs": "without its sign",
    "sum": "a list added up",
    "min": "the least of a list",
    "max": "the most of a list",
    "length": "how many a list has",
    "first": "the first of a list",
    "last": "the last of a list",
    "join": 'a list as text: `changes | join(", ")`',
    "lower": "in small letters",
    "upper": "in capitals",
    "capitalize": "with a capital first letter",
}
"""What each filter does, by its name."""

_OPENING = """\
In the text, `{{ ... }}` inserts a number or a name, `{% for ... %}` goes through a list and
`{% if ... %}` chooses. A length is shown in both systems. Names marked • can't stand in the
introduction of a paid pattern, which everyone may read."""

_LINKS = """\
Links to the studio's own pages name their kind and slug: `[the hat](pattern:two-tides-hat)`, and so
with `post:`, `page:` and `sheet:`. Pictures are files in `content/photos`:
`![A folded hat](hat.jpg)`."""

_TECHNIQUES = """\
Each technique's text can be replaced under `techniques:`, in a pattern or in the studio's settings;
a name of your own can be used in `making_up:` as well. All the names above can stand in it, pieces
and yarns by their keys too, and these:"""


def text_reference() -> str:
    """The vocabulary of templates, and the techniques with the names that their texts use."""
    parts = [
        _OPENING.replace("\n", " "),
        _table("A piece, by its key: `cover.worked_rows`", PIECE, set(PIECE) - PUBLIC_PIECE),
        _table("A yarn, by its key: `deep.name`", YARN, set(YARN) - PUBLIC_YARN),
        _table("The whole: `pattern.title`", PATTERN, set(PATTERN) - PUBLIC_PATTERN),
        _table("A filter: `cover.flat_width | inch`", {k: FILTER[k] for k in FILTERS}, set()),
        _LINKS.replace("\n", " "),
        _TECHNIQUES.replace("\n", " "),
        _techniques(),
    ]
    return "\n\n".join(parts)


def _table(title: str, meanings: Mapping[str, str], private: AbstractSet[str]) -> str:
    rows = [
        f"| `{name}`{' •' if name in private else ''} | {_cell(meaning)} |"
        for name, meaning in meanings.items()
    ]
    return "\n".join([f"| {_cell(title)} | |", "| --- | --- |", *rows])


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _techniques() -> str:
    rows = []
    for name, technique in shipped_techniques().items():
        names = sorted(names_in(technique.title) | names_in(technique.text))
        rows.append(f"| `{name}` | {', '.join(f'`{one}`' for one in names) or '–'} |")
    return "\n".join(["| Technique | Names that its own text uses |", "| --- | --- |", *rows])
