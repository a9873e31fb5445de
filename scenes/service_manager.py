"""What systemd is told about the program (sd_notify(3)): that it is ready, and that its pictures go on."""

from __future__ import annotations

import asyncio
import contextlib
import os
import socket

from visual.host.server import Host

BEATS = 3  # in the time after which systemd takes the program to hang


def tell(word: str) -> None:
    """Send systemd a word, if it started this program and asks for such (Type=notify)."""
    address = os.environ.get("NOTIFY_SOCKET", "")
    if address[:1] not in ("/", "@"):
        return
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as line, contextlib.suppress(OSError):
        line.setblocking(False)  # who does not listen is not waited for
        line.connect(address.replace("@", "\0", 1) if address[0] == "@" else address)
        line.send(word.encode())


def watchdog_seconds() -> float | None:
    """After how long without a sign of life systemd starts the program anew (WatchdogSec, sd_watchdog_enabled(3)); None for never."""
    told, meant = os.environ.get("WATCHDOG_USEC", ""), os.environ.get("WATCHDOG_PID", str(os.getpid()))
    if not (told.isdecimal() and told.isascii() and int(told) > 0) or meant != str(os.getpid()):
        return None
    return int(told) / 1e6


async def report_pictures(host: Host) -> None:
    """Tell systemd for ever that the program goes on: while pages are open only if there was a picture since the last time."""
    seconds = watchdog_seconds()
    while seconds is not None:
        before = host.frames
        await asyncio.sleep(seconds / BEATS)
        if not host.viewers or host.frames > before:
            tell("WATCHDOG=1")
