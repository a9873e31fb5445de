"""Finding an installed browser that draws without a window, and running it for a while."""

from __future__ import annotations

import asyncio
import contextlib
import os
import shutil
import signal
import sys
import tempfile
from collections.abc import AsyncIterator
from pathlib import Path

NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "microsoft-edge-stable",
    "msedge",
)
PLACES = {
    "darwin": (
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
        "/Applications/Chromium.app/Contents/MacOS/Chromium",
        "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    ),
    "win32": (
        r"%ProgramFiles%\Google\Chrome\Application\chrome.exe",
        r"%ProgramFiles(x86)%\Google\Chrome\Application\chrome.exe",
        r"%LocalAppData%\Google\Chrome\Application\chrome.exe",
        r"%ProgramFiles(x86)%\Microsoft\Edge\Application\msedge.exe",
        r"%ProgramFiles%\Microsoft\Edge\Application\msedge.exe",
    ),
}
FLAGS = (
    "--headless",
    "--hide-scrollbars",
    "--mute-audio",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-sync",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-extensions",
    "--window-size=800,600",
    "--force-color-profile=srgb",
    # software rendering: the same picture on every machine, without a graphics card
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
)


def find() -> str | None:
    """The path of a browser of the Chromium family, or `None`."""
    for name in NAMES:
        if found := shutil.which(name):
            return found
    places = (Path(os.path.expandvars(place)) for place in PLACES.get(sys.platform, ()))
    return next((str(place) for place in places if place.is_file()), None)


@contextlib.asynccontextmanager
async def showing(browser: str, address: str, pixels: float = 1) -> AsyncIterator[asyncio.subprocess.Process]:
    """A headless browser with its own profile, open at an address; stopped and cleaned up afterwards. `pixels`: of its screen, to each
    of a page's own."""
    flags = [*FLAGS, f"--force-device-scale-factor={pixels}"]
    if getattr(os, "geteuid", lambda: 1)() == 0:  # root has no sandbox
        flags.append("--no-sandbox")
    with tempfile.TemporaryDirectory(prefix="thumbwise-", ignore_cleanup_errors=True) as profile:
        process = await asyncio.create_subprocess_exec(
            browser,
            *flags,
            f"--user-data-dir={profile}",
            address,
            stdin=asyncio.subprocess.DEVNULL,
            stdout=asyncio.subprocess.DEVNULL,
            stderr=asyncio.subprocess.DEVNULL,
            start_new_session=os.name == "posix",
            env=os.environ | {"TMPDIR": profile},  # so that its temporary files go too
        )
        try:
            yield process
        finally:
            with contextlib.suppress(ProcessLookupError):
                if os.name == "posix":
                    os.killpg(process.pid, signal.SIGKILL)  # its helpers too: they are one process group
                else:
                    process.kill()
            await process.wait()
