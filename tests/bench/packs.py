"""Packs against their floor: what Typst and the zip library alone need for the same documents.

    python tests/bench/packs.py [NUMBER]        200 when left out

Both sides run in processes of their own, so that neither finds the other's work done: Typst keeps
what it has set. Ours is the whole command, from pattern files to files on disk; the floor sets the
same sources with the same data and zips the same bytes, and does nothing else.
"""

from __future__ import annotations

import pickle
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS.parent / "generator")]

MOST = 1.2


def lay_out(folder: Path, number: int) -> None:
    """A studio of paid patterns of realistic length."""
    from support.studios import SETTINGS, pattern_text

    (folder / "content" / "patterns").mkdir(parents=True)
    (folder / "content" / "studio.yaml").write_text(SETTINGS)
    for n in range(number):
        text = pattern_text(4 * n + 3)
        assert "access: paid" in text
        (folder / "content" / "patterns" / f"pattern-{n}.md").write_text(text)


def ours(folder: Path, record: Path | None) -> None:
    """The command, timed; or, untimed, with every call of Typst and every zip written down."""
    from stripewright.paper import engine, packs
    from stripewright.pipeline.context import Options
    from stripewright.pipeline.packing import make_packs
    from stripewright.pipeline.progress import quiet
    from stripewright.studio import Studio

    calls: list[dict] = []
    zips: list[tuple] = []
    if record:
        real, zipped = engine._compiler(), packs.zipped

        class Recorder:
            def compile(self, **options):
                calls.append(options)
                return real.compile(**options)

        engine._compiler = Recorder
        packs.zipped = lambda slug, files: zips.append((slug, dict(files))) or zipped(slug, files)
    began, cpu = time.perf_counter(), time.process_time()
    done = make_packs(Studio(folder), Options(date(2026, 11, 1)), quiet)
    tell(began, cpu)
    assert len(done.made) == len(list((folder / "content" / "patterns").iterdir()))
    if record:
        record.write_bytes(pickle.dumps((calls, zips)))


def floor(record: Path) -> None:
    """The same documents by the libraries alone."""
    import io
    import zipfile

    import typst

    calls, zips = pickle.loads(record.read_bytes())
    compiler = typst.Compiler(ignore_system_fonts=True)
    began, cpu = time.perf_counter(), time.process_time()
    for options in calls:
        compiler.compile(**options)
    for slug, files in zips:
        with zipfile.ZipFile(io.BytesIO(), "w") as archive:
            for path, data in files.items():
                packed = path.endswith((".pdf", ".png"))
                kind = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
                archive.writestr(f"{slug}/{path}", data, compress_type=kind)
    tell(began, cpu)


def tell(began: float, cpu: float) -> None:
    print(f"{time.perf_counter() - began:.3f} {time.process_time() - cpu:.3f}")


def run(*args: object) -> tuple[float, float]:
    """One side in a process of its own: wall and processor seconds."""
    command = [sys.executable, __file__, *map(str, args)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    wall, cpu = done.stdout.split()
    return float(wall), float(cpu)


def main(number: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        first, second, record = (Path(folder, name) for name in ("first", "second", "record"))
        for studio in (first, second):
            lay_out(studio, number)
        run("ours", first, record)
        ours_wall, ours_cpu = run("ours", second)
        floor_wall, floor_cpu = run("floor", record)
    print(f"{number} packs             wall s     processor s")
    print(f"stripewright packs     {ours_wall:8.1f}   {ours_cpu:8.1f}")
    print(f"Typst and zip alone    {floor_wall:8.1f}   {floor_cpu:8.1f}")
    print(f"ratio (at most {MOST})   {ours_wall / floor_wall:8.2f}   {ours_cpu / floor_cpu:8.2f}")


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["ours", folder, *rest]:
            ours(Path(folder), Path(rest[0]) if rest else None)
        case ["floor", record]:
            floor(Path(record))
        case [number]:
            main(int(number))
        case _:
            main(200)
