"""The settings of a start, how it goes on, and everything physical at one instant of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from physics.starting.starts import Start
from scenes.drives.starting.case import Case
from scenes.drives.starting.starters import on_a_winding
from scenes.drives.starting.worked_out import WorkedOut


@dataclass(frozen=True)
class Setup:
    """What is set. load: torque of what is driven over rated torque; inertia: of what is driven, over the rotor's; tap: share of
    the voltage, and ramp: s, whether the method has them or not; curves: "time" or "speed"."""

    method: str
    drive: str
    load: float
    inertia: float
    tap: float
    ramp: float
    curves: str
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        plain = {name: settings[name] for name in ("method", "drive", "inertia", "ramp", "curves", "colours")}
        return cls(load=settings["load"] / 100, tap=settings["tap"] / 100, **plain)

    @cached_property
    def case(self) -> Case:
        """The start by the chosen method."""
        return self.case_by(self.method)

    def case_by(self, method: str) -> Case:
        """The start by that method, all else as it is set."""
        tap = self.tap if method == "autotransformer" else 1.0
        ramp = self.ramp if method == "inverter" else 0.0
        return Case(method, self.drive, self.load, self.inertia, tap, ramp)


@dataclass(frozen=True)
class Begun:
    """time: s after switching on; angle: of the shaft, rad, counter-clockwise seen from the drive end."""

    time: float = 0.0
    angle: float = 0.0


@dataclass(frozen=True)
class Moment:
    """One moment of a start: s after switching on, stage by number and name, rev/s, A, N m, V across a winding and its Hz.

    Without a stage the start is still being worked out, and the motor is off.
    """

    time: float = 0.0
    stage: int | None = None
    stage_name: str = "off while the start is worked out"
    speed: float = 0.0
    line_current: float = 0.0
    torque: float = 0.0
    load_torque: float = 0.0
    winding_voltage: float = 0.0
    frequency: float = 0.0


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    worked_out: the chosen start, None while it is being worked out: till then the motor is off. others: the start
    by each method as far as it is known.
    """

    setup: Setup
    worked_out: WorkedOut | None
    moment: Moment
    angle: float
    others: dict[str, Start | None]

    @property
    def case(self) -> Case:
        return self.setup.case

    @property
    def start(self) -> Start | None:
        return self.worked_out.start if self.worked_out else None


def begin(setup: Setup) -> Begun:
    return Begun()


def advance(setup: Setup, state: Begun, seconds: float, worked_out: WorkedOut | None) -> Begun:
    """U-V-W on L1-L2-L3: clockwise seen from the drive end. What is not worked out has not begun."""
    if worked_out is None:
        return state
    speed = moment_of(setup.case, worked_out, state.time).speed
    return Begun(state.time + seconds, state.angle - 2 * math.pi * speed * seconds)


def observe(setup: Setup, state: Begun, worked_out: WorkedOut | None, others: dict[str, Start | None]) -> Snapshot:
    moment = Moment() if worked_out is None else moment_of(setup.case, worked_out, state.time)
    return Snapshot(setup, worked_out, moment, state.angle, others)


def moment_of(case: Case, worked_out: WorkedOut, time: float) -> Moment:
    """The moment of a start `time` s after switching on; held at the last when it is over."""
    shown = worked_out.shown
    at = min(time, float(shown.time[-1]))
    stage = int(shown.stage[max(0, int(np.searchsorted(shown.time, at, side="right")) - 1)])
    value = {name: float(np.interp(at, shown.time, getattr(shown, name))) for name in ("speed", "line_current", "torque", "load_torque")}
    began = float(shown.time[int(np.argmax(shown.stage == stage))])
    voltage, frequency = on_a_winding(case.stages[stage], at - began, case.motor)
    return Moment(at, stage, worked_out.start.run_up.stages[stage], winding_voltage=voltage, frequency=frequency, **value)
