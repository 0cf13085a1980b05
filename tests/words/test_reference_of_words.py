"""The reference's vocabulary has all names there are, and no other."""

from stripewright.compute.public import equal_bands
from stripewright.words import reference
from stripewright.words.filters import FILTERS
from stripewright.words.namespace import namespace
from stripewright.words.techniques import shipped_techniques
from support.patterns import text_of, worked_from


def test_every_fact_has_its_meaning():
    worked = worked_from(text_of())
    facts, public = namespace(worked, "metric"), namespace(equal_bands(worked), "metric")
    for key, meanings in {
        "cover": reference.PIECE,
        "deep": reference.YARN,
        "pattern": reference.PATTERN,
    }.items():
        assert set(facts[key]._facts) == set(meanings)
        assert set(public[key]._facts) <= set(meanings)


def test_every_filter_has_its_meaning():
    assert set(reference.FILTER) == set(FILTERS)


def test_every_technique_is_listed():
    text = reference.text_reference()
    for name in shipped_techniques():
        assert f"| `{name}` |" in text
    assert "| `worked_rows` • | rows that the machine knits |" in text
    assert "| `stitches` | stitches, which is needles in work |" in text
