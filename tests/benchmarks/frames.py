"""Pictures a second of every scene in headless Chromium without a graphics card, with Python's share and the bytes on the wire.

    python tests/benchmarks/frames.py [SCENE ...] [--window 1366x768] [--flags software renderer] [--seconds 5]

Everything runs as in life: the bench's own loop, its page as it lays itself out in that window, one browser. Only pictures with
something new in them are counted. Python is the processor time of the bench for each picture, the mean and the 99th percentile;
page and graphics are those of the browser's processes, which tell more than the pictures where the machine is busy.

The browser is started with two kinds of flags, one after the other. "software": the page is composited in software and only the
canvas drawn by the software renderer, as on a machine without a graphics card. "renderer": the page goes through the software
renderer too. The row "a box" is a page on which a box of 10 pixels moves and nothing else: what such a browser costs by itself.
Prints a table for each; run it on a machine that does nothing else.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import platform
import sys
import time
from pathlib import Path

import numpy as np
from playwright.async_api import async_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scenes import catalogue
from scenes.bench.bench import Bench
from tests.flags import KINDS, chromium
from visual.host.server import Host

BOX = """data:text/html,<body style="margin:0"><div style="width:10px;height:10px;background:black"></div><script>
let x = 0; const box = document.querySelector('div')
const move = () => { x = (x + 1) % 300; box.style.transform = `translateX(${x}px)`; requestAnimationFrame(move) }; move()</script>"""
COUNT_BOX = """seconds => new Promise(done => {
    let drawn = 0, last = performance.now(), longest = 0
    const end = last + seconds * 1000
    const frame = now => { drawn += 1; longest = Math.max(longest, now - last); last = now
        if (now < end) requestAnimationFrame(frame); else done([drawn / seconds, longest]) }
    requestAnimationFrame(frame)
})"""
MOVING = {"two-wires": {"slow": "50"}}  # in a moment the wires have come to rest, and what rests is not drawn anew
COUNT = """seconds => new Promise(done => {
    let drawn = 0, last = performance.now(), longest = 0, on = true, asked = 0
    window.picture.onDrawn((_, askedAt) => {
        if (!on || askedAt === asked) return // the same once more is no new picture
        const now = performance.now()
        longest = Math.max(longest, now - last); last = now; asked = askedAt; drawn += 1
    })
    setTimeout(() => { on = false; done([drawn / seconds, longest]) }, seconds * 1000)
})"""


def browser_seconds() -> dict[str, float]:
    """Processor seconds that our own browser's processes have used, by kind; nothing where there is no /proc."""
    parents, seconds, kinds = {}, {}, {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            command = (stat.parent / "cmdline").read_bytes().decode(errors="replace")
            fields = stat.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        process = int(stat.parent.name)
        parents[process] = int(fields[1])
        seconds[process] = (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
        kinds[process] = "graphics" if "--type=gpu-process" in command else "page" if "--type=renderer" in command else ""
    used: dict[str, float] = {}
    for process, kind in kinds.items():
        above = process
        while above and above != os.getpid():
            above = parents.get(above, 0)
        if above and kind:
            used[kind] = used.get(kind, 0.0) + seconds[process]
    return used


class Spent:
    """Processor time of the bench's own thread, frame by frame: to move on, and to tell the pages."""

    def __init__(self, host: Host):
        self.times = [0.0]
        self._flush = host.flush
        host.flush = lambda *given: self._timed(self._flush, *given)

    def frame(self, move):
        def timed(seconds: float) -> None:
            self.times.append(0.0)
            self._timed(move, seconds)

        return timed

    def _timed(self, what, *given) -> None:
        begun = time.thread_time()
        what(*given)
        self.times[-1] += time.thread_time() - begun

    def figures(self) -> tuple[float, float]:
        """Mean and 99th percentile in milliseconds since it was last asked."""
        times, self.times = self.times, [0.0]
        return 1000 * float(np.mean(times)), 1000 * float(np.percentile(times, 99))


class Bencher:
    """A bench that is served and measured while one browser after another shows it."""

    def __init__(self, seconds: float):
        self.seconds, self.host = seconds, Host()
        self.port, self.bench, self.spent = self.host.listen(0), Bench(self.host), Spent(self.host)
        self.served = asyncio.create_task(self.host.run(self.spent.frame(self.bench.frame)))

    async def scene(self, page, name: str) -> str:
        """One row of the table."""
        self.bench.receive({"do": "scene", "name": name})
        for setting, value in MOVING.get(name, {}).items():
            self.bench.receive({"do": "set", "name": setting, "value": value})
        self.bench.receive({"do": "run", "on": True})
        await asyncio.sleep(3)
        frames, sent = self.host.frames, self.host.bytes_sent
        self.spent.figures()
        browsers = await counted(page, COUNT, self.seconds)
        frames = max(1, self.host.frames - frames)
        (mean, late), wire = self.spent.figures(), (self.host.bytes_sent - sent) / frames
        scale = await page.evaluate("() => window.picture.quality.scale")
        rests = "" if float(browsers.split()[0]) else f"  it has come to rest; MOVING wants what keeps {name!r} moving"
        return f"{name:<22} {browsers} {scale:>7.2f} {mean:>7.2f} {late:>6.2f} ms {wire:>7.0f} B{rests}"


async def counted(page, count: str, seconds: float) -> str:
    """Pictures a second, the longest time between two, and what page and graphics took for each."""
    before = browser_seconds()
    drawn, longest = await page.evaluate(count, seconds)
    page_took, graphics = (1000 * (browser_seconds()[kind] - before[kind]) / max(1, drawn * seconds) for kind in ("page", "graphics"))
    return f"{drawn:>10.1f} {longest:>6.0f} ms {page_took:>6.1f} ms {graphics:>6.1f} ms"


async def measure(names, window, kinds, seconds) -> None:
    bencher, viewport = Bencher(seconds), {"width": window[0], "height": window[1]}
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, window {window[0]} x {window[1]}")
    async with async_playwright() as playwright:
        for kind in kinds:
            print(f"\n{kind:<22} {'pictures/s':>10} {'longest':>9} {'page':>9} {'graphics':>9} {'buffer':>7} {'Python':>17} {'wire':>9}")
            browser = await playwright.chromium.launch(executable_path=chromium(), args=KINDS[kind])
            page = await browser.new_page(viewport=viewport)
            await page.goto(BOX)
            await asyncio.sleep(1)
            print(f"{'a box':<22} {await counted(page, COUNT_BOX, seconds)}", flush=True)
            await page.goto(f"http://localhost:{bencher.port}/")
            await page.wait_for_function("() => window.bench && window.bench.socket.told.scene")
            for name in names:
                print(await bencher.scene(page, name), flush=True)
            await browser.close()
    bencher.served.cancel()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scenes", nargs="*", default=list(catalogue.NAMES))
    parser.add_argument("--window", default="1366x768")
    parser.add_argument("--flags", nargs="+", choices=KINDS, default=list(KINDS))
    parser.add_argument("--seconds", type=float, default=5.0)
    wanted = parser.parse_args()
    asyncio.run(measure(wanted.scenes, [int(side) for side in wanted.window.split("x")], wanted.flags, wanted.seconds))


if __name__ == "__main__":
    main()
