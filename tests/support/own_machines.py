"""The program's numbers and words for somebody's machine: what the page must tell."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stripewright.compute.work import work_anew
from stripewright.figures import Figures, rounded
from stripewright.pipeline.own_machine import OwnMachine, as_size
from stripewright.source.reader import read_document
from stripewright.view.numbers import numbers
from stripewright.view.own_machine import own_machine_data
from stripewright.view.runs import in_runs
from stripewright.words.write import write
from support.own_machine_lots import SETTINGS, lot_machine, lot_pattern
from support.patterns import text_of, try_work

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from stripewright.compute.worked import WorkedPattern
    from stripewright.source.document import Document


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
