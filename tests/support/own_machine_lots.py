"""Patterns and machines made by lot: the same number gives the same on any machine."""

from __future__ import annotations

import random
from typing import Any

from stripewright.pattern.settings import Settings
from stripewright.pipeline.own_machine import OwnMachine
from support.patterns import text_of, try_work

SETTINGS = Settings(title="Studio", maker="The maker", summary="A studio.")
YARNS = ("deep", "foam", "sand", "rust")
ENDS = ("open", "seamed", "gathered", "grafted", "hemmed")
KEEPS = ("rows", "size", "proportions")


def lot_front(number: int) -> dict[str, Any]:
    """The front matter of a number's pattern."""
    lot = random.Random(f"own machine {number}")
    yarns = YARNS[: lot.randint(2, 4)]
    front: dict[str, Any] = {
        "kind": lot.choice(["cushion", "hat", "cowl", "scarf", "blanket", "bag", "toy", "other"]),
        "machine": {"bed": "circular", "needles": lot.choice([22, 40, 46, 48, 72])},
        "yarns": {},
        "pieces": {},
        "margin": lot.choice(["10 %", "0 %", "15 %"]),
        "swatch": None,
        "gauge": None,
    }
    for yarn in yarns:
        one: dict[str, Any] = {"name": f"Yarn {yarn}", "colour": lot.choice(["#1f3d5c", "#c2913f"])}
        if lot.random() < 0.8:
            one["ball"] = lot.choice(["100 g / 120 m", "50 g / 85 m", "100 g / 110 m"])
            if lot.random() < 0.7:
                one["price"] = lot.choice([4.9, 5.2, 6.05])
        if lot.random() < 0.2:
            one["strands"] = 2
        front["yarns"][yarn] = one
    if lot.random() < 0.6:
        swatch = {"stitches": lot.randint(24, 50), "rows": lot.randint(30, 70),
                  "width": f"{lot.randint(180, 330) / 10} cm",
                  "length": f"{lot.randint(180, 330) / 10} cm"}  # fmt: skip
        if lot.random() < 0.5:
            swatch["mass"] = f"{lot.randint(30, 80)} g"
        front["swatch"] = swatch
    else:
        front["gauge"] = f"{lot.randint(10, 26)} sts x {lot.randint(14, 34)} rows / 10 cm"
    if lot.random() < 0.3:
        front["fill"] = lot.choice(["light", "firm", {"firmness": "medium", "mass": "300 g"}])
    if lot.random() < 0.2:
        front["tails"] = {"inside": "12 cm", "seam": "80 cm"}
    for at in range(lot.randint(1, 3)):
        front["pieces"][f"part_{at}"] = _piece(lot, yarns)
    first = front["pieces"]["part_0"]
    if lot.random() < 0.35:
        front["pieces"]["lining"] = {"form": first["form"], "like": "part_0", "yarn": yarns[-1]}
    if lot.random() < 0.25:
        front["pieces"]["strap"] = {"form": "panel", "needles": 8, "stripes": [f"{yarns[0]} 40"],
                                    "attach": {"to": "part_0", "at": 5}}  # fmt: skip
    return front


def _piece(lot: random.Random, yarns: tuple[str, ...]) -> dict[str, Any]:
    form = lot.choice(["tube", "tube", "panel"])
    piece: dict[str, Any] = {"form": form, "make": lot.choice([1, 1, 1, 2, 3])}
    runs = [f"{yarns[n % len(yarns)]} {lot.randint(1, 18)}" for n in range(lot.randint(2, 9))]
    if lot.random() < 0.4:
        piece["stripes"] = [{"mirror": runs, "middle": lot.choice(["once", "twice"])}]
    else:
        piece["stripes"] = runs
    if lot.random() < 0.25:
        shares = (
            [{"repeat": lot.randint(2, 5), "stripes": runs[:2]}] if lot.random() < 0.5 else runs
        )
        piece.pop("stripes")
        piece |= {"parts": shares, "length": f"{lot.randint(30, 90)} cm"}
    ends = lot.choices(ENDS, k=2)
    piece["ends"] = ["grafted", "grafted"] if lot.random() < 0.1 and form == "tube" else ends
    if form == "panel":
        piece["sides"] = lot.choice(["open", "seamed", "joined"])
        if lot.random() < 0.5:
            piece["needles"] = lot.randint(8, 20)
        if lot.random() < 0.3:
            piece["fold"] = "half"
    if lot.random() < 0.2:
        piece["fringe"] = {"length": "10 cm", "every": lot.randint(1, 4)}
    if lot.random() < 0.2:
        piece["carry"] = lot.randint(2, 12)
    if lot.random() < 0.2:
        piece["openings"] = [{"what": "thumb", "after": lot.randint(0, 3), "rows": 2}]
    return piece


def lot_sizes(number: int) -> dict[str, Any]:
    """The further sizes of a number's pattern; none of most."""
    lot = random.Random(f"own machine's sizes {number}")
    if lot.random() < 0.6:
        return {}
    small: dict[str, Any] = {}
    if lot.random() < 0.7:
        small["machine"] = {"bed": "circular", "needles": lot.choice([20, 36, 44, 60])}
    if lot.random() < 0.5 or not small:
        small["gauge"] = f"{lot.randint(10, 26)} sts x {lot.randint(14, 34)} rows / 10 cm"
    if lot.random() < 0.5:
        small["keep"] = lot.choice(KEEPS)
    return {"base": {"title": "As it is"}, "sizes": {"small": {"title": "Small", **small}}}


def lot_pattern(number: int) -> tuple[dict[str, Any], str]:
    """A number's front matter, with its sizes where they can be worked, and the size asked for."""
    front, sizes = lot_front(number), lot_sizes(number)
    if sizes and try_work(text_of(**front, **sizes), f"lot-{number}", SETTINGS)[0] is not None:
        return front | sizes, random.Random(f"size {number}").choice(["base", "small", "small"])
    return front, ""


def lot_machine(number: int) -> tuple[OwnMachine, dict[str, Any]]:
    """A number's machine: as typed at the command line, and as the page hands it on."""
    lot = random.Random(f"machine {number}")
    needles = lot.choice([None, 20, 24, 40, 48, 54, 60, 72, 100])
    keep = lot.choice(KEEPS)
    how = lot.choice(["", "10 cm", "4 in", "swatch"])
    if how == "swatch":
        s, r, w, h = (lot.randint(20, 60), lot.randint(24, 80), lot.randint(150, 350) / 10,
                      lot.randint(150, 350) / 10)  # fmt: skip
        text = f"{{stitches: {s}, rows: {r}, width: {w} cm, length: {h} cm}}"
        return OwnMachine(needles, None, text, keep), _change(needles, (s / w, r / h), keep)
    if how:
        s, r = lot.randint(80, 280) / 10, lot.randint(100, 360) / 10
        over = 10.0 if how == "10 cm" else 10.16
        gauge = f"{s} sts x {r} rows / {how}"
        return OwnMachine(needles, gauge, None, keep), _change(needles, (s / over, r / over), keep)
    return OwnMachine(needles or 44, None, None, keep), _change(needles or 44, None, keep)


def _change(needles: int | None, gauge: tuple[float, float] | None, keep: str) -> dict[str, Any]:
    return {"needles": needles, "gauge": None if gauge is None else [*gauge], "keep": keep}
