"""Slips of quotes: curly ones, and texts that need some."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.source.fault import Slip, Suspect
from stripewright.source.scalars import short

if TYPE_CHECKING:
    from collections.abc import Sequence

ENTRY = re.compile(r"(?P<indent>\s*(?:- )?\s*)(?P<key>[\w-]+)\s*:(?P<gap>[ \t]+)(?P<value>\S.*)")


_CURLY = re.compile(r"[“”„«‘’‚](?P<inner>.*?)[“”»‘’]?")


def curly_quotes(at: Suspect) -> Slip | None:
    """Quotes that are letters to YAML."""
    match = ENTRY.fullmatch(at.line)
    curly = _CURLY.fullmatch(match["value"].rstrip()) if match else None
    if match is None or curly is None:
        return None
    straight = json.dumps(curly["inner"], ensure_ascii=False)
    return Slip(
        at.number,
        match.start("value"),
        say("{name} is in curly quotes, which are letters to YAML", match["key"]),
        say("type straight ones: {name}: {text}", match["key"], short(straight)),
        f"{match['indent']}{match['key']}: {straight}",
    )


def needs_quotes(at: Suspect) -> Slip | None:
    """A text that means something else to YAML."""
    match = ENTRY.fullmatch(at.line)
    if match is None:
        return None
    value = match["value"].rstrip()
    why = _why_quotes(value, here=at.number == at.fault.line)
    if why is None:
        return None
    inner = value.replace('"', "'") if value[0] == '"' else value
    quoted = (
        f"'{inner}'" if '"' in inner and "'" not in inner else json.dumps(inner, ensure_ascii=False)
    )
    return Slip(
        at.number,
        match.start("value"),
        say("{key} holds {what}, which means something else to YAML", match["key"], why),
        say("put the text in quotes: {key}: {text}", match["key"], short(quoted)),
        f"{match['indent']}{match['key']}: {quoted}",
    )


_QUOTED = re.compile(r"""(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')(?P<rest>.*)""")


def _why_quotes(value: str, *, here: bool) -> str | None:
    """What makes YAML take a text for something else; `here` is whether it stopped at this line."""
    first = value[0]
    if first in "\"'":
        quoted = _QUOTED.fullmatch(value)
        rest = quoted["rest"].strip() if quoted else ""
        return say("text after a closing quote") if rest and rest[0] not in "#," else None
    if first in "@`%" or (here and first in "&*!|>]},?-"):
        return say("text that begins with {first}", first)
    if first in "{[":
        closing = value.rfind("}" if first == "{" else "]")
        rest = value[closing + 1 :].strip()
        return (
            say("text after a closing {value}", value[closing])
            if closing > 0 and rest and rest[0] != "#"
            else None
        )
    return say("a colon") if ": " in value or value.endswith(":") else None


_ENTRY_LINE = re.compile(r"(?P<indent> *)[A-Za-z_][\w-]*:(?:\s|$)")


def holds_an_entry(lines: Sequence[str]) -> bool:
    """Whether a quote that goes on over lines takes in an entry: the next one's quote closed it."""
    first, *others = lines
    indent = len(first) - len(first.lstrip(" "))
    found = map(_ENTRY_LINE.match, others)
    return any(len(match["indent"]) <= indent for match in found if match)
