"""The field of two facing block magnets by magpylib, averaged along a straight rod: for the oracles of the rods."""

from __future__ import annotations

import magpylib
import numpy as np

WHERE, WEIGHT = np.polynomial.legendre.leggauss(80)


def facing_blocks(gap: float, size, polarisation: float):
    """Two blocks above and below the origin, both polarised along y; `size` of each, metres."""
    blocks = [
        magpylib.magnet.Cuboid(polarization=(0, polarisation, 0), dimension=tuple(size), position=(0, side * (gap + size[1]) / 2, 0))
        for side in (-1, 1)
    ]
    return magpylib.Collection(*blocks)


def along(magnet, first, last):
    """Points from `first` to `last`, the field there in T, and the share of the length that each stands for."""
    first, last = np.asarray(first, float), np.asarray(last, float)
    points = first + (WHERE[:, None] + 1) / 2 * (last - first)
    return points, magnet.getB(points), WEIGHT / 2


def mean(magnet, first, last) -> np.ndarray:
    """The field averaged over the length of a straight rod, T."""
    _, field, share = along(magnet, first, last)
    return share @ field
