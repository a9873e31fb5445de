"""The method of least squares for a handful of unknowns, from several starting points at once."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

Residuals = Callable[[np.ndarray], np.ndarray]

_PROBE = 1e-5
_FIRST_DAMPING = 1e-3  # of the curvature along each unknown
_LEAST_DAMPING, _MOST_DAMPING = 1e-12, 1e9
_LEAST_CURVATURE = 1e-6  # damps an unknown on which nothing depends
_LARGEST_STEP = 0.7
_LEAST_GAIN, _LITTLE_GAIN = 1e-9, 0.02


def least_squares(
    residuals: Residuals, guess: ArrayLike, most_rounds: int = 60, slopes: Residuals | None = None, enough: float = 0.0
) -> np.ndarray:
    """The values (n,) near `guess` (n,) at which the sum of the squared `residuals` is least; all of order 1. Rows of
    guesses (k, n) are followed side by side, each to its own values (k, n).

    residuals: function of rows of such values (..., n) to rows of residuals (..., m), m at least n; slopes: of rows (k, n) to
    their derivatives (k, m, n), by central differences if left out; enough: a sum at which a row that
    gains little ends the search of all. The method of Levenberg and Marquardt (D. W.
    Marquardt, J. SIAM 11, 1963): a Gauss-Newton step, damped along each unknown in proportion to the curvature there, more
    after a step that failed and less after one that gained.
    """
    values = np.array(guess, dtype=np.float64, ndmin=2)
    slopes = slopes or (lambda at: central_differences(residuals, at))
    rest = residuals(values)
    cost = np.sum(rest**2, axis=1)
    damping = np.full(len(values), _FIRST_DAMPING)
    searching = better = np.full(len(values), True)
    for _ in range(most_rounds):
        if better.any():
            slope = slopes(values)
            curvature = np.swapaxes(slope, 1, 2) @ slope
        diagonal = np.einsum("knn->kn", curvature) + _LEAST_CURVATURE
        damped = curvature + (damping[:, np.newaxis] * diagonal)[:, :, np.newaxis] * np.eye(values.shape[1])
        step = -np.linalg.solve(damped, np.einsum("kmn,km->kn", slope, rest)[..., np.newaxis])[..., 0]
        step = np.clip(step, -_LARGEST_STEP, _LARGEST_STEP) * searching[:, np.newaxis]
        tried = residuals(values + step)
        tried_cost = np.sum(tried**2, axis=1)
        better = tried_cost < cost
        gain = (cost - tried_cost) / np.maximum(cost, 1e-300)
        searching &= ~(better & (gain < _LEAST_GAIN)) & (damping < _MOST_DAMPING) & (np.abs(step).max(axis=1) > 1e-9)
        values[better] += step[better]
        rest[better], cost[better] = tried[better], tried_cost[better]
        damping = np.clip(np.where(better, damping / 5.0, damping * 4.0), _LEAST_DAMPING, _MOST_DAMPING)
        if not searching.any() or np.any(better & (gain < _LITTLE_GAIN) & (cost < enough)):
            break
    return values if np.ndim(guess) > 1 else values[0]


def central_differences(function: Residuals, values: np.ndarray) -> np.ndarray:
    """The derivatives (k, m, n) of a function of rows (..., n) to rows (..., m), at the rows `values` (k, n)."""
    probes = _PROBE * np.eye(values.shape[1])
    both = function(np.stack([values[:, np.newaxis] + probes, values[:, np.newaxis] - probes]))
    return np.swapaxes(both[0] - both[1], -1, -2) / (2.0 * _PROBE)
