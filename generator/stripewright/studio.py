"""Where things are in a studio, and the only place that reads its files.

A studio is a folder:

    content/studio.yaml          the settings
    content/patterns/*.md        one file a pattern
    content/posts/*.md           the blog
    content/pages/*.md           free-standing pages (about)
    content/sheets/*.md          planning sheets and books of sheets
    content/photos/              pictures that pages show
    themes/NAME/                 the studio's own theme, or files that override a shipped one
    site/                        what `publish` writes
    packs/                       what `packs` and `sheets` write; never part of the site
    .stripewright/               a cache that can be deleted at any time
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

SETTINGS = "content/studio.yaml"
KINDS = ("patterns", "posts", "pages", "sheets")
DEFAULT_THEME = "tideline"

_PACKAGE = Path(str(resources.files("stripewright")))


def shipped_themes() -> Path:
    """The folder of the themes that come with the program: inside a wheel, else the checkout's."""
    inside = _PACKAGE / "_themes"
    return inside if inside.is_dir() else _PACKAGE.parent.parent / "themes"


def starter() -> Path:
    """The folder that `start` copies into a new studio."""
    return _PACKAGE / "starter"


@dataclass(frozen=True, slots=True)
class Studio:
    """A studio's folders, from its root."""

    root: Path

    @property
    def content(self) -> Path:
        """What the author writes."""
        return self.root / "content"

    @property
    def themes(self) -> Path:
        """The studio's own themes and overrides."""
        return self.root / "themes"

    @property
    def site(self) -> Path:
        """Where `publish` writes unless told otherwise."""
        return self.root / "site"

    @property
    def packs(self) -> Path:
        """Where `packs` and `sheets` write: beside the site, never in it."""
        return self.root / "packs"

    @property
    def cache(self) -> Path:
        """What may be deleted at any time."""
        return self.root / ".stripewright" / "cache"

    def name_of(self, path: Path) -> str:
        """A file's name in problems: relative to the studio, with forward slashes."""
        inside = path.is_relative_to(self.root)
        return path.relative_to(self.root).as_posix() if inside else str(path)

    def sources(self, kind: str) -> Iterator[Path]:
        """The Markdown files of one of `KINDS`, sorted by name; hidden and backup ones left out.

        Raises:
            OSError: the folder is there and can't be read; its patterns are not gone then.
        """
        folder = self.content / kind
        try:
            paths = sorted(folder.iterdir())
        except FileNotFoundError:
            return
        yield from (path for path in paths if self.is_source(path))

    def is_source(self, path: Path) -> bool:
        """Whether a path's name and folder are those of a source file."""
        named = path.suffix == ".md" and not path.name.startswith((".", "#", "_", "~"))
        return named and path.parent.parent == self.content and path.parent.name in KINDS

    def holds(self, path: Path) -> bool:
        """Whether a path, with every link in it followed, is still inside the studio."""
        try:
            return path.resolve().is_relative_to(self.root.resolve())
        except (OSError, RuntimeError):  # links that lead to each other
            return False

    def theme_files(self, name: str) -> dict[str, bytes]:
        """A theme's files by their path inside it, the studio's own files winning one by one.

        Looked through, the later winning: the shipped `shared` folder, the shipped theme (or
        `tideline`, when the theme is the studio's alone), the studio's `shared`, its theme.
        A shipped file that the studio replaced is also there as `shipped/PATH`, so that a
        template can extend the one it stands in for. Empty when no folder of that name exists.
        """
        shipped, own = shipped_themes(), self.themes
        if not (shipped / name).is_dir() and not (own / name).is_dir():
            return {}
        base = name if (shipped / name).is_dir() else DEFAULT_THEME
        files: dict[str, bytes] = {}
        folders = [shipped / "shared", shipped / base]
        if own.resolve() != shipped.resolve():  # else this is the program's own checkout
            folders += [own / "shared", own / name]
        for folder in folders:
            for path in sorted(folder.rglob("*")):
                inside = path.relative_to(folder)
                hidden = any(part.startswith((".", "#")) or part.endswith("~")
                             for part in inside.parts)  # fmt: skip
                if path.is_file() and not hidden and (folder.parent == shipped or self.holds(path)):
                    name_inside = inside.as_posix()
                    if folder.parent == own and name_inside in files:
                        files.setdefault(f"shipped/{name_inside}", files[name_inside])
                    files[name_inside] = path.read_bytes()
        return files
