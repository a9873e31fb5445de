"""What a good client notices of twenty bad ones, and what many thousand hostile messages do to the bench.

    python tests/benchmarks/abuse.py [MESSAGES]

The bad ones (tests/hostile_sockets.py) are in a process of their own: silent, half shaken, unreading, frozen, greedy,
flooding, noisy, crowding.
"""

from __future__ import annotations

import asyncio
import json
import multiprocessing
import random
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests import hostile, hostile_sockets

SECONDS = 8.0
BAD = 20


def besiege(port: int, path: str) -> None:
    async def forever() -> None:
        async with hostile_sockets.besieged(port, BAD, path):
            await asyncio.sleep(3600)

    asyncio.run(forever())


async def intervals(line) -> list[float]:
    """Seconds between the pictures that a good client is told, which says at once that it is ready."""
    told = []
    until = time.perf_counter() + SECONDS
    while time.perf_counter() < until:
        if await line.read_message() is None:
            raise SystemExit("the good client was thrown out")
        told.append(time.perf_counter())
        await line.write_message('{"do": "ready"}')
    line.close()
    return [later - earlier for earlier, later in zip(told, told[1:], strict=False)]


async def measure(scene: str, endpoint, path: str, bad: bool) -> tuple[list[float], float]:
    """The good client's intervals, and what it and the bench together took of one core."""
    from scenes.bench.bench import Bench
    from visual.host.server import Host

    host = Host()
    bench = Bench(host, scene)
    port = host.listen(0, endpoint=endpoint)
    serving = asyncio.create_task(host.run(bench.frame))
    line = await hostile_sockets.joined(f"ws://127.0.0.1:{port}{path}/socket")  # before the bad ones lock the address out
    siege = multiprocessing.get_context("spawn").Process(target=besiege, args=(port, path), daemon=True)
    if bad:
        siege.start()
        await asyncio.sleep(3.0)  # it reads nothing meanwhile
    try:
        begun, worked = time.perf_counter(), time.process_time()
        found = await intervals(line)
        return found, (time.process_time() - worked) / (time.perf_counter() - begun)
    finally:
        if bad:
            siege.terminate()
            siege.join()
        serving.cancel()


def pictures(scene: str) -> None:
    from visual.host.access.doors import SecretWord
    from visual.host.server import Endpoint

    print(
        f"{scene}: ms between the pictures of a good client\n{'':34}{'mean':>8}{'95 %':>8}{'worst':>8}{'pictures':>10}{'of one core':>13}"
    )
    for words, path, endpoint in (
        ("on this machine", "", lambda: Endpoint()),
        ("a follower", "/followers", lambda: Endpoint({"": "follow.html"}, "class", SecretWord("followers"), 40)),
    ):
        for bad in (False, True):
            found, share = asyncio.run(measure(scene, endpoint(), path, bad))
            mean, ninety_five = 1000 * statistics.mean(found), 1000 * statistics.quantiles(found, n=20)[-1]
            beside = f" beside {BAD} bad ones" if bad else ""
            print(f"{words + beside:34}{mean:8.0f}{ninety_five:8.0f}{1000 * max(found):8.0f}{len(found):10d}{share:13.0%}", flush=True)


def messages(count: int) -> None:
    """The bench under messages from every role; the first that it does not bear ends the program."""
    from scenes import catalogue
    from scenes.bench.bench import Bench
    from visual.host.server import Host
    from visual.host.viewers import Viewer

    dice = random.Random(1)
    bench = Bench(Host())
    viewers = [Viewer(lambda text: None, bench.host.published, role) for role in ("bench", "class", "still")]
    sender = hostile.Sender(dice, catalogue.NAMES)
    begun, worst = time.perf_counter(), (0.0, "", "")
    for number in range(count):
        text, scene = sender.text(bench), bench.scene.name
        before = time.perf_counter()
        bench.host.receive(dice.choice(viewers), text)
        worst = max(worst, (time.perf_counter() - before, scene, str(text)[:80]))
        if number % 5 == 0:
            bench.frame(dice.choice((0.001, 0.03, 0.1)))
            bench.host.flush()
            json.dumps(bench.host.published, allow_nan=False)
    passed = time.perf_counter() - begun
    print(f"{count} hostile messages in {passed:.0f} s; the longest took {1000 * worst[0]:.0f} ms, in {worst[1]}: {worst[2]}")


def main() -> None:
    import logging

    logging.basicConfig(level=logging.ERROR)
    pictures("cage-rotor")
    messages(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000)


if __name__ == "__main__":
    main()
