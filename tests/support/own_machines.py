"""Patterns and machines made by lot, and the program's numbers for them: what the page must tell."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stripewright.compute.work import work_anew
from stripewright.figures import Figures, rounded
from stripewright.pattern.settings import Settings
from stripewright.pipeline.own_machine import OwnMachine, as_size
from stripewright.source.reader import read_document
from stripewright.view.numbers import numbers
from stripewright.view.own_machine import own_machine_data
from stripewright.view.runs import in_runs
from stripewright.words.write import write
from support.patterns import text_of, try_work

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from stripewright.compute.worked import WorkedPattern
    from stripewright.source.document import Document

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


def lot_case(number: int) -> dict[str, Any] | None:
    """A number's pattern, machine and the program's answer; None where the pattern is refused."""
    front, size = lot_pattern(number)
    text = text_of(**front)
    worked, _ = try_work(text, f"lot-{number}", SETTINGS)
    if worked is None:
        return None
    document, _ = read_document(text.encode(), f"content/patterns/lot-{number}.md")
    own, change = lot_machine(number)
    return case(worked, document, own, change, size)


def case(
    worked: WorkedPattern,
    document: Document,
    own: OwnMachine,
    change: dict[str, Any],
    chosen: str = "",
) -> dict[str, Any]:
    """What the page is given and asked, of a size where one is chosen, and what it must answer."""
    base = worked.of_size(chosen) if chosen else worked
    size, problems = as_size(own, base)
    answer = words = None
    if size is not None:
        anew, problems = work_anew(base, size, document, SETTINGS)
        if anew is not None:
            answer, words = told(anew), words_of(anew, document)
    given = own_machine_data(worked, SETTINGS)
    return {"given": given, "size": chosen, "change": change, "answer": answer, "words": words,
            "problems": [problem.message for problem in problems]}  # fmt: skip


def words_of(worked: WorkedPattern, document: Document) -> dict[str, Any]:
    """Every step, alone or in a run of stripes, and what happens along each piece."""
    written, problems = write(worked, document, SETTINGS)
    assert written is not None, problems
    return {
        "steps": [[step.key, f"{step.number}. {step.title}", step.text, step.piece, step.last]
                  for group in written.groups for step in group.steps],
        "runs": [[str(one.number), one.title, one.text]
                 for group in written.groups for one in in_runs(group)],
        "events": {key: [[one.row, one.kind, one.title, one.text, one.until, one.number, one.times]
                         for one in events] for key, events in written.events.items()},
    }  # fmt: skip


def told(worked: WorkedPattern) -> dict[str, Any]:
    """Rows exactly, and all else to the digit that is shown."""
    figures = Figures()

    def m(value: float | None) -> str | None:
        return None if value is None else figures.yarn(value)

    def g(value: float | None) -> str | None:
        return None if value is None else figures.mass(value)

    shown = numbers(worked, SETTINGS, {})
    return {
        "pieces": [
            {
                "key": piece.key,
                "stitches": piece.stitches,
                "visible": piece.visible_rows,
                "worked": piece.worked_rows,
                "plan": [[line.letter, line.first, line.last] for line in piece.plan],
                "fold": piece.fold,
                "openings": [[gap.first, gap.last] for gap in piece.openings],
                "joins": [list(one) for one in piece.joins],
                "width": figures.length(piece.flat_width_cm),
                "length": figures.length(piece.finished_length_cm),
            }
            for piece in worked.pieces
        ],
        "sizes": [f"{size.title}: {size.text} ({size.note})" for size in shown.sizes],
        "yarns": [
            {
                "length": m(yarn.length_m.value if yarn.length_m else None),
                "mass": g(yarn.mass_g.value if yarn.mass_g else None),
                "balls": yarn.balls.balls if yarn.balls else None,
                "left": g(yarn.balls.leftover_g) if yarn.balls else None,
                "cost": yarn.balls.cost and rounded(yarn.balls.cost, 2) if yarn.balls else None,
            }
            for yarn in worked.yarns
        ],
        "cost": shown.cost,
        "filling": g(worked.filling.mass_g.value) if worked.filling else None,
        "waste": m(worked.waste_m),
        "time": shown.time,
        "tails": {key: figures.cut(cm) for key, cm in sorted(worked.tails_cm.items())},
    }


ANSWERS = frozenset({"plan", "rows", "fold", "openings", "attach", "told", "carry"})
"""What of a piece would tell rows."""
_HERE = Path(__file__).parent
_ASSETS = _HERE.parents[1] / "themes" / "shared" / "assets"


def case_of(one: dict[str, Any]) -> dict[str, Any]:
    """A case of the case file, worked by the program from what is typed."""
    text = text_of(**{"swatch": None, **one["front"]})
    worked, problems = try_work(text, "lot", SETTINGS)
    assert worked is not None, problems
    document, _ = read_document(text.encode(), "content/patterns/lot.md")
    typed = dict(zip(one["typed"][::2], one["typed"][1::2], strict=True))
    needles = typed.get("--needles")
    own = OwnMachine(
        None if needles is None else int(needles),
        typed.get("--gauge"), typed.get("--swatch"), typed["--keep"],
    )  # fmt: skip
    return case(worked, document, own, one["change"], typed.get("--size", ""))


def case_file() -> str:
    """The case file anew, with the program's answers as they are now: look at what changes."""
    cases, number = [], 0
    while len(cases) < 30:
        number += 1
        made = lot_case(number) if number % 3 else None
        if made is None:
            continue
        own, change = lot_machine(number)
        written, size = lot_pattern(number)
        front = {key: value for key, value in written.items() if value is not None}
        options = {"--needles": own.needles, "--gauge": own.gauge, "--swatch": own.swatch,
                   "--keep": own.keep, "--size": size or None}  # fmt: skip
        typed = [text for name, value in options.items() if value is not None
                 for text in (name, str(value))]  # fmt: skip
        cases.append({"front": front, "typed": typed, "change": change, "answer": made["answer"]})
    lines = (json.dumps(one, ensure_ascii=False, separators=(",", ":")) for one in cases)
    return "[\n" + ",\n".join(lines) + "\n]\n"


def told_in(page: Page, cases: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What the page's script answers."""
    title = "<!DOCTYPE html><title>Own machine</title>"
    page.route("**/*", lambda route: route.fulfill(content_type="text/html", body=title))
    page.goto("http://own-machine.test/")
    for name in ("keep.js", "own-machine.js", "own-steps.js"):
        page.add_script_tag(path=str(_ASSETS / name))
    asks = (
        (_HERE / "own_machine_told.js").read_text("utf-8").partition("\n")[2].rstrip().rstrip(";")
    )
    found: list[dict[str, Any]] = page.evaluate(
        asks, [{name: one[name] for name in ("given", "size", "change")} for one in cases]
    )
    return found
