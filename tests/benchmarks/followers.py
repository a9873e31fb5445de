"""What a class costs the bench: Python's share of the time with one, ten, thirty and a hundred plain followers, and how many pictures
a second the bench's own page and each of them are sent.

    python tests/benchmarks/followers.py [SCENE]
    python tests/benchmarks/followers.py --test      thirty trainees sit a marked test at once

All pages run in a process of their own and say that they are ready as soon as a message has come.
"""

from __future__ import annotations

import asyncio
import json
import multiprocessing
import sys
import tempfile
import time
from pathlib import Path

import tornado.websocket

SECONDS = 4.0
TRAINEES, QUESTIONS = 30, 5


def follow(address: str, counts, first: int, last: int) -> None:
    """Pages at that address; every message that brings a picture is counted at the page's place in `counts`."""

    async def one(place: int) -> None:
        line = await tornado.websocket.websocket_connect(address)
        while (text := await line.read_message()) is not None:
            if "stream" in json.loads(text):
                counts[place] += 1
            await line.write_message('{"do": "ready"}')

    async def every() -> None:
        await asyncio.gather(*(one(place) for place in range(first, last)))

    asyncio.run(every())


async def measure(scene: str, count: int) -> tuple[float, ...]:
    """Python's share of the time; pictures a second computed, on the bench's page, on a follower's, on the slowest; kilobytes a second
    to each."""
    from scenes.bench.bench import Bench
    from visual.host.access.doors import SecretWord
    from visual.host.server import Endpoint, Host

    host = Host()
    bench = Bench(host, scene)
    port, own = host.listen(0, endpoint=Endpoint({"": "follow.html"}, "class", SecretWord("followers"), 200)), host.listen(0)
    serving = asyncio.create_task(host.run(bench.frame))
    context = multiprocessing.get_context("spawn")
    counts = context.Array("i", count + 1, lock=False)
    pages = [
        context.Process(target=follow, args=(f"ws://127.0.0.1:{port}/followers/socket", counts, 1, count + 1)),
        context.Process(target=follow, args=(f"ws://localhost:{own}/socket", counts, 0, 1)),
    ]
    for each in pages:
        each.start()
    while host.count("class") < count or not host.count("bench"):
        await asyncio.sleep(0.05)
    await asyncio.sleep(1.0)
    begun, worked, frames, sent, before = time.perf_counter(), time.process_time(), host.frames, host.bytes_sent, list(counts)
    await asyncio.sleep(SECONDS)
    passed, after = time.perf_counter() - begun, list(counts)
    shown = [(now - then) / passed for now, then in zip(after, before, strict=True)]
    share, rate, each = (time.process_time() - worked) / passed, (host.frames - frames) / passed, (host.bytes_sent - sent) / passed / count
    for page in pages:
        page.terminate()
        page.join()
    serving.cancel()
    return share, rate, shown[0], sum(shown[1:]) / count, min(shown[1:]), each / 1000


async def measure_test() -> None:
    """Thirty begin at once and answer each question as soon as it has come."""
    from scenes import catalogue
    from scenes.kept.writer import Writer
    from scenes.marked.papers import Papers
    from scenes.marked.record import Record, Terms
    from scenes.marked.room import Room, shared_endpoint
    from tests.scenes.marked.trainees import Trainee
    from visual.host.server import Host

    with tempfile.TemporaryDirectory() as folder:
        record, host = Record(Path(folder) / "test.jsonl"), Host()
        terms = Terms("2026-03-09T08:00:00Z", list(catalogue.NAMES), QUESTIONS, None, 5, "k7m3qd", "0f" * 32)
        record.add(terms)
        record.open()
        begun = time.perf_counter()
        room = Room(Papers(host), record, terms, Writer(record))
        built = time.perf_counter() - begun
        port = host.listen(0, endpoint=shared_endpoint(terms))
        serving = asyncio.create_task(host.run(room.frame))
        trainees = [Trainee(f"http://127.0.0.1:{port}/k7m3qd", f"Trainee {number}") for number in range(TRAINEES)]
        begun, worked = time.perf_counter(), time.process_time()
        await asyncio.gather(*(trainee.sit() for trainee in trainees))
        passed, worked = time.perf_counter() - begun, time.process_time() - worked
        serving.cancel()
    asked = TRAINEES * QUESTIONS
    sent = sum(len(text) for trainee in trainees for text in trainee.heard)
    waits = sorted(wait for trainee in trainees for wait in trainee.waits)
    print(f"all {len(catalogue.NAMES)} scenes built in {built:.1f} s; {asked} questions in {passed:.1f} s, of which {worked:.1f} s of work")
    print(f"a trainee waits {1000 * waits[len(waits) // 2]:.0f} ms for the next question, {1000 * waits[-1]:.0f} ms at most")
    print(f"{sent / asked / 1000:.0f} kB for a question, {sent / TRAINEES / 1e6:.1f} MB for a trainee")


def main() -> None:
    if "--test" in sys.argv:
        asyncio.run(measure_test())
        return
    scene = sys.argv[1] if len(sys.argv) > 1 else "cage-rotor"
    heads = ("followers", "of one core", "computed/s", "bench/s", "follower/s", "slowest/s", "kB/s each")
    print(scene, "  ".join(f"{head:>11}" for head in heads), sep="\n")
    for count in (1, 10, 30, 100):
        share, *rates = asyncio.run(measure(scene, count))
        print(f"{count:>11}  {share:>11.0%}  {'  '.join(f'{rate:>11.1f}' for rate in rates)}", flush=True)


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))
    main()
