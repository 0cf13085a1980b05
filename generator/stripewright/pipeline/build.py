"""All of a studio's sources -> all of the site's files. Nothing is written here."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from stripewright.pattern.kinds import BY_FOLDER, KINDS, OTHERS, PATTERNS
from stripewright.pattern.slugs import duplicate_slugs
from stripewright.pipeline.batch import make_all, make_others
from stripewright.pipeline.cache import program
from stripewright.pipeline.changes import ToldPages
from stripewright.pipeline.checked import look_through
from stripewright.pipeline.context import Options, make_context, spare_context
from stripewright.pipeline.faults import of_theme, problem_of_fault
from stripewright.pipeline.memo import MemoryMemo, Work
from stripewright.pipeline.moved import check_moved
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.processes import collecting_seldom
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.store import SiteFiles
from stripewright.problems import Problem, has_errors, in_order
from stripewright.view.contents import look_of
from stripewright.view.stash_secrets import stash_secrets
from stripewright.view.views import SheetView
from stripewright.words.links import lost_links

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from stripewright.pages.render import Page, Renderer
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.memo import Memo
    from stripewright.pipeline.moved import Moved
    from stripewright.pipeline.output import Output
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import Sources
    from stripewright.studio import Studio
    from stripewright.view.secrets import Secrets
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
    context, files = work.context, SiteFiles(work.memo.store)
    kept = make_all(sources.of("patterns"), work, progress, workers)
    outputs = [one.value for one in kept]
    kept += make_others([one for kind in OTHERS for one in sources.of(kind.folder)], work)
    every = [one.value for one in kept]
    for one in kept:
        files.add(one.files)
    problems = [*problems, *_found(every)]
    nothing = _without_files(outputs)
    if has_errors(problems):
        return replace(nothing, problems=tuple(in_order(problems)))
    cards = [output.card for output in outputs if output.card]
    moved = [one for output in every if output.shown for one in output.formerly]
    others: dict[str, list[Any]] = {kind.folder: [] for kind in OTHERS}
    for output in every:
        if output.view:
            others[output.kind].append(output.view)
    problems += check_moved(moved, _taken(every))
    if has_errors(problems):
        return replace(nothing, problems=tuple(in_order(problems)))
    _put_shared(files, context.renderer, moved, context.renderer.site(cards, others))
    keys = {work.key(one) for kind in BY_FOLDER for one in sources.of(kind)}
    work.memo.sweep(keys, {*files.digests.values()})
    stash = _of_stash(sources, outputs, context)
    problems += look_through(files, outputs, others["sheets"], stash, work=work, progress=progress)
    done = replace(nothing, problems=tuple(in_order(problems)), told=_told(outputs, context))
    return _with_files(done, files, every)


def _with_files(built: Built, files: SiteFiles, every: Sequence[Output]) -> Built:
    """What is told of a site that may be written."""
    patterns = [one for one in every if one.card]
    return replace(
        built,
        files=files,
        patterns=len(patterns),
        held=tuple((one.name, one.held) for one in every if one.held),
        sold=tuple((one.slug, one.name) for one in patterns if one.access == "paid"),
        books=tuple(
            (one.slug, one.name)
            for one in every
            if isinstance(one.view, SheetView) and one.view.offer is not None
        ),
        leading={
            one.old: one.slug
            for output in every
            if output.shown
            for one in output.formerly
            if one.kind == "patterns"
        },
    )


def _without_files(outputs: Sequence[Output]) -> Built:
    """What is told of the patterns whether there is a site or not."""
    return Built(
        public=tuple((one.name, one.public) for one in outputs if one.public),
        letters=tuple((one.name, one.letters) for one in outputs if one.letters),
    )


def _put_shared(
    files: SiteFiles,
    renderer: Renderer,
    moved: Iterable[Moved],
    site: Mapping[str, Page],
) -> None:
    """Put what no one source makes: assets, signposts from former addresses, pages of the site."""
    for path, data in renderer.assets.files().items():
        files.put(path, data)
    for page in moved:
        files.put(page.path, renderer.moved(page.path, page.to, page.title))
    for path, make in site.items():
        files.put(path, make())


def _found(outputs: Sequence[Output]) -> list[Problem]:
    """What is wrong with the sources, each by itself and all together."""
    problems = [problem for output in outputs for problem in output.problems]
    for kind in BY_FOLDER:
        problems += duplicate_slugs((one.name, one.slug) for one in outputs if one.kind == kind)
    return problems + lost(outputs)


def _told(outputs: Iterable[Output], context: Context) -> ToldPages:
    look = look_of(context.theme.files, context.settings.tokens)
    return ToldPages(look, program(), {one.slug: dict(one.parts) for one in outputs if one.card})


def _taken(outputs: Iterable[Output]) -> dict[str, str]:
    """The path of each pattern's, post's ... page, of those to come too, and its file's name."""
    return {BY_FOLDER[one.kind].path(one.slug): one.name for one in outputs}


def _of_stash(sources: Sources, outputs: Iterable[Output], context: Context) -> Secrets | None:
    """What the stash keeps: all but what published patterns show of it."""
    stash = context.settings.stash
    if stash is None:
        return None
    shown = {key for output in outputs if output.card for key in output.stash}
    files = [one for kind in BY_FOLDER for one in sources.of(kind)]
    files += [sources.settings] if sources.settings else []
    return stash_secrets(stash, shown, (one.data.decode("utf-8", "replace") for one in files))


def lost(outputs: Sequence[Output]) -> list[Problem]:
    """Links to what isn't on the site, from patterns, posts and pages.

    What has a mistake of its own is there once that is mended.
    """
    shown = {
        kind.word: {
            one.slug
            for one in outputs
            if one.kind == kind.folder and (one.card or one.view or has_errors(one.problems))
        }
        for kind in KINDS
    }
    written = {PATTERNS.word: {one.slug for one in outputs if one.kind == PATTERNS.folder}}
    links = [link for one in outputs for link in one.links]
    mentions = [link for one in outputs for link in one.mentions]
    return lost_links(links, shown) + lost_links(mentions, written)
