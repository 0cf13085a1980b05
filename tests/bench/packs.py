"""Packs against their floor: what Typst and the zip library alone need for the same documents.

    python tests/bench/packs.py [NUMBER]        200 when left out

Both sides run in processes of their own, so that neither finds the other's work done: Typst keeps
what it has set. Ours, on one process and on two, is the whole command, from pattern files to files
on disk; the floor sets the same sources with the same data on one process, zips the same bytes, and
does nothing else.
"""

from __future__ import annotations

import pickle
import resource
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS.parent / "generator")]

MOST = 1.2
WHO = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)


def lay_out(folder: Path, number: int) -> None:
    """A studio of paid patterns of realistic length."""
    from support.studios import SETTINGS, pattern_text

    (folder / "content" / "patterns").mkdir(parents=True)
    (folder / "content" / "studio.yaml").write_text(SETTINGS)
    for n in range(number):
        text = pattern_text(4 * n + 3)
        assert "access: paid" in text
        (folder / "content" / "patterns" / f"pattern-{n}.md").write_text(text)


def ours(folder: Path, workers: int, record: Path | None) -> None:
    """The command, timed; or, untimed, with every call of Typst and every zip written down."""
    from stripewright.paper import engine, packs
    from stripewright.pipeline import packing
    from stripewright.pipeline.context import Options
    from stripewright.pipeline.progress import quiet
    from stripewright.studio import Studio

    calls: list[dict] = []
    zips: list[tuple] = []
    if record:
        packing.RENEWED = sys.maxsize  # another process would write down nothing here
        real, zipped = engine._compiler(), packs.zipped

        class Recorder:
            def compile(self, **options):
                calls.append(options)
                return real.compile(**options)

        engine._compiler = Recorder
        packs.zipped = lambda slug, files: zips.append((slug, dict(files))) or zipped(slug, files)
    began, cpu = time.perf_counter(), spent()
    done = packing.make_packs(Studio(folder), Options(date(2026, 11, 1)), quiet, workers=workers)
    tell(began, cpu)
    assert len(done.made) == len(list((folder / "content" / "patterns").iterdir()))
    if record:
        assert calls
        record.write_bytes(pickle.dumps((calls, zips)))


def floor(record: Path) -> None:
    """The same documents by the libraries alone."""
    import io
    import zipfile

    import typst

    calls, zips = pickle.loads(record.read_bytes())
    compiler = typst.Compiler(ignore_system_fonts=True)
    began, cpu = time.perf_counter(), spent()
    for options in calls:
        compiler.compile(**options)
    for slug, files in zips:
        with zipfile.ZipFile(io.BytesIO(), "w") as archive:
            for path, data in files.items():
                packed = path.endswith((".pdf", ".png"))
                kind = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
                archive.writestr(f"{slug}/{path}", data, compress_type=kind)
    tell(began, cpu)


def spent() -> float:
    """Processor seconds of this process and of those that it started and saw end."""
    return sum(sum(resource.getrusage(who)[:2]) for who in WHO)


def tell(began: float, cpu: float) -> None:
    """Wall seconds, processor seconds, and the most MB that any of the processes held."""
    most_kb = max(resource.getrusage(who).ru_maxrss for who in WHO)
    print(f"{time.perf_counter() - began:.3f} {spent() - cpu:.3f} {most_kb / 1024:.0f}")


def run(*args: object) -> list[float]:
    """One side in a process of its own: what it tells."""
    command = [sys.executable, __file__, *map(str, args)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return [float(number) for number in done.stdout.split()]


def main(number: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        record = Path(folder, "record")
        studios = [Path(folder, name) for name in ("recorded", "one", "two")]
        for studio in studios:
            lay_out(studio, number)
        run("ours", studios[0], 1, record)
        one, two = run("ours", studios[1], 1), run("ours", studios[2], 2)
        least = run("floor", record)
    print(f"{number} packs                        wall s   processor s   most MB of a process")
    for name, (wall, cpu, most) in (("one process", one), ("two processes", two)):
        print(f"stripewright packs, {name:13} {wall:6.1f} {cpu:13.1f} {most:13.0f}")
    print(f"Typst and zip alone, one process  {least[0]:6.1f} {least[1]:13.1f}")
    print(
        f"ratio of one process (at most {MOST}) {one[0] / least[0]:6.2f} {one[1] / least[1]:13.2f}"
    )


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["ours", folder, workers, *rest]:
            ours(Path(folder), int(workers), Path(rest[0]) if rest else None)
        case ["floor", record]:
            floor(Path(record))
        case [number]:
            main(int(number))
        case _:
            main(200)
