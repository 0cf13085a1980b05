"""Front matter as it stands in the file: where each value begins and ends, and in which style.

Offsets are characters of the text as it is written, line ends and all, so that what is not
changed keeps its every byte.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

import yaml

_FENCE = re.compile(r"(?<=[\r\n])---[ \t]*(?=\r|\n|\Z)")
_FIRST = re.compile(r"---[ \t]*(\r\n|\r|\n)")


@dataclass(slots=True)
class EventNode:
    """A value: `kind` is scalar, mapping, list or alias; `start` and `end` are offsets."""

    kind: str
    start: int
    end: int
    flow: bool = True
    """In brackets or braces; for a scalar: in a line, not a block of lines of its own."""
    quote: str = ""
    """The quotation mark of a scalar, or | or > of a block of lines."""
    anchor: bool = False
    keys: list[EventNode] = field(default_factory=list)
    """Of a mapping."""
    names: list[str] = field(default_factory=list)
    """What the keys say."""
    values: list[EventNode] = field(default_factory=list)

    def entry(self, number: int) -> tuple[int, int]:
        """Where an entry begins and ends, its key included."""
        first = (self.keys or self.values)[number]
        return first.start, max(self.values[number].end, first.end)


def front_span(text: str) -> tuple[int, int] | None:
    """Where the front matter begins and ends in a text without byte order mark; None for none."""
    opening = _FIRST.match(text)
    closing = _FENCE.search(text, opening.end()) if opening else None
    if opening is None or closing is None:
        return None
    return opening.end(), closing.start()


def tree(text: str, start: int, end: int) -> EventNode | None:
    """The outermost node of a text's front matter; None when there is nothing in it.

    Raises:
        yaml.YAMLError: it can't be read.
    """
    parser = yaml.CBaseLoader(text[start:end])
    reader = _Reader(parser, start)
    try:
        return reader.root()
    finally:
        parser.dispose()


class _Reader:
    def __init__(self, parser: Any, offset: int) -> None:
        self._parser = parser
        self._offset = offset

    def root(self) -> EventNode | None:
        while (event := self._parser.get_event()) is not None:
            if isinstance(event, yaml.NodeEvent):
                return self._node(event)
        return None

    def _node(self, event: Any) -> EventNode:
        start, end = event.start_mark.index, event.end_mark.index
        node = EventNode("scalar", start + self._offset, end + self._offset)
        if isinstance(event, yaml.AliasEvent):
            node.kind = "alias"
            return node
        node.anchor = event.anchor is not None
        if isinstance(event, yaml.ScalarEvent):
            node.quote = (event.style or "").strip()
            node.flow = node.quote not in ("|", ">")
            return node
        node.flow = bool(event.flow_style)
        node.kind = "mapping" if isinstance(event, yaml.MappingStartEvent) else "list"
        self._inside(node)
        return node

    def _inside(self, node: EventNode) -> None:
        while True:
            event = self._parser.get_event()
            if isinstance(event, yaml.CollectionEndEvent):
                mark: Any = event.end_mark
                if node.flow:
                    node.end = mark.index + self._offset
                elif node.values:  # a block's own mark lies behind blank lines and comments
                    node.end = node.entry(len(node.values) - 1)[1]
                return
            if node.kind == "mapping":
                node.names.append(str(getattr(event, "value", "")))
                node.keys.append(self._node(event))
                event = self._parser.get_event()
            node.values.append(self._node(event))
