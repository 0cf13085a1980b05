"""Clients that take their time with a request are let go; others are answered meanwhile."""

from __future__ import annotations

import asyncio
import contextlib
import socket
import threading
import time

import pytest
import uvicorn

from stripewright.preview import requests
from stripewright.preview.requests import TimedRequests

LIMIT_S = 0.6


async def app(scope, receive, send):
    await asyncio.sleep(2 * LIMIT_S if scope["path"] == "/slow" else 0)
    await send(
        {"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"2")]}
    )
    await send({"type": "http.response.body", "body": b"ok"})


@pytest.fixture(scope="module")
def port():
    with pytest.MonkeyPatch.context() as patch, socket.socket() as listening:
        patch.setattr(requests, "HEADERS_S", LIMIT_S)
        listening.bind(("127.0.0.1", 0))
        config = uvicorn.Config(app, http=TimedRequests, ws="none", log_level="critical", lifespan="off",
                                timeout_keep_alive=60)  # fmt: skip
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listening],))
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield listening.getsockname()[1]
        server.should_exit = True
        thread.join()


@contextlib.contextmanager
def connected(port):
    with socket.create_connection(("127.0.0.1", port), timeout=30) as connection:
        yield connection


def answered(connection):
    """Whether a whole answer comes."""
    got = b""
    while not got.endswith(b"ok"):
        part = connection.recv(1000)
        if not part:
            return False
        got += part
    return True


def dripped(connection, data, every_s=LIMIT_S / 6):
    """How many of the bytes could be sent, one by one, before the other side hung up."""
    connection.setblocking(False)
    for sent, byte in enumerate(data):
        try:
            if connection.recv(100) == b"":
                return sent
        except BlockingIOError:
            pass
        except ConnectionError:
            return sent
        try:
            connection.send(bytes([byte]))
        except ConnectionError:
            return sent
        time.sleep(every_s)
    return len(data)


REQUEST = b"GET / HTTP/1.1\r\nHost: x\r\n\r\n"
ENDLESS = b"GET / HTTP/1.1\r\nHost: x\r\n" + b"X-More: y\r\n" * 30


def test_a_head_that_drips_for_ever_is_cut_off(port):
    with connected(port) as slow:
        assert dripped(slow, ENDLESS) < 40


def test_a_connection_that_asks_for_nothing_is_closed(port):
    with connected(port) as silent:
        assert silent.recv(100) == b""


def test_a_second_head_on_the_same_connection_has_no_more_time(port):
    with connected(port) as kept:
        kept.sendall(REQUEST)
        assert answered(kept)
        assert dripped(kept, ENDLESS) < 40


def test_a_body_that_drips_after_its_answer_is_cut_off(port):
    with connected(port) as posting:
        posting.sendall(b"GET / HTTP/1.1\r\nHost: x\r\nContent-Length: 9999\r\n\r\n")
        assert answered(posting)
        assert dripped(posting, b"y" * 300) < 40


def test_a_whole_request_is_answered_however_long_that_takes(port):
    with connected(port) as patient:
        patient.sendall(REQUEST.replace(b"/ ", b"/slow ", 1))
        assert answered(patient)
        patient.sendall(REQUEST)
        assert answered(patient)


def test_others_are_answered_while_many_drip(port):
    with contextlib.ExitStack() as many:
        for _ in range(50):
            many.enter_context(connected(port)).sendall(b"GET / HT")
        with connected(port) as other:
            other.sendall(REQUEST)
            assert answered(other)
