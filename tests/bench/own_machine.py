"""By hand: patterns and machines made by lot, worked by the program and by the page's script.

    python tests/bench/own_machine.py 2000
    python tests/bench/own_machine.py --renew   # the case file, after a change that is meant

Numbers, steps and events, of a pattern in several sizes for one of them. Says how many were worked,
how many both refuse, and every one that differs, by its number.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.browser import chromium
from support.own_machines import case_file, lot_case, told_in


def main(many: int) -> int:
    """Compare so many, and say which differ."""
    cases = {number: one for number in range(many) if (one := lot_case(number))}
    with chromium() as browser:
        found = told_in(browser.new_page(), list(cases.values()))
    differ = [
        number
        for (number, one), told in zip(cases.items(), found, strict=True)
        if any(told.get(name) != json.loads(json.dumps(one[name])) for name in ("answer", "words"))
    ]
    refused = sum("refused" in told for told in found)
    print(f"{len(cases)} patterns, {refused} refused by both, {len(differ)} differ: {differ[:20]}")
    return 1 if differ else 0


if __name__ == "__main__":
    if sys.argv[1:] == ["--renew"]:
        (Path(__file__).parents[1] / "cases" / "own-machine.json").write_text(case_file(), "utf-8")
        sys.exit(0)
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000))
