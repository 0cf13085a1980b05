"""The arrays that pass between these modules. OpenCV's own types don't tell their numbers apart."""

from __future__ import annotations

from typing import Any

from numpy.typing import NDArray

Pixels = NDArray[Any]
"""High × wide × 3 (or high × wide), whole numbers 0 to 255: sRGB, or grey."""
Reals = NDArray[Any]
"""Numbers of 32 or 64 bits; a docstring says what and how many."""
Mask = NDArray[Any]
"""True or false."""
Integers = NDArray[Any]
"""Whole numbers."""
