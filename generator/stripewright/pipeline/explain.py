"""`stripewright explain`: one name's part of the reference, as text for a terminal.

A name can be a key of a file (`pieces.ends`), a technique (`seam_end`), a fact or a filter of the
texts' templates (`worked_rows`, `inch`). The same tables give `generator/REFERENCE.md`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from textwrap import fill, indent
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _, plain, say
from stripewright.compute.tables import head_sizes
from stripewright.pattern.reference import ROOTS, about, all_keys, keys_of
from stripewright.phrases import capital
from stripewright.problems import Place, Refused, error, nearest
from stripewright.source.yaml_tree import read_yaml
from stripewright.studio import shipped_themes
from stripewright.words.reference import FILTER, PATTERN, PIECE, YARN
from stripewright.words.techniques import names_in, shipped_techniques

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from stripewright.pattern.base import AuthorModel
    from stripewright.pattern.reference import KeyReference, Vocabulary

_BLOCK = re.compile(r"{%-?\s*block (\w+)")

_WIDE = 88
"""Characters a line."""
MOST_WHOLE = 3
"""Entries of one name that are printed whole; of more, where each stands is told."""

_TEMPLATE = (
    (N_("a fact of a piece, {written}"), "PIECE.{}", PIECE),
    (N_("a fact of a yarn, {written}"), "YARN.{}", YARN),
    (N_("a fact of the pattern, {written}"), "pattern.{}", PATTERN),
    (N_("a filter, {written}"), "... | {}", FILTER),
)

_THEMES = N_(
    "To change one, copy it into the studio's own theme folder at the same path, like "
    "themes/tideline/templates/post.html: there it wins over the shipped one. A template can "
    'also begin with {% extends "shipped/post.html" %} and change one block of it; {{ super() }} '
    "in a block keeps what stood there. A theme is "
    "code: what stands in it runs when the site is published, so take themes only from people "
    "you trust."
)


@dataclass(frozen=True, slots=True)
class Explanation:
    """Something that can be asked for.

    Attributes:
        name: in full, like `pieces.ends`.
        where: what it belongs to.
        text: what is told of it.
    """

    name: str
    where: str
    text: str

    @property
    def last(self) -> str:
        """The name without what it stands in."""
        return self.name.rpartition(".")[2]

    def __str__(self) -> str:
        return f"{self.name}: {self.where}\n\n{indent(self.text, '    ')}"


def explain(name: str | None) -> str:
    """What the reference says of a name; without one, what can be asked for.

    Raises:
        Refused: there is no such name; the nearest is told.
    """
    entries = list(_entries())
    if not name:
        return _overview(entries)
    wanted = name.strip().removesuffix(":").lower()
    last = wanted.rpartition(".")[2]
    found = [entry for entry in entries if entry.name == wanted]
    if not found or last == wanted:
        found = _told_once([entry for entry in entries if entry.last == last])
    if not found:
        names = {name for entry in entries for name in (entry.name, entry.last)}
        near = nearest(wanted, names) if len(wanted) > 1 else ""
        hint = (
            near if near.startswith("did you") else say("`stripewright explain` lists every name")
        )
        raise Refused(
            [error(Place("explain"), say("there is nothing called “{name}”", name), hint)]
        )
    lines = list(dict.fromkeys(f"{entry.name}: {entry.where}" for entry in found))
    if len(found) > MOST_WHOLE and len(lines) > 1:
        head = _(
            "“{name}” is {number} things; ask for one of them by its whole name:",
            name=name,
            number=len(lines),
        )
        return f"{head}\n\n" + indent("\n".join(lines), "    ")
    return "\n\n".join(map(str, found))


def _told_once(found: Sequence[Explanation]) -> list[Explanation]:
    """Of entries that say the same, such as a key of stripes within stripes, the shortest name."""
    shortest: dict[tuple[str, str], Explanation] = {}
    for entry in sorted(found, key=lambda one: one.name.count(".")):
        shortest.setdefault((entry.where, entry.text), entry)
    kept = {id(entry) for entry in shortest.values()}
    return [entry for entry in found if id(entry) in kept]


def words() -> Vocabulary:
    """Words to choose from that stand in tables of the computation."""
    return {"wearer": tuple(head_sizes())}


def _entries() -> Iterator[Explanation]:
    known = words()
    for prefix, (where, model) in ROOTS.items():
        name = prefix or "pattern"
        keys = ", ".join(key.name for key in keys_of(model, known))
        told = _("keys: {keys}", keys=keys)
        yield Explanation(name, _(where), _wrapped(f"{about(model)}\n\n{told}"))
    for path, where, key in all_keys(known):
        more = f"\n\n{_tokens()}" if path == "studio.tokens" else ""
        belongs = _("a key of {file}", file=_(where))
        yield Explanation(path, belongs, _key_text(key, known) + more)
    themes = _wrapped(_(_THEMES)) + _theme_files()
    yield Explanation("templates", _("the shipped themes' files"), themes)
    for name, technique in shipped_techniques().items():
        names = ", ".join(sorted(names_in(technique.title) | names_in(technique.text)))
        told = _("names in it: {names}", names=names or _("none"))
        text = f"{plain(technique.title)}\n\n{plain(technique.text)}\n\n{told}"
        where = _("a technique, replaceable under techniques:")
        yield Explanation(name, where, _wrapped(text))
    for where, form, meanings in _TEMPLATE:
        for name, meaning in meanings.items():
            written = f"{{{{ {form.format(name)} }}}}"
            yield Explanation(name, _(where, written=written), _wrapped(plain(meaning)))


def _key_text(key: KeyReference, known: Vocabulary) -> str:
    example = _("for example:  {example}", example=key.example)
    left_out = _("left out:     {value}", value=key.left_out)
    text = f"{_wrapped(key.what)}\n\n{example}\n{left_out}"
    for model in (*_named_by(key), *key.holds):
        rows = "\n".join(
            fill(f"{inner.name}: {inner.what}", _WIDE - 8, subsequent_indent="    ")
            for inner in keys_of(model, known)
        )
        text += f"\n\n{_wrapped(about(model))}\n{indent(rows, '    ')}"
    return text


def _named_by(key: KeyReference) -> tuple[type[AuthorModel], ...]:
    """What a key is the first word of, such as `{fibonacci: ..., stripes: 6}`: told whole."""
    begins = key.within is not None and about(key.within).startswith(f"`{{{key.name}: ")
    return (key.within,) if key.within is not None and begins else ()


def _theme_files() -> str:
    """Where the shipped themes' files are: templates with their blocks, styles, scripts, print."""
    shared = shipped_themes() / "shared"
    there = _("They are in {folder}", folder=shared)
    parts = [f"\n\n{there}\n\n" + _("templates/, each with its blocks:")]
    for path in _files(shared / "templates"):
        blocks = dict.fromkeys(_BLOCK.findall(path.read_text(encoding="utf-8")))
        parts[-1] += f"\n    {path.name}: {', '.join(blocks) or _('none')}"
    for folder in ("assets", "print"):
        names = ", ".join(path.name for path in _files(shared / folder))
        parts.append(_wrapped(f"{folder}/: {names}"))
    return "\n\n".join(parts)


def _files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if path.is_file())


def _tokens() -> str:
    """The tokens that the shipped themes have, by theme."""
    parts = []
    for path in sorted(shipped_themes().glob("*/theme.yaml")):
        tree, _found = read_yaml(path.read_text(encoding="utf-8"), path.name, 1)
        names = ", ".join(str(name) for name in tree.front["tokens"])
        parts.append(_wrapped(f"{path.parent.name}: {names}"))
    return "\n\n".join(parts)


def _wrapped(text: str) -> str:
    parts = (fill(part, _WIDE - 4) for part in text.strip().split("\n\n"))
    return "\n\n".join(parts)


def _overview(entries: Sequence[Explanation]) -> str:
    groups: dict[str, list[str]] = {}
    for entry in entries:
        kind = entry.where.partition(",")[0]
        if entry.name not in ("pattern", *ROOTS) and "." not in entry.name.removeprefix("studio."):
            groups.setdefault(kind, []).append(entry.name)
    parts = [
        f"{capital(kind)}:\n{indent(_wrapped(', '.join(names)), '    ')}"
        for kind, names in groups.items()
    ]
    others = ", ".join(prefix for prefix in ROOTS if prefix)
    parts.append(_("Other files, each with its keys:") + f"\n    {others}")
    parts.append(_("Ask for one, like: {command}", command="stripewright explain pieces.ends"))
    return "\n\n".join(parts)
