"""What pydantic found, said in plain words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from stripewright.pattern.base import PATTERNS, Wrong, shown
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
        return f"write it like {example}" if entry else f"write it like {self.name}: {example}"


MessageWriter = Callable[[Case], MessageAndHint]


def say(case: Case) -> MessageAndHint:
    """A message and hint for one of pydantic's errors."""
    item, name = case.item, case.name
    if isinstance(case.written, str) and (curly := _CURLY.fullmatch(case.written)):
        straight = f'"{short(curly[1])}"'
        hint = (
            f"type straight ones: {name}: {straight}" if name else f"type straight ones: {straight}"
        )
        return f"{name or 'this'} is in curly quotes, which are letters to YAML", hint
    fault = item.get("ctx", {}).get("error")
    if isinstance(fault, Wrong):
        if case.written is None and not fault.at:
            return f"{name} is empty", case.like()
        return (fault.message if fault.at or not name else f"{name}: {fault.message}"), fault.hint
    if case.written is None and item["type"] not in ("too_short", "too_long", "missing"):
        return f"{name} is empty", case.like()
    teller = _TELLERS.get(item["type"])
    return teller(case) if teller else (f"{name}: {item['msg']}", case.like())


def first_word(key: str, known: list[str]) -> str:
    """The known key that an unknown one begins with, as its colon was left out; or nothing."""
    word, _, rest = key.partition(" ")
    return word if rest and word in known else ""


def unknown_key(key: str, known: list[str], value: Any) -> MessageAndHint:
    """What to say of a key that the model doesn't have."""
    if key[:1].isdigit() and value is None:
        hint = "a comma parts two entries; write 4.50 with a point, or put the number in quotes"
        return f"{short(key)} stands alone between commas", hint
    if value is None and (first := first_word(key, known)):
        return (
            f"there is no colon after {first}",
            f"write {first}: {short(key[len(first) :].strip())}",
        )
    meant = (our for our, other in OTHER_WORDS.items() if key.lower() in other and our in known)
    hint = next((f"did you mean {our}?" for our in meant), f"known are {', '.join(known)}")
    written = key.lower().replace("-", "_")
    return f"{short(key)} is not known here", did_you_mean(written, known, hint)


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
    return f"{where} has no {key}", f"add {key}: {example}" if example else f"add {key}"


def _whole(case: Case) -> MessageAndHint:
    return f"{case.name} is a whole number, not {shown(case.written)}", case.like()


def _number(case: Case) -> MessageAndHint:
    return f"{case.name} is a number, not {shown(case.written)}", case.like()


def _yes_or_no(case: Case) -> MessageAndHint:
    return f"{case.name} is yes or no, not {shown(case.written)}", f"write {case.name}: yes"


def _text(case: Case) -> MessageAndHint:
    if isinstance(case.written, bool):
        return (
            f"{case.name} is a text, not {shown(case.written)}",
            f'put it in quotes: {case.name}: "{shown(case.written)}"',
        )
    return f"{case.name} is a text, not {shown(case.written)}", case.like()


def _too_long_text(case: Case) -> MessageAndHint:
    most = case.item["ctx"]["max_length"]
    return f"{case.name} has {len(str(case.written).strip())} characters", f"at most {most} fit"


def _no_text(case: Case) -> MessageAndHint:
    return f"{case.name} is empty", case.like()


def _misfit(case: Case) -> MessageAndHint:
    message, hint = PATTERNS.get(
        case.item["ctx"]["pattern"], ("is not written as it should be", case.like())
    )
    return f"{case.name}: {shown(case.written)} {message}", hint


def _choice(case: Case) -> MessageAndHint:
    words = case.item["ctx"]["expected"].replace("'", "").replace(" or ", ", ").split(", ")
    options = f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]
    return (
        f"{case.name}: {shown(case.written)} is not one of {options}",
        did_you_mean(str(case.written).lower(), words, case.like()),
    )


def _limit(words: str, key: str) -> MessageWriter:
    def tell(case: Case) -> MessageAndHint:
        limit, unit = case.item["ctx"][key], unit_of(case.field)
        told = f"{limit * 100:g} %" if unit == "share" else f"{limit:.10g} {unit}".strip()
        return f"{case.name} is {shown(case.written)}", f"it must be {words} {told}"

    return tell


def _mapping(case: Case) -> MessageAndHint:
    if isinstance(case.written, str) and re.match(r"[a-z_]+:[^/\s]", case.written):
        spaced = case.written.replace(":", ": ", 1)
        return f"{case.name} has no space after a colon", f"write {short(spaced)}"
    example = example_of(case.field)
    hint = (
        f"write them like {example}"
        if example.startswith("{")
        else "write key: value, indented below it"
    )
    return f"{case.name} holds keys of its own, not {shown(case.written)}", hint


def _list(case: Case) -> MessageAndHint:
    if isinstance(case.written, str) and "," in case.written:
        hint = f"put it in brackets: [{short(case.written)}]"
        return f"{case.name} is a list, not {shown(case.written)}", hint
    return f"{case.name} is a list, not {shown(case.written)}", case.like()


def _few(case: Case) -> MessageAndHint:
    if not case.written:
        return f"{case.name} is empty", case.like()
    least = case.item["ctx"]["min_length"]
    return f"{case.name} has {len(case.written)} of at least {least}", case.like()


def _count(case: Case) -> MessageAndHint:
    count = len(case.written) if isinstance(case.written, list) else 0
    entries = "entry" if count == 1 else "entries"
    return f"{case.name} has {count} {entries}, and takes two", case.like()


def _many(case: Case) -> MessageAndHint:
    if case.item["ctx"]["max_length"] == 2:
        return _count(case)
    return (
        f"{case.name} has {len(case.written)} entries",
        f"at most {case.item['ctx']['max_length']} fit",
    )


_TELLERS: dict[str, MessageWriter] = {
    "int_parsing": _whole, "int_type": _whole, "int_from_float": _whole, "int_parsing_size": _whole,
    "float_parsing": _number, "float_type": _number, "finite_number": _number,
    "bool_parsing": _yes_or_no, "bool_type": _yes_or_no,
    "string_type": _text, "string_too_long": _too_long_text, "string_too_short": _no_text,
    "string_pattern_mismatch": _misfit, "literal_error": _choice,
    "greater_than": _limit("more than", "gt"), "greater_than_equal": _limit("at least", "ge"),
    "less_than": _limit("less than", "lt"), "less_than_equal": _limit("at most", "le"),
    "model_type": _mapping, "model_attributes_type": _mapping, "dict_type": _mapping,
    "tuple_type": _list, "too_short": _few, "missing": _count, "too_long": _many,
}  # fmt: skip

__all__ = ["Case", "MessageAndHint", "missing_key", "say", "unknown_key"]
