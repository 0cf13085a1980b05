"""What all models share: how they are built, and the plain kinds of value."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, ClassVar, NamedTuple

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    StringConstraints,
    WithJsonSchema,
)

from stripewright.catalogue import say
from stripewright.problems import Severity
from stripewright.source.scalars import short

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo
    from pydantic.json_schema import JsonSchemaValue
    from pydantic_core import CoreSchema

    from stripewright.source.places import Path


class Wrong(ValueError):
    """Something the author wrote can't be so.

    Attributes:
        message: what is wrong, in a few words.
        hint: what would be right, with an example.
        at: the key to look at, from the value that was found wrong; empty for the value itself.
    """

    def __init__(self, message: str, hint: str = "", at: tuple[str | int, ...] = ()) -> None:
        super().__init__(f"{message}; {hint}" if hint else message)
        self.message = message
        self.hint = hint
        self.at = at


class Finding(NamedTuple):
    """Something wrong, by its path in the front matter."""

    path: Path
    message: str
    hint: str
    key: bool = False
    """Whether it stands at the key rather than at the value."""
    severity: Severity = Severity.ERROR


class AuthorModel(BaseModel):
    """Something the author wrote: frozen, and with no key that isn't known.

    A text may be written as a number (`title: 1984`), and then keeps its spelling. A model that
    can also be written as one text gives that form's JSON Schema in `text_form`.
    """

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        coerce_numbers_to_str=True,
        str_strip_whitespace=True,
        allow_inf_nan=False,
    )

    text_form: ClassVar[dict[str, Any] | None] = None

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        schema = handler(core_schema)
        if cls.text_form is None:
            return schema
        return {"anyOf": [cls.text_form, schema]}


def fields_by_key(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """A model's fields by the key that authors write, which may be a word of Python's: `from`."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def shown(value: Any) -> str:
    """A value as a message repeats it: in quotes, cut short, on one line."""
    if isinstance(value, str):
        return f"“{short(value)}”"
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return say("keys of its own")
    return "a list" if isinstance(value, list | tuple) else str(value)[:40]


def _no_bool(value: Any) -> Any:
    if isinstance(value, bool):
        raise Wrong(say("{number} is not a number", shown(value)), "write digits, like 40")
    return value


Whole = Annotated[int, BeforeValidator(_no_bool)]
"""A whole number."""

Number = Annotated[float, BeforeValidator(_no_bool)]
"""A number, with a decimal point or without."""

YES_OR_NO = ["yes", "no", "on", "off"]
Yes = Annotated[
    bool, WithJsonSchema({"anyOf": [{"type": "boolean"}, {"enum": YES_OR_NO}], "examples": ["yes"]})
]
"""Yes or no, also written true or false, on or off."""

ONE_LINE = r"^[^\n\r\t]*$"
KEY = r"^[a-z][a-z0-9_]{0,39}$"
"""Keys of yarns and pieces: they are also names in the body's template."""

SLUG = r"^[a-z0-9]+(-[a-z0-9]+)*$"
"""Slugs stand in addresses and file names on any system."""

HTTPS = r"^https://[A-Za-z0-9][A-Za-z0-9.-]*(:[0-9]{1,5})?([/?#][^\s<>\"'`\\]*)?$"
"""An address of the web that can stand in a link as it is."""

HOST = r"^[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*$"
LINK = r"^(https://[A-Za-z0-9][^\s<>\"'`\\]*|mailto:[^\s<>\"'`\\@]+@[A-Za-z0-9.-]+)$"
ADDRESS = r"^https://[A-Za-z0-9][A-Za-z0-9.-]*(:[0-9]{1,5})?/([A-Za-z0-9._~-]+/)*$"
LANGUAGE = r"^[a-z]{2,3}(-[A-Z]{2})?$"
CURRENCY = r"^[A-Z]{3}$"
ROLE = r"^(MC|CC[1-9][0-9]?)$"
VARIABLE = r"^[a-z][a-z0-9-]{0,59}$"
STYLE = r"^([A-Za-z0-9#%.,()*+ \"'_-]|/[A-Za-z0-9 (.])+$"
"""What can stand in a style sheet as one value: it can't end it, comment or fetch."""

PHOTO = r"^[A-Za-z0-9][A-Za-z0-9_-]*(\.[A-Za-z0-9_-]+)*\.(jpe?g|JPE?G|png|PNG|webp|WEBP)$"

TABLE = r"^[A-Za-z0-9][A-Za-z0-9_-]*(\.[A-Za-z0-9_-]+)*\.csv$"
"""Names of the studio's tables."""

OneLine = Annotated[str, StringConstraints(pattern=ONE_LINE, min_length=1)]
"""A text of one line."""

Key = Annotated[str, StringConstraints(pattern=KEY)]
"""A yarn's, piece's, size's or technique's key."""

Slug = Annotated[str, StringConstraints(pattern=SLUG, max_length=80)]
"""A name in an address."""

Https = Annotated[str, StringConstraints(pattern=HTTPS, max_length=500)]
"""An address of the web."""

WRITTEN_LIKE: dict[str, tuple[str, str]] = {
    TABLE: (say("is not the name of a table"), say("write it like weather.csv, in content/data")),
    HOST: (
        say("is not the name of a host"),
        say("leave https:// and path out, like shop.example.org"),
    ),
    LINK: (
        say("is not a link"),
        say("write it in full, like https://video.example.org/ or mailto:me@example.org"),
    ),
    ADDRESS: (
        say("is not the address of a site"),
        say("begin with https:// and end with a slash, like https://stripes.example.org/"),
    ),
    LANGUAGE: (say("is not a language"), say("write its code, like en or en-GB")),
    CURRENCY: (say("is not a currency"), say("write its three letters, like EUR or GBP")),
    ROLE: (say("is not a role"), say("write MC for the main colour, CC1, CC2, ... for the others")),
    VARIABLE: (
        say("is not a token's name"),
        say("use small letters, digits and hyphens, like accent"),
    ),
    STYLE: (say("can't stand in a style sheet"), say('write one value, like "#1f5c4d" or 1.25rem')),
    ONE_LINE: (say("has more than one line, or a tab in it"), say("write it on one line")),
    KEY: (
        say("can't be a key"),
        say(
            "begin with a small letter, then letters, digits and _, 40 at most, like deep or sea_2"
        ),
    ),
    SLUG: (
        say("can't stand in an address"),
        say("use small letters, digits and single hyphens, like breakwater-bolster"),
    ),
    HTTPS: (
        say("is not an address of the web"),
        say("write it in full, like https://shop.example.org/item"),
    ),
    PHOTO: (
        say("is not the name of a picture"),
        say("name a file in content/photos/, like bolster.jpg (a jpg, png or webp)"),
    ),
}
"""What a text that doesn't fit one of these patterns is told."""
