"""What pydantic found, said in plain words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from stripewright.catalogue import say, say_n
from stripewright.pattern.base import WRITTEN_LIKE, Wrong, shown
from stripewright.pattern.fields import example_of, unit_of
from stripewright.problems import did_you_mean
from stripewright.source.scalars import short

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

_CURLY = re.compile("[“”„«‘’‚](.*)[“”»‘’]")
"""A text all in the quotes that word processors make of straight ones."""

MessageAndHint = tuple[str, str]
"""A message and a hint."""


class Case(NamedTuple):
    """One of pydantic's errors, with what is known of the value."""

    item: Mapping[str, Any]
    """The error, as `ValidationError.errors()` gives it."""
    name: str
    """What the value is called: its key, or "entry 2 of stripes"."""
    field: FieldInfo | None
    """Its field in the model, when it has one."""
    written: Any
    """The value as it stands in the file."""

    def like(self) -> str:
        """A hint that shows how the value is written."""
        example = example_of(self.field)
        if not example:
            return ""
        entry = " " in self.name or not self.name
        return (
            say("write it like {example}", example)
            if entry
            else say("write it like {name}: {example}", self.name, example)
        )


MessageWriter = Callable[[Case], MessageAndHint]


def in_words(case: Case) -> MessageAndHint:
    """A message and hint for one of pydantic's errors."""
    item, name = case.item, case.name
    if isinstance(case.written, str) and (curly := _CURLY.fullmatch(case.written)):
        straight = f'"{short(curly[1])}"'
        if not name:
            return (
                say("this is in curly quotes, which are letters to YAML"),
                say("type straight ones: {text}", straight),
            )
        return (
            say("{name} is in curly quotes, which are letters to YAML", name),
            say("type straight ones: {name}: {text}", name, straight),
        )
    fault = item.get("ctx", {}).get("error")
    if isinstance(fault, Wrong):
        if case.written is None and not fault.at:
            return say("{name} is empty", name), case.like()
        named = say("{name}: {message}", name, fault.message)
        return fault.message if fault.at or not name else named, fault.hint
    if case.written is None and item["type"] not in ("too_short", "too_long", "missing"):
        return say("{name} is empty", name), case.like()
    teller = _TELLERS.get(item["type"])
    return teller(case) if teller else (f"{name}: {item['msg']}", case.like())


def first_word(key: str, known: list[str]) -> str:
    """The known key that an unknown one begins with, as its colon was left out; or nothing."""
    word, _, rest = key.partition(" ")
    return word if rest and word in known else ""


def unknown_key(key: str, known: list[str], value: Any) -> MessageAndHint:
    """What to say of a key that the model doesn't have."""
    if key[:1].isdigit() and value is None:
        hint = say(
            "a comma parts two entries; write 4.50 with a point, or put the number in quotes"
        )
        return say("{key} stands alone between commas", short(key)), hint
    if value is None and (first := first_word(key, known)):
        return (
            say("there is no colon after {first}", first),
            say("write {first}: {key}", first, short(key[len(first) :].strip())),
        )
    meant = (our for our, other in OTHER_WORDS.items() if key.lower() in other and our in known)
    hint = next(
        (say("did you mean {our}?", our) for our in meant),
        say("known are {known}", ", ".join(known)),
    )
    written = key.lower().replace("-", "_")
    return say("{key} is not known here", short(key)), did_you_mean(written, known, hint)


OTHER_WORDS = {
    "colour": ("color",),
    "fibre": ("fiber", "material"),
    "licence": ("license",),
    "swatch": ("tension_square",),
    "gauge": ("tension",),
    "published": ("date",),
    "title": ("name",),
    "name": ("title",),
}
"""Other words for a key, that aren't near it in spelling."""


def missing_key(key: str, where: str, field: FieldInfo | None) -> MessageAndHint:
    """What to say where a key is missing."""
    example = example_of(field)
    return say("{where} has no {key}", where, key), say(
        "add {key}: {example}", key, example
    ) if example else say("add {key}", key)


def _whole(case: Case) -> MessageAndHint:
    return say(
        "{name} is a whole number, not {written}", case.name, shown(case.written)
    ), case.like()


def _number(case: Case) -> MessageAndHint:
    return say("{name} is a number, not {written}", case.name, shown(case.written)), case.like()


def _yes_or_no(case: Case) -> MessageAndHint:
    return say("{name} is yes or no, not {written}", case.name, shown(case.written)), say(
        "write {name}: yes", case.name
    )


def _text(case: Case) -> MessageAndHint:
    if isinstance(case.written, bool):
        return (
            say("{name} is a text, not {written}", case.name, shown(case.written)),
            say('put it in quotes: {name}: "{written}"', case.name, shown(case.written)),
        )
    return say("{name} is a text, not {written}", case.name, shown(case.written)), case.like()


def _too_long_text(case: Case) -> MessageAndHint:
    most = case.item["ctx"]["max_length"]
    return say("{name} has {written} characters", case.name, len(str(case.written).strip())), say(
        "at most {most} fit", most
    )


def _no_text(case: Case) -> MessageAndHint:
    return say("{name} is empty", case.name), case.like()


def _misfit(case: Case) -> MessageAndHint:
    message, hint = WRITTEN_LIKE.get(
        case.item["ctx"]["pattern"], (say("is not written as it should be"), case.like())
    )
    return say("{name}: {written} {message}", case.name, shown(case.written), message), hint


def _choice(case: Case) -> MessageAndHint:
    words = case.item["ctx"]["expected"].replace("'", "").replace(" or ", ", ").split(", ")
    options = (
        say("{words} or {words2}", ", ".join(words[:-1]), words[-1]) if len(words) > 1 else words[0]
    )
    return (
        say("{name}: {written} is not one of {options}", case.name, shown(case.written), options),
        did_you_mean(str(case.written).lower(), words, case.like()),
    )


def _limit(words: str, key: str) -> MessageWriter:
    def tell(case: Case) -> MessageAndHint:
        limit, unit = case.item["ctx"][key], unit_of(case.field)
        told = f"{limit * 100:g} %" if unit == "share" else f"{limit:.10g} {unit}".strip()
        return say("{name} is {written}", case.name, shown(case.written)), say(
            "it must be {words} {told}", words, told
        )

    return tell


def _mapping(case: Case) -> MessageAndHint:
    if isinstance(case.written, str) and re.match(r"[a-z_]+:[^/\s]", case.written):
        spaced = case.written.replace(":", ": ", 1)
        return say("{name} has no space after a colon", case.name), say(
            "write {spaced}", short(spaced)
        )
    example = example_of(case.field)
    hint = (
        say("write them like {example}", example)
        if example.startswith("{")
        else say("write key: value, indented below it")
    )
    return say("{name} holds keys of its own, not {written}", case.name, shown(case.written)), hint


def _list(case: Case) -> MessageAndHint:
    if isinstance(case.written, str) and "," in case.written:
        hint = say("put it in brackets: [{written}]", short(case.written))
        return say("{name} is a list, not {written}", case.name, shown(case.written)), hint
    return say("{name} is a list, not {written}", case.name, shown(case.written)), case.like()


def _few(case: Case) -> MessageAndHint:
    if not case.written:
        return say("{name} is empty", case.name), case.like()
    least = case.item["ctx"]["min_length"]
    return say(
        "{name} has {written} of at least {least}", case.name, len(case.written), least
    ), case.like()


def _count(case: Case) -> MessageAndHint:
    count = len(case.written) if isinstance(case.written, list) else 0
    message = say_n(
        "{name} has {number} entry, and takes two",
        "{name} has {number} entries, and takes two",
        count,
        case.name,
    )
    return message, case.like()


def _many(case: Case) -> MessageAndHint:
    if case.item["ctx"]["max_length"] == 2:
        return _count(case)
    return (
        say("{name} has {written} entries", case.name, len(case.written)),
        say("at most {most} fit", case.item["ctx"]["max_length"]),
    )


_TELLERS: dict[str, MessageWriter] = {
    "int_parsing": _whole, "int_type": _whole, "int_from_float": _whole, "int_parsing_size": _whole,
    "float_parsing": _number, "float_type": _number, "finite_number": _number,
    "bool_parsing": _yes_or_no, "bool_type": _yes_or_no,
    "string_type": _text, "string_too_long": _too_long_text, "string_too_short": _no_text,
    "string_pattern_mismatch": _misfit, "literal_error": _choice,
    "greater_than": _limit(say("more than"), "gt"),
    "greater_than_equal": _limit(say("at least"), "ge"),
    "less_than": _limit(say("less than"), "lt"), "less_than_equal": _limit(say("at most"), "le"),
    "model_type": _mapping, "model_attributes_type": _mapping, "dict_type": _mapping,
    "tuple_type": _list, "too_short": _few, "missing": _count, "too_long": _many,
}  # fmt: skip
