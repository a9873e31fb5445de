"""What a class costs the bench: Python's share of the time with no, ten, thirty and a hundred plain followers.

    python tests/benchmarks/followers.py [SCENE]

The followers run in a process of their own and say that they are ready as soon as a message has come.
"""

from __future__ import annotations

import asyncio
import multiprocessing
import sys
import time

import tornado.websocket

SECONDS = 4.0


def follow(address: str, count: int) -> None:
    async def one() -> None:
        line = await tornado.websocket.websocket_connect(address)
        while await line.read_message() is not None:
            await line.write_message('{"do": "ready"}')

    async def every() -> None:
        await asyncio.gather(*(one() for _ in range(count)))

    asyncio.run(every())


async def measure(scene: str, count: int) -> tuple[float, float, float]:
    """Python's share of the time, frames a second, and kilobytes a second to each."""
    from scenes.bench.bench import Bench
    from visual.host.doors import SecretWord
    from visual.host.server import Endpoint, Host

    host = Host()
    bench = Bench(host, scene)
    port = host.listen(0, endpoint=Endpoint({"": "follow.html"}, "class", SecretWord("followers"), 200))
    serving = asyncio.create_task(host.run(bench.frame))
    class_of = multiprocessing.get_context("spawn").Process(target=follow, args=(f"ws://127.0.0.1:{port}/followers/socket", count))
    class_of.start()
    while host.count("class") < count:
        await asyncio.sleep(0.05)
    await asyncio.sleep(1.0)
    begun, worked, frames, sent = time.perf_counter(), time.process_time(), host.frames, host.bytes_sent
    await asyncio.sleep(SECONDS)
    passed = time.perf_counter() - begun
    found = (time.process_time() - worked) / passed, (host.frames - frames) / passed, (host.bytes_sent - sent) / passed / count / 1000
    class_of.terminate()
    class_of.join()
    serving.cancel()
    return found


def main() -> None:
    scene = sys.argv[1] if len(sys.argv) > 1 else "cage-rotor"
    print(f"{scene}\n{'followers':>10} {'of one core':>12} {'frames/s':>9} {'kB/s each':>10}")
    for count in (1, 10, 30, 100):
        share, frames, each = asyncio.run(measure(scene, count))
        print(f"{count:>10} {share:>12.0%} {frames:>9.1f} {each:>10.1f}", flush=True)


if __name__ == "__main__":
    main()
