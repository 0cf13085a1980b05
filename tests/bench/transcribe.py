"""How surely coloured sheets are read: 500 made-up photos, 200 painted pages, 200 of one hue.

    PYTHONPATH=generator:tests python tests/bench/transcribe.py [photos] [painted] [hues] [first]

Prints, of each kind: exact in every row and without a doubt, doubted, silently wrong; and the
time and memory of reading a photo of 12 million pixels.
"""

from __future__ import annotations

import sys
import time
from collections import Counter

from camera.cases import by_hand, judged, of_one_hue, on_screen, read


def run(name, make, seeds) -> None:
    """Read the cases of one kind, telling each that is not exact."""
    words, seconds = Counter(), []
    for seed in seeds:
        case = make(seed)
        begun = time.process_time()
        reading = read(case)
        seconds.append((time.process_time() - begun) / max(len(case.pictures), 1))
        word, rows = judged(case, reading)
        words[word] += 1
        if word != "exact":
            said = Counter(doubt.message for doubt in reading.doubts).most_common(2)
            print(
                f"{name} {seed}: {word}; {len(rows)} wrong {sorted(rows)[:6]}; {said}", flush=True
            )
    seconds.sort()
    print(f"{name}: {dict(words)} of {len(seconds)}; a page takes {seconds[len(seconds) // 2]:.2f} s, "
          f"at most {seconds[-1]:.2f} s of processor", flush=True)  # fmt: skip


if __name__ == "__main__":
    given = [int(v) for v in sys.argv[1:5]]
    photos, pages, hues, first = given + [500, 200, 200, 0][len(given) :]
    run("photo", by_hand, range(first, first + photos))
    run("painted", on_screen, range(first, first + pages))
    run("one hue", of_one_hue, range(first, first + hues))
