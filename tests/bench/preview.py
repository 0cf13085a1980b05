"""From a save to the changed page: `python tests/bench/preview.py [patterns] [saves]`.

Times 50 saves in a studio of 1,000 patterns, from the file's rename to the changed DOM in Chromium
(told by a MutationObserver, in the page's clock), then saves 1,000 times and looks at the memory.
"""

from __future__ import annotations

import re
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.browser import chromium
from support.previews import previewing
from support.studios import generate_studio

if TYPE_CHECKING:
    from playwright.sync_api import Page

NUMBER = 6


def save(path: Path, text: str) -> float:
    """Write aside and rename; the moment of the rename, in ms since the epoch."""
    aside = path.with_name(f".{path.name}.tmp")
    aside.write_text(text, encoding="utf-8")
    now = time.time() * 1000
    aside.replace(path)
    return now


def memory_mb(pid: int) -> float:
    status = Path(f"/proc/{pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024


def seen(page: Page) -> float:
    """The moment of the first change of the page; asked from outside, as its policy forbids eval."""
    for _ in range(1000):
        found = page.evaluate("window.seen[0]")
        if found:
            return found
        page.wait_for_timeout(20)
    raise TimeoutError


WATCHING = """() => {
  window.seen = [];
  new MutationObserver(() => window.seen.push(performance.timeOrigin + performance.now()))
    .observe(document.querySelector('main'), {subtree: true, childList: true, attributes: true, characterData: true});
}"""


def main(patterns: int = 1000, saves: int = 50, long_run: int = 1000) -> None:
    with tempfile.TemporaryDirectory() as folder:
        studio = generate_studio(Path(folder), patterns)
        path = studio / f"content/patterns/shelf-{NUMBER:05}.md"
        text = path.read_text()
        stripes = re.search(r"stripes: \[(\w+) (\d+)", text)
        begun = time.perf_counter()
        with previewing(studio) as preview, chromium() as browser:
            opened = time.perf_counter()
            preview.get(f"/patterns/shelf-{NUMBER:05}/")
            print(
                f"answers after {opened - begun:.2f} s, first page {time.perf_counter() - opened:.2f} s"
            )
            preview.all_read(600)
            print(f"all {patterns} read after {time.perf_counter() - begun:.1f} s")
            page = browser.new_page()
            page.goto(f"{preview.url}patterns/shelf-{NUMBER:05}/")
            page.wait_for_timeout(1000)
            page.evaluate(WATCHING)
            times = []
            for n in range(saves):
                page.wait_for_timeout(350)
                page.evaluate("window.seen = []")
                rows = 20 + n
                at = save(path, text.replace(stripes[0], f"stripes: [{stripes[1]} {rows}", 1))
                times.append(seen(page) - at)
            times.sort()
            print(
                f"{saves} saves: p50 {statistics.median(times):.0f} ms, p95 {times[int(saves * 0.95) - 1]:.0f} ms, most {times[-1]:.0f} ms"
            )
            kept = []
            for n in range(long_run):
                save(path, text.replace(stripes[0], f"stripes: [{stripes[1]} {20 + n % 30}", 1))
                time.sleep(0.12)
                if n % (long_run // 10) == 0:
                    kept.append(memory_mb(preview.process.pid))
            kept.append(memory_mb(preview.process.pid))
            print(f"memory over {long_run} saves, MB: " + " ".join(f"{mb:.0f}" for mb in kept))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
