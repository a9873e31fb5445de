"""What a start is made of: stages, each with what is on the motor, and pauses between them.

The motor's windings are taken to stand in delta when it runs, as star-delta starting needs; on the lines a motor built
for star does the same, with every other method.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from physics import arguments
from physics.induction import EquivalentCircuit, OperatingPoint
from physics.supply.space_vectors import DELTA, Connection

LineCurrent = Callable[[EquivalentCircuit, "Feed", OperatingPoint], np.ndarray]
"""(motor's own circuit, feed, operating point on that feed) to the current drawn from the lines, A r.m.s."""


@dataclass(frozen=True)
class Feed:
    """What is on the motor's terminals and slip rings at one moment.

    voltage, frequency: as fractions of the motor's own; rotor_resistance: ohm per phase added outside through slip
    rings, referred to the stator; connection: of the windings.
    """

    voltage: float = 1.0
    frequency: float = 1.0
    rotor_resistance: float = 0.0
    connection: Connection = DELTA

    def __post_init__(self) -> None:
        arguments.positive("voltage", self.voltage)
        arguments.positive("frequency", self.frequency)
        arguments.not_negative("rotor_resistance", self.rotor_resistance)

    def circuit(self, motor: EquivalentCircuit) -> EquivalentCircuit:
        """The star that draws the same from the lines as `motor` fed in this way. The windings put from delta into star
        are, each, three times their equivalent star. `ValueError` for resistors on a rotor with two cages."""
        if self.rotor_resistance and motor.two_cages:
            raise ValueError("rotor_resistance must be 0 for a rotor with two cages: there are no slip rings")
        in_series = 3.0 if self.connection.winding == "star" else 1.0
        return EquivalentCircuit(
            stator_resistance=in_series * motor.stator_resistance,
            stator_reactance=in_series * self.frequency * motor.stator_reactance,
            rotor_resistance=in_series * (motor.rotor_resistance + self.rotor_resistance),
            rotor_reactance=in_series * self.frequency * motor.rotor_reactance,
            magnetising_reactance=in_series * self.frequency * motor.magnetising_reactance,
            line_voltage=self.voltage * motor.line_voltage,
            frequency=self.frequency * motor.frequency,
            poles=motor.poles,
            starting_cage_resistance=in_series * motor.starting_cage_resistance,
            running_cage_reactance=in_series * self.frequency * motor.running_cage_reactance,
            saturable_reactance=in_series * self.frequency * motor.saturable_reactance,
            saturation_current=motor.saturation_current / math.sqrt(in_series),  # of a line; in a winding it is one current
        )

    def share_inside(self, motor: EquivalentCircuit) -> float:
        """The part of the heat of the rotor circuit that arises in the motor: R2 / (R2 + R added)."""
        return motor.rotor_resistance / (motor.rotor_resistance + self.rotor_resistance)


def straight(motor: EquivalentCircuit, feed: Feed, point: OperatingPoint) -> np.ndarray:
    """The lines carry what the motor draws."""
    return np.abs(point.stator_current)


def through_transformer(motor: EquivalentCircuit, feed: Feed, point: OperatingPoint) -> np.ndarray:
    """The lines carry as much less as their voltage is higher; the transformer's own magnetising current left out."""
    return feed.voltage * np.abs(point.stator_current)


def through_rectifier(motor: EquivalentCircuit, feed: Feed, point: OperatingPoint) -> np.ndarray:
    """The lines carry the motor's power in phase with their voltage, and none back; harmonics and the inverter's own
    losses left out."""
    return np.maximum(point.input_power, 0.0) / (3.0 * motor.phase_voltage)


@dataclass(frozen=True)
class Stage:
    """One stage of a start. `name` says it on a panel. It begins with the feed `first`.

    With `seconds`, it lasts so long, and voltage and frequency go evenly from those of `first` to those of `last`.
    Without, the feed stays, and the stage ends at the slip `until_slip`, or if that is None, not at all.
    `line_current`: how the current from the lines follows from what the motor draws.
    """

    name: str
    first: Feed
    last: Feed | None = None
    seconds: float | None = None
    until_slip: float | None = None
    line_current: LineCurrent = straight

    def __post_init__(self) -> None:
        if self.seconds is not None:
            arguments.positive("seconds", self.seconds)
        elif self.last is not None:
            raise ValueError("last must come with seconds, the time in which the feed goes there")
        if self.until_slip is not None and not 0 < arguments.number("until_slip", self.until_slip) < 1:
            raise ValueError(f"until_slip must be between 0 and 1, not {self.until_slip:g}")

    @property
    def at_end(self) -> Feed:
        """What is on the motor when the stage is over."""
        return self.first if self.last is None else self.last

    def voltage_and_frequency(self, seconds: float) -> tuple[float, float]:
        """Fractions of the motor's own that are on it `seconds` after the stage began."""
        first, last = self.first, self.at_end
        passed = seconds / self.seconds if self.seconds else 0.0
        return (
            first.voltage + (last.voltage - first.voltage) * passed,
            first.frequency + (last.frequency - first.frequency) * passed,
        )

    def feed(self, seconds: float) -> Feed:
        """All that is on the motor `seconds` after the stage began."""
        voltage, frequency = self.voltage_and_frequency(seconds)
        return replace(self.first, voltage=voltage, frequency=frequency)


@dataclass(frozen=True)
class Pause:
    """The motor is off the lines for `seconds` while contactors change over; its speed and its flux fall by
    themselves."""

    name: str
    seconds: float

    def __post_init__(self) -> None:
        arguments.positive("seconds", self.seconds)
