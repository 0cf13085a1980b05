"""However a program ends, the processes that it started end with it, and nothing else is said."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from support.studio_here import pattern, studio
from support.studios import generate_studio

PATIENCE_S = 60.0

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not Path("/proc/self").exists(), reason="counts processes by /proc"),
]


def group_of(pid):
    """Every process of a program's own group that is still at work, with its state."""
    found = {}
    for path in Path("/proc").glob("[0-9]*"):
        try:
            state, _, group = (path / "stat").read_text().rpartition(")")[2].split()[:3]
        except OSError:
            continue
        if int(group) == pid and state != "Z":
            found[int(path.name)] = (path / "cmdline").read_bytes().replace(b"\0", b" ").decode()
    return found


def begun(command, root, ignored=()):
    """A command as a terminal starts it: in a group of its own, that Ctrl-C is sent to.

    What the tests themselves ignore (as they do in the background) would be ignored by it too.
    """
    signals = (signal.SIGINT, signal.SIGHUP, signal.SIGTERM)
    before = {
        one: signal.signal(one, signal.SIG_IGN if one in ignored else signal.SIG_DFL)
        for one in signals
    }
    try:
        return subprocess.Popen(
            [sys.executable, "-m", "stripewright", *command, "--studio", root],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
        )  # fmt: skip
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


EMPTY = 50_000
"""Bytes that a cache has at the most before anything is in it."""


def workers_of(process):
    return [pid for pid, line in group_of(process.pid).items() if "spawn_main" in line]


def when(what, patience_s=PATIENCE_S):
    end = time.monotonic() + patience_s
    while not what():
        assert time.monotonic() < end
        time.sleep(0.002)


def started(process):
    """A first worker is there; it still reads its modules."""
    when(lambda: workers_of(process) or process.poll() is not None)


def at_work(process):
    """The first files are there."""
    started(process)
    root = Path(process.args[-1])
    cache = root / ".stripewright/cache/kept.db"
    when(lambda: (cache.exists() and cache.stat().st_size > EMPTY) or any(root.glob("packs/*/*"))
         or process.poll() is not None)  # fmt: skip


@pytest.fixture(scope="module")
def many(tmp_path_factory):
    """Enough patterns, and enough packs, for two processes of each command."""
    root = generate_studio(tmp_path_factory.mktemp("many"), 24)
    for path in sorted(root.glob("content/patterns/*.md"))[:8]:
        free = path.read_text().replace(
            "access: free", "access: paid\nprice: 6.50\nshop: https://shop.example.org/item"
        )
        path.write_text(free)
    return root


MOMENTS = {
    "started": started,
    "a little later": lambda p: (started(p), time.sleep(0.3)),
    "at work": at_work,
}


COMMANDS = (["publish", "--workers", "2"], ["packs"])
SIGNALS = {"SIGKILL": -9, "SIGTERM": 143, "SIGHUP": 129, "SIGINT": 1}
"""What is sent, and what the program's end says of it."""
CASES = [
    pytest.param(COMMANDS[(one + other) % 2], sent, moment,
                 id=f"{COMMANDS[(one + other) % 2][0]}-{sent}-{moment}")
    for one, sent in enumerate(SIGNALS) for other, moment in enumerate(MOMENTS)
]  # fmt: skip
"""Every two of command, signal and moment meet; all three of each would be twice as many."""


@pytest.mark.parametrize(("command", "sent", "moment"), CASES)
def test_none_stays(many, tmp_path, command, sent, moment):
    root = tmp_path / "studio"
    shutil.copytree(many, root)
    process = begun(command, root)
    MOMENTS[moment](process)
    assert workers_of(process), "they had started"
    if sent == "SIGINT":  # as a terminal does, to all of them
        os.killpg(process.pid, signal.SIGINT)
    else:
        process.send_signal(getattr(signal, sent))
    _, wrong = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == SIGNALS[sent]
    when(lambda: not group_of(process.pid), 10)
    if sent == "SIGINT":
        assert wrong.split() == ["Aborted!"]
    elif sent != "SIGKILL":  # after which Python's own helpers say what they miss
        assert wrong == ""


def test_an_error_in_one_leaves_none(tmp_path):
    """A print template that fails in a worker."""
    root = studio(tmp_path, {f"p{n:02}": pattern(title=f"P {n}") for n in range(24)}).root
    (root / "themes/tideline/print").mkdir(parents=True)
    (root / "themes/tideline/print/pattern.typ").write_text("#nothing.at.all\n")
    process = begun(["publish", "--workers", "2"], root)
    started(process)
    assert workers_of(process)
    _, wrong = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 1
    assert "themes/tideline/print/pattern.typ:1" in wrong
    assert "Traceback" not in wrong
    when(lambda: not group_of(process.pid), 10)


def test_a_signal_that_the_caller_leaves_out_is_left_out_and_a_good_end_leaves_none(many, tmp_path):
    """Started by nohup, a program goes on when its terminal is closed."""
    root = tmp_path / "studio"
    shutil.copytree(many, root)
    process = begun(["publish", "--workers", "2"], root, ignored=[signal.SIGHUP])
    at_work(process)
    assert workers_of(process)
    os.killpg(process.pid, signal.SIGHUP)
    _, wrong = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 0, wrong
    when(lambda: not group_of(process.pid), 10)


HALF_AN_ANSWER = """
import os, sys, time
from multiprocessing import connection
from stripewright.pipeline.processes import starting, worker_pool

def begin_to_answer():
    def send(self, data, write=os.write):
        write(self.fileno(), data[: len(data) // 2])
        os._exit(1)
    connection.Connection._send = send
    return bytes(1000)

if __name__ == "__main__":
    try:
        with worker_pool(1) as pool:
            with starting():
                pool.submit(begin_to_answer)
            while any(one.is_alive() for one in pool._processes.values()):
                time.sleep(0.01)
            raise OSError("no room")
    except OSError as fault:
        print("told:", fault)
"""


def test_a_process_that_goes_in_the_middle_of_an_answer_is_not_waited_for(tmp_path):
    script = tmp_path / "half.py"
    script.write_text(HALF_AN_ANSWER)
    done = subprocess.run(
        [sys.executable, script], capture_output=True, text=True, timeout=PATIENCE_S, check=False,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, "told: no room\n", "")
