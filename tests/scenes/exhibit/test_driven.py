"""What is drawn on a shaft turns as the shaft does, runs where it would run, and goes as fast as is said.

The test reckons from the speed that the scene reads out and from where things are drawn: velocities are cross products of its own.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from scenes.exhibit.driven import KINDS
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import said
from tests.scenes.exhibit.awake import OPEN_DAY, SHORT
from visual.host.server import Host
from visual.solid.told import told

PICTURE = 0.04  # s


class Stop:
    """The stop that speaks of `words`, once it has run for a while."""

    def __init__(self, words: str, seconds: float = 8.0):
        tour = next(tour for tour in (SHORT, OPEN_DAY) if any(words in said(stop.caption, "en") for stop in tour.stops))
        self.bench = ExhibitBench(Host(), replace(tour, quiet=1e6))
        self.bench.go_to(next(place for place, stop in enumerate(tour.stops) if words in said(stop.caption, "en")))
        self.bench.receive({"do": "touch"})
        self.run(seconds)

    def run(self, seconds: float) -> None:
        for _ in range(round(seconds / PICTURE)):
            self.bench.frame(PICTURE)

    @property
    def drawn(self):
        return self.bench.on_the_shaft.seen

    @property
    def shaft(self) -> float:
        """Of the shaft as it is shown, rad/s, by the reading of its speed; clockwise looking at the drive end is negative."""
        speed = next(reading.value for reading in self.bench.scene.readings() if reading.symbol == "n")
        assert self.bench.scene.eye.side > 0
        return -float(speed.replace("\N{MINUS SIGN}", "-")) / 60 * 2 * math.pi / self.bench.scene.slowness

    def wheel(self) -> float:
        """Of the wheel as it is drawn, rad/s, over one picture."""
        before = self.angle()
        self.run(PICTURE)
        return math.remainder(self.angle() - before, 2 * math.pi) / PICTURE

    def angle(self) -> float:
        x, y, _ = told(self.drawn).needles[0][2]
        return math.atan2(y, x)


@pytest.mark.parametrize(
    ("words", "share"),
    [("fan", 1), ("power station", 1), ("saw", 1), ("wind turbine", 1), ("bicycle", -1 / 16), ("train", -1 / 5), ("lift", 1 / 40)],
)
def test_it_turns_as_the_shaft_does(words, share):
    stop = Stop(words)
    assert abs(stop.shaft) > 0.5
    assert stop.wheel() == pytest.approx(share * stop.shaft, rel=0.02)


def test_the_chuck_turns_with_the_drill_and_the_other_way_once_it_is_reversed():
    drill = Stop("drill", 4.0)
    speed = drill.bench.scene.state.speed / drill.bench.scene.slowness
    assert drill.wheel() == pytest.approx(speed, rel=0.1)
    drill.bench.receive({"do": "try", "number": 0})
    drill.run(6.0)
    assert drill.wheel() * speed < 0


def test_no_wheel_tells_the_answer_before_it_is_given():
    for words, number in (("fan", 0), ("lift", 0)):
        stop = Stop(words)
        stop.bench.receive({"do": "try", "number": number})
        assert stop.bench.prediction.waiting and stop.wheel() == 0


def moved(solid, run) -> np.ndarray:
    """How a solid's origin moves in one picture, m/s."""
    before = np.array(solid.place[0])
    run(PICTURE)
    return (np.array(solid.place[0]) - before) / PICTURE


def test_the_trains_wheel_rolls_on_the_sleepers_and_goes_as_fast_as_is_said():
    train = Stop("train", 20.0)
    turning, passing = train.wheel(), moved(train.drawn.sleepers, train.run)
    at_the_rail = np.cross([0, 0, turning], [0, -train.drawn.RADIUS, 0])
    assert passing == pytest.approx(at_the_rail, rel=0.02, abs=1e-6)
    for _ in range(3):
        real = abs(train.shaft) * train.bench.scene.slowness  # rad/s
        wheel = 0.92  # m across, with 5 revolutions of the shaft to one
        assert train.bench.host.published["exhibit"]["speed"] == f"{real / 5 * wheel / 2 * 3.6:.0f} km/h"
        train.bench.receive({"do": "try", "number": 1})
        train.run(20.0)
        train.bench.read_out()


def test_the_bicycles_tyre_rolls_on_the_roller():
    dynamo = Stop("bicycle")
    tyre, roller = dynamo.wheel(), dynamo.shaft
    x, y = dynamo.drawn.at
    assert x == 0
    touching = y - dynamo.drawn.RADIUS  # above the shaft
    assert np.cross([0, 0, tyre], [0, touching - y, 0]) == pytest.approx(np.cross([0, 0, roller], [0, touching, 0]), rel=0.02)


def edges(strip) -> np.ndarray:
    """The lower and upper edge of what is drawn of it, of a shape 1 m high about its middle; metres."""
    (_, middle, _), (_, high, _) = strip.solid.place[0], strip.solid.place[3]
    return middle + np.array([-0.5, 0.5]) * high


def test_floors_pass_the_car_as_its_sheave_turns_and_the_counterweight_twice_as_fast():
    lift = Stop("lift")
    drawn = lift.drawn
    (x, roof, z), down = drawn.car.place[0], 0.0
    assert x == drawn.RADIUS, "the car hangs straight below the sheave's rim"
    kinds = {up: [strip for _, strip in drawn.floors if strip.up == up] for up in {strip.up for _, strip in drawn.floors}}
    counted = dict.fromkeys((1, 2), 0)
    for _ in range(700):
        before = [[edges(strip) for strip in strips] for strips in (*kinds.values(), [drawn.counterweight])]
        rise = -np.cross([0, 0, lift.wheel()], [drawn.RADIUS, 0, 0])[1] * PICTURE
        down += rise
        assert rise > 0, "the full car pulls its own side down"
        after = [[edges(strip) for strip in strips] for strips in (*kinds.values(), [drawn.counterweight])]
        for was, now, times in zip(before, after, (*[1] * len(kinds), 2), strict=True):
            for edge in np.ravel(now):
                assert drawn.LOWEST - 1e-5 <= edge <= drawn.TOP + 1e-5, "nothing is seen beyond the hoistway"
                if drawn.LOWEST + 3 * rise < edge < drawn.TOP - 1e-5:  # it was in sight before
                    counted[times] += 1
                    assert np.abs(edge - times * rise - np.ravel(was)).min() < 0.1 * rise, "it has risen, and never jumps"
        assert tuple(drawn.car.place[0]) == (x, roof, z), "the eye goes down with the car"
    assert down > 2 * drawn.FLOORS and min(counted.values()) > 50


def test_the_hoistway_has_a_floor_in_sight_at_every_moment_and_each_comes_and_goes_little_by_little():
    lift = Stop("lift")
    drawn = lift.drawn
    lines = [strip for _, strip in drawn.floors if strip.up == 0]
    area = sum(np.ptp(edges(strip)) for _, strip in drawn.floors)
    for _ in range(800):
        lift.run(PICTURE)
        assert any(np.ptp(edges(strip)) > 0.5 * strip.high for strip in lines)
        now = sum(np.ptp(edges(strip)) for _, strip in drawn.floors)
        assert abs(now - area) < 0.004, "nothing appears or goes at once"
        area = now


def test_only_what_the_stop_speaks_of_is_seen_and_all_of_it_is_in_the_picture():
    bench = ExhibitBench(Host(), SHORT)
    for place in (*range(len(SHORT.stops)), -1):
        bench.go_to(place)
        seen = [each for each in bench.on_the_shaft.made.values() if each.visible]
        assert seen == [bench.on_the_shaft.seen]
        view = bench.host.published["view"]
        for boxes in (view["subject"], (view["upright"] or view)["subject"]):
            assert all(box in [tuple(map(tuple, each)) for each in boxes] for box in KINDS[bench.stop.drives].boxes)
