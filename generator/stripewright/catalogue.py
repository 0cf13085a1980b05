"""Every word that the program prints, in one catalogue of a locale each (gettext, read by Babel).

A message is its British source text, wherever it stands:

- Python: `_("{pieces} are sewn", pieces=...)`; `n_("{number} row", "{number} rows", number)`;
  `N_("a message that is only named here")`, looked up later by `_(name)`.
- Problems: `say("no yarn is called {yarn}", yarn)`, which is looked up where somebody reads it.
- Templates: `{{ _("Materials") }}`, or `{% trans %}` around words with values in them.
- Print templates: `#tr("version {version}", version: data.version)`.
- Scripts: `tr("Copied.")` and `tr("{count} rows done", { count })`, by `document.words`.
- `words/techniques.yaml`: each title and text is a message as it stands.

`python tests/support/catalogue.py` collects them all into `locale/*/LC_MESSAGES/stripewright.po`.
What is said while a pattern, page or paper is made is said in its own locale: `speaking`.
"""

from __future__ import annotations

import string
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from functools import cache, lru_cache
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

SOURCE = "en_GB"
"""The locale that the messages themselves are in."""
DOMAIN = "stripewright.po"

Words = tuple[str, ...]
"""A message in another locale: one text, or one for each plural form."""


def _is_many(number: int) -> int:
    return int(number != 1)


@dataclass(frozen=True, eq=False)
class Locale:
    """The words of a locale.

    Attributes:
        name: like en_US.
        messages: of each message that is said otherwise than in its source, the words.
        places: of each message, the files it stands in, from the repository's root.
        plural: the number of the plural form that a count takes.
    """

    name: str
    messages: Mapping[str, Words]
    places: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    plural: Callable[[int], int] = _is_many

    @property
    def tag(self) -> str:
        """As BCP 47 writes it: en-US."""
        return self.name.replace("_", "-")

    def of(self, *files: str) -> dict[str, str | list[str]]:
        """The messages that differ from the source and stand in some files, like themes/*.js."""
        return {
            message: words[0] if len(words) == 1 else list(words)
            for message, words in self.messages.items()
            if any(
                fnmatchcase(place, one) for place in self.places.get(message, ()) for one in files
            )
        }


@lru_cache(maxsize=1)
def locales() -> tuple[str, ...]:
    """Names of the locales that there are words in, sorted."""
    folder = resources.files("stripewright") / "locale"
    found = (one.name for one in folder.iterdir() if (one / "LC_MESSAGES" / DOMAIN).is_file())
    return tuple(sorted(found))


@lru_cache(maxsize=8)
def locale(name: str) -> Locale:
    """The words of a locale. Raises FileNotFoundError for one that has none."""
    if name == SOURCE:
        return _BRITISH
    from babel.messages.pofile import read_po

    file = resources.files("stripewright") / "locale" / name / "LC_MESSAGES" / DOMAIN
    with file.open("rb") as stream:
        read = read_po(stream, locale=name, ignore_obsolete=True)
    messages: dict[str, Words] = {}
    places: dict[str, tuple[str, ...]] = {}
    for one in read:
        forms = (one.id,) if isinstance(one.id, str) else tuple(one.id)
        said = one.string or ""
        words = (said,) if isinstance(said, str) else tuple(said)
        if forms[0] and all(words) and words != forms:
            messages[forms[0]] = words
            places[forms[0]] = tuple(place for place, _line in one.locations)
    return Locale(name, messages, places, _plural(name))


def _plural(name: str) -> Callable[[int], int]:
    from babel.messages.plurals import get_plural

    rule = get_plural(name)
    if str(rule.plural_expr) == "(n != 1)":
        return _is_many
    from gettext import c2py

    return c2py(str(rule.plural_expr))


_BRITISH = Locale(SOURCE, {})
_SPOKEN: ContextVar[Locale] = ContextVar("spoken", default=_BRITISH)


def spoken() -> Locale:
    """The locale that words are told in now."""
    return _SPOKEN.get()


def locale_named(language: str, terms: str) -> str:
    """The locale of the program's own words, for a language tag and the trade's terms.

    English is British or American as the terms are; another language is its own, once there is a
    catalogue of it, and until then English.
    """
    wanted = language.replace("-", "_")
    if language.partition("-")[0].lower() != "en":
        known = locales()
        for name in (wanted, wanted.partition("_")[0]):
            if name in known:
                return name
    return "en_US" if terms == "us" else SOURCE


@contextmanager
def speaking(words: str | Locale) -> Iterator[Locale]:
    """Tell everything inside in a locale, by its name."""
    now = words if isinstance(words, Locale) else locale(words)
    before = _SPOKEN.set(now)
    try:
        yield now
    finally:
        _SPOKEN.reset(before)


def N_(message: str) -> str:  # noqa: N802  # gettext's own name for it
    """A message that is only named where it stands."""
    return message


def NN_(one: str, many: str) -> tuple[str, str]:  # noqa: N802  # as N_ is
    """A message with a count in it that is only named where it stands: both of its forms."""
    return one, many


def plain(message: str) -> str:
    """A message in the locale spoken, as it stands: nothing is filled in."""
    words = _SPOKEN.get().messages.get(message)
    return words[0] if words else message


def _(message: str, /, **fields: object) -> str:
    """A message in the locale spoken, with its fields filled in."""
    words = _SPOKEN.get().messages.get(message)
    text = words[0] if words else message
    return text.format_map(fields) if fields else text


def plural(one: str, many: str, number: int) -> str:
    """The form of a message that a count takes, as it stands."""
    now = _SPOKEN.get()
    words = now.messages.get(one)
    if words is None:
        return one if number == 1 else many
    return words[min(now.plural(number), len(words) - 1)]


def n_(one: str, many: str, number: int, /, **fields: object) -> str:
    """A message with a count in it, as `{number}`, and its other fields."""
    return plural(one, many, number).format_map({"number": number, **fields})


class Said(str):  # noqa: SLOT000  # a cache keeps its attributes
    """A message in British English, its fields filled in; `tell` says it in the locale spoken."""

    message: str
    many: str
    number: int
    fields: Mapping[str, object]


def say(message: str, /, *values: object, **fields: object) -> Said:
    """A message to be looked up by who tells it.

    Its fields are given in the order in which they first stand in it, or by their names.
    """
    given = dict(zip(_slots(message), values, strict=True)) if values else fields
    return _said(message, "", 1, given)


def say_n(one: str, many: str, number: int, /, *values: object) -> Said:
    """A message with a count in it, as `{number}`, and its other fields in their first order."""
    others = (name for name in _slots(many) if name != "number")
    return _said(one, many, number, {"number": number, **dict(zip(others, values, strict=True))})


def _said(message: str, many: str, number: int, fields: Mapping[str, object]) -> Said:
    text = many if many and number != 1 else message
    said = Said(text.format_map(fields) if fields else text)
    said.message, said.many, said.number, said.fields = message, many, number, fields
    return said


@cache
def _slots(message: str) -> tuple[str, ...]:
    """The names of a message's fields, in the order in which they first stand in it."""
    names = (name for _text, name, _spec, _as in string.Formatter().parse(message) if name)
    return tuple(dict.fromkeys(names))


def tell(text: str) -> str:
    """What was said, in the locale spoken; a text without fields is looked up as it stands."""
    if not isinstance(text, Said):
        return plain(text)
    now = _SPOKEN.get()
    if now is _BRITISH:
        return str(text)
    if text.message not in now.messages and not text.fields:
        return str(text)
    words = plural(text.message, text.many, text.number) if text.many else plain(text.message)
    fields = {
        name: tell(one) if isinstance(one, Said) else one for name, one in text.fields.items()
    }
    return words.format_map(fields) if fields else words
