"""An exhibit left alone: its page broken down, and its browser killed, opened by the README's own unit. More: test_stand_soak.py."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
import subprocess
import time
from pathlib import Path

import pytest

from tests import programs

README = Path(__file__).parents[3] / "README.md"
TOUR = Path(__file__).with_name("stand.toml")


@pytest.fixture(scope="module")
def stand(start_bench, tmp_path_factory):
    """A stand that waits until it is touched, and forgets a visitor after three seconds."""
    file = shutil.copy(TOUR, tmp_path_factory.mktemp("stand"))  # beside which it counts
    running = start_bench("exhibit", str(file), "--quiet-seconds", "3")
    yield running
    assert "Traceback" not in running.stop()


def framed(browser, running):
    """What a kiosk's browser opens, and the frame in it when it is shown."""
    tab = browser.new_context(viewport={"width": 1024, "height": 768}).new_page()
    tab.goto(running.address)
    tab.locator("#cover").wait_for(state="hidden")
    return tab, tab.frame_locator("iframe")


def test_a_page_that_broke_down_is_covered_and_opened_anew(browser, stand):
    tab, frame = framed(browser, stand)
    tab.clock.install()
    tab.frames[1].goto("about:blank")  # as when the browser puts a page of its own there
    for _ in range(40):
        tab.clock.run_for(500)
        time.sleep(0.05)
    tab.clock.resume()
    tab.locator("#cover").wait_for(state="hidden")
    frame.get_by_role("button", name="Touch", exact=True).wait_for(state="visible")
    tab.context.close()


def test_the_kiosks_command_of_the_readme_opens_it_and_a_killed_one_opens_it_again(stand, tmp_path):
    command = shlex.split(re.search(r"^ExecStart=(\S*chromium .+)$", README.read_text("utf-8"), re.MULTILINE)[1])
    assert {"--kiosk", "--noerrdialogs", "--incognito"} <= set(command)
    command[0] = shutil.which(Path(command[0]).name) or command[0]
    command[-1] = stand.address
    flags = [
        "--headless",
        "--no-sandbox",
        "--use-gl=angle",
        "--use-angle=swiftshader",
        "--enable-unsafe-swiftshader",
        f"--user-data-dir={tmp_path}",
        "--enable-logging=stderr",
    ]
    for _ in range(2):
        kiosk = programs.start([*command[:-1], *flags, command[-1]], stderr=subprocess.DEVNULL, start_new_session=True)
        try:
            wait_until(lambda: established(stand.port))
        finally:
            os.killpg(kiosk.pid, signal.SIGKILL)
            kiosk.wait()
        wait_until(lambda: not established(stand.port))


def established(port: int) -> bool:
    """Whether a socket to the program stays open longer than a file takes to be fetched: the page's line to it."""
    seen = connections(port)
    time.sleep(1.5)
    return bool(seen & connections(port))


def connections(port: int) -> set[str]:
    lines = Path("/proc/net/tcp").read_text().splitlines()[1:]
    return {line.split()[2] for line in lines if line.split()[1].endswith(f":{port:04X}") and line.split()[3] == "01"}


def wait_until(condition) -> None:
    end = time.monotonic() + 60
    while not condition():
        assert time.monotonic() < end
        time.sleep(0.1)
