"""The motors on the bench: a three-phase one of 11 kW, in star or in delta on 400 V, and a single-phase one of 0.75 kW on 230 V.

Both have two poles, so that a turn of the field is a cycle of the supply. Ohms of our own; the single-phase motor gives ordinary values
for its size: starting torque 0.4 times rated with its run capacitor and 2.7 times with its start capacitor (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from physics.induction.joined_windings import JoinedMotor
from physics.induction.two_windings import TwoWindingMotor, pulsation
from physics.terminals import LINES, Wiring
from scenes.drives.terminal_box.board import DELTA, STAR, STRAIGHT
from scenes.drives.terminal_box.motors import PLATES, RATED_SLIP, motor_of

IN_STAR, IN_DELTA, RUN_CAPACITOR, START_CAPACITOR, MAIN_ALONE = "star", "delta", "run", "start", "main"
THREE_PHASE = (IN_STAR, IN_DELTA)
NOTHING, LINE, WINDING = "nothing", "L3", "W"  # what is open
FREQUENCY, POLES = 50.0, 2
SYNCHRONOUS = 2 * FREQUENCY / POLES  # rev/s
VOLTS = {True: 400.0, False: 230.0}  # between lines of three phases, and of one
SINGLE = TwoWindingMotor(2.6, 3.8, 5.0, 5.5, 1.25, 4.4, 3.8, 110.0, FREQUENCY, POLES)
FARAD = {RUN_CAPACITOR: 25e-6, START_CAPACITOR: 100e-6}
SINGLE_RATED_SLIP = 0.034
USUAL_FIELD = 0.85  # T, peak of the gap's fundamental at the rated point: common practice, no source
INERTIA = {True: 0.15, False: 0.015}  # kg m2 of rotor and load
MOST = 1.1  # of synchronous speed: how far the table of a motor goes either way
KNOTS = 441
POWERS = ("input_power", "stator_loss", "rotor_loss", "converted_power")
SPEEDS = np.linspace(-MOST, MOST, KNOTS)


@dataclass(frozen=True)
class Electrical:
    """A motor as it is fed, at one speed or at m of them: the speeds' shape first. Complex phasors r.m.s., A and V; torques N m and
    speeds positive clockwise looking at the drive end.

    letters: of the n windings; currents, voltages: (..., n), from end 1 to end 2; lines: (..., 3), of a single-phase motor that of
    its line three times, as it goes through a relay's three poles; capacitor: V across it. forward, backward: peak T of the fields that
    turn clockwise and counter-clockwise, with their phase. pulsation: complex N m, see physics. Powers W, which add up.
    """

    letters: str
    currents: np.ndarray
    voltages: np.ndarray
    lines: np.ndarray
    capacitor: np.ndarray
    forward: np.ndarray
    backward: np.ndarray
    forward_torque: np.ndarray
    backward_torque: np.ndarray
    torque: np.ndarray
    pulsation: np.ndarray
    input_power: np.ndarray
    stator_loss: np.ndarray
    rotor_loss: np.ndarray
    converted_power: np.ndarray


@dataclass(frozen=True)
class Feed:
    """How a motor is fed: which one, what is open, and which windings of a single-phase one have their ends swapped."""

    motor: str
    opened: str = NOTHING
    reversed_main: bool = False
    reversed_auxiliary: bool = False

    @property
    def three_phase(self) -> bool:
        return self.motor in THREE_PHASE

    @property
    def whole(self) -> Feed:
        """The same with nothing open."""
        return replace(self, opened=NOTHING)

    @property
    def links(self) -> tuple[tuple[str, str], ...]:
        """Between the studs of a three-phase motor; without the last one its winding W is open."""
        laid = {IN_STAR: STAR[:2], IN_DELTA: DELTA}[self.motor]
        pairs = tuple((link[:2], link[3:]) for link in laid)
        if self.opened != WINDING:
            return pairs
        return tuple(pair for pair in pairs if "W2" not in pair)

    @property
    def leads(self) -> dict[str, str]:
        """Of a three-phase motor, the stud of each line that is there."""
        return {line: stud for line, stud in zip(LINES, STRAIGHT, strict=True) if line != self.opened}

    def at(self, speed, starting: bool = False) -> Electrical:
        """At `speed`, relative to synchronous speed; starting: whether a centrifugal switch is closed."""
        return self._of_three(speed) if self.three_phase else self._of_one(speed, starting)

    def _of_three(self, speed) -> Electrical:
        motor = three_phase_motor(self.motor)
        running = motor.on(Wiring(self.leads, self.links).network(VOLTS[True]), FREQUENCY, speed)
        scale = USUAL_FIELD / motor.rated_gap_voltage
        parts = [(running.components[..., k + 1], running.gap_voltages[..., k]) for k in (0, 1)]
        across = [3 * (current.conj() * volts).real / (2 * math.pi * SYNCHRONOUS) for current, volts in parts]
        return Electrical(
            letters="UVW",
            currents=running.currents,
            voltages=running.voltages,
            lines=running.line_currents,
            capacitor=np.zeros(np.shape(running.torque), complex),
            forward=scale * parts[0][1] / 1j,
            backward=scale * parts[1][1] / 1j,
            forward_torque=across[0],
            backward_torque=-across[1],
            torque=running.torque,
            pulsation=pulsation(3, 2 * math.pi * SYNCHRONOUS, *parts),
            **{name: getattr(running, name) for name in POWERS},
        )

    def _of_one(self, speed, starting: bool) -> Electrical:
        joined = self.motor == RUN_CAPACITOR or self.motor == START_CAPACITOR and starting
        series = SINGLE.capacitor(FARAD[self.motor]) if joined else None
        running = SINGLE.on(VOLTS[False], speed, series, self.reversed_main, self.reversed_auxiliary)
        scale = USUAL_FIELD / single_gap_voltage()
        signs = 1 - 2 * int(self.reversed_main), 1 - 2 * int(self.reversed_auxiliary)
        line = running.line_current
        across = signs[1] * VOLTS[False] - running.series_voltage if joined else self._induced(running)
        return Electrical(
            letters="UZ",
            currents=np.stack([running.main_current, running.auxiliary_current], axis=-1),
            voltages=np.stack([signs[0] * VOLTS[False] + 0j * line, across], axis=-1),
            lines=np.stack([line] * 3, axis=-1),
            capacitor=running.series_voltage,
            forward=scale * running.forward_voltage / 1j,
            backward=scale * running.backward_voltage / 1j,
            forward_torque=running.forward_torque,
            backward_torque=running.backward_torque,
            torque=running.torque,
            pulsation=running.pulsation,
            **{name: getattr(running, name) for name in POWERS},
        )

    @staticmethod
    def _induced(running):
        """V that both fields induce in an open auxiliary winding."""
        return 1j * SINGLE.turns_ratio * (running.forward_voltage - running.backward_voltage)


@lru_cache(maxsize=2)
def three_phase_motor(joined: str) -> JoinedMotor:
    """The three-phase motor whose windings are made for that joining on 400 V."""
    circuit = motor_of(PLATES["230/400" if joined == IN_STAR else "400/690"]).circuit
    return JoinedMotor(replace(circuit, poles=POLES), RATED_SLIP)


@lru_cache(maxsize=1)
def single_gap_voltage() -> float:
    """V induced in the main winding by the field that turns with the rotor, at the rated point with the run capacitor."""
    running = SINGLE.on(VOLTS[False], 1 - SINGLE_RATED_SLIP, SINGLE.capacitor(FARAD[RUN_CAPACITOR]))
    return float(abs(running.forward_voltage))


@lru_cache(maxsize=8)
def rated(motor: str) -> tuple[float, float]:
    """N m of the rated torque, and A in a line at it with nothing open: what its overload relay is set to."""
    if motor in THREE_PHASE:
        point = Feed(motor).at(1 - RATED_SLIP)
        return float(point.torque), float(np.abs(point.lines).max())
    torque = float(Feed(RUN_CAPACITOR).at(1 - SINGLE_RATED_SLIP).torque)
    table = Feed(motor).at(SPEEDS)
    falling = (SPEEDS > 0.85) & (SPEEDS < 1.0)
    speed = float(np.interp(-torque, -table.torque[falling], SPEEDS[falling]))
    return torque, float(np.abs(Feed(motor).at(speed).lines).max())


@lru_cache(maxsize=256)
def running_at(feed: Feed, speed: float, starting: bool) -> Electrical:
    """What flows at one speed, kept for a motor that runs steadily: `speed` to a millionth."""
    return feed.at(speed, starting)


@lru_cache(maxsize=64)
def table_of(feed: Feed, starting: bool) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Torque, N m, and largest line current, A, at each of `SPEEDS`."""
    point = feed.at(SPEEDS, starting)
    return tuple(point.torque.tolist()), tuple(np.abs(point.lines).max(axis=-1).tolist())
