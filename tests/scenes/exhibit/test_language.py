"""The language that a visitor chose stays while somebody is there, whatever happens, and goes only after the countdown.

The test's own clock says how long ago the screen was touched, and its own notes which language was asked for last.
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime, time, timedelta

import pytest

from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import ATTRACT
from tests.simulated_stand import TOUR as QUICK
from visual.host.server import Host

QUIET = 12.0
TOUR = replace(QUICK, quiet=QUIET, stops=[replace(stop, seconds=5.0) for stop in QUICK.stops], attract=replace(QUICK.attract, seconds=6.0))
STEP = 0.25


class Watched:
    """A stand whose screen is read after every picture."""

    def __init__(self, tour=TOUR, second: float = 12 * 3600):
        self.clock = second
        self.bench = ExhibitBench(Host(), tour, now=lambda: datetime(2026, 3, 9) + timedelta(seconds=self.clock))
        self.touched, self.chosen, self.counted = -1e9, "", False

    def send(self, **message) -> None:
        if self.clock - self.touched >= QUIET:
            self.chosen = ""
        self.touched = self.clock
        if message["do"] == "speak":
            self.chosen = message["language"]
        self.bench.receive(message)
        self.check()

    def wait(self, seconds: float) -> None:
        for _ in range(round(seconds / STEP)):
            self.clock += STEP
            self.bench.frame(STEP)
            self.check()

    def check(self) -> None:
        shown, quiet = self.bench.host.published["exhibit"], self.clock - self.touched
        if quiet < QUIET - STEP:
            assert shown["language"] == (self.chosen or "en"), (quiet, self.bench.here)
            self.counted = shown["left"] is not None
        elif quiet > QUIET + STEP and self.chosen != "en":
            assert shown["language"] == "en"
            assert self.counted or not self.chosen, "it has been counted down before"


@pytest.mark.parametrize("seed", range(4))
def test_whatever_is_done_and_however_long_nothing_is_done(seed, caplog):
    stand, chance = Watched(), random.Random(seed)
    for _ in range(150):
        what = chance.choice(("speak", "next", "previous", "try", "touch", "fail"))
        if what == "speak":
            stand.send(do="speak", language=chance.choice(("de", "de", "en")))
        elif what == "try":
            stand.send(do="try", number=0)
        elif what == "fail":
            stand.bench.scene.step = broken_once(stand.bench.scene)
        else:
            stand.send(do=what)
        stand.wait(chance.choice((0.5, 2, 4, 8, 11, 30)))
    assert "ZeroDivisionError" in caplog.text


def broken_once(scene):
    def fail(seconds: float) -> None:
        del scene.step
        raise ZeroDivisionError

    return fail


def test_past_the_last_stop_and_before_the_first_one():
    for way in ("next", "previous"):
        stand = Watched()
        stand.send(do="touch")
        stand.send(do="speak", language="de")
        for _ in range(len(TOUR.stops) if way == "next" else 1):
            stand.send(do=way)
        assert stand.bench.here == ATTRACT and shown(stand)["words"]["touch"] == "Berühren"
        stand.send(do="touch")
        assert stand.bench.here == 0 and shown(stand)["caption"] == TOUR.stops[0].caption["de"]
        stand.send(do="previous")
        stand.wait(QUIET + 1)
        assert shown(stand)["words"]["touch"] == "Touch"


def test_at_a_stop_that_stays_longer_than_a_visitor():
    stand = Watched(replace(TOUR, stops=[replace(stop, seconds=600.0) for stop in TOUR.stops]))
    stand.send(do="touch")
    stand.send(do="speak", language="de")
    stand.wait(QUIET + 2)
    assert stand.bench.here == ATTRACT and shown(stand)["language"] == "en"


def test_while_the_hours_of_sleep_begin():
    stand = Watched(replace(TOUR, asleep=(time(21), time(7, 30))), second=21 * 3600 - 20)
    stand.send(do="speak", language="de")
    for _ in range(8):
        stand.wait(8)
        stand.send(do="touch", again=True)
    assert stand.clock > 21 * 3600 + 30 and not stand.bench.asleep
    stand.wait(QUIET + 1)
    assert stand.bench.asleep and shown(stand)["language"] == "en"
    stand.send(do="touch")
    assert not stand.bench.asleep and stand.bench.here == 0 and shown(stand)["language"] == "en"


def shown(stand) -> dict:
    return stand.bench.host.published["exhibit"]


def test_back_leads_to_where_the_stop_before_begins():
    text = tour_file.built_in().replace('drives = "turbine"', 'drives = "turbine"\ngo_on = true')
    bench = ExhibitBench(Host(), tour_file.read(text, "x"))
    bench.receive({"do": "touch"})
    bench.receive({"do": "next"})
    assert bench.here == 2, "a stop that goes on from another is passed over"
    bench.receive({"do": "previous"})
    assert bench.here == 0 and bench.scene["coils"] == "1"
    bench.go_to(1)
    bench.receive({"do": "previous"})
    assert bench.here == 0
    bench.receive({"do": "previous"})
    assert bench.here == ATTRACT
