"""Values that make a set of residuals small together, for a handful of unknowns."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

_PROBE = 1e-5


def least_squares(residuals: Callable[[np.ndarray], np.ndarray], guess, most_rounds: int = 60) -> np.ndarray:
    """The values (n,) near `guess` (n,) at which the sum of the squared `residuals` is least; all of order 1.

    residuals: function of rows of such values (..., n) to the rows of their residuals (..., m), m at least n: all that a
    slope needs is asked for at once. The way of Levenberg and Marquardt
    (D. W. Marquardt, J. SIAM 11, 1963): a step of Gauss and Newton, held back as far as it takes to get better.
    """
    values = np.array(guess, dtype=np.float64)
    rest = residuals(values)
    holding = 1e-3
    for _ in range(most_rounds):
        slopes = _slopes(residuals, values)
        downhill, curvature = -slopes.T @ rest, slopes.T @ slopes
        while True:
            held = curvature + holding * np.diag(np.diag(curvature) + 1e-12)
            step = np.linalg.solve(held, downhill)
            tried = residuals(values + step)
            if tried @ tried < rest @ rest:
                break
            holding *= 4.0
            if holding > 1e12:
                return values
        gained = 1.0 - (tried @ tried) / (rest @ rest)
        values, rest, holding = values + step, tried, max(0.2 * holding, 1e-12)
        if np.abs(step).max() < 1e-9 or (gained < 1e-12 and holding < 1e-3):
            break
    return values


def _slopes(residuals: Callable, values: np.ndarray) -> np.ndarray:
    """(m, n), by central differences."""
    probes = _PROBE * np.eye(values.size)
    above, below = np.split(residuals(np.concatenate([values + probes, values - probes])), 2)
    return (above - below).T / (2.0 * _PROBE)
