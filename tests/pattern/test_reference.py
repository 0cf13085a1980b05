"""The reference is whole, the same every time, and its examples are what the models take."""

from pydantic import create_model

from stripewright.pattern.base import AuthorModel, fields_by_key
from stripewright.pattern.check import RESERVED
from stripewright.pattern.describe import field_texts
from stripewright.pattern.fields import example_of
from stripewright.pattern.reference import SECTIONS, key_reference
from stripewright.source.yaml_tree import read_yaml


def models(base=AuthorModel):
    for model in base.__subclasses__():
        yield model
        yield from models(model)


def test_every_model_and_key_is_told():
    told = {model for _, parts in SECTIONS for _, model in parts}
    shipped = {m for m in models() if m.__module__.startswith("stripewright.pattern.")}
    assert len(shipped) > 30
    assert told == shipped
    text = key_reference({})
    for model in told:
        for name in fields_by_key(model):
            assert f"| `{name}` |" in text


def test_it_is_the_same_every_time_and_every_table_is_straight():
    text = key_reference({})
    assert text == key_reference({})
    rows = [line for line in text.split("\n") if line.startswith("|")]
    assert {row.count("|") - row.count("\\|") for row in rows} == {5}


def test_every_key_has_its_text_and_an_example_that_its_model_takes():
    for _, parts in SECTIONS:
        for _, model in parts:
            texts = field_texts(model)
            for name, field in fields_by_key(model).items():
                assert texts[name].endswith("."), f"{model.__name__}.{name}"
                tree, problems = read_yaml(f"{name}: {example_of(field)}", "reference", 1)
                assert problems == [], f"{model.__name__}.{name}"
                alone = create_model(
                    "Alone", __base__=AuthorModel, **{name: (field.annotation, field)}
                )
                alone.model_validate(tree.front)


def test_names_that_cannot_be_keys_and_words_of_later_stages_are_listed():
    text = key_reference({"wearer": ("woman", "3 months")})
    for name in RESERVED:
        assert f"`{name}`" in text.split("####")[0]
    wearer = next(line for line in text.split("\n") if line.startswith("| `wearer` |"))
    assert "One of `woman`, `3 months`." in wearer
