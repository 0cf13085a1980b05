"""A picture -> yarns in its colours, for the pattern that is on the easel."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from stripewright.pipeline.palette import as_json, palette_of
from stripewright.preview.easel.asked import Unfit, in_a_sentence
from stripewright.problems import Refused

_MOST = 5


def read_palette(data: bytes) -> tuple[dict[str, Any], int]:
    """The colours of a picture's bytes that matter; nothing is kept of them.

    Returns:
        The yarns as plain values, and the status 200.

    Raises:
        Unfit: it is no picture that can be read.
    """
    with tempfile.TemporaryDirectory(prefix="stripewright-") as folder:
        path = Path(folder, "The picture")
        path.write_bytes(data)
        try:
            found = palette_of(path, _MOST, "The picture")
        except Refused as refused:
            [problem, *_] = refused.problems
            raise Unfit(in_a_sentence(problem)) from None
    return {"yarns": as_json(found)}, 200
