"""How a motor runs on, whatever feeds it: its shaft, its centrifugal switch and its overload relay; and the result of a start."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from physics.protection import OverloadRelay
from physics.shaft.shafts import FreeShaft
from scenes.drives.one_phase.motors import (
    INERTIA,
    KNOTS,
    MAIN_ALONE,
    MOST,
    RUN_CAPACITOR,
    SPEEDS,
    START_CAPACITOR,
    SYNCHRONOUS,
    Feed,
    rated,
    table_of,
)

STEP = 0.002  # s
UNIT = 2 * math.pi * SYNCHRONOUS  # rad/s
BEARINGS = 0.02  # of rated torque: friction
OPENS, CLOSES = 0.75, 0.45  # of synchronous speed, a centrifugal switch: common practice, no source
BY_HAND = 0.2  # of synchronous speed, a pull on the belt
LONGEST, PATIENCE, NEAR = 12.0, 0.2, 1e-4  # s of a run, s looked back, and of synchronous speed: no longer changing
REST, RUNNING, CLOCKWISE, COUNTER = "rest", "running", "clockwise", "counter-clockwise"
NEVER = math.inf


@dataclass(frozen=True)
class Case:
    """A motor as it is fed and loaded: `load` N m of friction, with the bearings."""

    feed: Feed
    load: float

    @cached_property
    def relay(self) -> OverloadRelay:
        return OverloadRelay(rated(self.feed.motor)[1])

    @cached_property
    def bears(self) -> float:
        """The heat at which the relay trips: with two of three heaters alike by their difference."""
        return float(self.relay.threshold([1.0, 1.0, 0.0 if lost(self) else 1.0])) ** 2

    @cached_property
    def shaft(self) -> FreeShaft:
        return FreeShaft(INERTIA[self.feed.three_phase], self.load)


@dataclass(frozen=True)
class Turning:
    """time: s; speed: relative to synchronous speed, clockwise positive; turns: of the shaft, the same; starting: whether the
    centrifugal switch is closed; heat: of the relay, 1 at its setting for good; tripped: whether it has switched off; charge: V that
    a start capacitor has kept since its switch opened."""

    time: float = 0.0
    speed: float = 0.0
    turns: float = 0.0
    starting: bool = True
    heat: float = 0.0
    tripped: bool = False
    charge: float = 0.0


def begun(case: Case, start: str) -> Turning:
    """At rest, turned by hand, or running as it would with nothing open, its relay warm from that."""
    if start == REST:
        return Turning()
    if start != RUNNING:
        return Turning(speed=BY_HAND if start == CLOCKWISE else -BY_HAND)
    return on_all_phases(case)


@lru_cache(maxsize=64)
def on_all_phases(case: Case) -> Turning:
    """As it runs with nothing open, its relay warm from that."""
    feed = case.feed.whole
    if feed.motor == MAIN_ALONE:  # its auxiliary has been open since it ran up
        feed = replace(feed, motor=RUN_CAPACITOR)
    sense = -1.0 if feed.reversed_main != feed.reversed_auxiliary else 1.0
    whole = replace(case, feed=replace(feed, motor=case.feed.motor))
    settled = _settle(whole, Turning(speed=0.98 * sense, starting=False))
    amperes = abs(whole.feed.at(settled.speed).lines)
    heat = min(1.0, float((np.max(amperes) / whole.relay.setting) ** 2))
    return Turning(speed=settled.speed, starting=False, heat=heat, charge=charge_left(whole.feed, OPENS * sense))


@lru_cache(maxsize=64)
def charge_left(feed: Feed, speed: float) -> float:
    """V that a start capacitor keeps when its switch opens at that speed: the arc goes out as the current passes through nothing, and
    then the voltage is at its peak."""
    return math.sqrt(2) * float(abs(feed.at(speed, True).capacitor)) if feed.motor == START_CAPACITOR else 0.0


def advance(case: Case, state: Turning, seconds: float) -> Turning:
    """The state `seconds` later."""
    steps = max(1, math.ceil(seconds / STEP - 1e-9))
    for _ in range(steps):
        state = _stepped(case, state, seconds / steps)
    return state


def _stepped(case: Case, state: Turning, step: float) -> Turning:
    after, amperes = _turned(case, state, step)
    heat = float(case.relay.warmed(state.heat, [amperes], step))
    return replace(after, heat=heat, tripped=state.tripped or heat >= case.bears)


def _turned(case: Case, state: Turning, step: float) -> tuple[Turning, float]:
    """The state a step later as if there were no relay, and the largest line current until then, A."""
    speed = state.speed
    starting = case.feed.motor == START_CAPACITOR and abs(speed) < (OPENS if state.starting else CLOSES)
    torque, slope, amperes = (0.0, 0.0, 0.0) if state.tripped else _looked_up(case.feed, starting, speed)
    after = case.shaft.speed_after(speed * UNIT, step, torque - slope * speed, slope / UNIT)
    after = case.shaft.through_rest(speed * UNIT, after) / UNIT
    turns = state.turns + (speed + after) / 2 * SYNCHRONOUS * step
    charge = state.charge
    if starting:  # while its switch is closed a start capacitor has the windings to discharge through
        charge = 0.0
    elif state.starting and not state.tripped:
        charge = charge_left(case.feed, math.copysign(OPENS, speed))
    return Turning(state.time + step, after, turns, starting, state.heat, state.tripped, charge), amperes


@lru_cache(maxsize=64)
def _few_poles(feed: Feed) -> bool:
    sizes = abs(feed.at(0.9).lines)
    return bool(np.min(sizes) < 0.5 * np.max(sizes))


def lost(case: Case) -> bool:
    """Whether one pole of the relay carries less than half of the others."""
    return _few_poles(case.feed)


def _looked_up(feed: Feed, starting: bool, speed: float) -> tuple[float, float, float]:
    """Torque, its steepness over the relative speed, and the largest line current, between two knots of the table."""
    torques, amperes = table_of(feed, starting)
    place = (speed + MOST) * (KNOTS - 1) / (2 * MOST)
    knot = min(max(int(place), 0), KNOTS - 2)
    part = place - knot
    rise = torques[knot + 1] - torques[knot]
    return (
        torques[knot] + part * rise,
        rise * (KNOTS - 1) / (2 * MOST),
        amperes[knot] + part * (amperes[knot + 1] - amperes[knot]),
    )


def _settle(case: Case, state: Turning) -> Turning:
    """The state when its speed no longer changes; its relay is not asked."""
    while state.time < LONGEST:
        before = state
        while state.time < before.time + PATIENCE:
            state, _ = _turned(case, state, STEP)
        if abs(state.speed - before.speed) < NEAR:
            break
    return state


def keeps_direction(case: Case, state: Turning) -> bool:
    """Whether a motor that turns goes on in its direction, fed and loaded as it is: somewhere up to its speed it carries the load."""
    sense, slowest = math.copysign(1.0, state.speed), 0.0
    if case.feed.motor == START_CAPACITOR and not state.starting:
        slowest = CLOSES
    along = SPEEDS * sense
    reached = (along > slowest) & (along <= abs(state.speed) + SPEEDS[1] - SPEEDS[0])
    return bool((np.array(table_of(case.feed, state.starting)[0])[reached] * sense > case.load).any())


@lru_cache(maxsize=256)
def settled(case: Case, start: str) -> Turning:
    """The result of a start if nothing trips."""
    return _settle(case, begun(case, start))


def direction(case: Case, start: str) -> str:
    """ "clockwise" or "counter-clockwise", looking at the drive end, or "none" where it hums at rest or comes to it."""
    speed = settled(case, start).speed
    return "none" if abs(speed) < 1e-3 else CLOCKWISE if speed > 0 else COUNTER


@lru_cache(maxsize=256)
def trips_after(case: Case, start: str) -> float:
    """Seconds until the overload relay trips, inf if it never does."""
    state = begun(case, start)
    last = settled(case, start)
    while state.time < last.time:
        state = _stepped(case, state, STEP)
        if state.tripped:
            return state.time
    return state.time + case.relay.trips_after(_lines_of(case, last), state.heat)


@lru_cache(maxsize=256)
def trips_unaware(case: Case, start: str) -> float:
    """The same, about, of a relay that does not notice a phase that is missing: as if all three poles carried the largest current."""
    first, last = begun(case, start), settled(case, start)
    return case.relay.trips_after(np.full(3, np.abs(_lines_of(case, last)).max()), first.heat)


def _lines_of(case: Case, state: Turning) -> np.ndarray:
    return case.feed.at(state.speed, state.starting).lines
