"""One stripe as it is written: a yarn and its rows."""

from __future__ import annotations

import re
from typing import Any, ClassVar

from pydantic import Field, model_validator

from stripewright.catalogue import say
from stripewright.pattern.amounts import is_by_yarn, turned_round
from stripewright.pattern.base import AuthorModel, Key, Number, Whole, Wrong, shown

MOST_ROWS = 20_000
"""No machine piece is longer; beyond it a number is a slip of the finger."""

_COUNT = r"[0-9]{1,9}(?:\.[0-9]{1,9})?"
_RUN = re.compile(
    rf"\s*(?P<yarn>[^\s]+)\s+(?P<count>{_COUNT})(?:\s+least\s+(?P<least>[0-9]{{1,9}}))?\s*"
)
_LESS = re.compile(rf"\s*([a-z]\w*)\s+(-{_COUNT})\s*")
_ROWS_FIRST = re.compile(rf"\s*({_COUNT})(?:\s*rows?)?\s+([a-z]\w*)\s*")
_SEVERAL = re.compile(rf"\s*(?:[a-z]\w*\s+{_COUNT}\s*){{2,}}")
_ONE = re.compile(rf"[a-z]\w*\s+{_COUNT}")
_GLUED = re.compile(rf"\s*([a-z][a-z_]*)[:×x]?({_COUNT})\s*")


class Run(AuthorModel):
    """One stripe, written `deep 16`; `deep 2 least 4` is a share that may not fall under 4 rows."""

    text_form: ClassVar[dict[str, Any] | None] = {
        "type": "string",
        "pattern": rf"^\s*\S+\s+{_COUNT}(\s+least\s+[0-9]+)?\s*$",
        "examples": ["deep 16"],
    }

    yarn: Key = Field(examples=["deep"])
    """The yarn's key."""
    count: Number = Field(gt=0, le=MOST_ROWS, examples=["16"])
    """Visible rows, or a share under `parts`."""
    least: Whole | None = Field(default=None, ge=1, le=MOST_ROWS, examples=["4"])
    """The fewest rows that this part may get."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        if isinstance(value, dict):
            return cls._from_keys(value)
        match = _RUN.fullmatch(value) if isinstance(value, str) else None
        if match:
            return {key: part for key, part in match.groupdict().items() if part is not None}
        if isinstance(value, str) and (less := _LESS.fullmatch(value)):
            raise Wrong(
                say("{less} has {less2} rows, and no stripe has fewer than 1", less[1], less[2]),
                say("write it without the minus: {less} {less2}", less[1], less[2][1:]),
            )
        raise Wrong(
            say("{number} is not a stripe", shown(value)),
            say("write the yarn and its rows, like {meant}", _meant(value)),
        )

    @classmethod
    def _from_keys(cls, value: dict[str, Any]) -> dict[str, Any]:
        if len(value) == 1 and not value.keys() & cls.model_fields.keys():
            [(yarn, count)] = value.items()
            if isinstance(count, int | float) or is_by_yarn(f"{yarn} {count}"):
                raise Wrong(
                    say("{yarn}: {count} is not a stripe", yarn, count),
                    say("write it without the colon: {yarn} {count}", yarn, count),
                )
        return value


def _meant(value: Any) -> str:
    """What a text that is not a stripe may have been meant as, or an example."""
    if isinstance(value, str):
        if _SEVERAL.fullmatch(value):
            return say("{findall}, with commas between", ", ".join(_ONE.findall(value)))
        if match := _ROWS_FIRST.fullmatch(value):
            return f"{match[2]} {match[1]}"
        if match := _GLUED.fullmatch(value):
            return f"{match[1]} {match[2]}"
        if turned := turned_round(value):
            return turned
    return "deep 16"
