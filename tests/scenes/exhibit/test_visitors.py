"""A thousand visitors in ten days, by a clock of the test's own: nothing stays set, and what is counted is right to one."""

from __future__ import annotations

import json
import random
from collections import defaultdict
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path

import pytest

from scenes.exhibit import tour_file
from scenes.exhibit.counts import Counts
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import ATTRACT
from visual.host.server import Host

VISITORS, DAYS = 1000, 10
MONDAY = datetime(2026, 3, 9)
IN_FULL = 100  # of so many visitors one sees every picture drawn; for the others what is decided counts
QUIET = 40  # s
TOUR = replace(  # a tour of scenes that are quickly worked out
    tour_file.read((Path(__file__).parents[2] / "browser" / "ways_to_use" / "stand.toml").read_text("utf-8"), "stand.toml"),
    quiet=QUIET,
    asleep=(time(21), time(7, 30)),
)


class Stand:
    """A stand, the test's clock, and everything that is sent to it."""

    def __init__(self, file):
        self.seconds = 0
        self.counts = Counts(file)
        self.in_full = True
        stand = self

        class Bench(ExhibitBench):
            def show_state(self):
                if stand.in_full:
                    super().show_state()
                else:
                    self.host.publish(exhibit=self._shown(), picks=self._picks(), question=self.prediction.shown())

        self.bench = Bench(Host(), TOUR, self.counts, self.now)
        self.sent: list[tuple[int, str, str]] = []  # the second, what, and which language or whether the answer was right

    def now(self) -> datetime:
        return MONDAY + timedelta(seconds=self.seconds)

    @property
    def screen(self) -> dict:
        return self.bench.host.published["exhibit"]

    def wait(self, seconds: int) -> None:
        for _ in range(seconds):
            self.seconds += 1
            self.bench.pass_time(1.0)

    def send(self, do: str, **fields) -> None:
        self.bench.receive({"do": do, **fields})
        detail = fields.get("language", "")
        if do == "answer":
            detail = "right" if self.bench.host.published["question"]["right"] else "wrong"
        self.sent.append((self.seconds, do, detail))


def one_visitor(stand: Stand, chance: random.Random) -> None:
    """Touches what the screen offers, for a while."""
    for _ in range(chance.randint(1, 6)):
        screen = stand.screen
        offers = [("touch", {}), ("next", {}), ("speak", {"language": chance.choice(["en", "de"])})]
        offers += [("try", {"number": number}) for number in range(len(screen["tries"])) if not screen["answers"]] * 3
        offers += [("answer", {"choice": each["value"]}) for each in screen["answers"]] * 5
        offers += [("press", {"name": pick["name"]}) for pick in stand.bench.host.published["picks"][:3]]
        if any(each["does"] == "turn" for each in screen["tries"]):
            offers.append(("turn", {"speed": chance.uniform(-3, 3)}))
        what, fields = chance.choice(offers)
        stand.send(what, **fields)
        if stand.in_full:
            for _ in range(3):
                stand.bench.frame(0.0)  # drawn and read out; the time is the test's
        stand.wait(chance.choice([1, 2, 3, 5, 8, 13, 21, 38]))


def counted_by_hand(sent: list[tuple[int, str, str]]) -> dict[str, dict]:
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
    uses: list[list[int]] = []
    for second, _, _ in sent:
        if uses and second - uses[-1][-1] < QUIET:
            uses[-1].append(second)
        else:
            uses.append([second])
    for use in uses:
        day(use[0])["uses"] += 1
        ended = day(use[-1] + QUIET)
        ended["longest"] = max(ended["longest"], use[-1] - use[0])
    return days


@pytest.fixture(scope="module")
def after_ten_days(tmp_path_factory):
    """The stand, the file in which it counted, what was sent, and what was amiss after a visitor."""
    file = tmp_path_factory.mktemp("stand") / "counts.json"
    chance, stand, amiss = random.Random(16), Stand(file), []
    arrivals = sorted(chance.randrange(DAYS * 86400) for _ in range(VISITORS))
    for number, arrival in enumerate(arrivals):
        if arrival - stand.seconds > 3 * QUIET:  # nobody is there: of the time until the next one only the ends are looked at
            stand.wait(QUIET + 1)
            amiss += left_behind(stand)
            stand.seconds = arrival - 2
            stand.wait(2)
        stand.in_full = number % IN_FULL == 0
        one_visitor(stand, chance)
    stand.wait(QUIET + 1)
    amiss += left_behind(stand)
    stand.counts.close()
    return stand, json.loads(file.read_text("utf-8")), counted_by_hand(stand.sent), amiss


def left_behind(stand: Stand) -> list[str]:
    """What is not as it was before anybody came."""
    bench, screen = stand.bench, stand.screen
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
        "a notice": not bench.host.published.get("notice", {}).get("text"),
        "sleep": bench.asleep == TOUR.sleeps_at(stand.now().time()),
    }
    return [what for what, well in as_first.items() if not well]


def test_nothing_stays_set_and_nothing_has_failed(after_ten_days):
    stand, _, _, amiss = after_ten_days
    assert amiss == [] and stand.bench.failures == 0 and set(stand.bench.scenes) <= set(TOUR.scenes)


def test_what_is_counted_is_right_to_one(after_ten_days):
    stand, kept, by_hand, _ = after_ten_days
    assert kept["version"] == 1 and len(kept["days"]) >= DAYS
    assert {day: without_noughts(fields) for day, fields in kept["days"].items()} == {
        day: without_noughts(fields) for day, fields in by_hand.items()
    }
    total = {what: sum(fields.get(what, 0) for fields in kept["days"].values()) for what in ("touches", "uses", "answers")}
    assert total["touches"] > 2500 and 800 < total["uses"] <= VISITORS and total["answers"] > 200


def without_noughts(fields: dict) -> dict:
    return {what: value for what, value in fields.items() if value}
