"""Steps of any combination of pieces read as text: nothing left open, nothing said twice over."""

import re
from itertools import product

import pytest

from stripewright.source.reader import read_document
from stripewright.words.write import write
from support.patterns import SETTINGS, text_of, try_work

EDGES = ("open", "seamed", "gathered", "grafted", "hemmed")
STRIPES = [
    "deep 20",
    "foam 1",
    "deep 20",
    "sand 6",
    "foam 4",
    "sand 6",
    "foam 4",
    "sand 6",
    "foam 4",
]
BAD = re.compile(
    r"[{}]|  | [.,:;]|\bNone\b|\.\.|,,|:\.|\bthe the\b|\bTrue\b|\bFalse\b|\ba a\b|\(\)"
)


def pieces_of(form, ends, sides, fold):
    cover = {"form": form, "ends": list(ends), "stripes": STRIPES, "carry": 4, "make": 2}
    if form == "panel":
        cover["sides"] = sides
        cover["openings"] = [{"what": "pocket", "after": 8, "rows": 9, "side": "left"}]
    else:
        cover["openings"] = [{"what": "thumb", "after": 8, "rows": 9, "side": "both"}]
    if fold:
        cover["fold"] = 30
    else:
        cover["fringe"] = {"length": "9 cm", "strands": 1}
    lining = {"form": form, "like": "cover", "yarn": "foam", "sides": sides}
    if form == "tube":
        del lining["sides"]
    arm = {
        "form": "panel",
        "needles": 9,
        "stripes": ["sand 12"],
        "attach": {"to": "cover", "at": 5},
    }
    return {"cover": cover, "lining": lining, "arm": arm}


def of_one(pieces, more):
    """The steps and events of one combination; None where it is refused."""
    text = text_of(pieces=pieces, **more)
    worked, _ = try_work(text)
    if worked is None:
        return None
    document, _ = read_document(text.encode(), "content/patterns/x.md")
    written, problems = write(worked, document, SETTINGS)
    assert written is not None, problems
    return written


@pytest.mark.parametrize("filled", [False, True])
@pytest.mark.parametrize("waste", [0, 5])
def test_any_combination_reads_as_text(filled, waste):
    told = 0
    shapes = [("tube", "open"), *(("panel", sides) for sides in ("open", "seamed", "joined"))]
    every = list(product(shapes, EDGES, EDGES, (False, True)))
    # Each of the four runs takes every fourth: all combinations of shape and ends are told.
    for (form, sides), first, last, fold in every[2 * filled + (waste > 0) :: 4]:
        more = {"fill": "firm" if filled else None, "waste": {"rows": waste}, "jogs": "soften",
                "tails": {"knot": "at once" if fold else "later"},
                "machine": {"bed": "circular", "needles": 41}}  # fmt: skip
        written = of_one(pieces_of(form, (first, last), sides, fold), more)
        if written is None:
            continue
        told += 1
        steps = [step for group in written.groups for step in group.steps]
        assert len({step.key for step in steps}) == len(steps)
        events = [event for events in written.events.values() for event in events]
        for one in (*steps, *events):
            case = (form, sides, first, last, fold, filled, waste, one.text)
            assert one.text.endswith("."), case
            assert one.text[0].isupper(), case
            assert not BAD.search(one.text), case
            assert not BAD.search(one.title), case
    assert told > 30
