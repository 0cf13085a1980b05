"""All of a studio's sources -> all of the site's files. Nothing is written here."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from stripewright.addresses import pattern_of, pattern_path, post_path
from stripewright.catalogue import N_, say
from stripewright.pages.theme import SHIPPED
from stripewright.pattern.read import duplicate_slugs
from stripewright.pipeline import checked
from stripewright.pipeline.batch import make_all, make_others
from stripewright.pipeline.cache import DiskMemo, program
from stripewright.pipeline.changes import ToldPages
from stripewright.pipeline.context import Options, make_context, spare_context
from stripewright.pipeline.faults import of_theme, problem_of_fault
from stripewright.pipeline.memo import MemoryMemo, Work
from stripewright.pipeline.moved import check_moved
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.processes import collecting_seldom
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.rest import OTHERS
from stripewright.pipeline.store import SiteFiles
from stripewright.problems import Problem, has_errors, in_order
from stripewright.publish.guard import find_leaks
from stripewright.studio import KINDS
from stripewright.view.contents import look_of
from stripewright.view.secrets import sheets_secrets
from stripewright.view.stash_secrets import stash_secrets
from stripewright.view.views import SheetView
from stripewright.words.links import lost_links

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from stripewright.pipeline.context import Context
    from stripewright.pipeline.memo import Memo
    from stripewright.pipeline.output import Output
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import Sources
    from stripewright.studio import Studio
    from stripewright.view.secrets import PublishedPhrases, Secrets
    from stripewright.words.boundary import Public


@dataclass(frozen=True)
class Built:
    """A site in memory, and everything that is wrong with the studio."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    patterns: int = 0
    """Patterns shown."""
    public: tuple[tuple[str, Public], ...] = ()
    """How much of each paid pattern's text everyone may read, by its file's name."""
    letters: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Letters in the order of use, where the alphabet has another, by the file's name."""
    held: tuple[tuple[str, str], ...] = ()
    """What is not published yet, by its files' names, and why."""
    sold: tuple[tuple[str, str], ...] = ()
    """Slugs of the paid patterns that are published, and their files' names."""
    books: tuple[tuple[str, str], ...] = ()
    """The same of the paid files of planning sheets."""
    told: ToldPages = field(default_factory=ToldPages)
    """What the patterns' pages tell, to be compared with what they told before."""
    leading: Mapping[str, str] = field(default_factory=dict)
    """Slugs that patterns had before, and the ones that they have."""

    @property
    def sound(self) -> bool:
        """Whether it may be published."""
        return not has_errors(self.problems)


def build(
    studio: Studio,
    sources: Sources,
    options: Options,
    progress: Progress = quiet,
    *,
    memo: Memo | None = None,
    workers: int | None = 1,
) -> Built:
    """Make the whole site, collecting every problem of every file. Writes nothing of the site.

    Args:
        studio: where the theme is.
        sources: everything that the author wrote.
        options: what is asked for.
        progress: told of each step.
        memo: what was made before, and where files are kept until they are written; in memory and
            from nothing when left out.
        workers: processes at most; None is as many as there are cores. They share a memo on disk.
    """
    context, problems = make_context(studio, sources, options)
    shelf = PhotoLibrary(sources.photos)
    if context is not None:
        try:
            memo = _forgetful() if memo is None else memo
            with collecting_seldom():
                return _build(sources, Work(context, shelf, memo), problems, progress, workers)
        except Exception as fault:
            if not of_theme(fault, studio):
                raise
            what = getattr(fault, "__notes__", ["themes"])[0]
            problems.append(problem_of_fault(fault, what, studio))
    # Nothing comes of it, but whatever else is wrong is told in the same run.
    spare = Work(spare_context(sources, options), shelf, _forgetful())
    rest = _build(sources, spare, [], progress, workers=1)
    found = tuple(in_order([*problems, *rest.problems]))
    return Built(problems=found, public=rest.public, letters=rest.letters)


def _forgetful() -> MemoryMemo:
    return MemoryMemo(remembers=False)


def _build(
    sources: Sources,
    work: Work,
    problems: list[Problem],
    progress: Progress,
    workers: int | None,
) -> Built:
    context, memo = work.context, work.memo
    files, patterns = SiteFiles(memo.store), sources.of("patterns")
    kept = make_all(patterns, work, progress, workers)
    outputs = [one.value for one in kept]
    kept += make_others([one for kind in OTHERS for one in sources.of(kind)], work)
    every = [one.value for one in kept]
    for one in kept:
        files.add(one.files)
    problems = [*problems, *(p for output in every for p in output.problems)]
    for kind in KINDS:
        problems += duplicate_slugs((one.name, one.slug) for one in every if one.kind == kind)
    problems += lost(every)
    nothing = Built(
        public=tuple((one.name, one.public) for one in outputs if one.public),
        letters=tuple((one.name, one.letters) for one in outputs if one.letters),
    )
    if has_errors(problems):
        return replace(nothing, problems=tuple(in_order(problems)))
    cards = [output.card for output in outputs if output.card]
    moved = [one for output in every if output.shown for one in output.formerly]
    posts, pages, sheets = (_views(every, kind) for kind in OTHERS)
    problems += check_moved(moved, _taken(every))
    if has_errors(problems):
        return replace(nothing, problems=tuple(in_order(problems)))
    for path, data in context.renderer.assets.files().items():
        files.put(path, data)
    for page in moved:
        files.put(page.path, context.renderer.moved(page.path, page.to, page.title))
    for path, make in context.renderer.site(cards, posts, pages, sheets).items():
        files.put(path, make())
    keys = {work.key(one) for kind in KINDS for one in sources.of(kind)}
    memo.sweep(keys, {*files.digests.values()})
    stash = _of_stash(sources, outputs, context)
    problems += _looked_through(files, outputs, progress, sheets, stash=stash, work=work)
    return replace(
        nothing,
        files=files,
        problems=tuple(in_order(problems)),
        patterns=len(cards),
        held=tuple((one.name, one.held) for one in every if one.held),
        sold=tuple((one.slug, one.name) for one in outputs if one.card and one.access == "paid"),
        books=tuple((one.slug, one.name) for one in every if _is_book(one)),
        leading={one.old: one.slug for one in moved if one.kind == "patterns"},
        told=ToldPages(
            look_of(context.theme.files, context.settings.tokens),
            program(),
            {one.slug: dict(one.parts) for one in outputs if one.card},
        ),
    )


def _looked_through(
    files: SiteFiles,
    outputs: Sequence[Output],
    progress: Progress,
    sheets: Sequence[SheetView],
    *,
    stash: Secrets | None,
    work: Work,
) -> list[Problem]:
    """What the guard finds in all that may say what isn't to be said."""
    memo = work.memo
    record = memo.folder / "looked-through" if isinstance(memo, DiskMemo) else None
    paths = [path for path in files if not _set_by_us(path, work.context)]
    return guard(files, outputs, progress, sheets, record, paths=paths, stash=stash)


def _views(outputs: Iterable[Output], kind: str) -> list[Any]:
    """What is shown of one kind of sources that aren't patterns."""
    return [output.view for output in outputs if output.kind == kind and output.view]


def _is_book(output: Output) -> bool:
    """Whether it is a file of planning sheets that is sold."""
    return isinstance(output.view, SheetView) and output.view.offer is not None


def _taken(outputs: Iterable[Output]) -> dict[str, str]:
    """The path of each pattern's and post's page, of those to come too, and its file's name."""
    paths = {"patterns": pattern_path, "posts": post_path}
    return {paths[one.kind](one.slug): one.name for one in outputs if one.kind in paths}


def guard(
    files: SiteFiles,
    outputs: Sequence[Output],
    progress: Progress,
    sheets: Iterable[SheetView] = (),
    record: Path | None = None,
    *,
    paths: Iterable[str] | None = None,
    stash: Secrets | None = None,
) -> list[Problem]:
    """Look through the whole site for what paid patterns and the stash keep.

    Args:
        files: the site.
        outputs: what the patterns gave.
        progress: told how far it is.
        sheets: the books of sheets.
        record: where it is kept what was looked through before, so that it isn't again.
        paths: those to look through; all when left out.
        stash: what the stash keeps.
    """
    progress(N_("looked through"), 0, len(files))
    kept: list[Secrets] = []
    said: list[PublishedPhrases] = []
    for output in outputs:
        if output.secrets:
            kept.append(output.secrets)
        if output.said:
            said.append(output.said)
    kept += [sheets_secrets(sheet.slug) for sheet in sheets if sheet.offer]
    kept += [stash] if stash and stash.sentences else []
    before = checked.read_checked(record) if record else checked.Checked()
    now = checked.checked(kept, said, files.digests)
    wanted = before.still_to_look_at(now, files.digests)
    if paths is not None:
        wanted &= {*paths}
    found = [_with_hint(one, outputs) for one in find_leaks(files.only(wanted), kept, said)]
    if record and not found:
        checked.write_checked(record, now)
    progress(N_("looked through"), len(files), len(files))
    return found


def _of_stash(sources: Sources, outputs: Iterable[Output], context: Context) -> Secrets | None:
    """What the stash keeps: all but what published patterns show of it."""
    stash = context.settings.stash
    if stash is None:
        return None
    shown = {key for output in outputs if output.card for key in output.stash}
    files = [one for kind in KINDS for one in sources.of(kind)]
    files += [sources.settings] if sources.settings else []
    return stash_secrets(stash, shown, (one.data.decode("utf-8", "replace") for one in files))


def _set_by_us(path: str, context: Context) -> bool:
    """Whether a file is a PDF of a pattern by a shipped print template: it says what its page says.

    Reading one takes longer than setting it. A theme's own templates may say anything, and a
    planning sheet has words that stand on no page.
    """
    own = any(name.startswith(f"{SHIPPED}print/") for name in context.theme.files)
    return path.endswith(".pdf") and bool(pattern_of(path)) and not own


def _with_hint(problem: Problem, outputs: Sequence[Output]) -> Problem:
    """A find on the page of a draft that is free only because nothing else was said."""
    page = problem.place.file.split("/")
    unsaid = {one.slug for one in outputs if one.access == "free" and one.held and not one.said}
    if page[0] != "patterns" or page[1] not in unsaid:
        return problem
    return replace(
        problem,
        hint=say(
            "it is free because its access is left out; write "
            "access: paid, or access: free if everyone may read this"
        ),
    )


def lost(outputs: Sequence[Output]) -> list[Problem]:
    """Links to what isn't on the site, from patterns, posts and pages."""
    shown = {
        kind: {one.slug for one in outputs if one.kind == f"{kind}s" and (one.card or one.view)}
        for kind in ("pattern", "post", "page", "sheet")
    }
    written = {"pattern": {one.slug for one in outputs if one.kind == "patterns"}}
    links = [link for one in outputs for link in one.links]
    mentions = [link for one in outputs for link in one.mentions]
    return lost_links(links, shown) + lost_links(mentions, written)
