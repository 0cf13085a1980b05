"""One studio and one running preview for all tests of the preview; each test takes its own pattern."""

from __future__ import annotations

import itertools

import pytest

from support.previews import previewing
from support.studios import SETTINGS, generate_studio, plain_text

NUMBERS = itertools.count()


@pytest.fixture(scope="session")
def preview(tmp_path_factory):
    studio = generate_studio(tmp_path_factory.mktemp("studio"), 2)
    (studio / "content/studio.yaml").write_text(SETTINGS + "theme: ours\n")
    (studio / "themes/ours/assets").mkdir(parents=True)
    (studio / "themes/ours/assets/theme.css").write_text("main { color: #112233 }\n")
    with previewing(studio) as running:
        yield running


class Taken:
    """A pattern file of one test's own."""

    def __init__(self, preview, number):
        self.preview = preview
        self.slug = f"mine-{number}"
        self.path = preview.studio / f"content/patterns/{self.slug}.md"
        self.name = f"content/patterns/{self.slug}.md"
        self.page = f"/patterns/{self.slug}/"
        self.text = plain_text(f"Mine {number}")
        self.save(self.text)
        preview.when(
            "/-/problems", lambda page: self.name in page or preview.ask(self.page)[0] == 200
        )

    def with_rows(self, rows):
        """The text with another number of rows in its last stripe."""
        return self.text.replace("deep 30", f"deep {rows}")

    def save(self, text):
        """Write aside and rename, as most editors do."""
        aside = self.path.with_name(f".{self.path.name}.tmp")
        aside.write_text(text)
        aside.replace(self.path)

    def shows(self, rows):
        """Wait until the page shows the last stripe's rows."""
        return self.preview.until(self.page, f'data-last="{10 + 20 + rows + 2}"')


@pytest.fixture
def pattern(preview):
    taken = Taken(preview, next(NUMBERS))
    yield taken
    taken.path.unlink(missing_ok=True)
