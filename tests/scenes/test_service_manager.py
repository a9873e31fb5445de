"""What systemd is told: that the program is ready, and that its pictures go on; a program that hangs tells nothing."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import socket
import subprocess
import sys

import pytest

from scenes import service_manager
from tests import programs
from visual.host.server import Host


@pytest.fixture
def manager(tmp_path, monkeypatch):
    """A socket as systemd opens one, and its path in the environment."""
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as ear:
        ear.bind(os.fspath(tmp_path / "notify"))
        ear.settimeout(20)
        monkeypatch.setenv("NOTIFY_SOCKET", os.fspath(tmp_path / "notify"))
        yield ear


def heard_within(ear: socket.socket, seconds: float) -> bytes | None:
    ear.settimeout(seconds)
    try:
        return ear.recv(100)
    except TimeoutError:
        return None


def test_it_is_told_a_word_and_nothing_where_nobody_listens(manager, tmp_path, monkeypatch):
    service_manager.tell("READY=1")
    assert manager.recv(100) == b"READY=1"
    for nowhere in ("", "nonsense", os.fspath(tmp_path / "gone")):
        monkeypatch.setenv("NOTIFY_SOCKET", nowhere)
        service_manager.tell("READY=1")


def test_one_that_does_not_listen_is_not_waited_for(manager):
    for _ in range(1000):
        service_manager.tell("WATCHDOG=1")
    assert manager.recv(100) == b"WATCHDOG=1"


@pytest.mark.parametrize(
    ("told", "meant", "seconds"),
    [("20000000", None, 20.0), ("500000", "own", 0.5), ("500000", "1", None), ("", None, None), ("0", None, None), ("soon", None, None)],
)
def test_the_watchdog_is_as_systemd_says(monkeypatch, told, meant, seconds):
    """sd_watchdog_enabled(3): microseconds, and whose they are."""
    monkeypatch.setenv("WATCHDOG_USEC", told)
    monkeypatch.delenv("WATCHDOG_PID", raising=False)
    if meant is not None:
        monkeypatch.setenv("WATCHDOG_PID", str(os.getpid()) if meant == "own" else meant)
    assert service_manager.watchdog_seconds() == seconds


@pytest.mark.parametrize(("open_pages", "pictures", "told"), [(0, 0, True), (1, 1, True), (1, 0, False)])
def test_no_sign_of_life_without_pictures_while_a_page_is_open(manager, monkeypatch, open_pages, pictures, told):
    monkeypatch.setenv("WATCHDOG_USEC", "60000")
    monkeypatch.delenv("WATCHDOG_PID", raising=False)

    async def for_a_while():
        host = Host()
        host.viewers = {object() for _ in range(open_pages)}
        reporting = asyncio.create_task(service_manager.report_pictures(host))
        for _ in range(10):
            await asyncio.sleep(0.01)
            host.frames += pictures
        reporting.cancel()

    asyncio.run(for_a_while())
    assert heard_within(manager, 0.01) == (b"WATCHDOG=1" if told else None)


def test_a_program_that_is_stopped_falls_silent_and_one_that_goes_on_does_not(manager, tmp_path):
    """What systemd then does (start it anew, Restart=always) is systemd's own."""
    environment = os.environ | {"WATCHDOG_USEC": "300000", "XDG_DATA_HOME": os.fspath(tmp_path)}
    environment.pop("WATCHDOG_PID", None)
    running = programs.start(
        [sys.executable, "-u", "-m", "scenes", "exhibit", "--no-browser", "--port", "0"],
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert re.search(r"http://localhost:\d+/", running.stdout.readline())
        assert manager.recv(100) == b"READY=1"
        assert [manager.recv(100) for _ in range(3)] == [b"WATCHDOG=1"] * 3
        running.send_signal(signal.SIGSTOP)
        while heard_within(manager, 0.05):  # what was sent before it stopped
            pass
        assert heard_within(manager, 1.0) is None
        running.send_signal(signal.SIGCONT)
        manager.settimeout(20)
        assert manager.recv(100) == b"WATCHDOG=1"
    finally:
        running.send_signal(signal.SIGCONT)
        running.terminate()
        running.communicate(timeout=60)
