"""Settings of a motor that slips, how it runs on, and everything physical at one instant."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from physics.induction import OperatingPoint
from physics.induction import motion as circuit_motion
from physics.induction.motion import SlipMoment, bar_currents, slip_of
from physics.nameplate import Nameplate
from physics.shaft.shafts import FreeShaft
from physics.supply.supplies import ThreePhaseSupply
from scenes.drives.slip_and_speed.motors import BenchMotor, motor_of, own_motor, runs_at
from scenes.scene.scene import minus

BARS = 15
UPWARD = math.pi / 2  # where field and rotor stand at the start


@dataclass(frozen=True)
class Setup:
    """What is set. motor: as it is supplied; load: N m that is asked of the shaft, percent: the same of rated torque; lines: on
    U, V, W; flashing: whether it is seen in a lamp that flashes with the field; refused: what is wrong with the nameplate as
    entered, while the motor before it stays."""

    motor: BenchMotor
    load: float
    percent: float
    lines: tuple[str, ...]
    flashing: bool
    refused: str

    @classmethod
    def of(cls, settings: dict, plate: Nameplate | None, refused: str) -> Setup:
        """plate: the last one that could be."""
        by_plate = settings["plate"] and plate is not None
        motor = motor_of(plate) if by_plate else own_motor(settings["frequency"], int(settings["poles"]))
        return cls(
            motor=motor,
            load=settings["load"] / 100 * motor.rated_torque,
            percent=settings["load"],
            lines=tuple(settings["lines"].split("-")),
            flashing=settings["lamp"] == "flashing",
            refused=refused if by_plate else "",
        )

    @property
    def sense(self) -> float:
        """+1 where the lines as joined turn the field counter-clockwise seen from the drive end, -1 where clockwise."""
        return -1.0 if ThreePhaseSupply(400.0, 50.0, self.lines).sequence == "positive" else 1.0

    @property
    def settles(self) -> float:
        """Slip at which it carries the load, come to it from running without; 1 where it stalls."""
        return runs_at(self.motor, self.load)


# The state counts with the field: turns and speeds are positive in its sense, whichever that is.


def begin(setup: Setup) -> SlipMoment:
    """Running without load, nothing counted."""
    return SlipMoment(speed=(1 - runs_at(setup.motor, 0.0)) * setup.motor.circuit.synchronous_speed)


def settle(setup: Setup) -> SlipMoment:
    """Running under its load, or at standstill where that is too much; nothing counted."""
    return SlipMoment(speed=(1 - setup.settles) * setup.motor.circuit.synchronous_speed)


def advance(setup: Setup, state: SlipMoment, seconds: float) -> SlipMoment:
    motor = setup.motor
    shaft = FreeShaft(motor.inertia, setup.load, motor.lost / (2 * math.pi))
    return circuit_motion.advance(motor.circuit, 1.0, shaft, state, seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant. Turns counted and `speed` with the field positive, rev/s; the angles at which field and
    rotor are seen in rad, counter-clockwise seen from the drive end; bars: the current of each toward the drive end, as a share of
    what the largest has at standstill."""

    setup: Setup
    field_turns: float
    rotor_turns: float
    laps: float  # turns by which the rotor has dropped behind
    speed: float
    slip: float
    point: OperatingPoint
    field: float  # T, peak
    field_angle: float
    rotor_angle: float
    bars: np.ndarray

    @property
    def motor(self) -> BenchMotor:
        return self.setup.motor

    @property
    def sense(self) -> float:
        """+1 where the field turns counter-clockwise seen from the drive end, -1 where clockwise."""
        return self.setup.sense

    @property
    def times(self) -> float:
        """The current as a multiple of the rated one."""
        return float(abs(self.point.stator_current)) / self.motor.rated_current

    @property
    def counted(self) -> tuple[str, str, str]:
        """Turns of the field and of the rotor, and laps of slip, in hundredths, so that what is read comes out: field - rotor = laps."""
        field, laps = round(self.field_turns, 2), round(self.laps, 2)
        return f"{field:.2f}", minus(field - laps, 2), minus(laps, 2)

    @property
    def stalled(self) -> bool:
        return abs(self.speed) < 1e-6


def observe(setup: Setup, state: SlipMoment) -> Snapshot:
    circuit, sense, laps = setup.motor.circuit, setup.sense, state.laps_of_slip
    slip = slip_of(circuit, 1.0, state.speed)
    point = circuit.at(slip)
    # in a lamp that flashes with the field this is seen to stand still
    turned = (0.0, -laps) if setup.flashing else (state.field_turns, state.rotor_turns)
    field_angle, rotor_angle = (UPWARD + sense * 2 * math.pi * math.fmod(turns, 1.0) for turns in turned)
    largest = float(abs(point.rotor_current) / abs(circuit.at(1.0).rotor_current))
    angles = 2 * np.pi / BARS * np.arange(BARS) + rotor_angle - field_angle
    return Snapshot(
        setup=setup,
        field_turns=state.field_turns,
        rotor_turns=state.rotor_turns,
        laps=laps,
        speed=state.speed,
        slip=slip,
        point=point,
        field=setup.motor.field(point),
        field_angle=field_angle,
        rotor_angle=rotor_angle,
        bars=largest * bar_currents(circuit, slip, sense, angles),
    )
