"""The JSON Schema takes what people write, and refuses what a schema can know to be wrong."""

import jsonschema
import pytest

from stripewright.pattern.schema import DOCUMENTED, json_schema
from stripewright.source.reader import read_document, read_settings
from support.problem_cases import CASES, kind_of, split_case
from support.schemas import schema_files

VALIDATORS = {
    model: jsonschema.Draft202012Validator(json_schema(kind)) for kind, model in DOCUMENTED.items()
}

KNOWN_TO_A_SCHEMA = {
    "keys-unknown", "keys-missing", "keys-misspelt-not-missing", "values-numbers",
    "values-numbers-huge", "values-yes-or-no", "values-texts", "values-title-long",
    "values-choices", "values-dates", "values-lengths", "values-lists", "parts-stripes",
    "slug-path", "settings-mistakes", "post-mistakes", "sheets-mistakes", "yaml-tags",
}  # fmt: skip


def faults(path):
    text, expected = split_case(path.read_text(encoding="utf-8"))
    read = read_settings if path.suffix == ".yaml" else read_document
    document, _ = read(text.encode(), path.name)
    found = [fault.json_path for fault in VALIDATORS[kind_of(path)].iter_errors(document.front)]
    return found, [e for e in expected if e.severity == "error"]


@pytest.mark.parametrize("kind", DOCUMENTED)
def test_each_schema_is_a_schema(kind):
    schema = json_schema(kind)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema == json_schema(kind)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_schema_agrees_with_the_reader(path):
    found, expected = faults(path)
    if not expected:
        assert found == []
    if path.stem in KNOWN_TO_A_SCHEMA:
        assert found


def test_every_named_case_is_there():
    assert {path.stem for path in CASES} >= KNOWN_TO_A_SCHEMA


@pytest.mark.parametrize("kind", DOCUMENTED)
def test_every_key_says_what_it_is_and_every_example_is_valid(kind):
    schema = json_schema(kind)
    for part in [schema, *schema.get("$defs", {}).values()]:
        for name, field in part.get("properties", {}).items():
            assert field.get("description"), name
            for example in field.get("examples", []):
                check = jsonschema.Draft202012Validator({**field, "$defs": schema.get("$defs", {})})
                check.validate(example)


@pytest.mark.parametrize(
    ("path", "text"), list(schema_files()), ids=lambda value: getattr(value, "stem", "")
)
def test_the_shipped_schemas_are_current(path, text):
    assert path.read_text(encoding="utf-8") == text, "renew them: python tests/support/schemas.py"
