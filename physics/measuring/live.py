"""The motor running on its board, with whatever fault: where it settles, what flows, and what a voltmeter shows.

All is linear: the iron has the flux of its rated point. Voltages and currents are r.m.s. values of one frequency.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from physics.induction.joined_windings import JoinedMotor
from physics.measuring.board import Board
from physics.measuring.network import EARTH
from physics.terminals import LINES, PHASES

_SLIPS = np.geomspace(0.19, 0.0005, 40)
SPEEDS = np.concatenate([_SLIPS[::-1] - 1, np.linspace(-0.8, 0.8, 41), 1 - _SLIPS])  # relative to synchronous, clockwise positive


@dataclass(frozen=True)
class Live:
    """The board on its supply, the shaft at `speed` relative to synchronous speed, clockwise positive seen from the drive end.

    line_currents: complex, (3,), A into the board by the leads of L1, L2, L3; torque: N m, clockwise positive.
    """

    board: Board
    motor: JoinedMotor
    frequency: float
    speed: float
    line_currents: np.ndarray
    torque: float

    def voltage(self, first: str, second: str) -> float:
        """V r.m.s. that a voltmeter shows between two points."""
        own, gap, _ = self.motor.unsaturated(self.frequency, self.speed)
        volts, _ = self.board.metered(first, second).solve(self.board.metered_impedances(own, gap), self.board.held)
        return float(abs(volts[first] - volts[second])[0])

    def phasors(self, points: tuple[str, ...]) -> np.ndarray:
        """Complex V against earth of several points at once, no meter on them."""
        own, gap, _ = self.motor.unsaturated(self.frequency, self.speed)
        volts, _ = self.board.network.solve(self.board.impedances(own, gap), self.board.held)
        return np.array([self.board.held[point] if point in LINES else 0.0 if point == EARTH else volts[point][0] for point in points])


def _currents(board: Board, motor: JoinedMotor, frequency: float, speeds: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Currents of all branches, (m, n), and torque, N m, (m,), at m speeds."""
    own, gap, taking = motor.unsaturated(frequency, speeds)
    _, currents = board.network.solve(board.impedances(own, gap), board.held)
    windings = np.zeros((len(gap), 3), complex)  # A that all turns of a winding would carry for the same ampere-turns
    for k, (phase, _, _, share) in enumerate(board.parts):
        windings[:, PHASES.index(phase)] += share * currents[:, k]
    lag = np.exp(2j * np.pi / 3 * np.arange(3))
    size = np.abs(np.stack([windings @ lag, windings @ lag.conj()], axis=-1)) / 3  # following U-V-W, following U-W-V
    across = 3 * size**2 * taking
    return currents, (across[:, 0] - across[:, 1]) / (2 * math.pi * motor.synchronous_speed(frequency))


def settled(board: Board, motor: JoinedMotor, frequency: float, friction: float, running: bool = False) -> Live:
    """The board once the shaft has settled under `friction`, N m that oppose any motion, from rest or, `running`, from near
    synchronous speed clockwise. With all lines on one motor it stays where torque and friction are equal; at rest where they are not."""
    _, torques = _currents(board, motor, frequency, SPEEDS)
    speed = _settled_speed(torques, friction, running)
    currents, torque = _currents(board, motor, frequency, np.array([speed]))
    lines = {line: sum(currents[0, k] for k, tie in enumerate(board.ties, len(board.parts)) if tie[0] == line) for line in LINES}
    return Live(board, motor, frequency, speed, np.array(list(lines.values()), complex), float(torque[0]))


def _settled_speed(torques: np.ndarray, friction: float, running: bool) -> float:
    """The first speed, from the start on, at which the torque no longer overcomes the friction, or, from above, holds it."""
    if running:
        for k in range(len(SPEEDS) - 1, 0, -1):
            if SPEEDS[k - 1] < 0:
                break
            if torques[k] < friction <= torques[k - 1]:
                return _between(SPEEDS[k - 1], SPEEDS[k], torques[k - 1] - friction, torques[k] - friction)
        if torques[-1] >= friction:
            return float(SPEEDS[-1])
    standing = float(np.interp(0.0, SPEEDS, torques))
    if abs(standing) <= friction:
        return 0.0
    side = 1 if standing > 0 else -1
    along = [k for k in range(len(SPEEDS)) if side * SPEEDS[k] > 1e-9][::side]  # outward from rest
    speed, excess = 0.0, side * standing - friction
    for k in along:
        after = side * torques[k] - friction
        if after <= 0:
            return _between(speed, float(SPEEDS[k]), excess, after)
        speed, excess = float(SPEEDS[k]), after
    return speed


def _between(low: float, high: float, excess: float, after: float) -> float:
    return float(low + (high - low) * excess / (excess - after))
