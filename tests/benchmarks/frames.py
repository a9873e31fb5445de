"""Frames a second of every scene in headless Chromium without a GPU, with Python's share and the bytes on the wire.

    python tests/benchmarks/frames.py [SCENE ...] [--size 960x540] [--seconds 6]

Everything runs as in life: the bench's own loop, its page, one browser. The picture alone is brought to the size asked
for. Prints a table; run it on a machine that does nothing else. Page and graphics are the browser's processor time for
each frame drawn, which tells more than the frames where the machine is busy.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import platform
import shutil
from pathlib import Path

from playwright.async_api import async_playwright

from scenes import catalogue
from scenes.bench import Bench
from visual.host.server import Host

FLAGS = [
    "--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
]
COUNT = """seconds => new Promise(done => {
    let drawn = 0, last = performance.now(), longest = 0, on = true
    window.picture.onDrawn(() => { if (!on) return; const now = performance.now(); longest = Math.max(longest, now - last); last = now; drawn += 1 })
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


async def measure(names, size, seconds) -> None:
    host = Host()
    port = host.listen(0)
    bench = Bench(host)
    loop = asyncio.create_task(host.run(bench.frame))
    path = shutil.which("chromium") or shutil.which("google-chrome")
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, picture {size[0]} x {size[1]}")
    print(f"{'scene':<22} {'frames/s':>9} {'longest':>9} {'buffer':>7} {'Python':>12} {'wire':>9} {'page':>9} {'graphics':>12}")
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=path, args=FLAGS)
        page = await browser.new_page(viewport={"width": max(1366, size[0]), "height": max(768, size[1])})
        await page.goto(f"http://localhost:{port}/")
        await page.wait_for_function("() => window.bench && window.bench.socket.told.scene")
        await page.add_style_tag(
            content=f"#picture {{ position: fixed !important; left: 0; top: 0; z-index: 9; width: {size[0]}px !important; height: {size[1]}px !important; }}"
        )
        for name in names:
            bench.take({"do": "scene", "name": name})
            bench.take({"do": "run", "on": True})
            await asyncio.sleep(3)
            before = host.frames, host.python_seconds, host.bytes_sent
            used = browser_seconds()
            drawn, longest = await page.evaluate(COUNT, seconds)
            used = {kind: 1000 * (now - used.get(kind, 0)) / max(1, drawn * seconds) for kind, now in browser_seconds().items()}
            frames = max(1, host.frames - before[0])
            scale = await page.evaluate("() => window.picture.quality.scale")
            print(
                f"{name:<22} {drawn:>9.1f} {longest:>6.0f} ms {scale:>7.2f} {(host.python_seconds - before[1]) / frames * 1000:>9.2f} ms"
                f" {(host.bytes_sent - before[2]) / frames:>7.0f} B {used.get('page', 0):>6.1f} ms {used.get('graphics', 0):>9.1f} ms", flush=True,
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
