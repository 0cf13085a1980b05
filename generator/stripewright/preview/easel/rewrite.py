"""A pattern file with other values: nothing but what was changed differs from before.

The front matter wanted is compared with the one that is there; what differs is changed where it
stands; and the file is read again, to see that it means what was meant.
"""

from __future__ import annotations

import json
from difflib import SequenceMatcher
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _
from stripewright.preview.easel import edits
from stripewright.preview.easel.edits import Splice, spliced
from stripewright.preview.easel.nodes import EventNode, front_span, tree
from stripewright.source.reader import read_document

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from stripewright.source.places import Path

BOM = b"\xef\xbb\xbf"
ORDERED = frozenset({("yarns",), ("pieces",), ("sizes",)})
"""Mappings whose order means something: letters go by it, and what is told first."""
MOST_PASSES = 4000


class NotWritten(Exception):
    """A file is left as it is; the text says why."""


def rewritten(data: bytes, file: str, wanted: Mapping[str, Any]) -> bytes:
    """A file's bytes with its front matter changed to what is wanted.

    Args:
        data: the file as it is.
        file: its name, for reasons.
        wanted: all of the front matter: mappings, lists, text, numbers, true, false and None.

    Raises:
        NotWritten: the file has mistakes of its own, or what differs can't be changed in place.
    """
    document, problems = read_document(data, file)
    if problems or not document.whole:
        why = problems[0] if problems else _("it can't be read whole")
        told = _("This file has a mistake that has to be mended by hand first.")
        raise NotWritten(f"{told} {why}")
    target = restored(document.front, dict(wanted))
    text = data.removeprefix(BOM).decode()
    for _pass in range(MOST_PASSES):
        front = read_document(text.encode(), file)[0].front
        splices = _splices(text, front, target)
        if not splices:
            break
        text = spliced(text, splices)
        if read_document(text.encode(), file)[1]:
            break
    made = (BOM if data.startswith(BOM) else b"") + text.encode()
    again, problems = read_document(made, file)
    if problems or not same(again.front, target) or again.body != document.body:
        raise NotWritten(
            _(
                "This change can’t be made in the file without touching more than was changed. "
                "Make it in the file itself."
            )
        )
    return made


def restored(old: Any, new: Any, path: Path = ()) -> Any:
    """What is wanted, spelt as it was where it is the same (`1.10`, not 1.1), keys in their order.

    Keys that are new come last, but where order means something it is as wanted.
    """
    if isinstance(old, dict) and isinstance(new, dict):
        keys = list(new)
        if path not in ORDERED:
            keys = [key for key in old if key in new] + [key for key in new if key not in old]
        return {k: restored(old.get(k), new[k], (*path, k)) for k in keys}
    if isinstance(old, list) and isinstance(new, list):
        kept = list(new)
        for tag, i, i_end, j, j_end in _matched(old, new):
            if tag in ("equal", "replace"):
                for one, other in zip(range(i, i_end), range(j, j_end), strict=False):
                    kept[other] = restored(old[one], new[other], (*path, other))
        return kept
    number = isinstance(new, int | float) and isinstance(old, int | float)
    if number and isinstance(old, bool) == isinstance(new, bool) and float(old) == float(new):
        return old  # a browser holds numbers as floats
    return new


def same(one: Any, other: Any) -> bool:
    """Whether two trees of values are the same: kinds and the order of keys, too."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    kinds = isinstance(one, bool) == isinstance(other, bool)
    return kinds and isinstance(one, str) == isinstance(other, str) and bool(one == other)


def _splices(text: str, front: Mapping[str, Any], wanted: Any) -> list[Splice]:
    """The next changes to make: all values that differ, else the first entry that does."""
    if same(front, wanted):
        return []
    span = front_span(text)
    root = tree(text, *span) if span else None
    if root is None or root.kind != "mapping":
        raise NotWritten(_("This file has no front matter that could be changed."))
    found = _Differences(text)
    found.between(root, front, wanted)
    return found.values or found.entries


class _Differences:
    """What has to be changed: values, and the first change of a mapping's or list's entries."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.values: list[Splice] = []
        self.entries: list[Splice] = []

    def between(self, node: EventNode, old: Any, new: Any) -> None:
        """Note what differs between what stands at a node and what is wanted there."""
        if same(old, new):
            return
        self._check(node)
        if isinstance(old, dict) and isinstance(new, dict) and node.kind == "mapping":
            self._mapping(node, old, new)
        elif isinstance(old, list) and isinstance(new, list) and new and node.kind == "list":
            self._list(node, old, new)
        else:
            self._check_inside(node)
            self.values.append(edits.set_value(self.text, node, new))

    def _mapping(self, node: EventNode, old: dict[str, Any], new: dict[str, Any]) -> None:
        if set(old) != set(node.names):
            self._refuse(node, _("some of it is taken from elsewhere by <<"))
        place = {name: number for number, name in enumerate(node.names)}
        for key, value in old.items():
            if key in new:
                self.between(node.values[place[key]], value, new[key])
        if self.entries:
            return
        gone = [key for key in old if key not in new]
        added = [key for key in new if key not in old]
        if gone:
            self._check_inside(node.values[place[gone[0]]])
            self.entries = [edits.remove_entry(self.text, node, place[gone[0]])]
        elif added:
            self.entries = edits.add_key(self.text, node, added[0], new[added[0]])
        elif list(old) != list(new):
            self.entries = edits.move_entries(self.text, node, [place[key] for key in new])

    def _list(self, node: EventNode, old: list[Any], new: list[Any]) -> None:
        for _what, i, i_end, j, j_end in _matched(old, new):
            both = min(i_end - i, j_end - j)
            for step in range(both):
                self.between(node.values[i + step], old[i + step], new[j + step])
            if self.entries:
                continue
            if i + both < i_end:
                self._check_inside(node.values[i + both])
                self.entries = [edits.remove_entry(self.text, node, i + both)]
            elif j + both < j_end:
                more = new[j + both : j_end]
                self.entries = edits.add_entries(self.text, node, i_end, more)

    def _check(self, node: EventNode) -> None:
        if node.kind == "alias" or node.anchor:
            self._refuse(node, _("it is written once and repeated with & and *"))

    def _check_inside(self, node: EventNode) -> None:
        for inner in _all(node):
            self._check(inner)

    def _refuse(self, node: EventNode, why: str) -> None:
        line = self.text.count("\n", 0, node.start) + 1
        raise NotWritten(
            _(
                "Line {line} can’t be changed from here: {why}. Change it in the file.",
                line=line,
                why=why,
            )
        )


def _all(node: EventNode) -> Iterator[EventNode]:
    yield node
    for inner in node.values:
        yield from _all(inner)


def _matched(old: list[Any], new: list[Any]) -> Sequence[tuple[str, int, int, int, int]]:
    """How one list becomes another; entries are compared by what they say."""
    said = [[json.dumps(one, sort_keys=True) for one in several] for several in (old, new)]
    return SequenceMatcher(None, said[0], said[1], autojunk=False).get_opcodes()
