"""The JSON Schema of front matter, so that an editor can check it while it is written.

It accepts every form that people write (`deep 16`, `seamed`, `no`), and knows what a schema can
know: keys, kinds, choices, limits. What lies between the parts of a pattern only `proof` knows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic.json_schema import GenerateJsonSchema

from stripewright.pattern.describe import field_texts
from stripewright.pattern.fields import as_value
from stripewright.pattern.kinds import KINDS
from stripewright.pattern.settings import Settings
from stripewright.pattern.stash import Stash

if TYPE_CHECKING:
    from pydantic.json_schema import JsonSchemaValue
    from pydantic_core import core_schema

    from stripewright.pattern.base import AuthorModel

DOCUMENTED: dict[str, type[AuthorModel]] = {
    **{kind.schema: kind.model for kind in KINDS},
    "settings": Settings,
    "stash": Stash,
}
"""What can be asked for, with the model that it is made from."""


_TITLES = {"settings": "Settings of a studio", "stash": "Stash of a studio"}


def json_schema(kind: str = "pattern") -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of one kind of file.

    Args:
        kind: one of `DOCUMENTED`.

    Raises:
        KeyError: for another kind.
    """
    schema = DOCUMENTED[kind].model_json_schema(schema_generator=_Generator)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": _TITLES.get(kind, f"Front matter of a {kind}"),
        **{key: value for key, value in schema.items() if key != "title"},
    }


class _Generator(GenerateJsonSchema):
    """Pydantic's schemas, with our texts, and with what YAML makes of what people write."""

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        """A text may be written as a number: `title: 1984`."""
        made = super().str_schema(schema)
        return {**made, "type": ["string", "number"]} if made.get("type") == "string" else made

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """A model's keys, each with the text that stands under it in the source."""
        made = super().model_schema(schema)
        texts = field_texts(schema["cls"])
        for name, field in made.get("properties", {}).items():
            if texts.get(name):
                field["description"] = texts[name]
            field.pop("title", None)
            if "examples" in field:
                field["examples"] = [as_value(example) for example in field["examples"]]
        return made

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Defaults are left out: they are the program's numbers, not what an author writes."""
        made = super().default_schema(schema)
        made.pop("default", None)
        return made
