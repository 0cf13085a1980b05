"""Debian's Chromium, and what every browser test asks of it."""

from __future__ import annotations

import contextlib
import functools
import http.server
import threading
import time
from typing import TYPE_CHECKING, Any

from playwright.sync_api import Browser, BrowserContext, Error, Page, Request, sync_playwright

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

PATIENCE_S = 20.0

CALM: dict[str, Any] = {"reduced_motion": "reduce"}
"""Pages jump instead of scrolling smoothly: else every click waits a second until the page stands."""
PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 740},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
    **CALM,
}
DESK: dict[str, Any] = {"viewport": {"width": 1440, "height": 900}, **CALM}

_ARGUMENTS = [
    "--no-sandbox",
    "--headless",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


@contextlib.contextmanager
def chromium() -> Iterator[Browser]:
    """One browser; each context opened in it is a fresh profile."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=_ARGUMENTS)
        try:
            yield browser
        finally:
            browser.close()


def until(read: Callable[[], Any], wanted: Any = True, why: str = "") -> None:
    """Wait until something reads as wanted.

    For whatever comes a moment after its cause: a tap, the event of a closed dialog, a navigation,
    what another page stored. It is asked from outside: a page's policy may forbid eval in it.
    """
    end = time.monotonic() + PATIENCE_S
    while True:
        try:
            found = read()
        except Error as fault:  # a navigation took the page away while it was asked
            found = fault
        if found == wanted:
            return
        if time.monotonic() > end:
            raise AssertionError(f"{why or 'after waiting'}: {found!r}, not {wanted!r}")
        time.sleep(0.02)


def opened(
    context: BrowserContext,
    site: Path,
    tail: str = "",
    *,
    path: str = "made/pattern.html",
    init: str | None = None,
) -> Page:
    """A page of a site, opened from disk, `init` run before its scripts."""
    page = context.new_page()
    if init:
        page.add_init_script(init)
    page.goto((site / path).as_uri() + tail)
    return page


def reads(page: Page, digits: str) -> None:
    """Wait until the counter reads so: a tap becomes a click a moment after the fingers are off."""
    until(page.locator(".count-digits").text_content, digits)


class Complaints:
    """What a page complained of: console errors, uncaught exceptions, failed requests."""

    def __init__(self, page: Page) -> None:
        self.found: list[str] = []
        page.on(
            "console", lambda message: message.type == "error" and self.found.append(message.text)
        )
        page.on("pageerror", lambda error: self.found.append(str(error)))
        page.on("requestfailed", self._failed)

    def _failed(self, request: Request) -> None:
        if request.failure != "net::ERR_ABORTED":  # given up because the test went on
            self.found.append(f"failed: {request.url}: {request.failure}")


class _Quiet(http.server.SimpleHTTPRequestHandler):
    flowing: threading.Event

    def do_GET(self) -> None:
        self.flowing.wait(timeout=30)
        with contextlib.suppress(ConnectionError):  # the browser gave up waiting
            super().do_GET()

    def log_message(self, *args: Any) -> None:
        """No line a request: pytest's output stays readable."""


class Served:
    """A folder served on loopback until stopped."""

    def __init__(self, folder: Path) -> None:
        self.flowing = threading.Event()
        """While clear, requests are taken and not answered: a line that is there and gives nothing."""
        self.flowing.set()
        quiet = type("Quiet", (_Quiet,), {"flowing": self.flowing})
        handler = functools.partial(quiet, directory=str(folder))
        self._server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()
        self.root = f"http://127.0.0.1:{self._server.server_port}/"

    def stop(self) -> None:
        """Stops answering; the port is free again. May be called twice."""
        self.flowing.set()
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()


@contextlib.contextmanager
def served(folder: Path) -> Iterator[Served]:
    """A folder on loopback, for what truly needs a server."""
    server = Served(folder)
    try:
        yield server
    finally:
        server.stop()
