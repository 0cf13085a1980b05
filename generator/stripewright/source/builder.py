"""Events of YAML's C parser -> plain values and their spots.

The events are read one by one, so that depth and size are known before anything deep or large is
built, and so that what stands before a mistake is still there after it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import yaml

from stripewright.problems import Problem, error
from stripewright.source.places import Lines
from stripewright.source.scalars import invisible, plain, short
from stripewright.source.slips import Fault

if TYPE_CHECKING:
    from stripewright.source.places import Spot

MOST_DEPTH = 64
"""Levels of mappings and lists inside each other."""
MOST_VALUES = 20_000
"""Values in a file, those that aliases repeat counted each time."""
MOST_TOLD = 200
"""Problems that are told of one file."""


class QuoteLeftOpen(Exception):  # noqa: N818  # it never leaves this module
    """A quoted text holds lines that are entries of their own."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.message)
        self.fault = fault


class _Open:
    """A mapping or list that is being read."""

    __slots__ = ("anchor", "count", "deepest", "key", "merged", "spots", "value")

    def __init__(self, value: Any, spots: Any, anchor: str | None, count: int, depth: int) -> None:
        self.value = value
        self.spots = spots
        self.anchor = anchor
        self.count = count
        self.deepest = depth
        self.key: tuple[str, int, int] | None = None
        self.merged: list[tuple[Any, Any, int, int]] = []


@dataclass(frozen=True, slots=True)
class _Anchored:
    """A value that an alias may repeat. Its size is 0 while it is being read."""

    value: Any
    inner: Any
    size: int = 0
    height: int = 0


_TEXT_TAG = "tag:yaml.org,2002:str"
_UNQUOTED_COLOUR = re.compile(r"[^:]*:\s+(#[0-9A-Fa-f]{3,8})\b")
_SWALLOWED = re.compile(r"(?P<indent> *)[A-Za-z_][\w-]*:(?:\s|$)")
_GLUED_KEY = re.compile(r"([A-Za-z_]\w*):(?!//)(\S.*)")


class Builder:
    """Takes events, keeps values and their spots."""

    def __init__(self, text: str, lines: Lines) -> None:
        """A builder of one text.

        Args:
            text: the text that is read, mended or not.
            lines: its lines as they stand in the file.
        """
        self._written = Lines(text, "", 1)
        self.lines = lines
        self.problems: list[Problem] = []
        self.root: Any = None
        self.root_spot: Spot = (0, 0, None, -1, -1)
        self.refused = False
        self._stack: list[_Open] = []
        self._anchors: dict[str, _Anchored] = {}
        self._count = 0
        self._documents = 0

    def tell(self, line: int, column: int, message: str, hint: str = "") -> None:
        """Note a problem at a 0-based place."""
        if len(self.problems) < MOST_TOLD:
            self.problems.append(error(self.lines.place(line, column), message, hint))

    def take(self, event: Any) -> bool:
        """Take one event; False when reading must stop."""
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self._scalar(event)
        elif kind is yaml.MappingStartEvent:
            self._open(event, {}, {})
        elif kind is yaml.SequenceStartEvent:
            self._open(event, [], [])
        elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
            self._close()
        elif kind is yaml.AliasEvent:
            self._alias(event)
        elif kind is yaml.DocumentStartEvent:
            self._documents += 1
        return not self.refused

    def _scalar(self, event: Any) -> None:
        mark = event.start_mark
        text: str = event.value
        value: Any = text if event.style else plain(text)
        if event.tag is not None:
            value = self._tagged(event, text)
        if mark.line != event.end_mark.line and event.style in ("'", '"'):
            self._swallowed(mark, event.end_mark.line)
        if not text.isprintable():
            text = self._visible(text, mark)
            value = text if isinstance(value, str) else value
        stack = self._stack
        if stack and stack[-1].key is None and type(stack[-1].value) is dict:
            self._key(text, mark)
            return
        if value is None and text == "" and stack and (key := stack[-1].key) is not None:
            value = self._empty(stack[-1], key, mark)
        if event.anchor is not None:
            self._anchors[event.anchor] = _Anchored(value, None, 1)
        self._put(value, mark.line, mark.column, None)

    def _key(self, key: str, mark: Any) -> None:
        top = self._stack[-1]
        if key in top.value and key != "<<":
            spot = top.spots[key]
            self.tell(
                mark.line,
                mark.column,
                f"{short(key)} stands twice",
                f"keep one of them; the first is on line {self.lines.place(spot[3], 0).line}",
            )
        top.key = (key, mark.line, mark.column)

    def _put(self, value: Any, line: int, column: int, inner: Any) -> None:
        """Give a value to the mapping or list it stands in."""
        self._count += 1
        if self._count > MOST_VALUES:
            self._refuse(
                line,
                column,
                f"there are more than {MOST_VALUES} values here, repeated ones counted each time",
                "split the file, or repeat less with & and *",
            )
        stack = self._stack
        if not stack:
            self._root(value, line, column, inner)
            return
        top = stack[-1]
        if type(top.value) is list:
            top.value.append(value)
            top.spots.append((line, column, inner, -1, -1))
            return
        if top.key is None:
            self._refuse(
                line, column, "a key can't be a list or a mapping", "write a plain word as the key"
            )
            return
        key, key_line, key_column = top.key
        top.key = None
        if key == "<<":
            top.merged.append((value, inner, line, column))
        elif key not in top.value:
            top.value[key] = value
            top.spots[key] = (line, column, inner, key_line, key_column)

    def _root(self, value: Any, line: int, column: int, inner: Any) -> None:
        if self._documents < 2:
            self.root, self.root_spot = value, (line, column, inner, -1, -1)
        elif value is not None:
            self._refuse(
                line,
                column,
                "a second document begins here",
                "keep one, without a line --- between",
            )

    def _open(self, event: Any, value: Any, spots: Any) -> None:
        mark = event.start_mark
        if event.tag is not None:
            self._tagged(event, "")
        depth = len(self._stack) + 1
        if depth > MOST_DEPTH:
            self._refuse(
                mark.line,
                mark.column,
                f"this is nested more than {MOST_DEPTH} levels deep",
                "write it flatter",
            )
            return
        # Put first and filled afterwards, so that what was read stays when the rest can't be.
        self._put(value, mark.line, mark.column, spots)
        if event.anchor is not None:
            self._anchors[event.anchor] = _Anchored(value, spots)
        self._stack.append(_Open(value, spots, event.anchor, self._count, depth))

    def _close(self) -> None:
        closed = self._stack.pop()
        depth = len(self._stack) + 1
        for merged in closed.merged:
            self._merge(closed, *merged)
        if closed.anchor is not None:
            size = self._count - closed.count + 1
            height = closed.deepest - depth + 1
            self._anchors[closed.anchor] = _Anchored(closed.value, closed.spots, size, height)
        if self._stack:
            top = self._stack[-1]
            top.deepest = max(top.deepest, closed.deepest)

    def _alias(self, event: Any) -> None:
        mark = event.start_mark
        line, column = mark.line, mark.column
        name = event.anchor
        found = self._anchors.get(name)
        if found is None:
            self.tell(
                line,
                column,
                f"*{short(name)} repeats something that is not there",
                f"put text that begins with * in quotes, or name it first with &{short(name)}",
            )
            found = _Anchored(f"*{name}", None, 1)
        if found.size == 0:
            self._refuse(
                line, column, f"*{short(name)} repeats what it stands in", "write the value out"
            )
            return
        depth = len(self._stack) + found.height
        if depth > MOST_DEPTH:
            self._refuse(
                line,
                column,
                f"*{short(name)} nests more than {MOST_DEPTH} levels deep",
                "write it flatter",
            )
            return
        if self._stack:
            self._stack[-1].deepest = max(self._stack[-1].deepest, depth)
            if self._stack[-1].key is None and type(self._stack[-1].value) is dict:
                self._key(str(found.value), mark)
                return
        self._count += found.size - 1
        self._put(found.value, line, column, found.inner)

    def _merge(self, into: _Open, value: Any, inner: Any, line: int, column: int) -> None:
        """Take in the keys of `<<`, where the mapping has none of its own."""
        several = value if isinstance(value, list) else [value]
        spots = [spot[2] for spot in inner] if isinstance(value, list) else [inner]
        for one, its_spots in zip(several, spots, strict=True):
            if not isinstance(one, dict):
                message = "<< takes in the keys of another mapping, and this is none"
                hint = "write <<: *name, where &name stands before a mapping"
                self.tell(line, column, message, hint)
                return
            for key, child in one.items():
                if key not in into.value:
                    into.value[key] = child
                    into.spots[key] = its_spots[key]

    def _tagged(self, event: Any, text: str) -> Any:
        if event.tag not in (_TEXT_TAG, "!"):
            mark = event.start_mark
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self.tell(
                mark.line,
                mark.column,
                f"the tag {short(tag)} is not read: plain values only",
                "leave it out; text that begins with ! goes in quotes",
            )
        return text

    def _visible(self, text: str, mark: Any) -> str:
        match = invisible(text)
        if match is None:
            return text
        self.tell(
            mark.line,
            mark.column,
            f"an invisible character (U+{ord(match[0]):04X}) changes how this text is read",
            "delete it, or retype the text; right-to-left scripts need none of them",
        )
        return "".join("\ufffd" if invisible(letter) else letter for letter in text)

    def _empty(self, top: _Open, key: tuple[str, int, int], mark: Any) -> Any:
        """What was meant by `colour: #1f3d5c` and by `{bed:circular}`, else None."""
        name, line, column = key
        glued = _GLUED_KEY.fullmatch(name)
        if glued is not None:
            self.tell(
                line,
                column + glued.end(1),
                f"there is no space after the colon of {short(glued[1])}",
                f"write {short(glued[1])}: {short(glued[2])}",
            )
            top.key = (glued[1], line, column)
            return plain(glued[2])
        if mark.line != line:
            return None
        match = _UNQUOTED_COLOUR.match(self._written.all()[line][column:])
        if match is None:
            return None
        self.tell(
            line,
            column + match.start(1),
            f"the colour {match[1]} is not in quotes, so to YAML it is a comment",
            f'write {short(name)}: "{match[1]}"',
        )
        return match[1]

    def _swallowed(self, mark: Any, last: int) -> None:
        """Notice a quote that is closed by the next entry's, and takes in all between."""
        lines = self._written.all()
        indent = len(lines[mark.line]) - len(lines[mark.line].lstrip(" "))
        for line in lines[mark.line + 1 : last + 1]:
            match = _SWALLOWED.match(line)
            if match and len(match["indent"]) <= indent:
                raise QuoteLeftOpen(Fault(mark.line, mark.column, "quoted scalar", mark.line))

    def _refuse(self, line: int, column: int, message: str, hint: str) -> None:
        self.tell(line, column, message, hint)
        self.refused = True
