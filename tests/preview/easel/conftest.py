"""A browser's page at the easel, and what hands and keys do there."""

from __future__ import annotations

import re

import pytest

from support.browser import DESK, PHONE, Complaints, until


class Hand:
    """Somebody at an easel."""

    def __init__(self, page, preview) -> None:
        self.page = page
        self.preview = preview
        self.complaints = Complaints(page)

    def open(self, path):
        self.page.goto(f"{self.preview.url}-/easel/{path}")
        self.page.wait_for_selector(
            'body[data-state="open"], body[data-state="new"], body[data-state="stopped"]'
        )
        if self.page.evaluate("document.body.dataset.state") == "open":
            self.told()
        return self

    def told(self):
        """Wait until Python has answered for what is on the easel."""
        until(lambda: self.page.evaluate("!!Easel.S.answer && !Easel.S.answer.stale"))

    def stripes(self):
        """The stripes as they stand there, first one first: letter or key, and rows."""
        return self.page.evaluate("Easel.shown().map(({yarn, rows}) => `${yarn} ${rows}`)")

    def front(self):
        return self.page.evaluate("Easel.S.front")

    def bands(self):
        return self.page.locator("#piece .band")

    def row_at(self, row):
        """Where a visible row is on the screen, at its middle."""
        return self.page.evaluate(
            """(row) => {
              const bands = [...document.querySelectorAll('#piece .band')];
              const rows = Easel.shown();
              let low = 0;
              for (let n = 0; n < rows.length; n += 1) {
                if (row < low + rows[n].rows) {
                  bands[n].scrollIntoView({block: 'center'});
                  const box = bands[n].getBoundingClientRect();
                  return [box.left + box.width / 2, box.bottom - ((row - low + 0.5) / rows[n].rows) * box.height];
                }
                low += rows[n].rows;
              }
            }""",
            row,
        )

    def drag(self, first, last):
        """Colour rows with the mouse."""
        self.row_at(first)
        x, y = self.row_at(last)
        x, y0 = self.row_at(first)
        _, y = self.page.evaluate("([x, y]) => [x, y]", [x, y])
        y1 = y0 - (last - first) * self.page.evaluate(
            "parseFloat(document.querySelector('#piece').style.getPropertyValue('--row'))"
        )
        self.page.mouse.move(x, y0)
        self.page.mouse.down()
        self.page.mouse.move(x, (y0 + y1) / 2, steps=3)
        self.page.mouse.move(x, y1, steps=3)
        self.page.mouse.up()

    def button(self, name, exact=True):
        return self.page.get_by_role("button", name=name, exact=exact)

    def saved(self):
        """Wait until what is there is saved; give the file's name."""
        until(lambda: self.page.locator("#saved").inner_text(), "Saved")
        name = self.page.evaluate("Easel.S.file")
        assert re.fullmatch(r"content/patterns/[a-z0-9-]+\.md", name)
        return self.preview.studio / name


@pytest.fixture
def hands(chromium, preview):
    """Opens an easel's page: `hands()` at a live, `hands(phone=True)` on a phone."""
    contexts = []

    def make(*, phone=False, context=None, **more):
        if context is None:
            context = chromium.new_context(**((PHONE if phone else DESK) | more))
            contexts.append(context)
        return Hand(context.new_page(), preview)

    yield make
    for context in contexts:
        context.close()
