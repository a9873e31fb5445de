"""An exhibit left alone: its page broken down, and its browser killed, opened by the README's own unit. More: test_stand_soak.py."""

from __future__ import annotations

import asyncio
import json
import os
import re
import shlex
import shutil
import signal
import subprocess
from pathlib import Path

import pytest
import tornado.websocket

from tests import programs
from tests.browser.conftest import run_beside_playwright

README = Path(__file__).parents[3] / "README.md"
TOUR = Path(__file__).with_name("stand.toml")


@pytest.fixture(scope="module")
def stand(start_bench, tmp_path_factory):
    """A stand that waits until it is touched, and forgets a visitor after ten seconds."""
    file = shutil.copy(TOUR, tmp_path_factory.mktemp("stand"))  # beside which it counts
    running = start_bench("exhibit", str(file), "--quiet-seconds", "10")
    yield running
    assert "Traceback" not in running.stop()


def framed(browser, running):
    """What a kiosk's browser opens, and the frame in it when it is shown."""
    tab = browser.new_context(viewport={"width": 1024, "height": 768}).new_page()
    tab.goto(running.address)
    tab.locator("#cover").wait_for(state="hidden")
    return tab, tab.frame_locator("iframe")


def test_a_page_that_broke_down_is_covered_and_opened_anew(browser, stand):
    """While somebody was busy with it, who goes away meanwhile: that takes the program's own seconds."""
    tab, frame = framed(browser, stand)
    frame.get_by_role("button", name="Touch", exact=True).click()
    frame.get_by_role("button", name="The other way").click()
    frame.get_by_role("heading", name="Now it is pushed the other way.").wait_for(state="visible")
    tab.clock.install()
    tab.frames[1].goto("about:blank")  # as when the browser puts a page of its own there
    tab.clock.run_for(3000)
    tab.locator("#cover").wait_for(state="visible")
    tab.clock.run_for(13000)
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
        "--window-size=480,360",
        f"--user-data-dir={tmp_path}",
        "--enable-logging=stderr",
    ]
    run_beside_playwright(wait_for_screens(stand, 0))
    for _ in range(2):
        kiosk = programs.start([*command[:-1], *flags, command[-1]], stderr=subprocess.DEVNULL, start_new_session=True)
        try:
            run_beside_playwright(wait_for_screens(stand, 1))
        finally:
            os.killpg(kiosk.pid, signal.SIGKILL)
            kiosk.wait()
        run_beside_playwright(wait_for_screens(stand, 0))


async def wait_for_screens(stand, count: int) -> None:
    """Until so many screens show the exhibit, as the program's own page on how it goes has it."""
    line = await tornado.websocket.websocket_connect(f"ws://localhost:{stand.port}/status/socket")
    async with asyncio.timeout(60):
        told: list = []
        while ["Screens that show it", str(count)] not in told:
            told = json.loads(await line.read_message()).get("status", {}).get("lines", told)
            await line.write_message('{"do": "ready"}')
    line.close()
