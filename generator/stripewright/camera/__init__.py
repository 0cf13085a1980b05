"""Picture of a coloured planning sheet -> its rows, their colours, and every doubt.

No module but these knows of cameras; where things stand on a sheet is `paper`'s to say. What the
stage needs beyond the program's own libraries comes with the extra `camera`; `missing` tells it.
"""

from __future__ import annotations

from importlib.util import find_spec

from stripewright.catalogue import say

NEEDED = {
    "cv2": "opencv-python-headless",
    "numpy": "numpy",
    "zxingcpp": "zxing-cpp",
    "pillow_heif": "pillow-heif",
    "pypdfium2": "pypdfium2",
}
"""Modules of the extra, and what each is installed as."""

NO_EXTRA = say("reading pictures needs the extra: pip install '.[camera]'")


def missing() -> list[str]:
    """The packages of the extra `camera` that are not installed."""
    return [package for module, package in NEEDED.items() if find_spec(module) is None]
