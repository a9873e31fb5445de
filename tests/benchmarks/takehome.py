"""What a lesson to take home weighs, and how soon it shows its first picture from a disk.

    python tests/benchmarks/takehome.py [FILE] [--opened 7]

Without a FILE the built-in lesson is written first. Headless Chromium without a GPU, without a network and at 1366 x 768, each time in
a new profile; from going to the file to the first frame drawn with things in it. Run it on a machine that does nothing else.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests import programs
from tests.flags import FLAGS, chromium

DRAWN = """() => new Promise((done) => {
  const look = setInterval(() => {
    if (!window.picture || !window.bench || !window.bench.socket.told.stream) return
    clearInterval(look)
    window.picture.onDrawn(() => done(glowObjs.filter((one) => one && one.visible).length))
    window.picture.redraw()
  }, 2)
})"""


def written() -> Path:
    out = Path(tempfile.mkdtemp()) / "lesson.html"
    begun = time.perf_counter()
    programs.run([sys.executable, "-m", "scenes", "takehome", "--out", str(out)], check=True)
    print(f"written in {time.perf_counter() - begun:.0f} s")
    return out


def opened(file: Path, times: int) -> list[float]:
    """Seconds until the first picture, each time."""
    found = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        for _ in range(times):
            context = browser.new_context(viewport={"width": 1366, "height": 768}, offline=True)
            page = context.new_page()
            begun = time.perf_counter()
            page.goto(file.resolve().as_uri(), wait_until="commit")
            assert page.evaluate(DRAWN) > 5
            found.append(time.perf_counter() - begun)
            context.close()
        browser.close()
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("file", nargs="?", type=Path)
    parser.add_argument("--opened", type=int, default=7)
    wanted = parser.parse_args()
    file = wanted.file or written()
    times = opened(file, wanted.opened)
    print(f"{file.stat().st_size / 1e6:.1f} MB; first picture after {np.median(times):.2f} s, at the latest {max(times):.2f} s")


if __name__ == "__main__":
    main()
