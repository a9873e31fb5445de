"""Write a picture of every scene at the usual sizes into a folder, to be looked at.

    python tests/benchmarks/look.py FOLDER [SCENE ...]

Each scene running, asked and revealed, at 1920 x 1080, 1024 x 768 and 390 wide, the first size in the dark theme too.
"""

from __future__ import annotations

import argparse
import asyncio
import sys
from pathlib import Path

from playwright.async_api import async_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scenes import catalogue
from scenes.bench.bench import Bench
from tests.flags import KINDS, chromium
from visual.host.server import Host

LOOKS = (("1920", 1920, 1080, "light"), ("1920-dark", 1920, 1080, "dark"), ("1024", 1024, 768, "light"), ("390", 390, 844, "light"))


async def look(folder: Path, names) -> None:
    host = Host()
    port = host.listen(0)
    bench = Bench(host)
    loop = asyncio.create_task(host.run(bench.frame))
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=chromium(), args=KINDS["renderer"])
        for size, width, height, scheme in LOOKS:
            page = await browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)
            await page.goto(f"http://localhost:{port}/")
            for name in names:
                bench.receive({"do": "scene", "name": name})
                bench.receive({"do": "run", "on": True})
                await asyncio.sleep(2.5)
                await page.screenshot(path=folder / f"{name}-{size}-running.png")
                bench.receive({"do": "ask", "seed": 4})
                await asyncio.sleep(1.5)
                await page.screenshot(path=folder / f"{name}-{size}-asked.png")
                bench.receive({"do": "answer", "choice": bench.prediction.question.choices[0][0]})
                await asyncio.sleep(2.0)
                await page.screenshot(path=folder / f"{name}-{size}-revealed.png")
                bench.receive({"do": "enough"})
            await page.close()
        await browser.close()
    loop.cancel()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("scenes", nargs="*", default=list(catalogue.NAMES))
    wanted = parser.parse_args()
    wanted.folder.mkdir(parents=True, exist_ok=True)
    asyncio.run(look(wanted.folder, wanted.scenes))


if __name__ == "__main__":
    main()
