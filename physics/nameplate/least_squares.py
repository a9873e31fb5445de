"""Values that make a set of residuals small together, for a handful of unknowns."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

_PROBE = 1e-5
_FIRST_DAMPING = 1e-5  # of the steepest curvature
_MOST_DAMPING = 1e20


def least_squares(residuals: Callable[[np.ndarray], np.ndarray], guess: ArrayLike, most_rounds: int = 60) -> np.ndarray:
    """The values (n,) near `guess` (n,) at which the sum of the squared `residuals` is least; all of order 1. Rows of
    guesses (k, n) are followed side by side, each to its own values (k, n).

    residuals: function of rows of such values (..., n) to the rows of their residuals (..., m), m at least n: all that a
    slope needs is asked for at once. The method of Levenberg and Marquardt (D. W. Marquardt, J. SIAM 11, 1963): a step of
    Gauss and Newton, damped as far as it takes to get better; by how much the damping changes follows from how much of
    the gain foreseen came true (H. B. Nielsen, Damping parameter in Marquardt's method, 1999, memory).
    """
    values = np.array(guess, dtype=np.float64, ndmin=2)
    rest = residuals(values)
    damping, growth = None, np.full(len(values), 2.0)
    better = open_ended = np.full(len(values), True)
    for _ in range(most_rounds):
        if better.any():
            slopes = _slopes(residuals, values)
            downhill = -np.einsum("kmn,km->kn", slopes, rest)
            curvature = np.einsum("kmn,kmp->knp", slopes, slopes)
        if damping is None:
            damping = _FIRST_DAMPING * np.einsum("knn->kn", curvature).max(axis=1)
        damped = curvature + damping[:, np.newaxis, np.newaxis] * np.eye(values.shape[1])
        step = np.linalg.solve(damped, downhill[..., np.newaxis])[..., 0]
        tried = residuals(values + step)
        before, after = np.sum(rest**2, axis=1), np.sum(tried**2, axis=1)
        foreseen = np.sum(step * (damping[:, np.newaxis] * step + downhill), axis=1)
        come_true = np.clip((before - after) / np.maximum(foreseen, 1e-300), -1.0, 2.0)
        better = open_ended & (after < before)
        settled = (np.abs(step).max(axis=1) < 1e-9) | ((before - after < 1e-9 * before) & (come_true > 0.25))
        values[better] += step[better]
        rest[better] = tried[better]
        less = damping * np.maximum(1.0 / 3.0, 1.0 - (2.0 * come_true - 1.0) ** 3)
        damping = np.where(better, less, np.minimum(damping * growth, _MOST_DAMPING))
        growth = np.where(better, 2.0, np.minimum(2.0 * growth, 1e6))
        open_ended = open_ended & ~(better & settled) & (damping < _MOST_DAMPING)
        if not open_ended.any():
            break
    return values if np.ndim(guess) > 1 else values[0]


def _slopes(residuals: Callable[[np.ndarray], np.ndarray], values: np.ndarray) -> np.ndarray:
    """(k, m, n), by central differences."""
    probes = _PROBE * np.eye(values.shape[1])
    here = values[:, np.newaxis]
    both = residuals(np.stack([here + probes, here - probes]))
    return np.swapaxes(both[0] - both[1], -1, -2) / (2.0 * _PROBE)
