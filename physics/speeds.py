"""Synchronous speed, slip, rotor frequency, and the pole number behind a nameplate speed.

Speeds are revolutions per second unless a name says otherwise. A speed is positive in the direction in which the field
rotates; a rotor driven against the field has a negative speed and a slip above 1, one driven past it a negative slip.
Every function but `poles_from_rated_speed` takes arrays as well as single numbers.

Formulae: IEC 60034-1 (definitions of synchronous speed and slip); any textbook of electrical machines.
"""

from __future__ import annotations

from math import isfinite

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray

LARGEST_RATED_SLIP = 0.2
"""Above this a rated speed no longer tells the poles: even motors built for high slip
(NEMA MG 1, design D) stay under about 0.13 at full load."""

MOST_POLES = 1000
"""More than any machine has: a speed that asks for more is in the wrong unit."""


def synchronous_speed(frequency: ArrayLike, poles: int) -> NumberOrArray:
    """Speed of the stator's field, rev/s: n_s = f / p, with p pairs of poles.

    frequency: Hz, 0 or more, any shape; poles: even, at least 2. `ValueError` otherwise.
    """
    pole_pairs = arguments.poles("poles", poles) / 2
    return _frequency(frequency) / pole_pairs


def frequency_of_speed(speed: ArrayLike, poles: int) -> NumberOrArray:
    """Frequency, Hz, of an EMF made by `poles` poles that pass at `speed` rev/s (in either direction): f = p |n|."""
    pole_pairs = arguments.poles("poles", poles) / 2
    return np.abs(arguments.numbers("speed", speed)) * pole_pairs


def slip(synchronous: ArrayLike, actual: ArrayLike) -> NumberOrArray:
    """Slip as a fraction: s = (n_s - n) / n_s.

    synchronous, actual: speeds in one and the same unit, shapes that broadcast; `ValueError` if synchronous is 0.
    """
    # as a rule two plain numbers, thousands of times in a run
    if not (type(synchronous) is float and type(actual) is float and synchronous and isfinite(synchronous) and isfinite(actual)):
        synchronous = arguments.numbers("synchronous", synchronous)
        actual = arguments.numbers("actual", actual)
        if np.any(synchronous == 0):
            raise ValueError("synchronous must not be 0: slip is a fraction of it")
    return (synchronous - actual) / synchronous


def speed_at_slip(synchronous: ArrayLike, slip: ArrayLike) -> NumberOrArray:
    """Speed of the rotor at `slip` (fraction), in the unit of `synchronous`: n = n_s (1 - s)."""
    return arguments.numbers("synchronous", synchronous) * (1 - arguments.numbers("slip", slip))


def rotor_frequency(frequency: ArrayLike, slip: ArrayLike) -> NumberOrArray:
    """Frequency of EMF and current in the rotor, Hz: f_r = |s| f. At synchronous speed it is 0."""
    return _frequency(frequency) * np.abs(arguments.numbers("slip", slip))


def poles_from_rated_speed(frequency: float, speed: float) -> int:
    """Number of poles of a motor whose nameplate says `frequency` Hz and `speed` rev/s.

    It is the largest number whose synchronous speed is not below the rated speed, for a motor's field runs ahead of
    its rotor and, at full load, only a little. A speed equal to a synchronous speed is a synchronous motor's.
    `ValueError` if no pole number up to `MOST_POLES` gives a slip below `LARGEST_RATED_SLIP`.
    """
    frequency = arguments.positive("frequency", frequency)
    speed = arguments.positive("speed", speed)
    if frequency / speed > MOST_POLES / 2:
        raise ValueError(
            f"speed must be that of a motor with {MOST_POLES} poles at most, not below {2 * frequency / MOST_POLES:g} rev/s "
            f"at {frequency:g} Hz, but is {speed:g}"
        )
    # a speed that was converted from r/min may come out a few units in the last place above the synchronous speed
    pole_pairs = int(np.floor(frequency / speed * (1 + 1e-9)))
    if pole_pairs < 1:
        raise ValueError(
            f"speed must not be above {frequency:g} rev/s, the synchronous speed of two poles at {frequency:g} Hz, not {speed:g}"
        )
    rated_slip = 1 - speed * pole_pairs / frequency
    if rated_slip > LARGEST_RATED_SLIP:
        raise ValueError(
            f"speed must be within {LARGEST_RATED_SLIP:.0%} of a synchronous speed, but {speed:g} rev/s at "
            f"{frequency:g} Hz is {rated_slip:.0%} below the nearest one above it"
        )
    return 2 * pole_pairs


def revolutions_per_minute(speed: ArrayLike) -> NumberOrArray:
    """`speed` in rev/s as r/min, as it stands on a nameplate."""
    return 60 * arguments.numbers("speed", speed)


def revolutions_per_second(speed: ArrayLike) -> NumberOrArray:
    """`speed` in r/min as rev/s."""
    return arguments.numbers("speed", speed) / 60


def angular_speed(speed: ArrayLike) -> NumberOrArray:
    """`speed` in rev/s as rad/s, for powers and torques: omega = 2 pi n."""
    return 2 * np.pi * arguments.numbers("speed", speed)


def _frequency(value: ArrayLike) -> np.ndarray:
    frequency = arguments.numbers("frequency", value)
    if np.any(frequency < 0):
        raise ValueError("frequency must be 0 or more: for a field that rotates the other way, swap two phases")
    return frequency
