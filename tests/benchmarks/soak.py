"""Weeks of use in half an hour: scenes changed, pages loaded again, browsers killed; what has grown, and what stood still.

    python tests/benchmarks/soak.py [--changes 2000] [--round 400] [--reloads 200] [--kills 20] [--seed 1]

The bench runs in a program of its own, `FASTER` times as fast as life, and one page shows it. Every change puts another
scene on the bench with settings drawn at random, held or running, now and then with a question. After each round both
sides collect their garbage and are counted; the last line says by how much they have grown since the first round, in
which every scene came up some thirty times, and what is kept on purpose was filled.
"Objects" are those that Python's collector knows, "blocks" the pieces of memory it has handed out; "kept" is what a page
that comes late is told, "drawn" and "page objects" are VPython's objects on the two sides.
A stall is a stretch of half a second or more in which the program did nothing else, or the page drew no frame.
"""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import gc
import json
import logging
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from playwright.sync_api import Error

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scenes import catalogue
from tests import programs
from tests.flags import FLAGS, chromium

ROOT = Path(__file__).parents[2]
FASTER = 5
STALL = 0.5  # s
PATIENCE = 120_000  # ms
PYTHON = ("objects", "drawn", "kept", "blocks", "resident")  # what is counted on the bench's side
PAGE = ("page objects", "nodes", "listeners", "heap")  # and on the page's
MEGABYTES = {"resident", "heap"}

WATCH = """() => {
    const { socket } = window.bench
    let through = () => {}
    socket.on("alive", () => through())
    window.done = () => new Promise((there) => {
        through = there
        socket.send({ do: "alive" })
    })
    window.stalls = []
    let last = performance.now()
    const look = (now) => {
        if (now - last > 500 && !document.hidden) window.stalls.push([now - last, socket.told.scene.name])
        last = now
        requestAnimationFrame(look)
    }
    requestAnimationFrame(look)
}"""
CHANGE = """async ([name, running, asks, chances]) => {
    const { socket } = window.bench
    const until = (done) => new Promise((there) => {
        const look = () => done() ? there() : requestAnimationFrame(look)
        look()
    })
    socket.send({ do: "scene", name })
    await until(() => socket.told.scene.name === name)
    const value = (control, chance) => {
        if (control.kind === "switch") return chance < 0.5
        if (control.kind === "choice") return control.choices[Math.floor(chance * control.choices.length)].value
        return control.low + control.step * Math.round(chance * (control.high - control.low) / control.step)
    }
    const controls = socket.told.scene.controls
    for (const [which, chance] of chances) {
        const control = controls[Math.floor(which * controls.length)]
        socket.send({ do: "set", name: control.name, value: value(control, chance) })
        await window.done()
    }
    socket.send({ do: "run", on: running })
    if (asks) {
        socket.send({ do: "ask", seed: asks })
        await until(() => socket.told.question && socket.told.question.given === null)
        socket.send({ do: "answer", choice: socket.told.question.choices[0].value })
        await until(() => socket.told.question.given !== null)
    }
    let frames = 3
    await until(() => frames-- === 0)
}"""


# the bench's side


class Stalls:
    """How long the program did nothing else, by what it did: of each the longest, with the processor's time in it."""

    def __init__(self):
        self.longest: dict[str, tuple[float, float]] = {}

    def timed(self, work: Callable, what: Callable[..., str]) -> Callable:
        def timed(*given):
            began, busy = time.perf_counter(), time.thread_time()
            try:
                return work(*given)
            finally:
                took = time.perf_counter() - began, time.thread_time() - busy
                if took[0] > STALL:
                    named = what(*given)
                    self.longest[named] = max(self.longest.get(named, (0.0, 0.0)), took)

        return timed


async def run_bench() -> None:
    """Serve a bench, and count what there is of it whenever a line comes in."""
    from scenes.bench.bench import Bench
    from visual.host.server import Host

    logging.basicConfig(level=logging.WARNING, format="bench: %(message)s")
    host, stalls = Host(), Stalls()
    port = host.listen(0)
    bench = Bench(host)
    host.on_message = stalls.timed(bench.receive, lambda message, viewer: " ".join(str(part) for part in message.values())[:60])
    host.flush = stalls.timed(host.flush, lambda: f"telling the page of {bench.scene.name}")
    frame = stalls.timed(bench.frame, lambda seconds: f"a frame of {bench.scene.name}")

    def count() -> None:
        if not sys.stdin.readline():
            os._exit(0)
        print(json.dumps(counted_in_python(host) | {"stalls": stalls.longest}), flush=True)

    asyncio.get_running_loop().add_reader(sys.stdin, count)
    print(port, flush=True)
    await host.run(lambda seconds: frame(FASTER * seconds))


def counted_in_python(host) -> dict:
    """What there is of a bench's program once the garbage is gone."""
    gc.collect()
    return {
        "objects": len(gc.get_objects()), "drawn": host.stream.live, "kept": len(host.stream.commands) + len(host.stream.attributes),
        "blocks": sys.getallocatedblocks(), "resident": resident(), "viewers": len(host.viewers),
    }  # fmt: skip


def resident() -> int:
    """Bytes of this program that are in memory; nothing where there is no /proc."""
    try:
        return int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    except OSError:
        return 0


# the one who uses it


class Soak:
    """A bench, a page and the dice. `launch()` starts a browser."""

    def __init__(self, launch: Callable, seed: int = 1):
        self.launch = launch
        self.dice = random.Random(seed)
        self.begun_anew: list[str] = []
        self.stalls: list[tuple[float, str]] = []  # of the page: seconds, and when
        self.program = programs.start(
            [sys.executable, __file__, "--bench"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
        )  # fmt: skip
        self.address = f"http://localhost:{int(self.program.stdout.readline())}/"
        self.browser = None

    def open(self) -> None:
        """A browser with a page of the bench."""
        self.browser = self.launch()
        self.tab = self.browser.new_page(viewport={"width": 480, "height": 360})
        self.tab.set_default_timeout(PATIENCE)
        self.tab.goto(self.address)
        self._shown()

    def _shown(self) -> None:
        self.tab.wait_for_function("() => window.bench && window.bench.socket.told.scene && window.bench.socket.told.names")
        self.tab.evaluate(WATCH)

    def change(self, name: str | None = None) -> None:
        name = name or self.dice.choice(catalogue.NAMES)
        asks = self.dice.randrange(1, 10_000) if self.dice.random() < 0.2 else 0
        try:
            self.tab.evaluate(CHANGE, [name, self.dice.random() < 0.7, asks, [(self.dice.random(), self.dice.random()) for _ in range(3)]])
        except Error as wrong:
            if "Execution context was destroyed" not in str(wrong):
                raise
            self.begun_anew.append(name)  # the page lost its line for so long that it has loaded itself again
            self._shown()

    def reload(self) -> None:
        self._note("before a reload")
        self.tab.reload()
        self._shown()

    def kill(self) -> None:
        """End the browser as a power cut would, and start another."""
        self._note("before a kill")
        kill_browser(self.browser, self.tab)
        self.open()

    def _note(self, when: str) -> None:
        self.stalls += [(gap / 1000, f"{scene}, {when}") for gap, scene in self.tab.evaluate("() => window.stalls.splice(0)")]

    def count(self, when: str) -> dict:
        """What there is on both sides once the garbage is gone."""
        self._note(when)
        page = counted_in_page(self.tab)
        self.program.stdin.write("\n")
        self.program.stdin.flush()
        return json.loads(self.program.stdout.readline()) | page

    def close(self) -> None:
        if self.browser is not None and self.browser.is_connected():
            self.browser.close()
        self.program.kill()
        self.program.wait()


def counted_in_page(tab, frame=None) -> dict:
    """What there is of a tab once the garbage is gone; `frame`: where in it the bench's page is, if it is not the tab's own."""
    line = tab.context.new_cdp_session(tab)
    line.send("Performance.enable")
    for _ in range(2):
        line.send("HeapProfiler.collectGarbage")
    page = {metric["name"]: metric["value"] for metric in line.send("Performance.getMetrics")["metrics"]}
    line.detach()
    return {
        "page objects": (frame or tab).evaluate("async () => (await import('./page/picture/stream.js')).objectCount()"),
        "nodes": page["Nodes"], "listeners": page["JSEventListeners"], "heap": page["JSHeapUsedSize"],
    }  # fmt: skip


def kill_browser(browser, tab) -> None:
    """End a browser as a power cut would."""
    for process in browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]:
        if process["type"] == "browser":
            os.kill(process["id"], signal.SIGKILL)
    while browser.is_connected():
        with contextlib.suppress(Error):
            tab.wait_for_timeout(50)


def soak(use: Soak, changes: int, reloads: int, kills: int, a_round: int) -> Iterator[tuple[str, dict]]:
    """Use the bench, and count after every round of so many changes, after the reloads and after the kills."""
    use.open()
    for name in catalogue.NAMES:
        use.change(name)
    for done in range(1, changes + 1):
        use.change()
        if done % a_round == 0:
            yield f"{done} changes", use.count(f"by {done} changes")
    for _ in range(reloads):
        use.reload()
        use.change()
    yield f"{reloads} reloads", use.count("after a reload")
    for _ in range(kills):
        use.kill()
        use.change()
    yield f"{kills} kills", use.count("after a kill")


def growth(first: dict, last: dict, names: tuple[str, ...] = PYTHON + PAGE) -> dict[str, float]:
    """By what part each of these has grown."""
    return {name: last[name] / first[name] - 1 if first[name] else 0.0 for name in names}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--bench", action="store_true", help=argparse.SUPPRESS)
    for name, usual in (("changes", 2000), ("round", 400), ("reloads", 200), ("kills", 20), ("seed", 1)):
        parser.add_argument(f"--{name}", type=int, default=usual)
    wanted = parser.parse_args()
    if wanted.bench:
        asyncio.run(run_bench())
    else:
        show(wanted)


def show(wanted: argparse.Namespace) -> None:
    from playwright.sync_api import sync_playwright

    print(f"{'after':<16}" + "".join(f"{name:>14}" for name in PYTHON + PAGE), flush=True)
    began = time.monotonic()
    with sync_playwright() as playwright:
        use = Soak(lambda: playwright.chromium.launch(executable_path=chromium(), args=FLAGS), wanted.seed)
        counted = []
        for when, found in soak(use, wanted.changes, wanted.reloads, wanted.kills, min(wanted.round, max(1, wanted.changes))):
            counted.append(found)
            figures = [f"{found[name] / 1e6:.2f} MB" if name in MEGABYTES else f"{found[name]:.0f}" for name in PYTHON + PAGE]
            print(f"{when:<16}" + "".join(f"{figure:>14}" for figure in figures), flush=True)
        changed = counted[:-2]  # a page that was loaded again is another page
        parts = growth(counted[0], counted[-1], PYTHON) | growth(changed[0], changed[-1], PAGE)
        print(f"{'growth':<16}" + "".join(f"{part:>14.2%}" for part in parts.values()))
        print(f"{time.monotonic() - began:.0f} s. Stalls of the program, the longest of each kind, with the processor's time in it:")
        for what, (took, busy) in sorted(counted[-1]["stalls"].items(), key=lambda one: -one[1][0]):
            print(f"  {took:.2f} s ({busy:.2f} s): {what}")
        print(f"Pages that began anew by themselves: {len(use.begun_anew)} {' '.join(use.begun_anew)}")
        print("Stalls of the page:")
        for took, what in sorted(use.stalls, reverse=True)[:40]:
            print(f"  {took:.2f} s: {what}")
        use.close()


if __name__ == "__main__":
    main()
