"""Worked pattern + words + drawings -> PatternView. Free and paid part ways here and nowhere else."""

from __future__ import annotations
