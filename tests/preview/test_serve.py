"""Starting and ending."""

from __future__ import annotations

import contextlib
import re
import signal
import socket
import subprocess
import sys

import pytest

from stripewright.preview.serve import next_free, taken_port
from stripewright.problems import Refused
from support.previews import PATIENCE_S, command, free_port, previewing
from support.studios import generate_studio


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    return generate_studio(tmp_path_factory.mktemp("small"), 3)


def test_a_busy_port_says_so_and_proposes_the_next(studio):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        process = command(studio, port)
        said, _ = process.communicate(timeout=PATIENCE_S)
        assert process.returncode == 1
        assert "this port is in use" in said
        free = next_free(port)
        assert free
        assert f"stripewright preview --port {free}" in said
        assert "Traceback" not in said


def test_of_two_previews_at_one_port_the_second_says_so(studio):
    with previewing(studio) as first:
        second = command(studio, first.port)
        said, _ = second.communicate(timeout=PATIENCE_S)
        assert second.returncode == 1
        assert f"port {first.port}: error: this port is in use, by another preview" in said
        assert re.search(r"stripewright preview --port \d+", said)
        assert "Traceback" not in said


def test_of_two_previews_started_together_one_has_the_port(studio):
    """A port is had from the moment it is asked for, not only once the studio is read."""
    port = free_port()
    with taken_port(port), pytest.raises(Refused), taken_port(port):
        pass


def test_the_proposed_port_can_be_had():
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        with pytest.raises(Refused) as caught, taken_port(other.getsockname()[1]):
            pass
        free = int(caught.value.problems[0].hint.rsplit(" ", 1)[1])
        with taken_port(free) as listening:
            assert listening.getsockname() == ("127.0.0.1", free)


def test_no_studio_is_told(tmp_path):
    process = command(tmp_path, free_port())
    said, _ = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 1
    assert "this studio has no settings" in said


def test_ctrl_c_ends_it_at_once_with_pages_open(studio):
    with previewing(studio) as preview, contextlib.ExitStack() as open_pages:
        for _ in range(3):
            raw = open_pages.enter_context(
                socket.create_connection(("127.0.0.1", preview.port), 10)
            )
            raw.sendall(
                f"GET /-/events?page=/ HTTP/1.1\r\nHost: 127.0.0.1:{preview.port}\r\n\r\n".encode()
            )
            assert raw.recv(100)
        preview.process.send_signal(signal.SIGINT)
        assert preview.process.wait(PATIENCE_S) == 0
        assert "Traceback" not in preview.process.stdout.read()
        with socket.socket() as again:
            again.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            again.bind(("127.0.0.1", preview.port))


def test_no_thread_and_no_socket_is_left(studio):
    """In one process: after the interrupt only the main thread and the open files of before are there."""
    code = f"""
import os, signal, threading, time, http.client
from pathlib import Path
from stripewright.preview.serve import preview
files = lambda: {{os.readlink(f"/proc/self/fd/{{fd}}") for fd in os.listdir("/proc/self/fd") if os.path.exists(f"/proc/self/fd/{{fd}}")}}
before = files()
port = {free_port()}
def end():
    for _ in range(1000):
        try:
            connection = http.client.HTTPConnection("127.0.0.1", port); connection.request("GET", "/"); connection.getresponse().read(); connection.close(); break
        except OSError: time.sleep(0.05)
    os.kill(os.getpid(), signal.SIGINT)
ender = threading.Thread(target=end); ender.start()
preview(Path({str(studio)!r}), port, open_browser=False)
ender.join()
print("threads:", [thread.name for thread in threading.enumerate()])
print("files:", [name for name in files() - before if "socket" in name or "inotify" in name])
"""
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        timeout=2 * PATIENCE_S,
        check=False,
    )
    assert done.stderr == ""
    assert "threads: ['MainThread']" in done.stdout
    assert "files: []" in done.stdout


def test_nothing_is_written_anywhere_in_the_studio(studio):
    def standing():
        return {path: path.stat().st_mtime_ns for path in studio.rglob("*")}

    before = standing()
    with previewing(studio) as preview:
        preview.when("/-/state", lambda state: '"made": 3' in state)
        preview.get("/patterns/shelf-00000/")
    assert standing() == before
    assert not (studio / "site").exists()


def test_next_free_names_none_past_the_last_port():
    assert next_free(65535) is None


def test_each_error_is_printed_once_and_that_it_is_mended(tmp_path):
    """A pattern's, and one in a template that every pattern's page is made of."""
    studio = generate_studio(tmp_path / "studio", 3)
    templates = studio / "themes/tideline/templates"
    templates.mkdir(parents=True)
    path = studio / "content/patterns/shelf-00001.md"
    text = path.read_text()
    with previewing(studio) as preview:
        preview.all_read()
        path.write_text(text.replace("title:", "titel:"))
        preview.until("/-/problems", "titel")
        (templates / "pattern.html").write_text("<p>\n{{ nothing.at.all }}\n")
        page = preview.until("/-/problems", "pattern.html:2")
        preview.all_read()
        preview.get("/patterns/shelf-00000/")
        assert page.count("pattern.html:2") == 1
        beside = preview.get("/patterns/shelf-00000/")
        assert beside.count("pattern.html:2") == 1
        (templates / "home.html").write_text("{% if %}\n")
        preview.until("/", "home.html:1")
        path.write_text(text)
        for name in ("pattern.html", "home.html"):
            (templates / name).write_text(f'{{% extends "shipped/{name}" %}}\n')
        preview.all_read()
        preview.when("/-/problems", lambda page: 'severity="error"' not in page)
        preview.process.send_signal(signal.SIGINT)
        preview.process.wait(PATIENCE_S)
        said = preview.process.stdout.read().splitlines()[1:]
    lines = [line for line in said if not line.startswith("    ")]
    wrong, mended = ([x for x in lines if x.endswith("mended") == is_so] for is_so in (False, True))
    name = "content/patterns/shelf-00001.md"
    places = ("themes/tideline/templates/home.html:1: error", "themes/tideline/templates/pattern.html:2: error")  # fmt: skip
    for place in places:
        assert sum(line.startswith(place) for line in wrong) == 1, lines
    assert len(wrong) == len(set(wrong))
    assert all(line.startswith((f"{name}:", *places)) for line in wrong), lines
    assert f"{name}: mended" in mended
