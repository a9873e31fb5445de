"""The settings of a motor on one phase, how it goes on, and everything physical at one instant."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, fields, replace
from functools import cached_property

import numpy as np

from scenes.drives.one_phase import shaft
from scenes.drives.one_phase.motors import (
    FREQUENCY,
    NOTHING,
    START_CAPACITOR,
    SYNCHRONOUS,
    Electrical,
    Feed,
    rated,
    running_at,
)
from scenes.drives.one_phase.shaft import Case, Turning

ONE, THREE = "one", "three"  # phases of the motor
UPWARD = math.pi / 2  # where the axis of winding U stands
SEEN = 0.5  # Hz at which a lamp that flashes nearly with the supply shows it


@dataclass(frozen=True)
class Setup:
    """What is set. percent: load, of rated torque; start: see `shaft`; flashing: whether it is seen in a lamp that flashes nearly with
    the supply; asked: what the question is about."""

    feed: Feed
    percent: float
    start: str
    flashing: bool
    asked: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        if settings["motor"] == THREE:
            feed = Feed(settings["joined"], settings["open"])
        else:
            feed = Feed(settings["auxiliary"], NOTHING, settings["main"] == "swapped", settings["ends"] == "swapped")
        return cls(feed, settings["load"], settings["start"], settings["lamp"] == "flashing", settings["asked"])

    @property
    def load(self) -> float:
        """N m that the load takes."""
        return self.percent / 100 * rated(self.feed.motor)[0]

    @cached_property
    def case(self) -> Case:
        return Case(self.feed, self.load + shaft.BEARINGS * rated(self.feed.motor)[0])


def begin(setup: Setup) -> Turning:
    return shaft.begun(setup.case, setup.start)


def settle(setup: Setup) -> Turning:
    return replace(shaft.settled(setup.case, setup.start), time=0.0)


def advance(setup: Setup, state: Turning, seconds: float) -> Turning:
    return shaft.advance(setup.case, state, seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant. Torques and speeds clockwise positive as in `Electrical`, angles as seen, rad, counter-
    clockwise from the right looking at the drive end.

    running: what flows, all nothing once the relay has tripped; flowing: A of each winding at this instant; forward_angle,
    backward_angle: of the two rotating fields as they are seen, and rotor_angle of the rotor's mark; field: T, x and y, their sum;
    torque: N m at this instant.
    """

    setup: Setup
    state: Turning
    running: Electrical
    flowing: tuple[float, ...]
    forward_angle: float
    backward_angle: float
    rotor_angle: float
    field: tuple[float, float]
    torque: float

    @property
    def speed(self) -> float:
        """rev/s, counter-clockwise positive."""
        return -self.state.speed * SYNCHRONOUS

    @property
    def stands(self) -> bool:
        return abs(self.state.speed) < 1e-6

    @property
    def live(self) -> bool:
        return not self.state.tripped

    @property
    def times(self) -> float:
        """The largest line current over the rated one."""
        return float(np.abs(self.running.lines).max()) / rated(self.setup.feed.motor)[1]

    @property
    def sizes(self) -> tuple[float, float]:
        """T, peak, of the fields that turn clockwise and counter-clockwise."""
        return float(abs(self.running.forward)), float(abs(self.running.backward))


def observe(setup: Setup, state: Turning) -> Snapshot:
    running = running_at(setup.feed, round(state.speed, 6), _switch_closed(setup, state))
    if state.tripped:
        running = _nothing(running)
    seen = state.time * (SEEN if setup.flashing else FREQUENCY)
    flashes = state.time * (FREQUENCY - SEEN) if setup.flashing else 0.0  # full turns that are not seen
    phase = cmath.exp(2j * math.pi * math.fmod(seen, 1.0))
    forward, backward = complex(running.forward) * phase, complex(running.backward) * phase
    angles = UPWARD - cmath.phase(forward), UPWARD + cmath.phase(backward)
    sizes = abs(forward), abs(backward)
    return Snapshot(
        setup=setup,
        state=state,
        running=running,
        flowing=tuple((math.sqrt(2) * (running.currents * phase).real).tolist()),
        forward_angle=angles[0],
        backward_angle=angles[1],
        rotor_angle=UPWARD - 2 * math.pi * math.fmod(state.turns - math.copysign(flashes, state.speed), 1.0),
        field=(
            sum(size * math.cos(angle) for size, angle in zip(sizes, angles, strict=True)),
            sum(size * math.sin(angle) for size, angle in zip(sizes, angles, strict=True)),
        ),
        torque=float(running.torque) + (complex(running.pulsation) * phase**2).real,
    )


def _switch_closed(setup: Setup, state: Turning) -> bool:
    return setup.feed.motor == START_CAPACITOR and state.starting


def _nothing(running: Electrical) -> Electrical:
    """The same motor with no current."""
    values = {each.name: 0 * getattr(running, each.name) for each in fields(running) if each.name != "letters"}
    return replace(running, **values)
