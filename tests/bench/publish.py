"""How long publishing takes, against what the libraries alone need for the same work.

    python tests/bench/publish.py 10 100 1000          # sizes of the studios
    python tests/bench/publish.py --no-paper 1000      # without PDFs and share pictures

For each size a studio is generated and published by the command's own function, each time in a new
process: in one process, in two, again with nothing changed, and with one pattern changed. Peak
memory is the largest process's. The floor is measured in the same run, on the same inputs: reading
the front matter with PyYAML's C loader, Markdown to HTML, filling in the templates with the same
values, the drawings' elements by svgwrite, the same documents by Typst, and writing the same files;
nothing else. Beside the seconds stands processor time against the floor's: on a machine that has
other work to do, only that can be trusted.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Any
from unittest import mock

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "generator"), str(ROOT / "tests"), str(ROOT / "tests" / "bench")]

import jinja2  # noqa: E402  # the path above must be set first
import yaml  # noqa: E402
from drawings import taken_apart, written_again  # noqa: E402
from markdown_it import MarkdownIt  # noqa: E402

from stripewright.paper import engine, picture  # noqa: E402
from stripewright.pipeline import build, pictures  # noqa: E402
from stripewright.pipeline.context import Options  # noqa: E402
from stripewright.pipeline.sources import read_sources  # noqa: E402
from stripewright.problems import has_errors  # noqa: E402
from stripewright.studio import Studio  # noqa: E402
from stripewright.words import sandbox  # noqa: E402
from support.studio_here import DAY  # noqa: E402
from support.studios import generate_studio, pattern_text  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Callable

MOST_WHOLE = 1000
"""Patterns up to which a studio is published in one process too, and the floor is taken."""

ONE_RUN = r"""
import json, os, re, resource, sys, time
from datetime import date
from pathlib import Path
from stripewright.pipeline.commands import publish
from stripewright.pipeline.context import Options
from stripewright.pipeline.progress import quiet
from stripewright.studio import Studio
root, workers, paper = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "paper"
began, before = time.perf_counter(), sum(os.times()[:4])
done = publish(Studio(root), root / "site", Options(date(2026, 11, 25), paper=paper), quiet, workers)
took = time.perf_counter() - began
busy = sum(os.times()[:4])
# Its own peak by VmHWM: Linux counts what the starting process held into ru_maxrss.
own = int(re.search(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text())[1])
peak = max(own, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
print(json.dumps([took, busy - before, peak / 1024, done.outcome.written]))
"""


def published(root: Path, workers: int, paper: bool) -> tuple[float, float, float, int]:
    """Seconds, those of processors, MB at the peak, and files written, of one publish in a new process."""
    done = subprocess.run(
        [sys.executable, "-c", ONE_RUN, str(root), str(workers), "paper" if paper else "screen"],
        check=False, capture_output=True, text=True,
    )  # fmt: skip
    if done.returncode:
        sys.exit(f"a publish ended with {done.returncode}:\n{done.stdout}{done.stderr}")
    took, busy, peak, written = json.loads(done.stdout.splitlines()[-1])
    return took, busy, peak, written


class Recorder:
    """Publishes once more, in memory, and keeps what the libraries were asked for."""

    def __init__(self, root: Path, paper: bool) -> None:
        self.markdown: list[str] = []
        self.bodies: list[tuple[str, dict[str, Any]]] = []
        self.pages: list[tuple[Any, dict[str, Any]]] = []
        self.drawings: list[Any] = []
        self.documents: list[Callable[[], object]] = []
        with ExitStack() as patches:
            self._watch(patches)
            studio = Studio(root)
            sources, _ = read_sources(studio)
            built = build.build(studio, sources, Options(DAY, paper=paper))
        assert not has_errors(built.problems), built.problems
        self.files = dict(built.files)
        self.fronts = [s.data.decode().split("\n---\n", 1)[0] for s in sources.of("patterns")]

    def _watch(self, patches: ExitStack) -> None:
        parse, render = MarkdownIt.parse, jinja2.Template.render
        fill_in, draw_all = sandbox.fill_in, pictures.draw_all
        compile_pdf, jpeg = engine._compile_pdf, picture.jpeg

        def on_parse(parser: Any, text: str, env: Any = None) -> Any:
            self.markdown.append(text)
            return parse(parser, text, env)

        def on_render(template: Any, *args: Any, **values: Any) -> str:
            self.pages.append((template, values))
            return render(template, *args, **values)

        def on_draw(*args: Any, **options: Any) -> Any:
            drawn = draw_all(*args, **options)
            self.drawings += [taken_apart(one.svg) for one in drawn.everything()]
            return drawn

        def on_pdf(source: bytes, text: str) -> bytes:
            self.documents.append(lambda: compile_pdf(source, text))
            return compile_pdf(source, text)

        def on_share(svg: str, width: int) -> bytes:
            self.documents.append(lambda: jpeg(svg, width))
            return jpeg(svg, width)

        def on_fill(compiled: Any, facts: Any, meter: Any = None) -> Any:
            self.bodies.append((compiled, dict(facts)))
            return fill_in(compiled, facts, meter)

        for target, name, new in (
            (MarkdownIt, "parse", on_parse), (jinja2.Template, "render", on_render),
            (pictures, "draw_all", on_draw), (engine, "_compile_pdf", on_pdf), (picture, "jpeg", on_share),
        ):  # fmt: skip
            patches.enter_context(mock.patch.object(target, name, new))
        patches.enter_context(mock.patch("stripewright.words.body.fill_in", on_fill))

    def floor(self) -> dict[str, tuple[float, float]]:
        """Seconds that each library alone needs, and those of processors."""
        markdown = MarkdownIt("commonmark").enable("table")
        return {
            "yaml": timed(lambda: [yaml.load(text, yaml.CSafeLoader) for text in self.fronts]),
            "markdown": timed(lambda: [markdown.render(text) for text in self.markdown]),
            "jinja": timed(
                lambda: (
                    [template.render(**values) for template, values in self.pages]
                    + [sandbox.fill_in(compiled, facts) for compiled, facts in self.bodies]
                )
            ),
            "svgwrite": timed(lambda: [written_again(one) for one in self.drawings]),
            "typst": timed(lambda: [document() for document in self.documents]),
            "writing": timed(self._write),
        }

    def _write(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            for path, data in self.files.items():
                target = Path(folder, path)
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(data)


def timed(action: Callable[[], object]) -> tuple[float, float]:
    began, before = time.perf_counter(), sum(os.times()[:4])
    action()
    return time.perf_counter() - began, sum(os.times()[:4]) - before


def measure(count: int, paper: bool) -> None:
    """Print the table of one size."""
    with tempfile.TemporaryDirectory() as folder:
        root = generate_studio(Path(folder, "studio"), count)
        rows = []
        if count <= MOST_WHOLE:
            rows.append(("full, one process", *published(root, 1, paper)))
            reset(root)
        rows.append(("full, two processes", *published(root, 2, paper)))
        rows.append(("nothing changed", *published(root, 2, paper)))
        change = root / "content/patterns/shelf-00001.md"
        change.write_text(pattern_text(1, seed=99), encoding="utf-8")
        rows.append(("one pattern changed", *published(root, 2, paper)))
        parts: dict[str, tuple[float, float]] = {}
        if count <= MOST_WHOLE:
            reset(root)
            parts = Recorder(root, paper).floor()
    floor, least = (sum(part[which] for part in parts.values()) for which in (0, 1))
    told = ", ".join(f"{name} {seconds:.2f}" for name, (seconds, _) in parts.items())
    print(
        f"\n{count:,} patterns; floor {floor:.2f} s ({told})" if parts else f"\n{count:,} patterns"
    )
    for name, seconds, busy, peak, written in rows:
        ratio = f"{seconds / floor:6.2f} × floor{busy / least:6.2f} of processors" if floor else ""
        share = f"{seconds / rows[0][1]:6.2f} × first"
        each = f"{1000 * seconds / count:8.1f} ms each"
        print(
            f"  {name:22}{seconds:9.2f} s{each}{ratio}{share}{peak:8.0f} MB{written:9,} written",
            flush=True,
        )


def reset(root: Path) -> None:
    """Forget the site and the cache."""
    import shutil

    for name in ("site", ".stripewright"):
        shutil.rmtree(root / name, ignore_errors=True)


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("sizes", nargs="*", type=int, default=[10, 100, 1000])
    parser.add_argument("--no-paper", action="store_true", help="leave PDFs and share pictures out")
    given = parser.parse_args()
    for count in given.sizes:
        measure(count, not given.no_paper)


if __name__ == "__main__":
    main()
