"""A preview started as its user starts it, as a process of its own."""

from __future__ import annotations

import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

PATIENCE_S = 60.0


class Preview:
    """A running preview of a studio."""

    def __init__(self, studio: Path, port: int, process: subprocess.Popen[str]) -> None:
        self.studio = studio
        self.port = port
        self.process = process
        self.url = f"http://127.0.0.1:{port}/"

    def ask(
        self,
        path: str,
        method: str = "GET",
        headers: dict[str, str] | None = None,
        body: bytes | None = None,
    ) -> tuple[int, bytes]:
        """Status and body of a request whose path is sent as it is written here."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        connection.putrequest(method, path, skip_host=bool(headers and "Host" in headers))
        for name, value in (headers or {}).items():
            connection.putheader(name, value)
        connection.endheaders(body)
        answer = connection.getresponse()
        body = answer.read()
        connection.close()
        return answer.status, body

    def get(self, path: str) -> str:
        """The text of a page that must be there."""
        status, body = self.ask(path)
        assert status == 200, (status, path)
        return body.decode()

    def rounds(self) -> int:
        """How many times it took up saves."""
        return json.loads(self.get("/-/state"))["rounds"]

    def all_read(self, patience_s: float = PATIENCE_S) -> None:
        """Wait until no pattern waits to be made."""
        end = time.monotonic() + patience_s
        while time.monotonic() < end:
            state = json.loads(self.get("/-/state"))
            if state["made"] == state["total"]:
                return
            time.sleep(0.1)
        raise AssertionError(state)

    def until(self, path: str, text: str) -> str:
        """The page, once it holds a text."""
        return self.when(path, lambda page: text in page)

    def when(self, path: str, holds) -> str:
        """The page, once it is there and something holds of it."""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            status, body = self.ask(path)
            page = body.decode()
            if status == 200 and holds(page):
                return page
            time.sleep(0.02)
        raise AssertionError(page[-3000:])


def free_port() -> int:
    """A port that nobody has now."""
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return trial.getsockname()[1]


def command(
    studio: Path, port: int, *more: str, program: Sequence[str] = ("-m", "stripewright")
) -> subprocess.Popen[str]:
    """`stripewright preview`, started."""
    return subprocess.Popen(
        [
            sys.executable,
            *program,
            "preview",
            "--studio",
            studio,
            "--port",
            str(port),
            *more,
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1", "PYTHONPATH": os.pathsep.join(sys.path)},
    )


@contextmanager
def previewing(
    studio: Path, *more: str, program: Sequence[str] = ("-m", "stripewright")
) -> Iterator[Preview]:
    """A preview that answers, ended on the way out."""
    process = command(studio, port := free_port(), *more, program=program)
    try:
        preview = Preview(studio, port, process)
        end = time.monotonic() + PATIENCE_S
        while True:
            try:
                preview.ask("/-/assets")
                break
            except OSError:
                if process.poll() is not None or time.monotonic() > end:
                    raise AssertionError(process.communicate()[0]) from None
                time.sleep(0.05)
        yield preview
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
        try:
            process.wait(PATIENCE_S)
        finally:
            process.kill()
            process.stdout.close()
