"""The three-phase induction motor in steady running: its equivalent circuit, exact, at any slip.

The motor from instant to instant is in `transient`, its runs in `run_up`.

Slip is a fraction: 0 at synchronous speed, 1 at standstill, below 0 driven past synchronous speed (generating), above 1
turned against the field (braking). Torque and speed are positive in the sense in which the field turns.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import cast

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments, speeds
from physics.arguments import NumberOrArray
from physics.induction import saturation, torque_curve, torque_search


@dataclass(frozen=True)
class OperatingPoint:
    """The motor at one slip or, as arrays of one shape, at many. Currents and voltages are rms per phase, star."""

    slip: np.ndarray  #: fraction
    speed: np.ndarray  #: rev/s
    stator_current: np.ndarray  #: complex A, drawn from the line; the phase voltage has angle 0
    rotor_current: np.ndarray  #: complex A, referred to the stator, in the rotor branch away from the magnetising one
    running_cage_current: np.ndarray  #: complex A, the part of it in the running cage; with one cage all of it
    gap_voltage: np.ndarray  #: complex V that the gap field induces per phase
    power_factor: np.ndarray  #: input power over apparent power: negative when generating; current always lags
    input_power: np.ndarray  #: W, three phases
    stator_loss: np.ndarray  #: W, heat in the stator windings
    airgap_power: np.ndarray  #: W, across the gap into the rotor
    rotor_loss: np.ndarray  #: W, heat in the rotor
    converted_power: np.ndarray  #: W, turned into motion, before friction
    torque: np.ndarray  #: N m in the air gap


# Long, half of it docstrings: one circuit, asked for its currents and torque at a slip and for the slip at which it has them.
@dataclass(frozen=True)
class EquivalentCircuit:
    """The exact per-phase circuit: stator branch, magnetising reactance across it, rotor branch with R2 / slip.

    Ohm per phase of the equivalent star, rotor values referred to the stator, reactances at `frequency` (Hz);
    `line_voltage` V rms between lines; `poles` even.

    A rotor with two cages, or with deep bars, of which the top stands for the one cage and the rest for the other:
    `starting_cage_resistance` is that of the cage next to the gap, `rotor_resistance` that of the running cage below it,
    `running_cage_reactance` the leakage that links the running cage alone, and `rotor_reactance` the leakage that links
    both. At slip s the two are in parallel, R_s / s beside R2 / s + j X_r, so that resistance rises and leakage falls
    with slip frequency (Boucherot's double cage, handbook result). Leakage that the starting cage has to itself makes no
    difference that the stator could feel: the four values can be chosen so as to take it in.

    Leakage that saturates: `saturable_reactance` comes on top of the stator's as long as little current flows, half of it
    being left at `saturation_current`, A r.m.s. in a line (see `saturation`). It stands for that of both sides: what the
    stator feels is their sum.

    Raises ValueError for a resistance of the rotor, magnetising reactance, voltage or frequency that is not above 0,
    anything negative, no leakage reactance at all, one value of a second cage or of saturation without the other, and odd poles.
    Iron and friction losses are not in the circuit.
    """

    stator_resistance: float
    stator_reactance: float
    rotor_resistance: float
    rotor_reactance: float
    magnetising_reactance: float
    line_voltage: float
    frequency: float
    poles: int
    starting_cage_resistance: float = math.inf
    running_cage_reactance: float = 0.0
    saturable_reactance: float = 0.0
    saturation_current: float = math.inf

    def __post_init__(self) -> None:
        checks = {
            "stator_resistance": arguments.not_negative,
            "stator_reactance": arguments.not_negative,
            "rotor_resistance": arguments.positive,
            "rotor_reactance": arguments.not_negative,
            "magnetising_reactance": arguments.positive,
            "line_voltage": arguments.positive,
            "frequency": arguments.positive,
            "poles": arguments.poles,
            "running_cage_reactance": arguments.not_negative,
            "saturable_reactance": arguments.not_negative,
        }
        if self.saturation_current != math.inf:
            checks["saturation_current"] = arguments.positive
        if self.starting_cage_resistance != math.inf:
            checks["starting_cage_resistance"] = arguments.positive
        for name, check in checks.items():
            object.__setattr__(self, name, check(name, getattr(self, name)))
        if self.stator_reactance + self.rotor_reactance == 0:
            raise ValueError("stator_reactance and rotor_reactance must not both be 0: some leakage there always is")
        if self.two_cages != (self.running_cage_reactance > 0.0):
            raise ValueError(
                "starting_cage_resistance and running_cage_reactance must be given together, the latter above 0: "
                "two cages differ by the leakage of the deeper one"
            )
        if self.saturates != (self.saturable_reactance > 0.0):
            raise ValueError(
                "saturable_reactance and saturation_current must be given together, the former above 0: the leakage that "
                "saturates, and the current at which half of it is left"
            )

    @property
    def two_cages(self) -> bool:
        """Whether the rotor has a starting cage beside its running cage."""
        return self.starting_cage_resistance != math.inf

    @property
    def saturates(self) -> bool:
        """Whether part of the leakage falls as the current rises."""
        return self.saturation_current != math.inf

    @property
    def pole_pairs(self) -> int:
        """Pairs of poles."""
        return self.poles // 2

    @cached_property
    def synchronous_speed(self) -> float:
        """rev/s of the field."""
        return float(speeds.synchronous_speed(self.frequency, self.poles))

    @property
    def phase_voltage(self) -> float:
        """V rms from line to star point."""
        return self.line_voltage / math.sqrt(3.0)

    def at(self, slip: ArrayLike) -> OperatingPoint:
        """The motor at `slip`, a number or an array of any shape; 0 is exact (no rotor current)."""
        # one slip in plain numbers: a scene asks in every picture, and an array of one takes four times as long
        slip = cast(np.ndarray, arguments.number("slip", slip)) if isinstance(slip, float) else arguments.numbers("slip", slip)[()]
        voltage = self.phase_voltage
        # the rotor branch times s throughout, so that nothing is divided by a slip of 0
        rotor_times_slip = self.rotor_impedance(slip)
        gap_impedance, series = self._impedances(slip, rotor_times_slip)
        stator_current = voltage / series
        gap_voltage = stator_current * gap_impedance
        rotor_current = slip * gap_voltage / rotor_times_slip
        rotor_loss = 3.0 * rotor_times_slip.real * _squared(rotor_current)
        airgap_power = _airgap_power(slip, rotor_times_slip, gap_voltage)
        input_power = 3.0 * voltage * stator_current.real
        torque = airgap_power / (2.0 * math.pi * self.synchronous_speed)
        return OperatingPoint(
            slip=slip,
            speed=self.synchronous_speed * (1.0 - slip),
            stator_current=stator_current,
            rotor_current=rotor_current,
            running_cage_current=rotor_current / (1.0 + self._running_cage(slip) / self.starting_cage_resistance),
            gap_voltage=gap_voltage,
            power_factor=stator_current.real / abs(stator_current),
            input_power=input_power,
            stator_loss=3.0 * self.stator_resistance * _squared(stator_current),
            airgap_power=airgap_power,
            rotor_loss=rotor_loss,
            converted_power=(1.0 - slip) * airgap_power,
            torque=torque,
        )

    def torque_at(self, slip: float) -> float:
        """N m at `slip`, alone and in plain numbers: a run asks thousands of times a second, and an array takes ten times as long."""
        rotor_times_slip = self.rotor_impedance(slip)
        gap, series = self._impedances(slip, rotor_times_slip)
        return float(_airgap_power(slip, rotor_times_slip, self.phase_voltage / series * gap)) / (2.0 * math.pi * self.synchronous_speed)

    def stator_leakage(self, current: ArrayLike) -> NumberOrArray:
        """X1, ohm, of the stator at `current`, A r.m.s. or complex: falling as it rises where leakage saturates."""
        return self.stator_reactance + saturation.left_at(self.saturable_reactance, self.saturation_current, np.abs(current))

    def rotor_impedance(self, slip: NumberOrArray) -> NumberOrArray:
        """R2 + j s X2, complex ohm, of the rotor at its own frequency, `slip` a number or an array: the branch times s.

        With two cages both R2 and X2 depend on the slip; its real part is then the rotor's resistance at that frequency.
        """
        running = self._running_cage(slip)
        return running / (1.0 + running / self.starting_cage_resistance) + 1j * slip * self.rotor_reactance

    def breakdown(self) -> tuple[NumberOrArray, NumberOrArray]:
        """Slip and torque (N m) of the largest torque it motors with, exact.

        One cage: the source as the rotor sees it (Thevenin) gives most power to R2 / s when that equals the impedance in
        series: s = R2 / sqrt(R_th^2 + (X_th + X2)^2), T = 3 V_th^2 / (2 w_s (R_th + that root)). Standard textbook
        result. Two cages: the highest of the points where the curve is level. Leakage that saturates: searched for.
        """
        if self.saturates or self.two_cages:
            return self._extreme(1.0)
        source, series = self._seen_by_rotor()
        root = abs(series)
        return self.rotor_resistance / root, self._torque_scale(source) / (2.0 * (root + series.real))

    def generator_breakdown(self) -> tuple[float, float]:
        """Slip and torque (N m), both negative, of the largest torque it can be driven with; like `breakdown`."""
        if self.saturates or self.two_cages:
            return self._extreme(-1.0)
        source, series = self._seen_by_rotor()
        root = abs(series)
        root_less_resistance = series.imag**2 / (root + series.real)  # as a difference it would lose figures
        return -self.rotor_resistance / root, -self._torque_scale(source) / (2.0 * root_less_resistance)

    def pull_out_slip(self) -> float:
        """Slip up to which more load is met by more slip: where the curve first turns down.

        With one cage that of `breakdown`; two cages can have a second, higher hump nearer to standstill.
        """
        if self.saturates:
            return torque_search.first_peak(self._torque)[0]
        if not self.two_cages:
            return self.breakdown()[0]
        return torque_curve.first_peak(*self._torque_polynomials())

    def slip_at_torque(self, torque: float) -> float:
        """Slip at which it runs steadily against `torque` (N m), between the two breakdown slips.

        ValueError if no slip gives that torque. From T = k x / ((R_th + x)^2 + X^2) with x = R2 / s, solved for s; with
        two cages likewise, the slip nearest to 0.
        """
        torque = arguments.number("torque", torque)
        least, most = self.generator_breakdown()[1], self.breakdown()[1]
        if not least <= torque <= most:
            raise ValueError(f"torque must be between {least:g} and {most:g} N m, not {torque:g}")
        if self.saturates:
            return torque_search.first_slip(self._torque, torque)
        if self.two_cages:
            return torque_curve.first_slip(*self._torque_polynomials(), torque)
        source, series = self._seen_by_rotor()
        # T |Z|^2 y^2 - (k - 2 T R_th) y + T = 0 with y = 1 / x; the smaller root in the form that allows T = 0
        linear = self._torque_scale(source) - 2.0 * torque * series.real
        rest = max(0.0, linear**2 - 4.0 * torque**2 * abs(series) ** 2)
        return self.rotor_resistance * 2.0 * torque / (linear + math.sqrt(rest))

    def _impedances(self, slip: NumberOrArray, rotor_times_slip: NumberOrArray) -> tuple[NumberOrArray, NumberOrArray]:
        """Complex ohm per phase of rotor branch and magnetising reactance together, and of all."""
        magnetising = 1j * self.magnetising_reactance
        gap = magnetising * rotor_times_slip / (rotor_times_slip + slip * magnetising)
        series = (self.stator_resistance + 1j * self.stator_reactance) + gap
        if self.saturates:
            drawn = saturation.current_drawn(self.phase_voltage, series, self.saturable_reactance, self.saturation_current)
            series = series + 1j * saturation.left_at(self.saturable_reactance, self.saturation_current, drawn)
        return gap, series

    def _running_cage(self, slip: NumberOrArray) -> NumberOrArray:
        """R2 + j s X_r."""
        return self.rotor_resistance + 1j * slip * self.running_cage_reactance

    def _torque(self, slip: np.ndarray) -> NumberOrArray:
        return self.at(slip).torque

    def _extreme(self, sign: float) -> tuple[float, float]:
        """Slip and torque of the largest torque on one side of synchronous speed, motoring +1, driven -1."""
        if self.saturates:
            return torque_search.highest_peak(self._torque, sign)
        slips, torques = torque_curve.humps(*self._torque_polynomials())
        best = int(np.argmax(sign * torques))
        return float(slips[best]), float(torques[best])

    def _torque_polynomials(self) -> tuple[np.ndarray, np.ndarray]:
        """Torque as a ratio of polynomials of the slip (see `torque_curve`).

        The running cage is a = R2 + j s X_r, the rotor a / d + j s X2 with d = 1 + a / R_s; so T is k s Re(a d*) over
        |s Z d + a|^2, with Z the impedance in series and k = 3 V_th^2 / w_s.
        """
        source, series = self._seen_by_rotor()
        resistance, reactance = self.rotor_resistance, self.running_cage_reactance
        conductance = 1.0 / self.starting_cage_resistance
        together = 1.0 + resistance * conductance
        scale = self._torque_scale(source)
        below = (resistance + 0j * series, series * together + 1j * reactance, 1j * series * reactance * conductance)
        return (
            torque_curve.rows(0.0, scale * resistance * together, 0.0, scale * reactance**2 * conductance),
            torque_curve.squared_size(*below),
        )

    def _seen_by_rotor(self) -> tuple[complex, complex]:
        """Thevenin voltage (V per phase) at the rotor branch, and the impedance in series, with X2 added (ohm)."""
        stator = self.stator_resistance + 1j * self.stator_reactance
        magnetising = 1j * self.magnetising_reactance
        share = magnetising / (stator + magnetising)
        return self.phase_voltage * share, stator * share + 1j * self.rotor_reactance

    def _torque_scale(self, source: complex) -> float:
        """3 V_th^2 / w_s, N m ohm."""
        return 3.0 * abs(source) ** 2 / (2.0 * math.pi * self.synchronous_speed)


def _airgap_power(slip: NumberOrArray, rotor_times_slip: NumberOrArray, gap_voltage: NumberOrArray) -> NumberOrArray:
    """3 I2^2 R2 / s, W, without dividing by s."""
    return 3.0 * rotor_times_slip.real * slip * _squared(gap_voltage) / _squared(rotor_times_slip)


def _squared(phasor: np.ndarray) -> NumberOrArray:
    """|phasor|^2 without the square root."""
    return phasor.real * phasor.real + phasor.imag * phasor.imag
