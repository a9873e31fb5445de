"""The motor's settings, how it runs, and everything physical at one instant."""

from __future__ import annotations

import math
from dataclasses import dataclass

from physics.induction import EquivalentCircuit
from physics.induction import motion as circuit_motion
from physics.induction.motion import SlipMoment, settled_slip, slip_of
from physics.pole_changing import PoleConnection
from physics.shaft.shafts import FreeShaft
from physics.windings.coils_in_slots import BALANCED, CoilsInSlots
from scenes.drives.changing_speed.motors import (
    FREQUENCY,
    INERTIA,
    ORDINARY,
    RATED_TORQUE,
    SUPPLY,
    VOLTAGE,
    connections,
    gap_wave,
    joined_motor,
    motor_at,
    tapped_alone,
)

INVERTER, ONE_WINDING, TWO_WINDINGS = "inverter", "one-tapped-winding", "two-windings"
POLES = {INVERTER: (4,), ONE_WINDING: (4, 2), TWO_WINDINGS: (12, 6, 4, 2)}  # slowest first


@dataclass(frozen=True)
class Setup:
    """The settings. method: how the speed is set; frequency: Hz; poles: of the present connection; swapped_at_low_speed:
    whether two leads of the low speed are swapped; lines: on the three terminals that are
    supplied, in the order of their letters (from an inverter, its outputs U, V, W in place of L1, L2, L3); load: N m."""

    method: str
    frequency: float
    poles: int
    swapped_at_low_speed: bool
    lines: tuple[str, ...]
    load: float
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        method = settings["method"]
        return cls(
            method=method,
            frequency=settings["frequency"] if method == INVERTER else FREQUENCY,
            poles={INVERTER: 4, ONE_WINDING: int(settings["tapped"]), TWO_WINDINGS: int(settings["joined"])}[method],
            swapped_at_low_speed=method == ONE_WINDING and settings["leads"] == "exchanged",
            lines=tuple(settings["lines"].split("-")),
            load=settings["load"] / 100 * RATED_TORQUE,
            colours=settings["colours"],
        )

    @property
    def circuit(self) -> EquivalentCircuit:
        return motor_at(self.frequency) if self.method == INVERTER else joined_motor(self.poles)

    @property
    def connection(self) -> PoleConnection | None:
        """How a pole-changing winding is connected; none for an ordinary one on an inverter."""
        if self.method == INVERTER:
            return None
        if self.method == TWO_WINDINGS:
            return connections()[self.poles]
        return tapped_alone("exchanged" if self.swapped_at_low_speed else "alike")[self.poles]

    @property
    def coils(self) -> CoilsInSlots:
        return self.connection.coils if self.connection else ORDINARY

    @property
    def supplied(self) -> tuple[str, ...]:
        """The terminals on the three lines, in their order."""
        return self.connection.supplied if self.connection else ("U1", "V1", "W1")

    @property
    def sense(self) -> float:
        """+1 where the field rotates counter-clockwise looking at the drive end, -1 where clockwise."""
        clockwise, other = (abs(wave) for wave in self.coils.travelling_waves(BALANCED[[int(line[1]) - 1 for line in self.lines]]))
        return -1.0 if clockwise > other else 1.0

    @property
    def volts(self) -> float:
        """Between lines, V r.m.s."""
        return float(SUPPLY.voltage(self.frequency)) if self.method == INVERTER else VOLTAGE

    @property
    def speeds(self) -> list[int]:
        """This motor's synchronous speeds, r/min; empty for an inverter, which gives any."""
        return [] if self.method == INVERTER else [round(120 * FREQUENCY / poles) for poles in POLES[self.method]]


@dataclass(frozen=True)
class Running:
    """angle: of the supply, electrical rad, the voltage of L1 having its peak at 0; moment: the rotor's motion."""

    angle: float
    moment: SlipMoment


def begin(setup: Setup) -> Running:
    """Running steadily on the load."""
    slip = settled_slip(setup.circuit, setup.load)
    return Running(0.0, SlipMoment(speed=setup.sense * (1 - slip) * setup.circuit.synchronous_speed))


def advance(setup: Setup, state: Running, seconds: float) -> Running:
    angle = math.fmod(state.angle + 2 * math.pi * setup.frequency * seconds, 2 * math.pi)
    shaft = FreeShaft(INERTIA, setup.load)
    return Running(angle, circuit_motion.advance(setup.circuit, setup.sense, shaft, state.moment, seconds))


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    speed: of the rotor, rev/s, and rotor: position of its mark, mechanical rad, both counter-clockwise looking at the
    drive end; slip: against the field; torque: N m in the direction of the field; breakdown: N m; field: peak flux density in
    the gap, T; peak: mechanical rad of an outward peak.
    """

    setup: Setup
    speed: float
    rotor: float
    slip: float
    torque: float
    breakdown: float
    field: float
    peak: float

    @property
    def synchronous_speed(self) -> float:
        """rev/s, without sign."""
        return float(self.setup.circuit.synchronous_speed)


def observe(setup: Setup, state: Running) -> Snapshot:
    circuit, speed = setup.circuit, state.moment.speed
    slip = slip_of(circuit, setup.sense, speed)
    field, peak = gap_wave(setup.coils, circuit, slip, state.angle, setup.lines)
    return Snapshot(
        setup=setup,
        speed=speed,
        rotor=math.pi / 2 + 2 * math.pi * math.fmod(state.moment.rotor_turns, 1.0),
        slip=slip,
        torque=float(circuit.at(slip).torque),
        breakdown=float(circuit.breakdown()[1]),
        field=field,
        peak=peak,
    )
