"""A stand by a clock of its own: a thousand visitors in ten days come to it as fast as it can take them, while real pages look on.

    python -m tests.simulated_stand COUNTS PORT SECOND VISITORS

SECOND and VISITORS: what the clock says, and how many have come, when it begins. It prints its port, and obeys a line at a time:
"come N" (the visitors up to number N), "begin" (somebody comes, opens a question and is still there), "try N" (somebody does the Nth
thing of `EVERYTHING`, and watches for a while), "wait S" (nobody touches it for so many seconds), "count". Each is answered with a line
of JSON: `second`, what the clock says; `sent`, what visitors have sent since the last one; `amiss`, what somebody has left behind;
`exhibit`, what the screen is to show; and, where that was asked for, `program`, what there is of it.
"""

from __future__ import annotations

import asyncio
import json
import random
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path

from scenes import service_manager
from scenes.exhibit import tour_file
from scenes.exhibit.counts import Counts
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.status import ENDPOINT
from scenes.exhibit.tour import ATTRACT
from tests import programs
from tests.benchmarks.soak import counted_in_python
from visual.host.server import Host

VISITORS, DAYS = 1000, 10
MONDAY = datetime(2026, 3, 9)
IN_FULL = 100  # of so many visitors all that is told is worked out for one; for the others only what decides
QUIET = 40  # s
TOUR = replace(  # a tour of scenes that are quickly worked out
    tour_file.read((Path(__file__).parent / "browser" / "ways_to_use" / "stand.toml").read_text("utf-8"), "stand.toml"),
    quiet=QUIET,
    asleep=(time(21), time(7, 30)),
)
ARRIVALS = sorted(random.Random(16).choices(range(DAYS * 86400), k=VISITORS))

WATCHED = 10, 0.2  # pictures of something that is tried, and s between them: what is turned runs down, a rod swings out


def everything() -> Iterator[tuple[str, dict]]:
    """All that can be done at the stand: in each language, at each stop, each thing to try with each of its answers, and each part."""
    for language in reversed(TOUR.languages):
        yield "touch", {}
        yield "speak", {"language": language}
        for stop in TOUR.stops:
            for number, each in enumerate(stop.tries):
                for choice in each.answers or [None]:
                    yield "try", {"number": number}
                    if choice:
                        yield "answer", {"choice": choice}
                if each.does == "turn":
                    yield "turn", {"speed": -3.0}
            for name in stop.parts:
                yield "press", {"name": name}
            yield "next", {}


EVERYTHING = list(everything())

Sent = tuple[int, str, str]  # the second, what, and which language or whether the answer was right


class Stand:
    """A stand, its clock, and everything that visitors send it."""

    def __init__(self, file: Path, second: int, come_so_far: int):
        self.second, self.come_so_far = second, come_so_far
        self.counts = Counts(file)
        self.in_full = True
        self.sent: list[Sent] = []
        self.amiss: list[str] = []
        stand = self

        class Bench(ExhibitBench):
            def pass_time(self, seconds):
                """The pictures' seconds are not those of the clock."""

            def show_state(self):
                if stand.in_full:
                    super().show_state()
                else:
                    self.host.publish(view=self._view(), exhibit=self._shown(), picks=self._picks(), question=self.prediction.shown())

        self.host = Host()
        self.bench = Bench(self.host, TOUR, self.counts, self.now)

    def now(self) -> datetime:
        return MONDAY + timedelta(seconds=self.second)

    @property
    def screen(self) -> dict:
        return self.host.published["exhibit"]

    def wait(self, seconds: int) -> None:
        for _ in range(seconds):
            self.second += 1
            ExhibitBench.pass_time(self.bench, 1.0)

    def send(self, do: str, **fields) -> None:
        self.bench.receive({"do": do, **fields})
        detail = fields.get("language", "")
        if do == "answer":
            detail = "right" if self.host.published["question"]["right"] else "wrong"
        self.sent.append((self.second, do, detail))

    async def come(self, until: int) -> None:
        """The visitors who have not come yet, up to that number."""
        while self.come_so_far < until:
            arrival = ARRIVALS[self.come_so_far]
            if arrival - self.second > 3 * QUIET:  # nobody is there: of the time until the next one only the ends are looked at
                self.leave()
                self.second = arrival - 2
                self.wait(2)
            self.in_full = self.come_so_far % IN_FULL == 0
            self.visit(random.Random(self.come_so_far))
            self.come_so_far += 1
            await asyncio.sleep(0)  # pages and pictures have their turn
        self.in_full = True
        while self.bench.here != ATTRACT:  # one who only looks on leaves the tour to go on
            self.wait(10)
        self.leave()

    def visit(self, chance: random.Random) -> None:
        """Somebody touches what the screen offers, for a while."""
        for _ in range(chance.randint(1, 6)):
            screen = self.screen
            offers = [("touch", {}), ("next", {}), ("speak", {"language": chance.choice(["en", "de"])})]
            offers += [("try", {"number": number}) for number in range(len(screen["tries"])) if not screen["answers"]] * 3
            offers += [("answer", {"choice": each["value"]}) for each in screen["answers"]] * 5
            offers += [("press", {"name": pick["name"]}) for pick in self.host.published["picks"][:3]]
            if any(each["does"] == "turn" for each in screen["tries"]):
                offers.append(("turn", {"speed": chance.uniform(-3, 3)}))
            what, fields = chance.choice(offers)
            self.send(what, **fields)
            if self.in_full:
                for _ in range(3):
                    self.bench.frame(0.0)  # drawn and read out; the time is the test's
            self.wait(chance.choice([1, 2, 3, 5, 8, 13, 21, 38]))

    def begin(self) -> None:
        """Somebody opens the question of the first stop, in another language, and is still there."""
        for do, fields in (("touch", {}), ("speak", {"language": "de"}), ("try", {"number": 1})):
            self.send(do, **fields)
            self.wait(4)

    def watch(self) -> None:
        """Draw what is on the screen and read it out for a while, in the pictures' own time, whatever else has been drawn meanwhile."""
        pictures, apart = WATCHED
        for _ in range(pictures):
            self.bench.frame(apart)

    def leave(self) -> None:
        """Nobody touches it any more: what is not as it was before anybody came."""
        self.wait(QUIET + 1)
        bench, screen = self.bench, self.screen
        as_first = {
            "the language": bench.language == "en" or bench.here != ATTRACT,
            "a question": bench.prediction.question is None and screen["answers"] == [],
            "a stop that is held": not bench.held,
            "the countdown": screen["left"] is None,
            "somebody who is there": not bench.use.on,
            "something turned": bench.attempts.turning == 0.0,
            "something tried": bench.attempts.last is None and not bench.attempts.said,
            "a setting": bench.scene.settings == bench.scene.defaults | bench.stop.settings,
            "the view": bench.scene.view == (bench.stop.view or bench.scene.views[0].name),
            "a pause": bench.running and bench.answers_shown,
            "a notice": not self.host.published.get("notice", {}).get("text"),
            "a failure": bench.failures == 0 and not self.counts.trouble,
            "sleep": bench.asleep == TOUR.sleeps_at(self.now().time()),
        }
        self.amiss += [f"{what} at {self.now()}" for what, well in as_first.items() if not well]


def counted_by_hand(sent: list[Sent]) -> dict[str, dict]:
    """What a person with a list of all touches would count, by the day."""
    days: dict[str, dict] = defaultdict(lambda: {"touches": 0, "uses": 0, "answers": 0, "right": 0, "languages": {}, "longest": 0})

    def day(second: int) -> dict:
        return days[(MONDAY + timedelta(seconds=second)).date().isoformat()]

    for second, what, detail in sent:
        day(second)["touches"] += what not in ("turn", "press")  # the page sends a touch with each of these
        if what == "answer":
            day(second)["answers"] += 1
            day(second)["right"] += detail == "right"
        if what == "speak":
            languages = day(second)["languages"]
            languages[detail] = languages.get(detail, 0) + 1
    began = last = -QUIET
    for second, _, _ in sent:
        if second - last >= QUIET:
            began = second
            day(second)["uses"] += 1
        last = second
        day(second)["longest"] = max(day(second)["longest"], second - began)
    return days


def without_noughts(days: dict[str, dict]) -> dict[str, dict]:
    """Days without what has not been counted on them."""
    return {day: {what: value for what, value in fields.items() if value} for day, fields in days.items()}


async def serve(file: Path, port: int, second: int, come_so_far: int) -> None:
    stand = Stand(file, second, come_so_far)
    print(stand.host.listen(port, endpoint=ENDPOINT), flush=True)
    service_manager.tell("READY=1")
    beside = [asyncio.create_task(stand.host.run(stand.bench.frame)), asyncio.create_task(service_manager.report_pictures(stand.host))]
    while order := await asyncio.to_thread(sys.stdin.readline):
        what, _, number = order.strip().partition(" ")
        told: dict = {}
        if what == "come":
            await stand.come(int(number))
        elif what == "begin":
            stand.begin()
        elif what == "try":
            do, fields = EVERYTHING[int(number)]
            stand.send(do, **fields)
            stand.wait(1)
            stand.watch()
        elif what == "wait":
            stand.wait(int(number))
            stand.watch()
        elif what == "count":
            stand.host.flush()  # what was drawn is counted, whether a page has been sent it or not
            told["program"] = counted_in_python(stand.host)
        told |= {"second": stand.second, "sent": stand.sent, "amiss": stand.amiss, "exhibit": stand.screen}
        print(json.dumps(told), flush=True)
        stand.sent.clear()
        stand.amiss.clear()
    for each in beside:
        each.cancel()
    stand.counts.close()


class Driven:
    """That program, as a test starts it and gives it orders."""

    def __init__(self, counts: Path, port: int = 0, second: int = 0, come: int = 0, **options):
        command = [sys.executable, "-u", "-m", "tests.simulated_stand", *map(str, (counts, port, second, come))]
        root = Path(__file__).parents[1]
        self.process = programs.start(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=root, **options)
        self.port = int(self.process.stdout.readline())
        self.address = f"http://localhost:{self.port}/"

    def order(self, words: str) -> None:
        self.process.stdin.write(f"{words}\n")
        self.process.stdin.flush()

    def answer(self) -> dict:
        return json.loads(self.process.stdout.readline())

    def do(self, words: str) -> dict:
        self.order(words)
        return self.answer()

    def stop(self) -> int:
        """End it, and return how it ended."""
        self.process.stdin.close()
        return self.process.wait(60)


if __name__ == "__main__":
    asyncio.run(serve(Path(sys.argv[1]), *(int(number) for number in sys.argv[2:])))
