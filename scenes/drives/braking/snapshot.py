"""The settings of a braking, how it goes on, and everything physical at one instant."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace

import numpy as np

from scenes.drives.braking.motors import (
    BY_INVERTER,
    DIRECT,
    FREQUENCY,
    LINES,
    LOWEST,
    RATED_TORQUE,
    SWAPPED,
    SYNCHRONOUS,
    USUAL_FIELD,
    Electrical,
    electrical,
)
from scenes.drives.braking.shaft import HOIST, Case, case_of

PAUSE = 0.1  # s for which it still runs at first
UPWARD, V_AXIS = math.pi / 2, -math.pi / 6  # where the axes of windings U and V stand
OF_DIRECT = 2 * math.pi / 3  # where direct current in at U and out at V makes its field point


@dataclass(frozen=True)
class Setup:
    """What is set. percent: load, of rated torque; asked: what the question is about; curves: "time" or "speed"."""

    method: str
    stops: bool
    direct: float
    ramp: float
    inertia: float
    percent: float
    asked: str
    curves: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            method=settings["method"],
            stops=settings["zero"],
            direct=settings["direct"] / 100,
            ramp=settings["ramp"],
            inertia=settings["inertia"],
            percent=settings["weight" if settings["method"] == HOIST else "friction"],
            asked=settings["asked"],
            curves=settings["curves"],
        )

    @property
    def load(self) -> float:
        """N m."""
        return self.percent / 100 * RATED_TORQUE

    @property
    def case(self) -> Case:
        return case_of(self.method, self.stops, self.direct, self.ramp, self.inertia, self.percent / 100)


@dataclass(frozen=True)
class Begun:
    """time: s since the braking began, below 0 while it still runs."""

    time: float = -PAUSE


def begin(setup: Setup) -> Begun:
    return Begun()


def advance(setup: Setup, state: Begun, seconds: float) -> Begun:
    """It goes on; what has run away stays where it was last followed."""
    time = state.time + seconds
    return replace(state, time=min(time, float(setup.case.history.time[-1])) if setup.case.runs_away else time)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant. Speeds and torques clockwise positive, angles rad counter-clockwise from the right looking at
    the drive end.

    speed: relative to synchronous; supplied: see `motors`; ratio: an inverter's frequency over the rated; flowing: A of U, V, W at
    this instant; field: T, peak, at field_angle; energies: in motion, heat in rotor and stator, taken by the load, drawn from the supply,
    in times what was in motion at the beginning.
    """

    setup: Setup
    time: float
    speed: float
    supplied: str
    ratio: float
    running: Electrical
    flowing: tuple[float, ...]
    field: float
    field_angle: float
    rotor_angle: float
    energies: tuple[float, ...]

    @property
    def case(self) -> Case:
        return self.setup.case

    @property
    def field_speed(self) -> float:
        """rev/s of the field, clockwise positive."""
        return {LINES: 1.0, SWAPPED: -1.0, BY_INVERTER: self.ratio}.get(self.supplied, 0.0) * SYNCHRONOUS

    @property
    def shaft_speed(self) -> float:
        """rev/s, counter-clockwise positive."""
        return -self.speed * SYNCHRONOUS

    @property
    def stands(self) -> bool:
        return abs(self.speed) < 1e-6


def observe(setup: Setup, state: Begun) -> Snapshot:
    case, time = setup.case, state.time
    history = case.history
    if time < 0:
        speed, supplied, turns, ratio = case.before, LINES, time * case.before * SYNCHRONOUS, 1.0
        sums = [0.0] * 4
    else:
        beyond = max(0.0, time - float(history.time[-1]))
        at = min(time, float(history.time[-1]))
        place = min(int(np.searchsorted(history.time, at, side="right")) - 1, len(history.time) - 1)
        speed, supplied, ratio = float(np.interp(at, history.time, history.speed)), history.supplied[place], case.ratio(time)
        turns = float(np.interp(at, history.time, history.turns)) + beyond * speed * SYNCHRONOUS
        sums = [
            float(np.interp(at, history.time, values)) + beyond * _rate(history.time, values)
            for values in (history.rotor_heat, history.stator_heat, history.taken, history.drawn)
        ]
    if supplied == BY_INVERTER and ratio < LOWEST:
        ratio = 0.0
    running = electrical(supplied, speed, case.direct, ratio)
    sense = -1.0 if supplied == SWAPPED else 1.0
    cycles = _cycles(case, time, supplied)
    phase = 1.0 if supplied == DIRECT else cmath.exp(2j * math.pi * math.fmod(cycles, 1.0))
    flux = complex(running.flux) * phase
    zero = {SWAPPED: V_AXIS, DIRECT: OF_DIRECT}.get(supplied, UPWARD)
    return Snapshot(
        setup=setup,
        time=time,
        speed=speed,
        supplied=supplied,
        ratio=ratio,
        running=running,
        flowing=tuple(((1.0 if supplied == DIRECT else math.sqrt(2)) * (running.currents * phase).real).tolist()),
        field=USUAL_FIELD * abs(flux),
        field_angle=zero - sense * cmath.phase(flux) if flux else 0.0,
        rotor_angle=UPWARD - 2 * math.pi * math.fmod(turns, 1.0),
        energies=((speed / case.before) ** 2, *(each / case.energy for each in sums)),
    )


def _rate(times: np.ndarray, values: np.ndarray) -> float:
    """J a second at the end."""
    return float((values[-1] - values[-2]) / (times[-1] - times[-2]))


def _cycles(case: Case, time: float, supplied: str) -> float:
    """Of the supply since time 0; an inverter's get fewer as it comes down."""
    if supplied != BY_INVERTER:
        return FREQUENCY * time
    within = min(max(time, 0.0), case.ramp)
    return FREQUENCY * (within - within**2 / (2 * case.ramp))
