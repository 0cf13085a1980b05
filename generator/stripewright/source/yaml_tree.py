"""YAML text -> plain values, with a place for every one of them."""

from __future__ import annotations

import re
from typing import Any

import yaml

from stripewright.problems import Place, Problem, error
from stripewright.source.document import Path

_INT = re.compile(r"[-+]?\d+")
_FLOAT = re.compile(r"[-+]?(\d+\.\d*|\.\d+)")
MOST_DEPTH = 64
MOST_NODES = 100_000


def read_yaml(
    text: str, file: str, first_line: int
) -> tuple[Any, dict[Path, Place], list[Problem]]:
    """The values of a YAML text, the place of each, and what is wrong with it."""
    try:
        root = yaml.compose(text, Loader=yaml.CBaseLoader)
    except yaml.MarkedYAMLError as fault:
        mark = fault.problem_mark
        line = first_line + (mark.line if mark else 0)
        place = Place(file, line, (mark.column if mark else 0) + 1)
        return {}, {}, [error(place, f"this is not YAML: {fault.problem}")]
    walk = _Walk(file, first_line)
    value = walk.value(root, (), 0) if root is not None else {}
    return value, walk.places, walk.problems


class _Walk:
    def __init__(self, file: str, first_line: int) -> None:
        self.file = file
        self.first_line = first_line
        self.places: dict[Path, Place] = {}
        self.problems: list[Problem] = []

    def value(self, node: yaml.Node, path: Path, depth: int) -> Any:
        mark = node.start_mark
        self.places[path] = Place(self.file, self.first_line + mark.line, mark.column + 1)
        if isinstance(node, yaml.MappingNode):
            return {
                str(key.value): self.value(child, (*path, str(key.value)), depth + 1)
                for key, child in node.value
            }
        if isinstance(node, yaml.SequenceNode):
            return [self.value(child, (*path, n), depth + 1) for n, child in enumerate(node.value)]
        return _scalar(node)


def _scalar(node: yaml.ScalarNode) -> Any:
    text: str = node.value
    if node.style in ("'", '"', "|", ">"):
        return text
    if text in ("", "~", "null"):
        return None
    if text in ("true", "false"):
        return text == "true"
    if _INT.fullmatch(text):
        return int(text)
    if _FLOAT.fullmatch(text):
        return float(text)
    return text
