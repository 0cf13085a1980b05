"""The whole site looked through for what is private, no file twice for the same.

A file needs no second look while it is the same file at the same path, and everything that is
searched for now was searched for then. Anything new to search for means looking through all again.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.addresses import pattern_of
from stripewright.catalogue import N_, say
from stripewright.pages.theme import SHIPPED
from stripewright.pipeline.cache import DiskMemo, program
from stripewright.pipeline.store import write_whole
from stripewright.publish.guard import find_leaks
from stripewright.view.secrets import STAMP, sheets_secrets, stamp, stamps_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from stripewright.pipeline.context import Context
    from stripewright.pipeline.memo import Work
    from stripewright.pipeline.output import Output
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.store import SiteFiles
    from stripewright.problems import Problem
    from stripewright.view.secrets import PublishedPhrases, Secrets
    from stripewright.view.views import SheetView

_HEAD = 32


@dataclass(frozen=True)
class Checked:
    """Fingerprints of what was searched for, and of the files that it was not found in."""

    sought: frozenset[bytes] = frozenset()
    files: frozenset[bytes] = frozenset()

    def still_to_look_at(self, now: Checked, digests: Mapping[str, str]) -> set[str]:
        """Paths of the files that must be looked through."""
        if not now.sought <= self.sought:
            return set(digests)
        return {path for path, digest in digests.items() if _file(path, digest) not in self.files}


def look_through(
    files: SiteFiles,
    outputs: Sequence[Output],
    sheets: Iterable[SheetView],
    stash: Secrets | None,
    *,
    work: Work,
    progress: Progress,
) -> list[Problem]:
    """Look through the whole site for what paid patterns and the stash keep.

    Args:
        files: the site.
        outputs: what the patterns gave.
        sheets: the books of sheets.
        stash: what the stash keeps.
        work: what files are made with; a memo on disk keeps what was looked through.
        progress: told how far it is.
    """
    progress(N_("looked through"), 0, len(files))
    record = work.memo.folder / "looked-through" if isinstance(work.memo, DiskMemo) else None
    kept = [output.secrets for output in outputs if output.secrets]
    said = [output.said for output in outputs if output.said]
    kept += [sheets_secrets(sheet.slug) for sheet in sheets if sheet.offer]
    kept += [stash] if stash and stash.sentences else []
    before = read_checked(record) if record else Checked()
    now = checked(kept, said, files.digests)
    wanted = before.still_to_look_at(now, files.digests)
    wanted -= {path for path in wanted if _set_by_us(path, work.context)}
    found = [_with_hint(one, outputs) for one in find_leaks(files.only(wanted), kept, said)]
    if record and not found:
        write_checked(record, now)
    progress(N_("looked through"), len(files), len(files))
    return found


def _set_by_us(path: str, context: Context) -> bool:
    """Whether a file is a PDF of a pattern by a shipped print template: it says what its page says.

    Reading one takes longer than setting it. A theme's own templates may say anything, and a
    planning sheet has words that stand on no page.
    """
    own = any(name.startswith(f"{SHIPPED}print/") for name in context.theme.files)
    return path.endswith(".pdf") and bool(pattern_of(path)) and not own


def _with_hint(problem: Problem, outputs: Sequence[Output]) -> Problem:
    """A find on the page of a draft that is free only because nothing else was said."""
    unsaid = {one.slug for one in outputs if one.access == "free" and one.held and not one.said}
    if pattern_of(problem.place.file) not in unsaid:
        return problem
    return replace(
        problem,
        hint=say(
            "it is free because its access is left out; write "
            "access: paid, or access: free if everyone may read this"
        ),
    )


def checked(
    kept: Sequence[Secrets], public: Iterable[PublishedPhrases], digests: Mapping[str, str]
) -> Checked:
    """The fingerprints of a run: what paid patterns keep and free ones don't say, and its files."""
    stamps = [stamps_of(one) for one in kept]
    wanted = set().union(*stamps)
    sought: set[bytes] = set()
    for one in public:
        wanted -= one.among(wanted)
        sought.add(stamp(f"free {one.slug}"))
    for secrets, items in zip(kept, stamps, strict=True):
        sought |= {stamp(f"{secrets.slug} {item.hex()}") for item in items & wanted}
        sought |= {stamp(f"{secrets.slug} file {name}") for name in secrets.files}
    return Checked(
        frozenset(sought), frozenset(_file(path, digest) for path, digest in digests.items())
    )


def _file(path: str, digest: str) -> bytes:
    return stamp(f"{digest} {path}")


def read_checked(path: Path) -> Checked:
    """The record of the last run that found nothing; an empty one when there is none."""
    try:
        data = path.read_bytes()
    except OSError:
        return Checked()
    head, body = data[:_HEAD], data[_HEAD:]
    if head != _head(body) or len(body) < 8 or (len(body) - 8) % STAMP:
        return Checked()
    count = int.from_bytes(body[:8], "big")
    stamps = [body[at : at + STAMP] for at in range(8, len(body), STAMP)]
    return Checked(frozenset(stamps[:count]), frozenset(stamps[count:]))


def write_checked(path: Path, done: Checked) -> None:
    """Keep the record. Raises OSError."""
    stamps = b"".join(sorted(done.sought)) + b"".join(sorted(done.files))
    body = len(done.sought).to_bytes(8, "big") + stamps
    write_whole(path, _head(body) + body)


def _head(body: bytes) -> bytes:
    return hashlib.sha256(program().encode() + body).digest()
