"""How soon a touch of the exhibit's screen is answered, without a graphics card: from the finger to the picture that shows the answer.

    python tests/benchmarks/touches.py [--screen 1080x1920] [--flags software renderer] [--touches 60]

Everything runs as in life: the exhibit with its short tour in a process of its own, and its page in one browser. It is touched on the
picture and on its buttons at every stop, at times that have nothing to do with the pictures. The browser itself tells how long it took
from each touch till its answer is on the screen (Event Timing, in steps of 8 ms), and of that how long the touch waited for the page,
which cannot hear it while a picture is in work. How many pictures were begun between hearing and answer tells more on a busy machine.
Prints a line for each kind of flags (see frames.py); run it on a machine that does nothing else.
"""

from __future__ import annotations

import argparse
import os
import platform
import random
import re
import sys
import time
from pathlib import Path
from subprocess import PIPE, Popen

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests import programs
from tests.flags import KINDS, chromium

LIMIT = 100  # ms
BEGUN = 20.0  # s, until the scenes of all stops are built, as they are while nobody is there
BETWEEN = 0.3, 0.9  # s between two touches
LISTEN = """() => {
    window.touches = []
    let begun = []
    window.picture.onDrawn((now) => { begun = [...begun.slice(-100), now] })
    new PerformanceObserver((list) => {
        for (const { name, startTime, processingStart, duration } of list.getEntries())
            if (name === "pointerdown") {
                const pictures = begun.filter((at) => at > processingStart && at < startTime + duration)
                window.touches.push([duration, processingStart - startTime, pictures.length])
            }
    }).observe({ type: "event", durationThreshold: 16 })
}"""
BUTTONS = ".touch button:not(.next):not([lang])"


def exhibit() -> tuple[Popen, str]:
    """The program, and its address."""
    command = [sys.executable, "-m", "scenes", "exhibit", "--no-browser", "--port", "0"]
    program = programs.start(command, stdout=PIPE, text=True)
    for line in program.stdout:
        if found := re.search(r"http://localhost:\d+/", line):
            return program, found[0]
    raise SystemExit("the exhibit did not start")


class Finger:
    """Touches a place as a real one does. A touch that Playwright sends is held back by the browser until the page has shown its next
    picture, and would always come just when a picture is done."""

    def __init__(self, page):
        self.line = page.context.new_cdp_session(page)

    def tap(self, x: float, y: float) -> None:
        self.line.send("Input.synthesizeTapGesture", {"x": x, "y": y, "duration": 60, "gestureSourceType": "touch"})


def touch_all(page, touches: int, chance: random.Random) -> None:
    """Go from stop to stop, and touch each twice in the picture, twice on a button."""
    finger, (width, height) = Finger(page), page.viewport_size.values()
    for number in range(touches):
        buttons = page.locator(".touch .next" if number % 5 == 4 else BUTTONS).all() if number % 5 > 1 else []
        box = chance.choice(buttons).bounding_box() if buttons else None
        at = (width * chance.uniform(0.2, 0.8), height * chance.uniform(0.4, 0.7))
        if box:
            at = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        time.sleep(chance.uniform(*BETWEEN))  # after the page was asked where that is, which it answers between two pictures
        finger.tap(*at)


def measure(kind: str, screen: tuple[int, int], touches: int) -> None:
    program, address = exhibit()
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=chromium(), args=KINDS[kind])
            page = browser.new_page(viewport={"width": screen[0], "height": screen[1]}, has_touch=True)
            page.goto(address + "exhibit")
            page.wait_for_function("() => window.bench && window.bench.socket.told.scene")
            page.evaluate(LISTEN)
            time.sleep(BEGUN)
            touch_all(page, touches, random.Random(16))
            time.sleep(1)
            found = page.evaluate("() => window.touches")
            browser.close()
    finally:
        program.terminate()
        program.wait()
    took, waited, begun = (sorted(each) for each in zip(*found, strict=True))
    quick = touches - len(took)  # of less than 16 ms none is told
    late = sum(each > LIMIT for each in took)
    took = [0] * quick + took
    print(
        f"{kind:<9} {touches} touches: median {took[touches // 2]:.0f} ms, nine of ten within {took[touches * 9 // 10]:.0f}, longest"
        f" {took[-1]:.0f}; {late} later than {LIMIT}; waited for the page {waited[len(waited) // 2]:.0f} ms, at most {waited[-1]:.0f};"
        f" pictures begun after that {sum(begun) / touches:.2f}, at most {begun[-1]}",
        flush=True,
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--screen", default="1080x1920")
    parser.add_argument("--flags", nargs="+", choices=KINDS, default=list(KINDS))
    parser.add_argument("--touches", type=int, default=60)
    wanted = parser.parse_args()
    screen = tuple(int(side) for side in wanted.screen.split("x"))
    load = os.getloadavg()[0]
    print(f"{platform.machine()}, {os.cpu_count()} cores, load {load:.1f}, screen {screen[0]} x {screen[1]}")
    for kind in wanted.flags:
        measure(kind, screen, wanted.touches)


if __name__ == "__main__":
    main()
