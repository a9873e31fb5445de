"""How soon the bench answers: a control's change until it is on screen, and the program's start until the first picture.

    python tests/benchmarks/answers.py [SCENE ...] [--changes 40] [--starts 5]

Headless Chromium without a GPU, at 1366 x 768, each scene running. A change begins with the slider's, list's or switch's own
event in the page and ends with the first frame drawn after the bench has said the new setting and sent what follows from
it; a start begins with the program's process while a browser stands open, and ends with the first frame that has something
in it. Run it on a machine that does nothing else.
"""

from __future__ import annotations

import argparse
import asyncio
import functools
import os
import platform
import re
import sys
import time
from pathlib import Path

import numpy as np
from playwright.async_api import async_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scenes import catalogue
from scenes.bench.bench import Bench
from tests import programs
from tests.flags import FLAGS, chromium
from visual.host.server import Host

# Move the first slider from value to value, each time when the picture has shown the last one, with pauses of a person.
CHANGE = """([name, values]) => new Promise((done) => {
  const told = window.bench.socket.told, times = [], slider = document.querySelector(`[type="range"]`)
  let begun = 0, value = 0, place = 0
  const next = () => {
    if (place === values.length) { on = false; return done(times) }
    value = values[place++]
    slider.value = value
    begun = performance.now()
    slider.dispatchEvent(new Event("input", { bubbles: true }))
    slider.dispatchEvent(new Event("change", { bubbles: true }))
  }
  let on = true, follows = false // whether what follows from the new setting has come
  window.bench.socket.on("stream", () => { follows = follows || Math.abs(told.settings[name] - value) < 1e-9 })
  window.picture.onDrawn(() => {
    if (!on || !begun || !follows) return
    times.push(performance.now() - begun)
    begun = 0
    follows = false
    setTimeout(next, 120 + 97 * Math.random())
  })
  next()
})"""
WATCHING = """window.firstShown = new Promise((done) => {
  const look = setInterval(() => {
    if (!window.picture || !window.picture.onDrawn) return
    clearInterval(look)
    window.picture.onDrawn(() => window.bench && window.bench.socket.told.names && done())
  }, 2)
})"""


def slider_of(bench: Bench):
    """The scene's first control with a slider, as the page has it."""
    return next(control for control in bench.scene.controls if hasattr(control, "low"))


async def changes(browser, names, count: int) -> None:
    host = Host()
    port = host.listen(0)
    bench = Bench(host)
    loop = asyncio.create_task(host.run(bench.frame))
    page = await browser.new_page(viewport={"width": 1366, "height": 768})
    await page.goto(f"http://localhost:{port}/")
    await page.wait_for_function("() => window.bench && window.bench.socket.told.names")
    random = np.random.default_rng(5)
    print(f"{'scene':<22} {'control':<18} {'median':>8} {'95th':>8} {'longest':>8}")
    every = []
    for name in names:
        bench.receive({"do": "scene", "name": name})
        bench.receive({"do": "run", "on": True})
        await asyncio.sleep(3)
        control = slider_of(bench)
        steps = round((control.high - control.low) / control.step)
        values = []
        for step in random.integers(0, steps + 1, count):
            value = control.checked(control.low + control.step * int(step))
            if not values or value != values[-1]:
                values.append(value)
        values = [value for value in values if value != bench.scene.settings[control.name]]
        times = await page.evaluate(CHANGE, [control.name, values])
        every += times
        print(
            f"{name:<22} {control.name:<18} {np.median(times):>5.0f} ms {np.percentile(times, 95):>5.0f} ms {max(times):>5.0f} ms",
            flush=True,
        )
    print(f"{'all':<41} {np.median(every):>5.0f} ms {np.percentile(every, 95):>5.0f} ms {max(every):>5.0f} ms")
    await page.close()
    loop.cancel()


async def starts(browser, count: int) -> None:
    page = await browser.new_page(viewport={"width": 1366, "height": 768})
    await page.add_init_script(WATCHING)
    times = []
    for _ in range(count):
        await page.goto("about:blank")
        begun = time.perf_counter()
        program = await asyncio.create_subprocess_exec(
            sys.executable,
            "-u",
            "-m",
            "scenes",
            "--no-browser",
            "--port",
            "0",
            stdout=asyncio.subprocess.PIPE,
            preexec_fn=functools.partial(programs.ends_with, os.getpid()),
        )
        address = None
        while not address:
            address = re.search(r"http://localhost:\d+/", (await program.stdout.readline()).decode())
        ready = time.perf_counter() - begun
        await page.goto(address[0], wait_until="commit")
        await page.evaluate("() => window.firstShown")
        times.append((ready, time.perf_counter() - begun))
        program.terminate()
        await program.wait()
    ready, shown = np.array(times).T
    print(
        f"start, {count} times: serves after {np.median(ready):.2f} s, first picture after {np.median(shown):.2f} s, "
        f"at the latest {shown.max():.2f} s"
    )


async def measure(names, count: int, started: int) -> None:
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}")
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        if started:
            await starts(browser, started)
        if count:
            await changes(browser, names, count)
        await browser.close()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scenes", nargs="*", default=list(catalogue.NAMES))
    parser.add_argument("--changes", type=int, default=40)
    parser.add_argument("--starts", type=int, default=5)
    wanted = parser.parse_args()
    asyncio.run(measure(wanted.scenes, wanted.changes, wanted.starts))


if __name__ == "__main__":
    main()
