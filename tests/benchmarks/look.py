"""Write a picture of every scene at the usual sizes into a folder, to be looked at.

    python tests/benchmarks/look.py FOLDER [--views] [SCENE ...]

Each scene running, asked and revealed, at 1920 x 1080, 1024 x 768 and 390 wide, the first size in the dark theme too. With --views one
sheet for each scene instead: every view, above as it is set, below with its current reversed or, where it has none, its field.
"""

from __future__ import annotations

import argparse
import asyncio
import sys
from base64 import b64encode
from pathlib import Path

from playwright.async_api import async_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scenes import catalogue
from scenes.bench.bench import Bench
from tests.flags import KINDS, chromium
from visual.host.server import Host

LOOKS = (("1920", 1920, 1080, "light"), ("1920-dark", 1920, 1080, "dark"), ("1024", 1024, 768, "light"), ("390", 390, 844, "light"))

SHEET = (640, 480)  # of each picture on a sheet


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


async def one_picture(file: Path, name: str, settings: dict, view: str) -> bytes:
    """By a program of its own, as what VPython draws belongs to a whole process."""
    given = [f"--set={each}={'on' if value is True else 'off' if value is False else value}" for each, value in settings.items()]
    options = ["--out", str(file), "--size", "{}x{}".format(*SHEET), "--view", view, "--seconds", "0.5", *given]
    process = await asyncio.create_subprocess_exec(sys.executable, "-m", "scenes", "picture", name, *options)
    if await process.wait():
        raise SystemExit(f"no picture of {name}, {view}")
    return file.read_bytes()


async def sheets(folder: Path, names) -> None:
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=chromium(), args=KINDS["renderer"])
        for name in names:
            scene = catalogue.scene_class(name)()
            role = next((role for role in ("current", "field") if any(each.role == role for each in scene.controls)), "")
            rows = [dict(scene.settings)]
            if role:
                scene.reverse(role)
                rows.append(dict(scene.settings))
            images = ""
            for row in rows:
                for view in scene.views:
                    png = await one_picture(folder / f"{name}.png", name, row, view.name)
                    images += f'<img src="data:image/png;base64,{b64encode(png).decode()}">'
            page = await browser.new_page(viewport={"width": SHEET[0] * len(scene.views), "height": SHEET[1] * len(rows)})
            await page.set_content(f'<body style="margin:0;line-height:0">{images}</body>')
            await page.screenshot(path=folder / f"{name}.png")
            await page.close()
        await browser.close()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("scenes", nargs="*", default=list(catalogue.NAMES))
    parser.add_argument("--views", action="store_true", help="one sheet for each scene, with all its views")
    wanted = parser.parse_intermixed_args()
    wanted.folder.mkdir(parents=True, exist_ok=True)
    asyncio.run((sheets if wanted.views else look)(wanted.folder, wanted.scenes))


if __name__ == "__main__":
    main()
