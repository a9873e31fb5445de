"""Programs that a test starts, which end with the test run, however that ends.

A run that is killed reaches none of its fixtures, and one in the background of a shell has Ctrl+C ignored, which the
programs it starts inherit. So each of them takes Ctrl+C as usual again, and on Linux is told to end (SIGTERM) when the
run is gone; elsewhere the run itself takes SIGTERM as Ctrl+C (conftest.py) and ends its fixtures.
"""

from __future__ import annotations

import ctypes
import os
import signal
import subprocess
import sys

SET_PARENT_DEATH_SIGNAL = 1  # PR_SET_PDEATHSIG of prctl(2)
_C = ctypes.CDLL(None) if sys.platform == "linux" else None


def start(command: list[str], **options) -> subprocess.Popen:
    """As `subprocess.Popen`."""
    return subprocess.Popen(command, **_bound(options))


def run(command: list[str], **options) -> subprocess.CompletedProcess:
    """As `subprocess.run`."""
    return subprocess.run(command, **_bound(options))


def _bound(options: dict) -> dict:
    if os.name != "posix":
        return options
    before, parent = options.pop("preexec_fn", None), os.getpid()

    def prepare() -> None:
        ends_with(parent)
        if before is not None:
            before()

    return options | {"preexec_fn": prepare}


def ends_with(parent: int) -> None:
    """In a program that `parent` just started: take Ctrl+C as usual, and end when `parent` has ended."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    if _C is not None:
        _C.prctl(SET_PARENT_DEATH_SIGNAL, signal.SIGTERM)
        if os.getppid() != parent:  # it was gone before it could be told
            os.kill(os.getpid(), signal.SIGTERM)


def lives(pid: int) -> bool:
    """Whether a program runs: one that has ended and that nobody has asked after does not (Linux)."""
    try:
        with open(f"/proc/{pid}/stat", encoding="ascii", errors="replace") as about:
            return about.read().rpartition(")")[2].split()[0] not in "ZX"
    except FileNotFoundError:
        return False
