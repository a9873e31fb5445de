"""A room of trainees on one machine: a program of its own for each, and how soon each is told what it did.

    python tests/benchmarks/room.py [SCENE] [--benches 30] [--seconds 20]

Each bench is `thumbwise` as a JupyterHub starts it, with one plain client that shows no picture but takes every message, says
that it is ready, and sets a control anew every two seconds. Printed: how long until all run, how long from setting a control to
being told its new value or why not, and memory and processor time of all programs together.
"""

from __future__ import annotations

import argparse
import asyncio
import json
import os
import random
import re
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scenes import catalogue
from scenes.scene.controls import Choice, Switch
from tests import programs

EVERY = 2.0  # s between what one trainee does


def start(scene: str) -> tuple[Any, int]:
    """A bench and its port."""
    command = [sys.executable, "-u", "-m", "scenes", scene, "--no-browser", "--port", "0"]
    program = programs.start(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert program.stdout is not None
    for line in program.stdout:
        if found := re.search(r"localhost:(\d+)/", line):
            return program, int(found[1])
    raise RuntimeError(f"{scene} did not start")


def something_to_set(scene: str, dice: random.Random) -> tuple[str, str, str]:
    """A control of the scene with its usual value and another, by name, to be set in turn."""
    controls = [each for each in catalogue.scene_class(scene).controls if isinstance(each, Choice | Switch) and each.name != "slow"]
    control = dice.choice(controls)
    if isinstance(control, Switch):
        return control.name, *(("on", "off") if control.default else ("off", "on"))
    return control.name, control.default, dice.choice([value for value, _ in control.choices if value != control.default])


async def trainee(port: int, scene: str, seconds: float, dice: random.Random) -> list[float]:
    """Seconds from setting to being told, each time."""
    line = await websocket_connect(HTTPRequest(f"ws://localhost:{port}/socket", headers={"Origin": f"http://localhost:{port}"}))
    name, *values = something_to_set(scene, dice)
    took: list[float] = []
    told = asyncio.Event()

    async def listen() -> None:
        while (text := await line.read_message()) is not None:
            if not {"settings", "notice"}.isdisjoint(json.loads(text)):  # done, or refused with a sentence
                told.set()
            await line.write_message('{"do": "ready"}')

    listening = asyncio.create_task(listen())
    end = time.monotonic() + seconds
    await asyncio.sleep(dice.uniform(0, EVERY))
    while time.monotonic() < end:
        told.clear()
        begun = time.monotonic()
        values.reverse()
        await line.write_message(json.dumps({"do": "set", "name": name, "value": values[0]}))
        await told.wait()
        took.append(time.monotonic() - begun)
        await asyncio.sleep(EVERY)
    listening.cancel()
    line.close()
    return took


def used(program: Any) -> tuple[float, float]:
    """Megabytes resident and processor seconds so far (Linux)."""
    about = Path(f"/proc/{program.pid}")
    resident = int(re.search(r"VmRSS:\s+(\d+)", (about / "status").read_text())[1]) / 1024
    ticks = sum(map(int, (about / "stat").read_text().rpartition(")")[2].split()[11:13]))
    return resident, ticks / os.sysconf("SC_CLK_TCK")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scene", nargs="?", default="instruments")
    parser.add_argument("--benches", type=int, default=30)
    parser.add_argument("--seconds", type=float, default=20.0)
    wanted = parser.parse_args()
    begun = time.monotonic()
    benches = [start(wanted.scene) for _ in range(wanted.benches)]
    print(f"{wanted.benches} benches of {wanted.scene} on {os.cpu_count()} cores, started in {time.monotonic() - begun:.0f} s")
    before = sum(used(program)[1] for program, _ in benches)

    async def room() -> list[list[float]]:
        return await asyncio.gather(*(trainee(port, wanted.scene, wanted.seconds, random.Random(port)) for _, port in benches))

    begun = time.monotonic()
    took = np.array([each for trainee_s in asyncio.run(room()) for each in trainee_s])
    passed = time.monotonic() - begun
    figures = [used(program) for program, _ in benches]
    middle, late = np.percentile(took, [50, 95])
    print(f"{len(took)} settings: told after {middle:.2f} s (median), {late:.2f} s (95 %), {took.max():.2f} s (most)")
    print(f"{sum(f[0] for f in figures):.0f} MB in all, {(sum(f[1] for f in figures) - before) / passed:.2f} cores")
    for program, _ in benches:
        program.terminate()


if __name__ == "__main__":
    main()
