"""Frames a second of every scene in headless Chromium without a GPU, with Python's share and the bytes on the wire.

    python tests/benchmarks/frames.py [SCENE ...] [--size 960x540] [--seconds 6]

Everything runs as in life: the bench's own loop, its page, one browser. The picture is brought to the size asked for;
one as wide as a projector's is shown alone, as with the key O. Only pictures with something new in them are counted.
Python is the processor time of the bench for each frame, the mean and the 99th percentile; page and graphics are the
browser's, which tells more than the frames where the machine is busy. Prints a table; run it on a machine that does
nothing else.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import platform
import shutil
import time
from pathlib import Path

import numpy as np
from playwright.async_api import async_playwright

from scenes import catalogue
from scenes.bench.bench import Bench
from visual.host.server import Host

FLAGS = [
    "--no-sandbox",
    "--enable-unsafe-swiftshader",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
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


async def measure(names, size, seconds) -> None:
    host = Host()
    port = host.listen(0)
    bench = Bench(host)
    spent = Spent(host)
    loop = asyncio.create_task(host.run(spent.frame(bench.frame)))
    path = shutil.which("chromium") or shutil.which("google-chrome")
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, picture {size[0]} x {size[1]}")
    print(f"{'scene':<22} {'frames/s':>9} {'longest':>9} {'buffer':>7} {'Python':>16} {'wire':>9} {'page':>9} {'graphics':>12}")
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=path, args=FLAGS)
        page = await browser.new_page(viewport={"width": max(1366, size[0]), "height": max(768, size[1])})
        await page.goto(f"http://localhost:{port}/")
        await page.wait_for_function("() => window.bench && window.bench.socket.told.scene")
        await page.add_style_tag(
            content="#picture { position: fixed !important; left: 0; top: 0; z-index: 9; "
            f"width: {size[0]}px !important; height: {size[1]}px !important; }}"
        )
        if size[0] > 1366:
            await page.keyboard.press("o")
        for name in names:
            bench.receive({"do": "scene", "name": name})
            for setting, value in MOVING.get(name, {}).items():
                bench.receive({"do": "set", "name": setting, "value": value})
            bench.receive({"do": "run", "on": True})
            await asyncio.sleep(3)
            before = host.frames, host.bytes_sent
            spent.figures()
            used = browser_seconds()
            drawn, longest = await page.evaluate(COUNT, seconds)
            used = {kind: 1000 * (now - used.get(kind, 0)) / max(1, drawn * seconds) for kind, now in browser_seconds().items()}
            frames = max(1, host.frames - before[0])
            mean, late = spent.figures()
            scale = await page.evaluate("() => window.picture.quality.scale")
            print(
                f"{name:<22} {drawn:>9.1f} {longest:>6.0f} ms {scale:>7.2f} {mean:>6.2f} {late:>6.2f} ms"
                f" {(host.bytes_sent - before[1]) / frames:>7.0f} B {used.get('page', 0):>6.1f} ms {used.get('graphics', 0):>9.1f} ms",
                flush=True,
            )
        await browser.close()
    loop.cancel()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scenes", nargs="*", default=list(catalogue.NAMES))
    parser.add_argument("--size", default="960x540")
    parser.add_argument("--seconds", type=float, default=6.0)
    wanted = parser.parse_args()
    asyncio.run(measure(wanted.scenes, [int(side) for side in wanted.size.split("x")], wanted.seconds))


if __name__ == "__main__":
    main()
