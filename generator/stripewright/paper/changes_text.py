"""changes.txt: what each version of a pack brought, newest first, for those with an older one."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.figures import listed
from stripewright.view.contents import PART_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stripewright.figures import Figures
    from stripewright.view.views import CorrectionView

_NUMBERED = re.compile(r"[0-9]+(\.[0-9]+)*")


@dataclass(frozen=True, slots=True)
class VersionNote:
    """What there is to say of a version.

    Attributes:
        version: as it is written.
        day: when it appeared, as an ISO date; "" when nobody knows.
        before: the version that it is compared with; None when none is known.
        changed: the parts that differ from that one (`view.contents.PART_WORDS`).
        since: the parts that changed while it went on being this version.
        own: the author's words.
        made: whether a pack of it is known to have been made.
    """

    version: str
    day: str = ""
    before: str | None = None
    changed: tuple[str, ...] = ()
    since: tuple[str, ...] = ()
    own: tuple[str, ...] = ()
    made: bool = True


def numbered(version: str) -> tuple[int, ...] | None:
    """A version as what it is sorted by: 1.10 after 1.9; None for one that is no number."""
    return tuple(map(int, version.split("."))) if _NUMBERED.fullmatch(version) else None


def newest_first(notes: Iterable[VersionNote]) -> list[VersionNote]:
    """By their numbers; as they come where a version is a word."""
    notes = list(notes)
    keys = {note.version: numbered(note.version) for note in notes}
    if any(key is None for key in keys.values()):
        return notes
    return sorted(notes, key=lambda note: keys[note.version] or (), reverse=True)


def part_words(parts: Sequence[str]) -> str:
    """Parts as a sentence lists them: `numbers, steps and yarn`."""
    return listed([_(PART_WORDS[part]) for part in parts])


def changes_text(
    heading: Sequence[str],
    notes: Iterable[VersionNote],
    digest: str,
    figures: Figures,
    corrections: Sequence[CorrectionView] = (),
) -> bytes:
    """The file, with the line ends that every system opens.

    Args:
        heading: what it is and by whom, a line each.
        notes: each version that is known.
        digest: of what this pack tells.
        figures: how days are told.
        corrections: what was wrong and is mended.
    """
    lines = [*heading]
    for note in newest_first(notes):
        lines += ["", *_of_version(note, figures)]
    if corrections:
        lines += ["", _("Corrections")]
        lines += [f"{_day(one.date, figures)}: {one.text}" for one in corrections]
    lines += ["", _("Content of this pack (SHA-256): {digest}", digest=digest)]
    text = "\n".join(lines)
    return ("\r\n".join(text.splitlines()) + "\r\n").encode()


def _of_version(note: VersionNote, figures: Figures) -> list[str]:
    heading = _("Version {version}", version=note.version)
    lines = [f"{heading}, {_day(note.day, figures)}" if note.day else heading, *note.own]
    if note.before is not None:
        lines.append(
            _(
                "Changed since version {version}: {parts}.",
                version=note.before,
                parts=part_words(note.changed),
            )
            if note.changed
            else _("The same as version {version}.", version=note.before)
        )
    elif note.made and not note.own:
        lines.append(_("The first version that is known."))
    if note.since:
        lines.append(
            _("Changed since this version was first made: {parts}.", parts=part_words(note.since))
        )
    return lines


def _day(day: str, figures: Figures) -> str:
    return figures.day(date.fromisoformat(day))
