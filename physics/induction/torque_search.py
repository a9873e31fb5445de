"""The torque of any motor over slip where no formula gives it, as where leakage saturates: its peaks, and where it has a value.

`torque` is a function of an array of slips; `sign` +1 looks on the motoring side of synchronous speed, -1 on the driven one.
Slips below 1 / 10,000 and above 100 are not looked at: no motor's peaks are there.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

_SLIPS = np.geomspace(1e-4, 1e2, 241)
_ROUNDS, _POINTS = 5, 33  # each round looks sixteen times as closely: a slip to a few parts in ten million
_HALVINGS = 50


def highest_peak(torque: Callable[[np.ndarray], np.ndarray], sign: float = 1.0) -> tuple[float, float]:
    """Slip and torque of the largest on that side."""
    return _closer(torque, sign, int(np.argmax(sign * torque(sign * _SLIPS))))


def first_peak(torque: Callable[[np.ndarray], np.ndarray]) -> tuple[float, float]:
    """Slip and torque where it first turns down, from synchronous speed towards standstill."""
    falls = np.diff(torque(_SLIPS)) < 0.0
    return _closer(torque, 1.0, int(np.argmax(falls)) if falls.any() else _SLIPS.size - 1)


def first_slip(torque: Callable[[np.ndarray], np.ndarray], wanted: float) -> float:
    """The slip nearest to 0 that has the torque `wanted`, which must lie between the extremes."""
    if wanted == 0.0:
        return 0.0
    sign = float(np.sign(wanted))
    top = highest_peak(torque, sign)[0]
    slips = np.append(sign * _SLIPS[_SLIPS < sign * top], top)
    enough = np.flatnonzero(sign * torque(slips) >= sign * wanted)
    if enough.size == 0:
        return float(top)
    high = slips[enough[0]]
    low = slips[enough[0] - 1] if enough[0] else 0.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if sign * float(torque(middle)) >= sign * wanted else (middle, high)
    return float(high)


def _closer(torque: Callable[[np.ndarray], np.ndarray], sign: float, near: int) -> tuple[float, float]:
    low, high = _SLIPS[max(near - 1, 0)], _SLIPS[min(near + 1, _SLIPS.size - 1)]
    for _ in range(_ROUNDS):
        slips = np.linspace(low, high, _POINTS)
        torques = torque(sign * slips)
        best = int(np.argmax(sign * torques))
        low, high = slips[max(best - 1, 0)], slips[min(best + 1, _POINTS - 1)]
    return float(sign * slips[best]), float(torques[best])
