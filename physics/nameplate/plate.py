"""What stands on a real motor, what follows from it at once, and which plates contradict themselves.

The equivalent circuit behind a plate is found in `fit`.
Definitions: IEC 60034-1; the power on the plate is what the shaft gives.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from physics import arguments, speeds

LEAST_EFFICIENCY = 0.1
"""At rated load even the smallest three-phase motor gives more than this; less means a wrong unit."""

LEAST_MULTIPLE, LARGEST_MULTIPLE = 0.01, 100.0
"""Beyond these a starting or breakdown value is not a multiple of the rated one but has a unit."""


# Long, for every figure is checked against the others, and each figure that follows is a short property.
@dataclass(frozen=True)
class Nameplate:
    """The plate of a three-phase induction motor.

    power: W at the shaft; line_voltage: V between lines; frequency: Hz; speed: rev/s at rated load; current: A in each
    line; power_factor: of 1; connection: of the windings at this voltage, "star" or "delta". From the catalogue, if
    known, as multiples of the rated values: starting_current, starting_torque (standstill), breakdown_torque.

    `ValueError`, saying why, for what no motor can be: each value by itself (a power factor of 1, a speed at, above or
    far below synchronous speed, ...) and together: an efficiency above 1, or so high that it leaves no room for the
    slip; more torque at standstill than breakdown, or than its power drawn could give.
    """

    power: float
    line_voltage: float
    frequency: float
    speed: float
    current: float
    power_factor: float
    connection: str = "delta"
    starting_current: float | None = None
    starting_torque: float | None = None
    breakdown_torque: float | None = None

    def __post_init__(self) -> None:
        for name in ("power", "line_voltage", "frequency", "speed", "current", "power_factor"):
            object.__setattr__(self, name, arguments.positive(name, getattr(self, name)))
        for name in ("starting_current", "starting_torque", "breakdown_torque"):
            if getattr(self, name) is not None:
                object.__setattr__(self, name, _multiple(name, getattr(self, name)))
        if self.connection not in ("star", "delta"):
            raise ValueError(f'connection must be "star" or "delta", not {arguments.quoted(self.connection)}')
        self._check_rated_values()
        self._check_multiples()

    @cached_property
    def poles(self) -> int:
        """Number of poles: the most whose synchronous speed is not below the rated one."""
        return speeds.poles_from_rated_speed(self.frequency, self.speed)

    @cached_property
    def synchronous_speed(self) -> float:
        """rev/s."""
        return float(speeds.synchronous_speed(self.frequency, self.poles))

    @cached_property
    def slip(self) -> float:
        """Rated slip, fraction."""
        return float(speeds.slip(self.synchronous_speed, self.speed))

    @cached_property
    def torque(self) -> float:
        """Rated torque, N m at the shaft: T = P / w."""
        return self.power / float(speeds.angular_speed(self.speed))

    @property
    def apparent_power(self) -> float:
        """VA drawn at rated load: sqrt(3) U I."""
        return math.sqrt(3.0) * self.line_voltage * self.current

    @property
    def input_power(self) -> float:
        """W drawn at rated load: sqrt(3) U I cos phi."""
        return self.apparent_power * self.power_factor

    @property
    def efficiency(self) -> float:
        """At rated load, fraction: power given over power drawn."""
        return self.power / self.input_power

    @property
    def losses(self) -> float:
        """W turned into heat at rated load."""
        return self.input_power - self.power

    @property
    def winding_voltage(self) -> float:
        """V across each winding: in star 1 / sqrt(3) of the voltage between lines."""
        return self.line_voltage / math.sqrt(3.0) if self.connection == "star" else self.line_voltage

    @property
    def winding_current(self) -> float:
        """A through each winding at rated load: in delta 1 / sqrt(3) of the current in a line."""
        return self.current / math.sqrt(3.0) if self.connection == "delta" else self.current

    def _check_rated_values(self) -> None:
        if self.power_factor >= 1.0:
            raise ValueError(
                f"power_factor must be below 1, as an induction motor always draws a magnetising current too, not {self.power_factor:g}"
            )
        slip = self.slip  # refuses speeds that belong to no number of poles
        if slip < 1e-6:
            raise ValueError(
                f"speed must be below the synchronous speed of {self.synchronous_speed:g} rev/s, where an induction "
                f"motor has no torque, not {self.speed:g}"
            )
        if self.input_power == 0.0:
            raise ValueError("line_voltage, current and power_factor must be greater, for together they draw nothing")
        drawn = f"{self.input_power:.4g} W by line_voltage, current and power_factor"
        if self.efficiency >= 1.0:
            raise ValueError(f"power must be less than what is drawn, {drawn}, but is {self.power:.4g} W")
        if self.efficiency >= 1.0 - slip:
            raise ValueError(
                f"power must be less than {1.0 - slip:.1%} of what is drawn ({drawn}), since with a slip of {slip:.1%} "
                f"the rotor turns that part into heat, but is {self.efficiency:.1%} of it"
            )
        if self.efficiency < LEAST_EFFICIENCY:
            raise ValueError(f"power must be in W and at least {LEAST_EFFICIENCY:.0%} of what is drawn, {drawn}, not {self.power:g}")

    def _check_multiples(self) -> None:
        if self.starting_current is not None and self.starting_current <= 1.0:
            raise ValueError(f"starting_current must be a multiple above 1 of the rated current, not {self.starting_current:g}")
        if self.breakdown_torque is not None and self.breakdown_torque <= 1.0:
            raise ValueError(
                "breakdown_torque must be a multiple above 1 of the rated torque, or the motor could not carry its "
                f"load, not {self.breakdown_torque:g}"
            )
        if self.starting_torque is None:
            return
        if self.breakdown_torque is not None and self.starting_torque > self.breakdown_torque:
            raise ValueError(
                f"starting_torque must not be above the breakdown_torque of {self.breakdown_torque:g}, the highest "
                f"there is, but is {self.starting_torque:g}"
            )
        if self.starting_current is not None:
            across_the_gap = self.starting_torque * self.torque * float(speeds.angular_speed(self.synchronous_speed))
            drawn = self.starting_current * self.apparent_power
            if across_the_gap >= drawn:
                raise ValueError(
                    f"starting_torque must be less, or starting_current more: {self.starting_torque:g} times the rated "
                    f"torque needs {across_the_gap:.4g} W across the gap, and only {drawn:.4g} VA are drawn"
                )


def _multiple(name: str, value: float) -> float:
    """`value` as a multiple of a rated value."""
    times = arguments.positive(name, value)
    if not LEAST_MULTIPLE <= times <= LARGEST_MULTIPLE:
        raise ValueError(f"{name} must be a multiple of the rated value, from {LEAST_MULTIPLE:g} to {LARGEST_MULTIPLE:g}, not {times:g}")
    return times
