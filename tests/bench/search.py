"""How long a letter in the catalogue's search field takes, on a browser slowed to a phone's pace.

    python tests/bench/search.py             # 10,000 patterns, four times slower
    python tests/bench/search.py 2000 6

A catalogue of cards made by rule is written to a folder and opened from disk at a phone's size.
Words of its titles, summaries, yarns, kinds and tags are typed letter by letter, whole, with a slip
and two at a time, and taken away again. Told of each letter are the processor time of the page's
main thread, to which a busy machine adds nothing, and the Event Timing API's duration from the key
to the next paint, to which it does; the time from the first use of the field to a list that is
ready; and the list's size. The floor is what the same keys take in a page of one bare field.
"""

from __future__ import annotations

import gzip
import random
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "generator"), str(ROOT / "tests")]

from stripewright.addresses import CATALOGUE, SEARCH  # noqa: E402  # the path above must be set first
from stripewright.pages.render import Renderer  # noqa: E402
from support.browser import PHONE, chromium  # noqa: E402
from support.many_cards import many_cards  # noqa: E402
from support.views import site, theme  # noqa: E402

if TYPE_CHECKING:
    from playwright.sync_api import Browser, CDPSession, Page

    from stripewright.pages.cards import Card

QUERIES = 40
LEAST_MS = 16
"""What the Event Timing API tells at the least; quicker letters count as that."""
SETTLED_MS = 150
"""After a letter: all that it caused is over, and a quick hand types the next."""

WATCH = """
window.keys = new Map();
new PerformanceObserver((list) => {
  for (const { name, interactionId, startTime, duration } of list.getEntries()) {
    if (!interactionId || !/^key|^input/.test(name)) continue;
    window.keys.set(interactionId, Math.max(duration, window.keys.get(interactionId) || 0));
  }
}).observe({ type: 'event', durationThreshold: 16, buffered: true });
"""


def written(cards: list[Card], folder: Path) -> Path:
    """The catalogue's first page with all it needs."""
    renderer = Renderer(site(), theme())
    pages = renderer.site(cards, {})
    files = {**renderer.assets.files(), CATALOGUE: pages[CATALOGUE](), SEARCH: pages[SEARCH]()}
    for path, data in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    packed = len(gzip.compress(files[SEARCH]))
    print(f"{len(cards):,} patterns: list {len(files[SEARCH]):,} bytes, {packed:,} compressed; "
          f"page {len(files[CATALOGUE]):,} bytes")  # fmt: skip
    return folder / CATALOGUE


def queries(cards: list[Card]) -> list[str]:
    """What is typed: words of the cards, some with a slip, some two at a time."""
    lot = random.Random(5)
    found = []
    for number in range(QUERIES):
        view = lot.choice(cards).view
        texts = (
            view.title,
            view.summary.strip("."),
            lot.choice(lot.choice(cards).yarns)[0],
            view.kind,
            view.tags[0],
        )
        word = lot.choice(texts[number % 5].split()).lower()
        if number % 3 == 1 and len(word) > 4:  # two letters changed about
            at = lot.randrange(1, len(word) - 1)
            word = word[:at] + word[at + 1] + word[at] + word[at + 2 :]
        if number % 4 == 2:
            word += f" {lot.choice(view.title.split()).lower()}"
        found.append(word)
    return found


def typed(page: Page, session: CDPSession, words: list[str]) -> tuple[list[float], list[float]]:
    """Milliseconds of each letter: of the main thread's work, and until the next paint."""
    busy = []

    def press(key: str) -> None:
        before = worked_ms(session)
        page.keyboard.press(key)
        page.wait_for_timeout(SETTLED_MS)
        busy.append(worked_ms(session) - before)

    for word in words:
        for letter in word:
            press("Space" if letter == " " else letter)
        for _ in word[3:]:
            press("Backspace")
        press("Escape")
    slow = page.evaluate("[...window.keys.values()]")
    return busy, [*slow, *[float(LEAST_MS)] * (len(busy) - len(slow))]


def floor_ms(browser: Browser, slower: int, words: list[str]) -> list[float]:
    """Milliseconds of the main thread's work for each of the same letters in a bare field."""
    page = browser.new_context(**PHONE).new_page()
    page.set_content('<meta name="viewport" content="width=device-width"><input type="search">')
    page.locator("input").focus()
    session = measured(page, slower)
    page.evaluate(WATCH)
    return typed(page, session, words[:6])[0]


def measured(page: Page, slower: int) -> CDPSession:
    """Slow a page's processor down, and count its work in processor time."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    return session


def worked_ms(session: CDPSession) -> float:
    """What the page's main thread has worked so far, in processor time."""
    found = session.send("Performance.getMetrics")["metrics"]
    return 1000 * next(one["value"] for one in found if one["name"] == "TaskDuration")


def told(what: str, times: list[float]) -> None:
    """Print what is told of some times."""
    times = sorted(times)
    print(f"  {what}: median {statistics.median(times):.0f} ms, "
          f"95 % within {times[int(len(times) * 0.95)]:.0f} ms, longest {times[-1]:.0f} ms")  # fmt: skip


def main() -> None:
    given = dict(zip(("count", "slower"), map(int, sys.argv[1:]), strict=False))
    cards = many_cards(given.get("count", 10_000))
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        path = written(cards, Path(folder))
        page = browser.new_context(**PHONE).new_page()
        page.goto(path.as_uri())
        page.evaluate(WATCH)
        slower = given.get("slower", 4)
        session = measured(page, slower)
        before, began = worked_ms(session), time.perf_counter()
        page.get_by_label("Search patterns").focus()
        page.keyboard.press(cards[0].view.title[0].lower())
        page.locator(".found-row").first.wait_for()
        wall, worked = 1000 * (time.perf_counter() - began), worked_ms(session) - before
        print(f"ready {wall:.0f} ms after the first use of the field ({worked:.0f} ms of work)")
        page.keyboard.press("Escape")
        page.wait_for_timeout(500)
        page.evaluate("window.keys.clear()")
        busy, painted = typed(page, session, queries(cards))
        print(f"{len(busy)} keys, {slower} times slower")
        told("work of a key", busy)
        told("until the next paint", painted)
        told("floor: work of a key", floor_ms(browser, slower, queries(cards)))


if __name__ == "__main__":
    main()
