"""What protects a motor and its winding, by time and current: overload relay, fuse, and how long copper takes to get hot.

Currents are A r.m.s., times s; all functions take numbers or arrays.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray

# IEC 60364-5-54, annex A (memory): copper's volumetric heat capacity at 20 °C, J/(K m3); reciprocal of the temperature coefficient
# of resistance at 0 °C, °C; resistivity at 20 °C, ohm m
COPPER_HEAT_CAPACITY, COPPER_BETA, COPPER_RESISTIVITY = 3.45e6, 234.5, 17.241e-9


def copper_constant(cold: float, hot: float) -> float:
    """k, A sqrt(s) / m2, of copper that goes from `cold` to `hot`, degrees C, with no heat flowing off: (k S)^2 = I^2 t.

    k = sqrt(Q (B + 20) / rho) sqrt(ln((B + hot) / (B + cold))), which is I^2 R against the heat capacity of the copper, its
    resistance rising as it warms (IEC 60364-5-54, annex A, memory). `ValueError` unless hot is above cold, cold above -B.
    """
    cold, hot = arguments.number("cold", cold), arguments.number("hot", hot)
    if not hot > cold > -COPPER_BETA:
        raise ValueError(f"hot must be above cold, and cold above {-COPPER_BETA:g} degrees")
    share = math.log((COPPER_BETA + hot) / (COPPER_BETA + cold))
    return math.sqrt(COPPER_HEAT_CAPACITY * (COPPER_BETA + 20.0) / COPPER_RESISTIVITY * share)


@dataclass(frozen=True)
class OverloadRelay:
    """A thermal overload relay of class 10, set to `setting`, A: its strip warms with I^2 and cools with one time constant.

    Trips at the heat of 1.15 times the setting for good, 1.05 if a pole carries less than half of the others, as strips of
    a phase-loss-sensitive relay then trip by their difference. The time constant gives 8 s from cold at 7.2 times the setting.
    IEC 60947-4-1 for class 10 (memory): no trip in 2 h at 1.05, a trip in 2 h at 1.2, in 4 min at 1.5 when warm, in 4 to 10 s
    at 7.2 from cold; two poles alone trip in 2 h at 1.15. One time constant is a simplification of strip and housing.
    """

    setting: float

    THRESHOLD = 1.15
    THRESHOLD_OF_TWO = 1.05
    TIME_CONSTANT = 310.0  # s

    def __post_init__(self) -> None:
        arguments.positive("setting", self.setting)

    def threshold(self, line_currents: ArrayLike) -> NumberOrArray:
        """The multiple of the setting that it just bears, for line currents (..., 3)."""
        size = np.abs(line_currents)
        return np.where(size.min(axis=-1) < 0.5 * size.max(axis=-1), self.THRESHOLD_OF_TWO, self.THRESHOLD)

    def warmed(self, heat: NumberOrArray, line_currents: ArrayLike, seconds: float) -> NumberOrArray:
        """Its heat, 1 being what the setting leads to for good, `seconds` later; from cold 0. line_currents (..., 3)."""
        aim = (np.abs(line_currents).max(axis=-1) / self.setting) ** 2
        return aim + (heat - aim) * math.exp(-seconds / self.TIME_CONSTANT)

    def trips_after(self, line_currents: ArrayLike, heat: float = 0.0) -> float:
        """Seconds of that current, shape (3,), until it trips, inf if it bears it."""
        aim = float((np.abs(line_currents).max() / self.setting) ** 2)
        limit = float(self.threshold(line_currents)) ** 2
        if heat >= limit:
            return 0.0
        return self.TIME_CONSTANT * math.log((aim - heat) / (aim - limit)) if aim > limit else math.inf


# IEC 60269-1, gates of gG fuse links (memory), A: rating: (least of 10 s, most of 5 s, least of 0.1 s, most of 0.1 s)
GATES = {
    16: (33, 65, 85, 150),
    20: (42, 85, 110, 200),
    25: (52, 110, 150, 260),
    32: (75, 150, 200, 350),
    40: (95, 190, 260, 450),
    50: (125, 250, 350, 610),
    63: (160, 320, 450, 820),
    80: (215, 425, 610, 1100),
    100: (290, 580, 820, 1450),
    125: (355, 715, 1100, 1910),
}


@dataclass(frozen=True)
class Fuse:
    """A gG fuse link of `rating`, A, one of `GATES`: it melts along a power of the current between the gates of IEC 60269-1."""

    rating: int

    def __post_init__(self) -> None:
        if self.rating not in GATES:
            raise ValueError(f"rating must be one of {', '.join(map(str, GATES))}, not {arguments.quoted(self.rating)}")

    def melts_after(self, current: NumberOrArray) -> NumberOrArray:
        """Seconds until it melts, inf for a current that it bears: below 1.5 times its rating."""
        slow_least, slow_most, fast_least, fast_most = GATES[self.rating]
        slow, fast = math.sqrt(slow_least * slow_most), math.sqrt(fast_least * fast_most)
        power = math.log(math.sqrt(50.0) / 0.1) / math.log(fast / slow)
        size = np.maximum(np.abs(current), 1e-9)
        with np.errstate(over="ignore"):
            return np.where(size < 1.5 * self.rating, np.inf, 0.1 * (fast / size) ** power)
