"""A small incandescent lamp: its resistance follows the temperature of its filament, which takes time to change.

Tungsten: resistance nearly as T^1.2, and nearly all power radiated, as T^4 (Stefan and Boltzmann). Together they make
the current of a lamp in steady use grow as the 0.54th power of its voltage, which is what lamp handbooks give.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from physics.arguments import not_negative, positive

ROOM = 293.0  # K
RESISTANCE_EXPONENT = 1.2  # of tungsten's resistance with absolute temperature
LONGEST_SUBSTEP = 0.002  # s


@dataclass(frozen=True)
class Filament:
    """A lamp, by its rating.

    voltage, current    rated V and A
    temperature         K of the filament then
    time_constant       s in which a small change of its temperature follows one of the power, there
    """

    voltage: float
    current: float
    temperature: float = 2500.0
    time_constant: float = 0.05

    def __post_init__(self) -> None:
        for name in ("voltage", "current", "temperature", "time_constant"):
            object.__setattr__(self, name, positive(name, getattr(self, name)))

    @property
    def power(self) -> float:
        """Rated power, W."""
        return self.voltage * self.current

    def resistance(self, temperature: float) -> float:
        """Resistance of the filament, ohm, at `temperature`, K."""
        return float(self.voltage / self.current * (temperature / self.temperature) ** RESISTANCE_EXPONENT)

    def radiated(self, temperature: float) -> float:
        """Power it radiates, W, at `temperature`, K."""
        return self.power * (temperature**4 - ROOM**4) / (self.temperature**4 - ROOM**4)

    def warmed(self, temperature: float, voltage: float, duration: float) -> float:
        """Temperature, K, of a filament that was at `temperature`, K, after `duration`, s, with `voltage`, V, across it."""
        capacity = 4 * self.power * self.time_constant / self.temperature  # J/K
        pieces = max(1, ceil(not_negative("duration", duration) / LONGEST_SUBSTEP))
        for _ in range(pieces):
            heating = voltage**2 / self.resistance(temperature)
            temperature += duration / pieces * (heating - self.radiated(temperature)) / capacity
            temperature = max(temperature, ROOM)
        return temperature
