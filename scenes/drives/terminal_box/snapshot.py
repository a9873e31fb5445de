"""The settings of the terminal box, how it goes on, and everything physical at one instant."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from physics.induction.joined_windings import Running
from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.board import Joining, joining_of
from scenes.drives.terminal_box.case import INERTIA, Case, case_of
from scenes.drives.terminal_box.motors import PLATES, Plate

PAUSE = 0.04  # s for which the isolator is open at first: nothing is joined with the supply on


@dataclass(frozen=True)
class Setup:
    """What is set. supply: V between lines; frequency: Hz; load: N m, percent: the same of rated torque; asked: what the question is
    about."""

    joining: Joining
    plate: Plate
    supply: float
    frequency: float
    load: float
    percent: float
    asked: str
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            joining=joining_of(settings),
            plate=PLATES[settings["plate"]],
            supply=float(settings["supply"]),
            frequency=float(settings["hertz"]),
            load=settings["load"] / 100 * RATED_TORQUE,
            percent=settings["load"],
            asked=settings["asked"],
            colours=settings["colours"],
        )

    @property
    def case(self) -> Case:
        return case_of(self.joining, self.plate, self.supply, self.frequency, self.load)


@dataclass(frozen=True)
class Switched:
    """time: s since the isolator was closed, below 0 while it is open."""

    time: float = -PAUSE


def begin(setup: Setup) -> Switched:
    return Switched()


def advance(setup: Setup, state: Switched, seconds: float) -> Switched:
    return replace(state, time=state.time + seconds)


def shown_whole(setup: Setup, state: Switched) -> bool:
    """Whether it has come to its speed, or something has switched it off."""
    return state.time >= min(float(setup.case.run_up[0][-1]), setup.case.off_after)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    time: s since the isolator was closed; speed, angle: rev/s and rad of the shaft, counter-clockwise looking at the drive end;
    running: the windings at that speed, None while they are off; state: "isolated", "on", "fuse" or "relay" once one of these has
    switched off.
    """

    setup: Setup
    time: float
    state: str
    speed: float
    angle: float
    running: Running | None

    @property
    def case(self) -> Case:
        return self.setup.case

    @property
    def times(self) -> float:
        """The largest line current over the rated one."""
        return (
            0.0
            if self.running is None
            else float(np.abs(self.running.line_currents).max()) / self.setup.plate.line_current(self.setup.supply)
        )

    @property
    def powers(self) -> dict[str, float]:
        """W: drawn, lost in stator and rotor, given to the shaft."""
        if self.running is None:
            return dict.fromkeys(("input_power", "stator_loss", "rotor_loss", "converted_power"), 0.0)
        return {name: float(getattr(self.running, name)) for name in ("input_power", "stator_loss", "rotor_loss", "converted_power")}


def observe(setup: Setup, state: Switched) -> Snapshot:
    case, time = setup.case, state.time
    if time < 0:
        return Snapshot(setup, time, "isolated", 0.0, 0.0, None)
    if time >= case.off_after:
        speed, turns = _coasting(case, time)
        return Snapshot(setup, time, case.trips, -speed, -_angle(turns), None)
    speed, turns = _driven(case, time)
    running = case.settled if time >= case.run_up[0][-1] else case.running(speed / case.synchronous)
    return Snapshot(setup, time, "on", -speed, -_angle(turns), running)


def _driven(case: Case, time: float) -> tuple[float, float]:
    """Speed, rev/s, and turns, clockwise positive, at `time` after switching on."""
    times, speeds, turns = case.run_up
    beyond = max(0.0, time - times[-1])
    return float(np.interp(time, times, speeds)), float(np.interp(time, times, turns) + beyond * speeds[-1])


def _coasting(case: Case, time: float) -> tuple[float, float]:
    """The same after something has tripped: friction alone brings it to rest."""
    speed, turns = (0.0, 0.0) if case.short else _driven(case, case.off_after)
    rate = case.friction / INERTIA / (2 * math.pi)
    passed = min(time - case.off_after, abs(speed) / rate)
    slowed = math.copysign(abs(speed) - rate * passed, speed)
    return slowed, turns + passed * (speed + slowed) / 2


def _angle(turns: float) -> float:
    return 2 * math.pi * math.fmod(turns, 1.0)
