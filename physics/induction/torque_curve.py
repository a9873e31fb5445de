"""The torque of a rotor with two cages over slip, as a ratio of two polynomials: where it is level, where it has a value.

Polynomials are rows of real coefficients (..., n), lowest power first: `above` (..., 4), odd, and `below` (..., 5),
positive at every slip, with T = above(s) / below(s). Leading dimensions are many motors at once.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike


def rows(*coefficients: ArrayLike) -> np.ndarray:
    """Coefficients, numbers or arrays of one shape, put beside each other."""
    return np.stack(np.broadcast_arrays(*coefficients), axis=-1).astype(np.float64)


def squared_size(constant: ArrayLike, linear: ArrayLike, square: ArrayLike) -> np.ndarray:
    """|constant + linear s + square s^2|^2 for complex coefficients and real s."""
    return rows(
        np.abs(constant) ** 2,
        2.0 * np.real(constant * np.conj(linear)),
        np.abs(linear) ** 2 + 2.0 * np.real(constant * np.conj(square)),
        2.0 * np.real(linear * np.conj(square)),
        np.abs(square) ** 2,
    )


def level_points(above: np.ndarray, below: np.ndarray) -> np.ndarray:
    """The polynomial (..., 7) that is 0 where the torque is level: above' below - above below'."""
    slope, curved = above[..., 1], above[..., 3]
    d0, d1, d2, d3, d4 = np.moveaxis(below, -1, 0)
    return rows(
        slope * d0,
        0.0,
        3.0 * curved * d0 - slope * d2,
        2.0 * (curved * d1 - slope * d3),
        curved * d2 - 3.0 * slope * d4,
        0.0,
        -curved * d4,
    )


def humps(above: np.ndarray, below: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Slips and torques there (..., 6), among them every point at which the torque is level.

    They are the real parts of all roots. Where a root is complex the curve has any point there, which is no higher than
    its extreme: so roots need not be told apart where only the extreme is sought. Of two conjugate ones one has torque 0.
    """
    roots = _roots(level_points(above, below))
    slips = roots.real
    torques = value(above[..., np.newaxis, :], slips) / value(below[..., np.newaxis, :], slips)
    return slips, np.where(roots.imag < 0.0, 0.0, torques)


def first_peak(above: np.ndarray, below: np.ndarray) -> float:
    """The slip nearest to 0, above it, at which the torque of one motor is level."""
    roots = _roots(level_points(above, below))
    return float(roots.real[(roots.real > 0.0) & (np.abs(roots.imag) <= 1e-7 * roots.real)].min())


def first_slip(above: np.ndarray, below: np.ndarray, torque: float) -> float:
    """The slip nearest to 0 at which one motor has `torque`, which must lie between its extremes."""
    if torque == 0.0:
        return 0.0
    roots = _roots(np.append(above, 0.0) - torque * below)
    # at the very extreme two roots meet, and rounding leaves them a little off the real axis
    there = np.sign(torque) * roots.real[np.abs(roots.imag) <= 1e-5 * np.abs(roots)]
    return float(np.sign(torque) * there[there > 0.0].min())


def value(polynomial: np.ndarray, at: np.ndarray) -> np.ndarray:
    """The polynomial at `at`, by Horner's rule."""
    total = np.zeros_like(at)
    for coefficient in np.moveaxis(polynomial, -1, 0)[::-1]:
        total = total * at + coefficient
    return total


def _roots(polynomial: np.ndarray) -> np.ndarray:
    """Its roots (..., n - 1): the eigenvalues of its companion matrix. The last coefficient must not be 0."""
    degree = polynomial.shape[-1] - 1
    companion = np.zeros((*polynomial.shape[:-1], degree, degree))
    companion[..., np.arange(1, degree), np.arange(degree - 1)] = 1.0
    companion[..., -1] = -polynomial[..., :-1] / polynomial[..., -1:]
    return np.linalg.eigvals(companion)
