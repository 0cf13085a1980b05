"""Disks that count their steps, fail at one of them, or kill the process there."""

from __future__ import annotations

import contextlib
import os
import resource
import signal
import subprocess

from stripewright.publish.disk import Disk

ALTERING = {"make folder", "create", "write", "settle", "move", "remove", "remove folder"}


class CountingDisk(Disk):
    """Remembers every step. Waits for no platter: a kill leaves what the system holds, as it is."""

    def __init__(self) -> None:
        self.steps: list[tuple[str, str]] = []

    def settle(self, paths):
        if paths:
            self.step("settle", paths[0])

    def step(self, what, path):
        self.steps.append((what, str(path)))
        self.at(len(self.steps))

    def at(self, number):
        """Called with the number of each step, from 1."""


class FailingDisk(CountingDisk):
    """Raises at one step; a failing write leaves half of the bytes, as a full disk does."""

    def __init__(self, number: int, code: int) -> None:
        super().__init__()
        self.number = number
        self.code = code

    def at(self, number):
        if number == self.number:
            what, path = self.steps[-1]
            if what == "write":
                os.write(os.open(path, os.O_WRONLY), b"half")
            raise OSError(self.code, os.strerror(self.code), path)


class KillingDisk(CountingDisk):
    """Kills its own process at one step; a killed write leaves half of the bytes."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number

    def at(self, number):
        if number == self.number:
            what, path = self.steps[-1]
            if what == "write":
                os.write(os.open(path, os.O_WRONLY), b"half")
            os.kill(os.getpid(), signal.SIGKILL)


def at_most(size: int):
    """Limits a child's files to so many bytes: stands in for a full disk, and needs no rights."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


@contextlib.contextmanager
def cramped(folder, kib: int):
    """A folder on a file system of its own with so much room; gives what a child must do first.

    Where none can be mounted (not root), that limits the size of its files instead.
    """
    folder.mkdir(parents=True)
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={kib}k", "none", folder],
        check=False, capture_output=True,
    )  # fmt: skip
    if mounted.returncode:
        yield at_most(kib * 512)
        return
    try:
        yield None
    finally:
        subprocess.run(["umount", folder], check=True)
