"""What a page gets to tell its steps anew: texts as data, and no more of a paid pattern than before."""

from __future__ import annotations

from stripewright.compute.public import equal_bands
from stripewright.pattern.settings import Settings
from stripewright.view.own_machine import own_machine_data
from stripewright.words.techniques import own_data, shipped_data, shipped_techniques
from support.patterns import worked

SETTINGS = Settings(title="Studio", maker="The maker", summary="A studio.")


def test_every_shipped_text_can_be_told_anew():
    for name, how in shipped_techniques().items():
        assert shipped_data(how.title), name
        assert shipped_data(how.text), name


def test_a_text_becomes_its_parts():
    assert shipped_data("Cut {{ letter }}{% if not keeps %},\n tail {{ tail }}{% endif %}.") == [
        "Cut ",
        ["=", ["name", "letter"]],
        ["if", [[["not", ["name", "keeps"]], [", tail ", ["=", ["name", "tail"]]]]], []],
        ".",
    ]


def test_an_authors_text_that_asks_for_more_stays_as_it_is():
    assert own_data("Stop at {{ until }}.") == ["Stop at ", ["=", ["name", "until"]], "."]
    for text in ("{{ cover.change(2) }}", "{% for one in cover.plan %}{{ one }}{% endfor %}",
                 "{{ until | rc }}", "{% if %}"):  # fmt: skip
        assert own_data(text) is None


def test_a_public_twin_gets_neither_texts_nor_sizes():
    whole = worked(sizes={"small": {"machine": {"bed": "circular", "needles": 36}}},
                   techniques={"take_off": "A secret of the maker's."})  # fmt: skip
    data = own_machine_data(whole, SETTINGS)
    assert {"telling", "steps", "sizes"} <= data.keys()
    assert "A secret" in str(data["telling"]["texts"]["take_off"])
    public = own_machine_data(equal_bands(whole), SETTINGS)
    assert not {"telling", "steps", "sizes", "yarns"} & public.keys()
    assert "A secret" not in str(public)


def test_a_size_has_only_what_is_otherwise():
    small = {"machine": {"bed": "circular", "needles": 36}}
    data = own_machine_data(worked(sizes={"small": small}), SETTINGS)
    assert data["sizes"]["small"]["machine"] == ["circular", 36, 1]
    assert not {"figures", "telling", "gauge"} & data["sizes"]["small"].keys()
