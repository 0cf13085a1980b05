"""`stripewright preview`: opens the studio, watches it, and serves it until it is ended."""

from __future__ import annotations

import errno
import gc
import socket
import sys
import threading
import webbrowser
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from stripewright.catalogue import _, say, speaking
from stripewright.preview.app import make_app
from stripewright.preview.events import Broadcast
from stripewright.preview.live import LiveStudio
from stripewright.preview.watch import Watch
from stripewright.problems import Place, Refused, Severity, error, in_order
from stripewright.studio import SETTINGS, Studio

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path
    from types import FrameType

    import uvicorn
    from starlette.types import ASGIApp

    from stripewright.problems import Problem

_ADDRESS = "127.0.0.1"
PORTS_TRIED = 50
BACKLOG = 128
"""Connections that wait while the studio is read."""


def preview(studio_root: Path, port: int, *, open_browser: bool, look_only: bool = False) -> None:
    """Serve a studio until it is interrupted.

    Args:
        studio_root: the studio's folder.
        port: on the loopback address.
        open_browser: whether the home page is opened in the browser.
        look_only: whether the easel may save nothing.

    Raises:
        Refused: there is no studio, or the port is taken.
    """
    root = studio_root.resolve()
    studio = Studio(root)
    if not (root / SETTINGS).exists():
        hint = say(
            "`stripewright start FOLDER` lays out a studio; or name its folder with --studio"
        )
        raise Refused([error(Place(SETTINGS), "this studio has no settings", hint)])
    with taken_port(port) as listening:
        address = f"http://{_ADDRESS}:{port}/"
        click.echo(
            _("The studio is at {address} while this runs. Ctrl-C ends it.", address=address)
        )
        serve(studio, listening, address if open_browser else None, look_only=look_only)


@contextmanager
def taken_port(port: int) -> Iterator[socket.socket]:
    """A socket that listens on a port of this machine alone.

    Raises:
        Refused: the port is taken; the next free one is named.
    """
    with socket.socket() as listening:
        try:
            _listen(listening, port)
        except OSError as fault:
            if fault.errno not in (errno.EADDRINUSE, errno.EACCES):
                raise
            free = next_free(port)
            hint = (
                say("stripewright preview --port {free}", free)
                if free
                else say("name another with --port")
            )
            what = say("this port is in use, by another preview or another program")
            raise Refused([error(Place(f"port {port}"), what, hint)]) from None
        yield listening


def _listen(listening: socket.socket, port: int) -> None:
    """Have a port. Until it is listened on, another socket could be bound to it as well."""
    if sys.platform == "win32":
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
    else:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    listening.bind((_ADDRESS, port))
    listening.listen(BACKLOG)


def next_free(port: int) -> int | None:
    """The next port after one that can be listened on."""
    for other in range(port + 1, min(port + PORTS_TRIED, 65536)):
        with socket.socket() as trial:
            try:
                _listen(trial, other)
            except OSError:
                continue
            return other
    return None


def serve(
    studio: Studio,
    listening: socket.socket,
    opened: str | None = None,
    *,
    look_only: bool = False,
) -> None:
    """Watch and serve until interrupted; every thread is gone afterwards."""
    live, broadcast = LiveStudio(studio), Broadcast()

    def saved(paths: set[Path | None]) -> None:
        if live.take_up(paths, broadcast.watched()):
            broadcast.tell()

    def trouble(problem: Problem | None) -> None:
        if live.report("watch", problem):
            broadcast.tell()

    watch = Watch(studio, saved, trouble)
    reader = Reader(live, broadcast)
    app = make_app(live, broadcast, listening.getsockname()[1], look_only=look_only)
    server = _server(app, broadcast)
    watch.start()
    reader.start()
    opening = threading.Timer(0.3, webbrowser.open, (opened,))
    try:
        if opened:
            opening.start()
        server.run([listening])
    except KeyboardInterrupt:
        pass  # the server hands the interrupt on when it has closed everything
    finally:
        opening.cancel()
        broadcast.close()
        watch.stop()
        reader.stop()


class Printed:
    """Prints each error once when it comes, and that a file is mended when its last is gone."""

    def __init__(self) -> None:
        self._errors: set[Problem] = set()

    def renew(self, problems: Iterable[Problem]) -> None:
        """Take in what is wrong now."""
        before = self._errors
        self._errors = {one for one in problems if one.severity is Severity.ERROR}
        for problem in in_order(self._errors - before):
            click.echo(str(problem))
        broken = {one.place.file for one in self._errors}
        for file in sorted({one.place.file for one in before} - broken):
            click.echo(_("{file}: mended", file=file))


class Reader:
    """Makes, in the background, patterns that nobody has asked for yet; prints what is wrong."""

    def __init__(self, live: LiveStudio, broadcast: Broadcast) -> None:
        self._live = live
        self._broadcast = broadcast
        self._printed = Printed()
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, name="reader", daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def stop(self) -> None:
        """End; returns when the thread is gone."""
        self._stopped.set()
        self._live.wanted.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stopped.is_set():
            self._live.wanted.wait()
            self._live.wanted.clear()
            made = 0
            while not self._stopped.is_set() and self._live.make_one():
                made += 1
            if made:
                self._settle()
                self._broadcast.tell()
            if not self._stopped.is_set():
                with speaking(self._live.words):  # a thread begins without the terminal's
                    self._printed.renew(self._live.problems())

    def _settle(self) -> None:
        """Leave what was read at the start out of later collections: each would stop a save."""
        if not gc.get_freeze_count():
            gc.collect()
            gc.freeze()


def _server(app: ASGIApp, broadcast: Broadcast) -> uvicorn.Server:
    import uvicorn

    from stripewright.preview.requests import TimedRequests

    class Server(uvicorn.Server):
        def handle_exit(self, sig: int, frame: FrameType | None) -> None:
            broadcast.close()  # open streams would hold the server up
            super().handle_exit(sig, frame)

    config = uvicorn.Config(app, http=TimedRequests, ws="none", lifespan="off",
                            log_level="critical", access_log=False,
                            timeout_graceful_shutdown=1, server_header=False)  # fmt: skip
    return Server(config)
