"""Reading a pattern file beside what YAML's C loader alone needs for the same text.

python tests/bench/reading.py
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import process_time
from timeit import repeat

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "generator"))

import yaml  # noqa: E402  # after the path is set

from stripewright.pattern.pattern import Pattern  # noqa: E402  # as above
from stripewright.pattern.read import as_model  # noqa: E402  # as above
from stripewright.source.reader import read_document  # noqa: E402  # as above


def microseconds(work, number=100):
    """The best of seven runs, in time of this process alone."""
    return min(repeat(work, timer=process_time, number=number, repeat=7)) / number * 1e6


def main():
    """Print a line for each pattern of the demo studio, and one for all of them."""
    print(f"{'pattern':32} {'C load':>8} {'read':>8} {'model':>8} {'ratio':>6}   (microseconds)")
    total = [0.0, 0.0, 0.0]
    for path in sorted((ROOT / "content" / "patterns").glob("*.md")):
        data = path.read_bytes()
        front = data.decode().split("\n---\n")[0].removeprefix("---\n")
        document, problems = read_document(data, path.name)
        made, found = as_model(document, Pattern)
        assert made, [*problems, *found]
        times = [
            microseconds(lambda front=front: yaml.load(front, Loader=yaml.CSafeLoader)),
            microseconds(lambda data=data, name=path.name: read_document(data, name)),
            microseconds(lambda document=document: as_model(document, Pattern)),
        ]
        total = [before + now for before, now in zip(total, times, strict=True)]
        show(path.stem, times)
    show("all", total)


def show(name, times):
    """One line of the table."""
    load, read, model = times
    print(f"{name:32} {load:8.0f} {read:8.0f} {model:8.0f} {(read + model) / load:6.2f}")


if __name__ == "__main__":
    main()
