"""YAML's composed nodes -> plain values, and the nodes kept beside them for their marks."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, TypeAlias

from yaml import MappingNode, Node, ScalarNode
from yaml.error import Mark

from stripewright.catalogue import say
from stripewright.problems import Problem, error
from stripewright.source.fault import Fault
from stripewright.source.places import AliasNode, behind
from stripewright.source.quotes import holds_an_entry
from stripewright.source.scalars import invisible, plain_scalar, short

if TYPE_CHECKING:
    from stripewright.source.places import SourceLines

_MOST_DEPTH = 64
"""Levels of mappings and lists inside each other."""
_MOST_VALUES = 20_000
"""Values in a file, those that aliases repeat counted each time."""
_MOST_TEXT = 20_000
"""Characters of one value."""
_MOST_TOLD = 200
"""Problems that are told of one file."""
MappingEntry: TypeAlias = tuple[Node, Node]
"""A key's node and its value's."""


class QuoteLeftOpen(Exception):
    """A quoted text holds lines that are entries of their own."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.message)
        self.fault = fault


_READ = frozenset(f"tag:yaml.org,2002:{kind}" for kind in ("str", "seq", "map"))
_OPEN = object()
"""What a mapping or list has come to while it is being read."""
_ALIAS = re.compile(
    r"(?:[&!][^\s,\[\]{}]*+|\#[^\n]*+|[\s:,?\[{-])*+(?P<alias>\*[0-9A-Za-z_-]++)", re.VERBOSE
)
"""From the end of what stands before an alias to the alias's own end."""
_UNQUOTED_COLOUR = re.compile(r"[^:]*:\s+(#[0-9A-Fa-f]{3,8})\b")
_GLUED_KEY = re.compile(r"([A-Za-z_]\w*):(?!//)(\S.*)")


class Values:
    """Makes plain values of nodes.

    Composed nodes come as a graph: an alias is the very node that it repeats. Afterwards they are
    a tree: a mapping's value is a dict from key to `MappingEntry`, first of its name, with the keys
    that `<<` takes in; and an alias is an `AliasNode` with marks of its own.
    """

    def __init__(self, text: str, lines: SourceLines, *, cut: bool) -> None:
        """Values of one text.

        Args:
            text: the text that was composed, mended or not.
            lines: its lines as they stand in the file.
            cut: whether the text goes on in the file: then a last key without a value is left out.
        """
        self.problems: list[Problem] = []
        self.refused = False
        self._text = text
        self._rows = text.split("\n")
        self._lines = lines
        self._end = len(text.rstrip()) if cut else len(text) + 1
        self._aliases = "*" in text
        self._kept: dict[int, Any] = {}
        self._measured: dict[int, tuple[int, int]] = {}
        self._count = 0

    def tell(self, mark: Mark, message: str, hint: str = "", more: int = 0) -> None:
        """Note a problem at a mark, or so many columns after it."""
        if len(self.problems) < _MOST_TOLD:
            place = self._lines.place(mark.line, mark.column + more)
            self.problems.append(error(place, message, hint))

    def value(self, node: Node, depth: int = 1) -> Any:
        """The value of a node that no alias repeats yet; `refused` says whether it is all of it."""
        self._count += 1
        if self._count > _MOST_VALUES:
            return self._too_many(node)
        if type(node) is ScalarNode:
            value = self._scalar(node)
            if self._aliases:
                self._kept[id(node)] = value
            return value
        if depth > _MOST_DEPTH:
            what = say("this is nested more than {most_depth} levels deep", _MOST_DEPTH)
            return self.refuse(node, what, "write it flatter")
        if node.tag:
            self._tagged(node)
        self._kept[id(node)] = _OPEN
        held: dict[str, Any] | list[Any] = {} if type(node) is MappingNode else []
        if isinstance(held, dict):
            self._mapping(node, held, depth)
        else:
            self._list(node, held, depth)
        self._kept[id(node)] = held
        return held

    def _list(self, node: Node, held: list[Any], depth: int) -> None:
        end = node.start_mark
        for number, child in enumerate(node.value):
            inner = node.value[number] = self._own(child, end)
            value = self._child(inner, depth)
            if value is None and self.refused:
                break
            held.append(value)
            end = inner.end_mark
            if self.refused:
                break
        self._ends(node, end)

    def _mapping(self, node: Node, held: dict[str, Any], depth: int) -> None:
        pairs, merged = node.value, []
        entries: dict[str, MappingEntry] = {}
        node.value = entries
        end = node.start_mark
        for key_node, child in pairs:
            outer = self._own(key_node, end)
            key = self._key(outer, entries)
            inner = self._own(child, outer.end_mark)
            end = inner.end_mark
            if key is None or self._left_out(inner):
                continue
            value = self._child(inner, depth)
            if value is None and self.refused:
                break
            if value is None and inner.value == "":
                key, value = self._empty(key, key_node, inner)
            if key == "<<":
                merged.append((value, inner))
            elif key not in entries:
                held[key], entries[key] = value, (outer, inner)
            if self.refused:
                break
        self._ends(node, end)
        for value, inner in merged:
            self._merge(held, entries, value, inner)

    @staticmethod
    def _ends(node: Any, last: Mark) -> None:
        """Set a block's end to that of what it holds; its mark stands at what comes after it."""
        if not node.flow_style:
            node.end_mark = last

    def _own(self, node: Node, before: Mark) -> Node:
        """The node itself, or an alias of it that stands somewhere after a mark."""
        if not self._aliases or id(node) not in self._kept:
            return node
        found = _ALIAS.match(self._text, before.index)
        if found is None:
            return AliasNode("", node, node.start_mark, node.start_mark)
        start, end = found.span("alias")
        line = before.line + self._text.count("\n", before.index, start)
        column = start - (self._text.rfind("\n", 0, start) + 1)
        marks = [Mark("", at, line, column + at - start, None, 0) for at in (start, end)]
        return AliasNode("", node, *marks)

    def _child(self, node: Node, depth: int) -> Any:
        if type(node) is not AliasNode:
            return self.value(node, depth + 1)
        name = short(self._text[node.start_mark.index : node.end_mark.index])
        kept = self._kept[id(node.value)]
        if kept is _OPEN:
            return self.refuse(
                node, say("{name} repeats what it stands in", name), "write the value out"
            )
        size, height = self._measure(node.value)
        if depth + height > _MOST_DEPTH:
            what = say("{name} nests more than {most_depth} levels deep", name, _MOST_DEPTH)
            return self.refuse(node, what, "write it flatter")
        self._count += size
        if self._count > _MOST_VALUES:
            self._too_many(node)
        return kept

    def _too_many(self, node: Node) -> None:
        what = say(
            "there are more than {most_values} values here, repeated ones counted each time",
            _MOST_VALUES,
        )
        self.refuse(node, what, "split the file, or repeat less with & and *")

    def _measure(self, node: Node) -> tuple[int, int]:
        """How many values a node holds, itself counted, and how many levels it is deep."""
        node = behind(node)
        known = self._measured.get(id(node))
        if known is None:
            held = node.value
            if isinstance(held, dict):
                held = [inner for _, inner in held.values()]
            size, height = 1, int(isinstance(held, list))
            for one in held if isinstance(held, list) else ():
                more, high = self._measure(one)
                size, height = size + more, max(height, high + 1)
            known = self._measured[id(node)] = (size, height)
        return known

    def _key(self, node: Node, entries: dict[str, MappingEntry]) -> str | None:
        key: str | None = None
        if type(node) is ScalarNode:
            key = str(self._scalar(node, as_key=True))
            if self._aliases:
                self._kept[id(node)] = key
        elif type(node) is AliasNode and isinstance(node.value, ScalarNode):
            key = str(self._kept[id(node.value)])
        if key is None:
            self.refuse(node, "a key can't be a list or a mapping", "write a plain word as the key")
        elif key in entries:
            first = self._lines.place(entries[key][0].start_mark.line, 0).line
            what = say("{key} stands twice", short(key))
            self.tell(
                node.start_mark, what, say("keep one of them; the first is on line {first}", first)
            )
        return key

    def _left_out(self, node: Node) -> bool:
        return node.start_mark.index >= self._end and node.value == ""

    def _scalar(self, node: ScalarNode, *, as_key: bool = False) -> Any:
        text: str = node.value
        if len(text) > _MOST_TEXT:
            what = say(
                "this text is longer than any page needs: over {most_text:,} characters", _MOST_TEXT
            )
            self.tell(node.start_mark, what, "write it under the front matter")
            text = text[:_MOST_TEXT]
        mark, style = node.start_mark, node.style
        value: Any = text if style or as_key else plain_scalar(text)
        if node.tag:
            value = self._tagged(node)
        if style in ("'", '"') and holds_an_entry(self._rows[mark.line : node.end_mark.line + 1]):
            raise QuoteLeftOpen(Fault(mark.line, mark.column, "quoted scalar", mark.line))
        if not text.isprintable() and (found := invisible(text)) is not None:
            what = say(
                "an invisible character (U+{ord:04X}) changes how this text is read", ord(found[0])
            )
            hint = say("delete it, or retype the text; right-to-left scripts need none of them")
            self.tell(mark, what, hint)
            value = "".join("\ufffd" if invisible(letter) else letter for letter in text)
        return value

    def _tagged(self, node: Node) -> Any:
        if node.tag in _READ:
            return node.value
        tag = short(node.tag.replace("tag:yaml.org,2002:", "!!"))
        hint = say("leave it out; text that begins with ! goes in quotes")
        self.tell(node.start_mark, say("the tag {tag} is not read: plain values only", tag), hint)
        return node.value

    def _merge(
        self, held: dict[str, Any], entries: dict[str, MappingEntry], value: Any, node: Node
    ) -> None:
        """Take in the keys of `<<`, where the mapping has none of its own."""
        several = value if isinstance(value, list) else [value]
        node = behind(node)
        nodes = node.value if isinstance(value, list) else [node]
        for one, its in zip(several, nodes, strict=False):
            if not isinstance(one, dict):
                message = say("<< takes in the keys of another mapping, and this is none")
                hint = say("write <<: *name, where &name stands before a mapping")
                self.tell(node.start_mark, message, hint)
                return
            for key, child in one.items():
                if key not in entries:
                    outer, inner = behind(its).value[key]
                    held[key], entries[key] = child, (outer, inner)

    def _empty(self, key: str, key_node: Node, node: Node) -> tuple[str, Any]:
        """What was meant by `colour: #1f3d5c` and by `{bed:circular}`, else nothing."""
        mark = key_node.start_mark
        if (glued := _GLUED_KEY.fullmatch(key)) is not None:
            name, rest = glued.groups()
            what = say("there is no space after the colon of {name}", short(name))
            self.tell(
                mark, what, say("write {name}: {rest}", short(name), short(rest)), glued.end(1)
            )
            return name, plain_scalar(rest)
        if node.start_mark.line != mark.line:
            return key, None
        match = _UNQUOTED_COLOUR.match(self._rows[mark.line][mark.column :])
        if match is None:
            return key, None
        what = say("the colour {colour} is not in quotes, so to YAML it is a comment", match[1])
        self.tell(mark, what, say('write {key}: "{match}"', short(key), match[1]), match.start(1))
        return key, match[1]

    def refuse(self, node: Node, message: str, hint: str) -> None:
        """Note a problem that ends the reading."""
        self.tell(node.start_mark, message, hint)
        self.refused = True
