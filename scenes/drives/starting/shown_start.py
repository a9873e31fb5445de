"""A start as it is shown: the run-up, and after it the last hundredth of the speed, which it comes to ever more slowly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from physics import speeds
from physics.starting.stages import Pause, Stage
from physics.starting.starts import STAYS_AT_REST, Start
from scenes.drives.starting.case import Case

STANDS_FOR = 5.0  # s that a start is shown for which comes to nothing
TIME_CONSTANTS = 6.0  # after which what is left of the way cannot be read
STEP = 1e-3  # rev/s


@dataclass(frozen=True)
class ShownStart:
    """n moments, all arrays (n,): s, number of the stage, rev/s, A from a line, N m of motor and load."""

    time: np.ndarray
    stage: np.ndarray
    speed: np.ndarray
    line_current: np.ndarray
    torque: np.ndarray
    load_torque: np.ndarray


def shown_start(start: Start, case: Case) -> ShownStart:
    """Of a motor that stays at rest: at rest, with the torque of the motor on the load for `STANDS_FOR` s or longer.

    Near where the torques meet, their difference is as good as proportional to the speed that is missing, which so falls
    exponentially, with the time constant 2 pi J / (d(load - motor) / dn).
    """
    run = start.run_up
    rows = [run.time, run.stage, run.speed, run.line_current, run.torque, run.load_torque]
    if start.outcome == STAYS_AT_REST:
        end = max(float(run.time[-1]), STANDS_FOR)
        rows = [np.append(row, row[-1]) for row in rows]
        rows[0][-1] = end
        rows[2] = 0.0 * rows[2]  # the run-up creeps where it stands: see physics.shaft.loads
        rows[5] = np.minimum(rows[4], case.torque_to_move)  # friction holds as much as the motor pulls
        return ShownStart(*rows)
    stage = case.stages[int(run.stage[-1])]
    if isinstance(stage, Pause) or not np.isfinite(start.settled_speed):
        return ShownStart(*rows)
    circuit, shaft = stage.first.circuit(case.motor), case.shaft

    def surplus(speed: float) -> float:
        return float(circuit.at(speeds.slip(circuit.synchronous_speed, speed)).torque - shaft.torque(speed))

    settled = start.settled_speed
    falls = (surplus(settled - STEP) - surplus(settled + STEP)) / (2 * STEP)
    constant = 2 * np.pi * shaft.inertia / falls
    later = constant * np.linspace(0.0, TIME_CONSTANTS, 60)[1:]
    return ShownStart(*(np.append(*pair) for pair in zip(rows, _later(later, constant, start, case, stage), strict=True)))


def _later(later, constant: float, start: Start, case: Case, stage: Stage) -> tuple[np.ndarray, ...]:
    """The rows of a `ShownStart` at `later` s after the run-up."""
    run, motor = start.run_up, case.motor
    circuit = stage.first.circuit(motor)
    speed = start.settled_speed - (start.settled_speed - run.speed[-1]) * np.exp(-later / constant)
    point = circuit.at(speeds.slip(circuit.synchronous_speed, speed))
    number = np.full(later.size, run.stage[-1])
    return run.time[-1] + later, number, speed, stage.line_current(motor, stage.first, point), point.torque, case.shaft.torque(speed)
