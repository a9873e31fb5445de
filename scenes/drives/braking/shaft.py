"""A braking from the moment it begins until nothing changes: speed, and where the energy of the drive goes, once for each set-up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from physics.shaft.shafts import FreeShaft
from scenes.drives.braking.motors import (
    BY_INVERTER,
    DIRECT,
    LINES,
    LOWEST,
    OFF,
    RATED_CURRENT,
    RATED_TORQUE,
    SWAPPED,
    SYNCHRONOUS,
    electrical,
    kinetic,
    on_inverter,
)
from scenes.drives.starting.motors import ROTOR_INERTIA

COAST, PLUG, DIRECT_CURRENT, HOIST, RAMP = "coast", "plug", "dc", "load", "inverter"
SUPPLIED = {COAST: OFF, PLUG: SWAPPED, DIRECT_CURRENT: DIRECT, HOIST: LINES, RAMP: BY_INVERTER}
CHANGE = 0.002  # of synchronous speed in a step
SHORTEST, LONG, LONGEST = 0.0005, 0.2, 2000.0  # s, of a step, and of a run
RAMP_STEPS = 1000
BEARINGS = 0.02  # of rated torque: friction
OPENS = 0.02  # of synchronous speed, a zero-speed switch
FASTEST = 1.8  # of synchronous speed, at which a load that runs away is no longer followed
SETTLED, PATIENCE = 2e-5, 12  # of synchronous speed in so many steps: no longer changing
KNOTS = np.linspace(-1.2, FASTEST + 0.1, 521)
LOW, BETWEEN, APART = float(KNOTS[0]), float(KNOTS[1] - KNOTS[0]), 1e-4
UNIT = 2 * math.pi * SYNCHRONOUS


@dataclass(frozen=True)
class History:
    """(n,) each, time in s from the beginning: speed relative to synchronous and turns, clockwise positive; what is supplied; J since then:
    heat in rotor and stator, drawn from the supply, and taken by load and bearings."""

    time: np.ndarray
    speed: np.ndarray
    turns: np.ndarray
    supplied: tuple[str, ...]
    rotor_heat: np.ndarray
    stator_heat: np.ndarray
    drawn: np.ndarray
    taken: np.ndarray


# Long, for what a braking does follows from one run.
@dataclass(frozen=True)
class Case:
    """method; stops: whether a zero-speed switch opens the contactor; direct: A; ramp: s in which an inverter comes down; inertia: of
    what is driven, over the rotor's; load: N m, of friction, or of a weight that drives."""

    method: str
    stops: bool
    direct: float
    ramp: float
    inertia: float
    load: float

    @property
    def total_inertia(self) -> float:
        """kg m2."""
        return ROTOR_INERTIA * (1 + self.inertia)

    @property
    def friction(self) -> float:
        """N m against the motion."""
        return BEARINGS * RATED_TORQUE + (0.0 if self.method == HOIST else self.load)

    @property
    def driving(self) -> float:
        """N m with the motion."""
        return self.load if self.method == HOIST else 0.0

    @cached_property
    def shaft(self) -> FreeShaft:
        return FreeShaft(self.total_inertia, self.friction, load=lambda speed: -self.driving)

    def ratio(self, time: float) -> float:
        """Of its rated frequency, that an inverter gives at that time."""
        return min(1.0, max(0.0, 1 - time / self.ramp))

    @cached_property
    def before(self) -> float:
        """The speed at which it ran until then, under its friction; a weight is still held by its own brake."""
        speeds = np.linspace(0.8, 1.0, 4001)
        return float(speeds[np.argmax(electrical(LINES, speeds).torque < self.friction)])

    @cached_property
    def energy(self) -> float:
        """J of motion at the beginning."""
        return kinetic(self.total_inertia, self.before)

    @cached_property
    def history(self) -> History:
        return _run(self)

    @property
    def opens_at(self) -> float:
        """r/min at which the zero-speed switch opens the contactor, where there is one."""
        return 60 * SYNCHRONOUS * float(self.history.speed[self.history.supplied.index(OFF)])

    @property
    def runs_away(self) -> bool:
        """Whether its load drives it faster and faster: past `FASTEST` it is not followed."""
        return self.last > FASTEST

    @cached_property
    def last(self) -> float:
        """Speed in the end."""
        return float(self.history.speed[-1])


@lru_cache(maxsize=16)
def _table(supplied: str, direct: float) -> tuple[list[float], ...]:
    """Torque and powers (rotor, stator, drawn) at each knot."""
    point = electrical(supplied, KNOTS, direct)
    return tuple(values.tolist() for values in (point.torque, point.rotor_loss, point.stator_loss, point.input_power))


def _looked_up(case: Case, supplied: str, time: float, speed: float) -> tuple[list[float], list[float]]:
    """Torque, N m, and heat per second in rotor and stator and power drawn, W; and how steeply they rise over the relative speed."""
    if supplied == BY_INVERTER:
        here, faster = (on_inverter(each, case.ratio(time)) for each in (speed, speed + APART))
        return here, [(after - before) / APART for before, after in zip(here, faster, strict=True)]
    tables = _table(supplied, case.direct if supplied == DIRECT else 0.0)
    place = (speed - LOW) / BETWEEN
    knot = min(max(int(place), 0), len(KNOTS) - 2)
    rises = [table[knot + 1] - table[knot] for table in tables]
    return [table[knot] + (place - knot) * rise for table, rise in zip(tables, rises, strict=True)], [rise / BETWEEN for rise in rises]


def _run(case: Case) -> History:
    supplied, speed, turns, time = SUPPLIED[case.method], case.before, 0.0, 0.0
    sums = [0.0, 0.0, 0.0, 0.0]
    rows: list[tuple] = [(time, speed, turns, supplied, *sums)]
    while time < LONGEST and speed <= FASTEST and not _is_over(case, rows):
        # a ramp's field as it is at the end of the step, as is the torque below: one step late its slip would be a tenth too large
        ahead = case.ramp / RAMP_STEPS if supplied == BY_INVERTER and time < case.ramp else 0.0
        (torque, *powers), (slope, *rises) = _looked_up(case, supplied, time + ahead, speed)
        step = _step(case, time, torque, speed)
        after = case.shaft.speed_after(speed * UNIT, step, torque - slope * speed, slope / UNIT)
        after = case.shaft.through_rest(speed * UNIT, after) / UNIT
        middle = (speed + after) / 2
        # the torque of this step is that at the speed after it: so are the powers, or energy would not add up
        at_once = [power + rise * (after - speed) for power, rise in zip(powers, rises, strict=True)]
        at_once.append((case.friction * math.copysign(1.0, middle) - case.driving) * middle * UNIT)
        sums = [total + power * step for total, power in zip(sums, at_once, strict=True)]
        turns += middle * SYNCHRONOUS * step
        time, speed = time + step, after
        if case.stops and supplied in (SWAPPED, DIRECT) and speed < OPENS:
            supplied = OFF
        rows.append((time, speed, turns, supplied, *sums))
    columns: list[tuple] = list(zip(*rows, strict=True))
    time_s, speeds, turned, rotor, stator, drawn, taken = (np.array(columns[k], float) for k in (0, 1, 2, 4, 5, 6, 7))
    return History(time_s, speeds, turned, columns[3], rotor, stator, drawn, taken)


def _step(case: Case, time: float, torque: float, speed: float) -> float:
    """s in which the speed changes but little; an even part of a ramp while that lasts."""
    if case.method == RAMP and time < case.ramp:
        return case.ramp / RAMP_STEPS
    net = abs(torque - math.copysign(case.friction, speed) + case.driving)
    return min(max(CHANGE * case.total_inertia * UNIT / max(net, 1e-9), SHORTEST), LONG)


def _is_over(case: Case, rows: list[tuple]) -> bool:
    """Whether the speed no longer changes: it had time to, and a ramp is over."""
    if len(rows) < PATIENCE or case.method == RAMP and case.ratio(rows[-1][0]) >= LOWEST:
        return False
    return abs(rows[-1][1] - rows[-PATIENCE][1]) < SETTLED


@lru_cache(maxsize=64)
def case_of(method: str, stops: bool, direct: float, ramp: float, inertia: float, load: float) -> Case:
    """The case, kept, with what its method does not use at nothing: it is worked out when it is first asked for."""
    return Case(
        method,
        stops and method in (PLUG, DIRECT_CURRENT),
        direct * RATED_CURRENT if method == DIRECT_CURRENT else 0.0,
        ramp if method == RAMP else 1.0,
        inertia,
        load * RATED_TORQUE,
    )
