"""The single-phase induction motor: a main winding, and at right angles to it an auxiliary winding with what stands in series.

A winding alone makes a field that only swells and shrinks; it is the sum of two of half its size that turn in opposite directions
(double-revolving-field theory, handbook). The rotor has slip s in the one and 2 - s in the other, and each acts on it by the
equivalent circuit at its own slip. With two windings the currents are a sum of one set that makes a forward field alone and one that
makes a backward field alone (symmetrical components of two phases, handbook).

Forward is the sense from the auxiliary's axis to the main's: the field turns that way if the current of the auxiliary leads, as
behind a capacitor. Speeds are relative to synchronous speed and torques in N m, both positive forward. Phasors are r.m.s., the
supply at angle 0; all values are referred to the main winding but the auxiliary's own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments, speeds
from physics.arguments import NumberOrArray

Pair: TypeAlias = tuple[Any, Any]
"""Two numbers, or two arrays."""


def pulsation(phases: int, angular_speed: float, forward: Pair, backward: Pair) -> NumberOrArray:
    """The part of the torque that swings at twice the supply's frequency, N m, complex: T(t) = mean + Re(it exp(2 j w t)).

    forward, backward: current and gap voltage of the two fields, complex r.m.s. of a winding; phases: 2 or 3 windings; angular_speed:
    of the field, rad/s. From T = p Im(conj(flux) current) with both space vectors a forward and a backward part.
    """
    (current, voltage), (other_current, other_voltage) = forward, backward
    return phases / angular_speed * (voltage * other_current - other_voltage * current)


def quadrature_capacitance(main: complex, auxiliary: complex, frequency: float) -> float:
    """Farad in series with the auxiliary that has its current lead that of the main by 90 degrees at standstill.

    main, auxiliary: ohm of each winding with the rotor at rest. `ValueError` for a main winding without resistance and reactance, both
    above 0, as then no capacitor does it.
    """
    main, auxiliary = complex(main), complex(auxiliary)
    if main.real <= 0 or main.imag <= 0:
        raise ValueError("main must have resistance and reactance, both above 0")
    # the auxiliary's angle is to be that of the main less 90 degrees: X / R of the one is -R / X of the other
    reactance = auxiliary.imag + auxiliary.real * main.real / main.imag
    return 1.0 / (2.0 * math.pi * arguments.positive("frequency", frequency) * reactance)


@dataclass(frozen=True)
class TwoWindingRunning:
    """The motor at one speed, or at many: every array has the speeds' shape.

    Complex A and V r.m.s.: main_current, auxiliary_current from end 1 to end 2 of each; line_current; series_voltage across what is
    in series with the auxiliary; forward and backward, currents of the two fields, referred to the main winding, and forward_voltage
    and backward_voltage that they induce in it. Torques N m: forward_torque and backward_torque (against the first, so 0 or below),
    and their sum; pulsation complex, see there. Powers W: input_power = stator_loss + series_loss + rotor_loss + converted_power.
    """

    speed: np.ndarray
    main_current: np.ndarray
    auxiliary_current: np.ndarray
    line_current: np.ndarray
    series_voltage: np.ndarray
    forward: np.ndarray
    backward: np.ndarray
    forward_voltage: np.ndarray
    backward_voltage: np.ndarray
    forward_torque: np.ndarray
    backward_torque: np.ndarray
    torque: np.ndarray
    pulsation: np.ndarray
    input_power: np.ndarray
    stator_loss: np.ndarray
    series_loss: np.ndarray
    rotor_loss: np.ndarray
    converted_power: np.ndarray


@dataclass(frozen=True)
class TwoWindingMotor:
    """Ohm at `frequency`, Hz; the magnetising and rotor branches as a two-phase machine of two main windings has them, so that the
    main winding alone meets half of each (as the usual single-phase circuit draws it). turns_ratio: effective turns of the auxiliary
    over the main's. `ValueError` for values that cannot be.
    """

    main_resistance: float
    main_reactance: float
    auxiliary_resistance: float
    auxiliary_reactance: float
    turns_ratio: float
    rotor_resistance: float
    rotor_reactance: float
    magnetising_reactance: float
    frequency: float
    poles: int

    def __post_init__(self) -> None:
        for name in ("main_resistance", "main_reactance", "auxiliary_resistance", "auxiliary_reactance", "rotor_reactance"):
            arguments.not_negative(name, getattr(self, name))
        for name in ("turns_ratio", "rotor_resistance", "magnetising_reactance", "frequency"):
            arguments.positive(name, getattr(self, name))
        arguments.poles("poles", self.poles)

    @property
    def synchronous_speed(self) -> float:
        """rev/s."""
        return float(speeds.synchronous_speed(self.frequency, self.poles))

    def gap_impedance(self, slip: NumberOrArray) -> NumberOrArray:
        """Magnetising reactance beside the rotor, complex ohm, for the field in which the rotor has that slip."""
        rotor_times_slip = self.rotor_resistance + 1j * slip * self.rotor_reactance
        magnetising = 1j * self.magnetising_reactance
        return magnetising * rotor_times_slip / (rotor_times_slip + slip * magnetising)

    def capacitor(self, farad: float) -> complex:
        """Ohm of a capacitor without loss."""
        return 1.0 / (2j * math.pi * self.frequency * arguments.positive("farad", farad))

    def standing(self) -> tuple[complex, complex]:
        """Ohm of the main and of the auxiliary winding with the rotor at rest, where neither acts on the other."""
        gap = complex(self.gap_impedance(1.0))
        own = complex(self.main_resistance, self.main_reactance), complex(self.auxiliary_resistance, self.auxiliary_reactance)
        return own[0] + gap, own[1] + self.turns_ratio**2 * gap

    def on(
        self,
        voltage: float,
        speed: ArrayLike,
        series: ArrayLike | None = None,
        reversed_main: bool = False,
        reversed_auxiliary: bool = False,
    ) -> TwoWindingRunning:
        """The motor on `voltage`, V, at `speed`, a number or an array, relative to synchronous speed.

        series: complex ohm in series with the auxiliary, one or one for each speed; None for an auxiliary that is open.
        reversed_main, reversed_auxiliary: whether the ends of that winding are swapped on the lines.
        """
        speed = arguments.numbers("speed", speed)[()]
        signs = 1 - 2 * int(reversed_main), 1 - 2 * int(reversed_auxiliary)
        gaps = self.gap_impedance(1.0 - speed), self.gap_impedance(1.0 + speed)
        volts = arguments.number("voltage", voltage)
        in_series = 0j * speed if series is None else arguments.complex_numbers("series", series)[()] + 0j * speed
        main, auxiliary = self._currents(volts, signs, gaps, None if series is None else in_series)
        forward, backward = (0.5 * (main + way * self.turns_ratio * auxiliary) for way in (-1j, 1j))
        induced = forward * gaps[0], backward * gaps[1]
        across = 2.0 * np.abs(forward) ** 2 * gaps[0].real, 2.0 * np.abs(backward) ** 2 * gaps[1].real
        angular_speed = 2.0 * math.pi * self.synchronous_speed
        line = signs[0] * main + signs[1] * auxiliary
        return TwoWindingRunning(
            speed=speed,
            main_current=main,
            auxiliary_current=auxiliary,
            line_current=line,
            series_voltage=in_series * auxiliary,
            forward=forward,
            backward=backward,
            forward_voltage=induced[0],
            backward_voltage=induced[1],
            forward_torque=across[0] / angular_speed,
            backward_torque=-across[1] / angular_speed,
            torque=(across[0] - across[1]) / angular_speed,
            pulsation=pulsation(2, angular_speed, (forward, induced[0]), (backward, induced[1])),
            input_power=volts * line.real,
            stator_loss=self.main_resistance * np.abs(main) ** 2 + self.auxiliary_resistance * np.abs(auxiliary) ** 2,
            series_loss=in_series.real * np.abs(auxiliary) ** 2,
            rotor_loss=(1.0 - speed) * across[0] + (1.0 + speed) * across[1],
            converted_power=speed * (across[0] - across[1]),
        )

    def _currents(self, volts: float, signs: Pair, gaps: Pair, series: NumberOrArray | None) -> Pair:
        """Of main and auxiliary: what the supply gives each is its own drop, and what both fields induce in it."""
        both, apart = 0.5 * (gaps[0] + gaps[1]), 0.5j * self.turns_ratio * (gaps[0] - gaps[1])
        own = complex(self.main_resistance, self.main_reactance) + both
        if series is None:
            return signs[0] * volts / own, 0.0 * own
        other = complex(self.auxiliary_resistance, self.auxiliary_reactance) + series + self.turns_ratio**2 * both
        # V1 = own I1 - apart I2 and V2 = apart I1 + other I2
        determinant = own * other + apart**2
        return volts * (signs[0] * other + signs[1] * apart) / determinant, volts * (signs[1] * own - signs[0] * apart) / determinant
