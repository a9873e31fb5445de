"""The synchronous machine with a round rotor, its stator resistance left out: EMF behind a reactance.

The rotor turns exactly with the field and lags it by the load angle while the machine drives a load (electrical radians).
Formulae: standard textbook results, e.g. Chapman, Electric Machinery Fundamentals, chapters on synchronous machines.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.speeds import synchronous_speed


@dataclass(frozen=True)
class SynchronousMachine:
    """Star-connected. line_voltage and emf: line values, V r.m.s.; reactance: ohm a phase; frequency: Hz; poles: even.

    `ValueError` naming the argument unless line_voltage, reactance and frequency are above 0 and emf is not below 0.
    """

    line_voltage: float
    emf: float
    reactance: float
    frequency: float
    poles: int

    def __post_init__(self) -> None:
        for name in ("line_voltage", "reactance", "frequency"):
            arguments.positive(name, getattr(self, name))
        arguments.not_negative("emf", self.emf)
        arguments.poles("poles", self.poles)

    @property
    def speed(self) -> float:
        """Of field and rotor, rev/s."""
        return float(synchronous_speed(self.frequency, self.poles))

    def torque(self, load_angle: ArrayLike) -> NumberOrArray:
        """Torque of the shaft, N m, positive as a motor: T = V E sin(delta) / (X w), V and E line values, w = 2 pi speed.

        load_angle: electrical rad by which the rotor lags the field, any shape; negative as a generator.
        """
        return self.pull_out()[1] * np.sin(arguments.numbers("load_angle", load_angle))

    def pull_out(self) -> tuple[float, float]:
        """(load_angle, torque) of the largest torque, rad and N m: with more load the rotor falls out of step."""
        return math.pi / 2, self.line_voltage * self.emf / (self.reactance * 2 * math.pi * self.speed)

    def load_angle(self, torque: float) -> float:
        """The load angle at which the rotor bears `torque`, N m, rad; `ValueError` beyond the pull-out torque."""
        largest = self.pull_out()[1]
        if abs(arguments.number("torque", torque)) > largest:
            raise ValueError(f"torque must be at most the pull-out torque of {largest:.4g} N m, not {torque:g}")
        return math.asin(torque / largest) if largest else 0.0

    def current(self, load_angle: ArrayLike) -> NumberOrArray:
        """Current into one phase, A r.m.s., complex, the phase's terminal voltage at angle 0: I = (V - E exp(-j delta)) / (j X).

        A current that leads (more excitation) has a positive imaginary part. load_angle: rad, any shape.
        """
        lag = np.exp(-1j * arguments.numbers("load_angle", load_angle))
        return (self.line_voltage - self.emf * lag) / (math.sqrt(3) * 1j * self.reactance)
