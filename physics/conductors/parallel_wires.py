"""Two parallel wires: the force between them, and the field of the one beside the other.

The wires are straight, side by side and equally long. Currents are positive in the same direction; a force is positive
when it draws the wires together: currents in the same direction attract, opposite currents repel. Spacing is between
centres. A round wire acts outside itself as a filament does.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import numbers, positive
from physics.constants import VACUUM_PERMEABILITY


def force_per_metre(first_current: ArrayLike, second_current: ArrayLike, spacing: ArrayLike) -> np.ndarray:
    """Force per metre on two long wires, N/m, positive for attraction.

    first_current, second_current  amperes;  spacing  metres, more than 0; all of any shapes that go together

    Formula: mu0 I1 I2 / (2 pi d). One ampere in each at one metre: 2e-7 N/m, by which the ampere was defined from 1948
    to 2019. Raises `ValueError` naming the argument.
    """
    first, second = numbers("first_current", first_current), numbers("second_current", second_current)
    return VACUUM_PERMEABILITY / (2 * np.pi) * first * second / _spacing(spacing)


def force_between(first_current: ArrayLike, second_current: ArrayLike, spacing: ArrayLike, length: float) -> np.ndarray:
    """The force on each of two wires of finite length, newtons, positive for attraction.

    length  of each wire, metres, more than 0; the rest as for `force_per_metre`

    Formula: the field of one wire by Biot and Savart, and F = I l x B integrated along the other:
    mu0 I1 I2 / (2 pi d) * (sqrt(l^2 + d^2) - d). For a length many times the spacing that is `force_per_metre` times
    the length. The leads are not part of it. Raises `ValueError` naming the argument.
    """
    spacing, length = _spacing(spacing), positive("length", length)
    # sqrt(l^2 + d^2) - d, which loses its figures for wires far apart
    effective = length**2 / (np.sqrt(length**2 + spacing**2) + spacing)
    return force_per_metre(first_current, second_current, spacing) * effective


def field_beside_middle(current: ArrayLike, spacing: ArrayLike, length: float) -> np.ndarray:
    """The size of the field of a wire of finite length beside its middle, tesla, with the sign of its current.

    current  amperes, of any shape; spacing and length as for `force_between`

    Formula: mu0 I / (2 pi d) * l / sqrt(l^2 + 4 d^2). Raises `ValueError` naming the argument.
    """
    spacing, length = _spacing(spacing), positive("length", length)
    return force_per_metre(1.0, current, spacing) * length / np.sqrt(length**2 + 4 * spacing**2)


def _spacing(value: ArrayLike) -> np.ndarray:
    spacing = numbers("spacing", value)
    if np.any(spacing <= 0):
        raise ValueError("spacing must be greater than 0")
    return spacing
