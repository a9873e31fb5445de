"""The bench in Firefox, and a scene in a file from a disk, on a screen of its own without a graphics card: the first picture has
something in it.

Firefox is spoken to as W3C's WebDriver BiDi has it: JSON over a socket."""

from __future__ import annotations

import asyncio
import json
import os
import re
import shutil
import subprocess
import sys
from itertools import count

import pytest
from tornado.websocket import websocket_connect

from tests import programs
from tests.browser.conftest import run_beside_playwright

FIREFOX = shutil.which("firefox-esr") or shutil.which("firefox")
PATIENCE = 150  # s: what a slow machine may take
PREFERENCES = """
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("toolkit.telemetry.enabled", false);
user_pref("app.normandy.enabled", false);
user_pref("browser.startup.homepage_override.mstone", "ignore");
user_pref("remote.active-protocols", 1);
user_pref("webgl.msaa-samples", 0);
user_pref("webgl.sanitize-unmasked-renderer", false); // the page is told that no graphics card draws
"""
# What is on the canvas right after it was drawn, once the scene is there: how many of 2,500 places differ from the corner. The letters
# come with the first picture; what is drawn in it may need some more.
LOOK = """async ([places, enough]) => {
    const drawn = () => window.bench && window.bench.socket.told.scene && window.glowObjs && glowObjs[0] && glowObjs[0].__canvas_element
    const pause = () => new Promise(done => setTimeout(done, 100))
    for (let k = 0; k < 600 && !drawn(); k++) await pause()
    const { film, send } = window.bench.socket, canvas = drawn()
    if (film) film.hold()
    else send({do: 'run', on: false})
    const gl = canvas.getContext('webgl2'), letters = () => document.querySelectorAll('#picture .letters span:not([hidden])').length
    const others = () => {
        window.picture.redraw()
        window.picture.drawNow() // what was drawn can be read until the page has its turn again
        const {width, height} = canvas, all = new Uint8Array(4 * width * height), points = new Uint32Array(all.buffer)
        gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, all)
        const at = (x, y) => points[Math.floor(y * height) * width + Math.floor(x * width)], ground = at(0.002, 0.002)
        let other = 0
        for (let k = 0; k < places ** 2; k++) other += at((k % places + 0.5) / places, (Math.floor(k / places) + 0.5) / places) !== ground
        return other
    }
    let other = 0
    for (let k = 0; k < 100 && !(letters() && other > enough); k++) {
        await pause()
        other = others()
    }
    return JSON.stringify({other, letters: letters(), buffer: [canvas.width, canvas.height],
        quality: window.picture.quality, renderer: gl.getParameter(gl.RENDERER),
        complaint: document.querySelector('.no-picture')?.textContent || ''})
}"""
ACROSS = 50  # places across and down that are looked at
ENOUGH = 0.1 * ACROSS**2  # of them show more than the ground

pytestmark = pytest.mark.skipif(not (FIREFOX and shutil.which("Xvfb")), reason="needs Firefox and Xvfb (Debian: firefox-esr xvfb)")


class Line:
    """A connection to a browser: commands and their answers."""

    def __init__(self, socket):
        self.socket, self.numbers = socket, count(1)

    async def ask(self, method: str, **params) -> dict:
        number = next(self.numbers)
        await self.socket.write_message(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            answer = json.loads(await self.socket.read_message())
            if answer.get("id") == number:
                assert answer["type"] == "success", answer
                return answer["result"]


@pytest.fixture(scope="module")
def screen():
    """A display that nobody sees: its name."""
    server = programs.start(["Xvfb", "-displayfd", "1", "-screen", "0", "600x480x24"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    yield f":{server.stdout.readline().decode().strip()}"
    server.terminate()
    server.wait(PATIENCE)


@pytest.fixture(scope="module")
def firefox(screen, tmp_path_factory):
    """Firefox's own address for commands."""
    profile = tmp_path_factory.mktemp("firefox")
    (profile / "user.js").write_text(PREFERENCES)
    browser = programs.start(
        [FIREFOX, "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0", "about:blank"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"DISPLAY": screen, "GALLIUM_DRIVER": "softpipe", "LIBGL_ALWAYS_SOFTWARE": "1", "MOZ_CRASHREPORTER_DISABLE": "1"},
    )
    said = ""
    while not (found := re.search(r"WebDriver BiDi listening on (ws://\S+)", said)):
        line = browser.stderr.readline()
        said += line
        assert line, f"Firefox did not start: {said}"
    yield f"{found[1]}/session"
    browser.terminate()
    browser.wait(PATIENCE)


async def seen(address: str, page: str) -> dict:
    line = Line(await websocket_connect(address))
    await line.ask("session.new", capabilities={})
    tab = (await line.ask("browsingContext.getTree"))["contexts"][0]["context"]
    await line.ask("browsingContext.navigate", context=tab, url=page, wait="complete")
    given = [{"type": "array", "value": [{"type": "number", "value": number} for number in (ACROSS, ENOUGH)]}]
    answer = await line.ask("script.callFunction", functionDeclaration=LOOK, arguments=given, target={"context": tab}, awaitPromise=True)
    assert answer["type"] == "success", answer
    await line.ask("session.end")
    return json.loads(answer["result"]["value"])


def look(firefox, address: str) -> None:
    """Open the page at that address: its first picture is drawn, with the light at the corners of triangles, and has its letters."""
    found = run_beside_playwright(asyncio.wait_for(seen(firefox, address), PATIENCE))
    assert found["complaint"] == "" and found["quality"]["plain"], found
    assert found["other"] > ENOUGH, f"only {found['other']} of {ACROSS**2:,} places show anything but the ground"
    assert 0 < found["letters"] <= 8


def test_firefox_draws_the_first_picture(firefox, bench):
    look(firefox, bench.address)


def test_firefox_draws_a_scene_that_was_taken_home(firefox, tmp_path):
    out = tmp_path / "home.html"
    programs.run([sys.executable, "-m", "scenes", "takehome", "pushed-conductor", "--seconds", "1", "--out", str(out)], check=True)
    look(firefox, out.as_uri())
