"""What feeds a machine: a battery, the three-phase mains, an inverter; and how far three phases are out of balance.

Alternating quantities are complex r.m.s. phasors: v(t) = sqrt(2) Re(V exp(j w t)). Phase voltages are those of the
lines against the star point, in the order of the terminals U, V, W. What a load in star or delta makes of them, whole
or with a phase lost, is in `physics.supply.star_delta`.

Formulae: any textbook of electrical machines; symmetrical components after Fortescue, 1918.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray

LINES = ("L1", "L2", "L3")
_LAG = {"L1": 0.0, "L2": 2 * np.pi / 3, "L3": 4 * np.pi / 3}

_A = np.exp(2j * np.pi / 3)
# rows: zero, positive, negative sequence
_FORTESCUE = np.array([[1, 1, 1], [1, _A, _A**2], [1, _A**2, _A]]) / 3


@dataclass(frozen=True)
class Battery:
    """A battery. emf: V, negative with its leads swapped; internal_resistance: ohm, 0 or more."""

    emf: float
    internal_resistance: float = 0.0

    def __post_init__(self) -> None:
        arguments.number("emf", self.emf)
        arguments.not_negative("internal_resistance", self.internal_resistance)

    def current(self, resistance: ArrayLike, back_emf: ArrayLike = 0.0) -> NumberOrArray:
        """Current, A, through `resistance` outside, ohm, against `back_emf`, V: I = (E - e) / (r + R); arrays too."""
        resistance = arguments.numbers("resistance", resistance)
        if np.any(resistance < 0) or np.any(resistance + self.internal_resistance == 0):
            raise ValueError("resistance must be 0 or more, and above 0 with a battery that has no internal resistance")
        return (self.emf - arguments.numbers("back_emf", back_emf)) / (resistance + self.internal_resistance)

    def voltage(self, current: ArrayLike) -> NumberOrArray:
        """Voltage at the terminals, V, while it delivers `current`, A: V = E - r I; arrays too."""
        return self.emf - self.internal_resistance * arguments.numbers("current", current)

    def reversed(self) -> Battery:
        """The same battery with its two leads swapped."""
        return replace(self, emf=-self.emf)


@dataclass(frozen=True)
class ThreePhaseSupply:
    """Balanced three-phase mains.

    line_voltage: V r.m.s. between lines, 0 or more; frequency: Hz, 0 or more; lines: which line is joined to each of
    the terminals U, V, W. The voltage of L1 is at its positive peak at time 0; L2 follows by a third of a period, L3 by
    another.
    """

    line_voltage: float
    frequency: float
    lines: tuple[str, ...] = LINES

    def __post_init__(self) -> None:
        arguments.not_negative("line_voltage", self.line_voltage)
        arguments.not_negative("frequency", self.frequency)
        object.__setattr__(self, "lines", tuple(self.lines))
        if sorted(self.lines) != list(LINES):
            raise ValueError(f"lines must be L1, L2 and L3 in any order, not {self.lines!r}")

    @property
    def phase_voltage(self) -> float:
        """Between a line and the star point, V r.m.s.: 1 / sqrt(3) of the voltage between lines."""
        return self.line_voltage / math.sqrt(3)

    @property
    def sequence(self) -> str:
        """ "positive" if the terminals U, V, W have their peaks in this order, else "negative" (two phases swapped)."""
        # read round and round, 1 2 3 contains every order that is a turn of it
        in_order = "".join(line[1] for line in self.lines) in "12312"
        return "positive" if in_order else "negative"

    @property
    def phase_phasors(self) -> np.ndarray:
        """Voltages of U, V, W against the star point, complex V r.m.s., shape (3,)."""
        return self.phase_voltage * np.exp([-1j * _LAG[line] for line in self.lines])

    @property
    def line_phasors(self) -> np.ndarray:
        """Voltages U-V, V-W, W-U, complex V r.m.s., shape (3,): sqrt(3) times those of the phases, 30 degrees ahead of
        them (with negative sequence, behind)."""
        phases = self.phase_phasors
        return phases - np.roll(phases, -1)

    def with_lines_exchanged(self, first: str, second: str) -> ThreePhaseSupply:
        """The same mains with two phases swapped: the field of a motor reverses."""
        for name, line in (("first", first), ("second", second)):
            if line not in LINES:
                raise ValueError(f"{name} must be one of the lines L1, L2, L3, not {line!r}")
        other = {first: second, second: first}
        return replace(self, lines=tuple(other.get(line, line) for line in self.lines))

    def phase_voltages(self, time: ArrayLike) -> np.ndarray:
        """Voltages of U, V, W against the star point at `time`, s, in V: shape (*time.shape, 3)."""
        return instantaneous(self.phase_phasors, 2 * np.pi * self.frequency * arguments.numbers("time", time))


@dataclass(frozen=True)
class Inverter:
    """A converter that holds volts per hertz constant up to its base frequency.

    base_voltage: V r.m.s. between lines, and the highest it can give; base_frequency: Hz; boost: V added at standstill
    to make up for the drop in the stator's resistance, falling evenly to nothing at base frequency; highest_frequency:
    Hz, from base frequency up (None: twice it). Above base frequency the voltage stays and the field weakens.
    """

    base_voltage: float
    base_frequency: float
    boost: float = 0.0
    highest_frequency: float | None = None

    def __post_init__(self) -> None:
        base_voltage = arguments.positive("base_voltage", self.base_voltage)
        base_frequency = arguments.positive("base_frequency", self.base_frequency)
        if arguments.not_negative("boost", self.boost) >= base_voltage:
            raise ValueError(f"boost must be below the base voltage of {base_voltage:g} V, not {self.boost:g}")
        if self.highest_frequency is None:
            object.__setattr__(self, "highest_frequency", 2 * base_frequency)
        if arguments.number("highest_frequency", self.highest_frequency) < base_frequency:
            raise ValueError(
                f"highest_frequency must be at least the base frequency of {base_frequency:g} Hz, not {self.highest_frequency:g}"
            )

    def voltage(self, frequency: ArrayLike) -> NumberOrArray:
        """Voltage between lines, V r.m.s., at `frequency`, Hz: from 0 to the highest frequency; arrays too."""
        share = np.minimum(self._frequency(frequency) / self.base_frequency, 1)
        return self.boost + (self.base_voltage - self.boost) * share

    def flux(self, frequency: ArrayLike) -> NumberOrArray:
        """Volts per hertz as a fraction of those at base frequency: the share of full flux a motor then has if the
        drop in its stator is left aside. `frequency` above 0; arrays too."""
        frequency = self._frequency(frequency)
        if np.any(frequency == 0):
            raise ValueError("frequency must be greater than 0: at standstill there are no volts per hertz")
        return self.voltage(frequency) / frequency * (self.base_frequency / self.base_voltage)

    def weakens_field(self, frequency: ArrayLike) -> NumberOrArray:
        """Whether `frequency`, Hz, lies above base frequency; arrays too."""
        return self._frequency(frequency) > self.base_frequency

    def supply(self, frequency: float) -> ThreePhaseSupply:
        """The three phases it gives at a steady `frequency`, Hz."""
        return ThreePhaseSupply(float(self.voltage(arguments.number("frequency", frequency))), float(frequency))

    def _frequency(self, value: ArrayLike) -> np.ndarray:
        frequency = arguments.numbers("frequency", value)
        if np.any(frequency < 0) or np.any(frequency > self.highest_frequency):
            raise ValueError(f"frequency must be from 0 to {self.highest_frequency:g} Hz, the inverter's highest")
        return frequency


def instantaneous(phasors: ArrayLike, angle: ArrayLike) -> np.ndarray:
    """Instantaneous values sqrt(2) Re(V exp(j angle)) of r.m.s. phasors, shape (3,), at electrical `angle`, rad, of any
    shape: (*angle.shape, 3)."""
    phasors = arguments.complex_numbers("phasors", phasors)
    angle = arguments.numbers("angle", angle)
    return np.sqrt(2) * np.real(phasors * np.exp(1j * angle[..., np.newaxis]))


def symmetrical_components(phasors: ArrayLike) -> np.ndarray:
    """Zero, positive and negative sequence of three phasors, in this order: shape (..., 3) to (..., 3).

    The positive sequence rotates a field in the direction of U-V-W, the negative one against it; the zero sequence makes none.
    """
    return _three("phasors", phasors) @ _FORTESCUE.T


def from_symmetrical_components(components: ArrayLike) -> np.ndarray:
    """The three phasors that have these zero, positive and negative sequences; undoes `symmetrical_components`."""
    return _three("components", components) @ np.linalg.inv(_FORTESCUE).T


def unbalance_factor(phasors: ArrayLike) -> NumberOrArray:
    """Negative over positive sequence, as a fraction (IEC 61000-4-30; by IEC 60034-1 a motor bears 1 %).

    Takes line voltages as well as phase voltages: the zero sequence has no part in it. `ValueError` if there is no
    positive sequence.
    """
    _, positive, negative = np.moveaxis(symmetrical_components(phasors), -1, 0)
    if np.any(np.abs(positive) <= 1e-12 * np.abs(negative)):
        raise ValueError("phasors must have a positive sequence: unbalance is a fraction of it")
    return np.abs(negative) / np.abs(positive)


def unbalance_of_line_voltages(voltages: ArrayLike) -> NumberOrArray:
    """Greatest deviation from the mean of three line voltages over the mean, as a fraction (NEMA MG 1).

    voltages: V r.m.s., shape (..., 3), all above 0. It needs a plain voltmeter only, and comes near the unbalance
    factor while that is small.
    """
    voltages = arguments.numbers("voltages", voltages)
    if voltages.shape[-1:] != (3,) or np.any(voltages <= 0):
        raise ValueError("voltages must be three voltages above 0 along the last axis")
    mean = voltages.mean(axis=-1, keepdims=True)
    return np.max(np.abs(voltages - mean), axis=-1) / mean[..., 0]


def _three(name: str, value: ArrayLike) -> np.ndarray:
    array = arguments.complex_numbers(name, value)
    if array.shape[-1:] != (3,):
        raise ValueError(f"{name} must have three values along the last axis, not shape {array.shape}")
    return array
