"""From a gesture at the easel to its numbers: `python tests/bench/easel.py [gestures]`.

A piece of 60 stripes in Chromium; each gesture moves an edge. Told in the page's own clock, from
the gesture to the drawing of Python's answer; and how long one frame of a drag takes the page.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.browser import chromium
from support.previews import previewing
from support.studios import generate_studio, plain_text

GESTURE = """(n) => new Promise((resolve) => {
  const begun = performance.now();
  const before = Easel.S.answer;
  const wait = () => (Easel.S.answer !== before ? resolve(performance.now() - begun) : setTimeout(wait, 1));
  Easel.act((front) => Easel.gestures.edge(front, Easel.S.piece, Easel.made(), n % 59, n % 2 ? 1 : -1));
  wait();
})"""

FRAME = """(n) => {
  const begun = performance.now();
  Easel.S.trial = Easel.gestures.paint(Easel.S.front, Easel.S.piece, Easel.made(), n, n + 20, 'foam');
  Easel.drawPiece();
  document.querySelector('#piece').getBoundingClientRect();
  Easel.S.trial = null;
  return performance.now() - begun;
}"""


def told(name: str, times: list[float]) -> None:
    times.sort()
    p95 = times[max(0, int(len(times) * 0.95) - 1)]
    print(
        f"{name}: p50 {statistics.median(times):.0f} ms, p95 {p95:.0f} ms, most {times[-1]:.0f} ms"
    )


def main(gestures: int = 100) -> None:
    with tempfile.TemporaryDirectory() as folder:
        studio = generate_studio(Path(folder), 1)
        stripes = ", ".join(f"{'deep' if n % 2 else 'foam'} {5 + n % 4}" for n in range(60))
        text = plain_text("Sixty").replace("deep 10, foam 20, deep 30", stripes)
        (studio / "content/patterns/sixty.md").write_text(text)
        with previewing(studio) as preview, chromium() as browser:
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            page.goto(f"{preview.url}-/easel/pattern/sixty")
            page.wait_for_selector("#told dd")
            for n in range(5):
                page.evaluate(GESTURE, n)
            told(
                "gesture to numbers, 60 stripes",
                [page.evaluate(GESTURE, n) for n in range(gestures)],
            )
            told("one frame of a drag", [page.evaluate(FRAME, n) for n in range(gestures)])


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
