"""The demo's tables: what its patterns' stripes may be made from."""

from __future__ import annotations

from pathlib import Path

TABLES = tuple(
    (path.name, path.read_bytes())
    for path in sorted((Path(__file__).parents[2] / "content/data").glob("*.csv"))
)
