"""A round-rotor synchronous machine with its resistances and its damper cage: constants, currents, torque, and steady running.

Three-phase quantities are space vectors of peak phase values, complex, in the rotor's frame with the pole axis as the real
axis. Motor convention: power into the stator is positive. Torque and speed are mechanical and positive in the sense in which
the frame's angles count. The excitation is the flux linkage psi_f of stator and damper with the field winding, Wb peak:

    psi_s = L_s i_s + L_m i_D + psi_f        v = R i_s + d psi_s/dt + j w psi_s
    psi_D = L_m i_s + L_D i_D + psi_f        0 = R_D i_D + d psi_D/dt
    T = 3/2 p Im(conj(psi_s) i_s)

Formulae: the two-axis equations with both axes alike, e.g. Krause, Analysis of Electric Machinery, chapter on synchronous machines.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from functools import cached_property

from physics import arguments
from physics.speeds import synchronous_speed


@dataclass(frozen=True)
class Damper:
    """A cage in the pole faces, referred to the stator: resistance and leakage reactance at rated frequency, ohm a phase."""

    resistance: float
    leakage_reactance: float

    def __post_init__(self) -> None:
        arguments.positive("resistance", self.resistance)
        arguments.positive("leakage_reactance", self.leakage_reactance)


@dataclass(frozen=True)
class RoundRotorMachine:
    """Star-connected. resistance: ohm a phase, 0 or more; reactance: synchronous, ohm a phase at `frequency`, Hz, of which
    `leakage_reactance` is leakage; poles: even; damper: None for a rotor without a cage.

    `ValueError` naming the argument where one cannot be.
    """

    resistance: float
    reactance: float
    leakage_reactance: float
    frequency: float
    poles: int
    damper: Damper | None = None

    def __post_init__(self) -> None:
        arguments.not_negative("resistance", self.resistance)
        for name in ("reactance", "leakage_reactance", "frequency"):
            arguments.positive(name, getattr(self, name))
        if self.leakage_reactance >= self.reactance:
            raise ValueError(f"leakage_reactance must be below the reactance of {self.reactance:g} ohm, not {self.leakage_reactance:g}")
        arguments.poles("poles", self.poles)

    @property
    def pole_pairs(self) -> int:
        """Half the number of poles."""
        return self.poles // 2

    @property
    def angular_frequency(self) -> float:
        """2 pi f of the rated frequency, electrical rad/s."""
        return 2 * math.pi * self.frequency

    @property
    def speed(self) -> float:
        """Synchronous speed at rated frequency, mechanical rad/s."""
        return 2 * math.pi * float(synchronous_speed(self.frequency, self.poles))

    @cached_property
    def inductances(self) -> tuple[float, float, float]:
        """L_s, L_m, L_D in H a phase; L_D is inf without a damper, so that no current flows in it."""
        w, magnetizing = self.angular_frequency, self.reactance - self.leakage_reactance
        damper = math.inf if self.damper is None else (magnetizing + self.damper.leakage_reactance) / w
        return self.reactance / w, magnetizing / w, damper

    def excitation(self, emf: float) -> float:
        """psi_f, Wb peak, that makes the line EMF `emf`, V r.m.s., at rated speed."""
        return arguments.not_negative("emf", emf) * math.sqrt(2 / 3) / self.angular_frequency

    def currents(self, stator: complex, damper: complex, excitation: float) -> tuple[complex, complex]:
        """i_s and i_D, A peak, from the flux linkages psi_s and psi_D and the excitation, Wb."""
        own, mutual, of_damper = self.inductances
        if self.damper is None:
            return (stator - excitation) / own, 0j
        stator, damper = stator - excitation, damper - excitation
        determinant = own * of_damper - mutual * mutual
        return (of_damper * stator - mutual * damper) / determinant, (own * damper - mutual * stator) / determinant

    def torque(self, stator: complex, current: complex) -> float:
        """T = 3/2 p Im(conj(psi_s) i_s), N m."""
        return 1.5 * self.pole_pairs * (stator.conjugate() * current).imag

    def magnetic_energy(self, current: complex, damper_current: complex) -> float:
        """J in the inductances of stator and damper; what they exchange with a constant field current cancels in the balance."""
        own, mutual, of_damper = self.inductances
        alone = own * abs(current) ** 2 + 2 * mutual * (current.conjugate() * damper_current).real
        return 0.75 * (alone + (of_damper * abs(damper_current) ** 2 if self.damper else 0.0))


@dataclass(frozen=True)
class Running:
    """A machine in step in steady running. excitation: Wb peak; voltage and current: complex peaks of a phase in the rotor's
    frame, V and A; frequency: Hz."""

    machine: RoundRotorMachine
    excitation: float
    voltage: complex
    current: complex
    frequency: float

    @property
    def flux_linkage(self) -> complex:
        """psi_s, Wb peak: the axis of the stator's field."""
        return self.machine.inductances[0] * self.current + self.excitation

    @property
    def load_angle(self) -> float:
        """Electrical rad by which the pole axis lags the stator's field; positive as a motor."""
        return cmath.phase(self.flux_linkage)

    @property
    def torque(self) -> float:
        """N m, positive as a motor."""
        return self.machine.torque(self.flux_linkage, self.current)

    @property
    def phase_angle(self) -> float:
        """phi, rad, by which the current lags the voltage; negative where it leads."""
        return cmath.phase(self.voltage / self.current) if self.current else 0.0


def running_at_angle(machine: RoundRotorMachine, line_voltage: float, emf: float, angle: float) -> Running:
    """In step at rated frequency with the EMF `angle` electrical rad behind the terminal voltage; line values, V r.m.s."""
    excitation = machine.excitation(emf)
    peak = arguments.positive("line_voltage", line_voltage) * math.sqrt(2 / 3)
    voltage = 1j * peak * cmath.exp(1j * arguments.number("angle", angle))
    impedance = complex(machine.resistance, machine.reactance)
    current = (voltage - 1j * machine.angular_frequency * excitation) / impedance
    return Running(machine, excitation, voltage, current, machine.frequency)


def pull_out(machine: RoundRotorMachine, line_voltage: float, emf: float) -> Running:
    """Steady running at the largest torque: T is largest where the EMF lags the voltage by the angle of the impedance."""
    return running_at_angle(machine, line_voltage, emf, math.atan2(machine.reactance, machine.resistance))


def running_at_load(machine: RoundRotorMachine, line_voltage: float, emf: float, torque: float) -> Running:
    """Steady running in step under `torque`, N m in the gap, on the stable side; `ValueError` beyond the pull-out torque.

    From T = 3/2 p psi_f i_q: V^2 = |R i + j w psi_s|^2 is a quadratic in i_d, whose larger root is the stable one.
    """
    excitation = machine.excitation(emf)
    most = pull_out(machine, line_voltage, emf).torque
    if arguments.number("torque", torque) > most * (1 + 1e-12) or (torque and not excitation):
        raise ValueError(f"torque must be at most the pull-out torque of {most:.4g} N m, not {torque:g}")
    w, own = machine.angular_frequency, machine.inductances[0]
    across = torque / (1.5 * machine.pole_pairs * excitation) if torque else 0.0
    peak_squared = arguments.positive("line_voltage", line_voltage) ** 2 * 2 / 3
    square = machine.resistance**2 + machine.reactance**2
    half = w * machine.reactance * excitation
    rest = (machine.reactance * across) ** 2 + (machine.resistance * across + w * excitation) ** 2 - peak_squared
    along = (-half + math.sqrt(max(half * half - square * rest, 0.0))) / square
    current = complex(along, across)
    voltage = machine.resistance * current + 1j * w * (own * current + excitation)
    return Running(machine, excitation, voltage, current, machine.frequency)
