"""The field of evenly magnetised blocks, alone and facing each other across an air gap."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import number, positive, vector, vectors
from physics.directions import axis_of

# A point nearer to the line of an edge than this part of the block's longest side is taken to be that far from it.
_NEAREST_TO_AN_EDGE = 1e-12

# What is added to a place, in half lengths, to see it from the lower and from the upper corner plane.
_LOWER_UPPER = np.array([[1.0], [-1.0]])

# Of the corners (lower, upper) x (lower, upper) x (lower, upper), in that order.
_CORNER_SIGNS = np.array([1.0, -1.0, -1.0, 1.0, -1.0, 1.0, 1.0, -1.0])


def block_magnet_field(points: ArrayLike, centre: ArrayLike, size: ArrayLike, polarisation: ArrayLike) -> np.ndarray:
    """The flux density of an evenly magnetised block with its edges along the axes, inside and outside.

    points        where the field is asked, shape (n, 3), metres
    centre        of the block, shape (3,), metres
    size          its lengths along x, y and z, shape (3,), metres, each more than 0
    polarisation  J = mu0 M, shape (3,), tesla: points from the S face to the N face

    Returns B in tesla, shape (n, 3): mu0 H outside, mu0 H + J inside. A point on a face counts as inside. On an edge
    the formula grows beyond all bounds, as a logarithm; there, the value 1e-12 of the block away is given.
    Raises `ValueError` naming the argument.

    Formula: magnetic charge J.n on the faces, integrated in closed form (the demagnetising tensor of a block): with
    X, Y, Z from a corner and r its distance, arctan(Y Z / (X r)) along J and ln(Y + r), ln(Z + r) across it, summed
    over the eight corners with alternate signs. The sum loses figures as the cube of distance over size.
    """
    points, centre = vectors("points", points), vector("centre", centre)
    half = _half_size(size)
    polarisation = vector("polarisation", polarisation)
    return _block_field(points - centre, half, polarisation)


def gap_field(
    gap: float, size: ArrayLike, polarisation: float, centre: ArrayLike = (0.0, 0.0, 0.0), direction: ArrayLike = (1.0, 0.0, 0.0)
) -> Callable[[np.ndarray], np.ndarray]:
    """The field of two equal block magnets that face each other across an air gap, N to S, ready to be asked often.

    gap           metres between the two faces, more than 0
    size          the lengths of each block along x, y and z, shape (3,), metres, each more than 0
    polarisation  tesla; the field in the gap is along `direction`, or against it when this is negative
    centre        of the gap, shape (3,), metres
    direction     from the one block to the other: along x, y or z, shape (3,), any length but zero

    Returns a function of points, shape (n, 3), that gives tesla, shape (n, 3), as `block_magnet_field` does summed
    over both blocks. Raises `ValueError` naming the argument.
    """
    gap, half, centre = positive("gap", gap), _half_size(size), vector("centre", centre)
    axis = axis_of("direction", direction)
    if np.count_nonzero(axis) != 1:
        raise ValueError("direction must be along x, y or z, with only one part that is not 0")
    magnetised = number("polarisation", polarisation) * axis
    offset = (gap / 2 + np.abs(axis) @ half) * axis
    centres = np.stack([centre - offset, centre + offset])[:, np.newaxis]

    def field(points: ArrayLike) -> np.ndarray:
        relative = (vectors("points", points) - centres).reshape(-1, 3)
        return _block_field(relative, half, magnetised).reshape(2, -1, 3).sum(axis=0)

    return field


def _block_field(points: np.ndarray, half: np.ndarray, polarisation: np.ndarray) -> np.ndarray:
    """`block_magnet_field` of a block at the origin with half lengths `half`; nothing is checked."""
    # From the lower and the upper corner plane of each axis: shape (axis, corner, n).
    offsets = points.T[:, np.newaxis] + half[:, np.newaxis, np.newaxis] * _LOWER_UPPER
    # Which side of each corner plane the point is on; on a face it is taken to be inside.
    above = offsets >= 0
    np.greater(offsets[:, 1], 0, out=above[:, 1])
    sides = np.where(above, 1.0, -1.0)
    sizes, squares = np.abs(offsets), offsets * offsets
    inside = (above[:, 0] > above[:, 1]).all(axis=0)
    nearest_squared = (2 * _NEAREST_TO_AN_EDGE * half.max()) ** 2

    field = polarisation[:, np.newaxis] * inside
    for axis in np.flatnonzero(polarisation).tolist():
        # The axis of polarisation comes first; the other two follow in turn. Corners: shape (2, 2, 2, n).
        second, third = (axis + 1) % 3, (axis + 2) % 3
        along_squared = squares[axis][:, None, None]
        second_squared = along_squared + squares[second][None, :, None]
        third_squared = along_squared + squares[third][None, None]
        r = np.sqrt(second_squared + squares[third])
        in_second, in_third = sizes[second][:, None], sizes[third]
        side, side_second, side_third = sides[axis][:, None, None], sides[second][:, None], sides[third]
        scale = polarisation[axis] / (4 * np.pi)

        angle = np.arctan2(in_second * in_third, sizes[axis][:, None, None] * r)
        angle *= side * (side_second * side_third)
        field[axis] -= scale * _alternate(angle)
        logarithm = _edge_logarithm(second_squared, in_third, r, nearest_squared)
        logarithm *= side_third
        field[second] += scale * _alternate(logarithm)
        logarithm = _edge_logarithm(third_squared, in_second, r, nearest_squared)
        logarithm *= side_second
        field[third] += scale * _alternate(logarithm)
    return field.T


def _edge_logarithm(from_edge_squared: np.ndarray, along: np.ndarray, r: np.ndarray, nearest_squared: np.ndarray) -> np.ndarray:
    """ln((along + r) / h), h the distance from the line of an edge, `along` the edge from its end, without sign.

    With the sign of `along` put before it this differs from the formula's logarithm by ln h, which the two ends of an
    edge share with opposite signs; and no figures are lost to a difference of nearly equal numbers.
    """
    from_edge = np.sqrt(np.maximum(from_edge_squared, nearest_squared))
    ratio = np.maximum(r, from_edge)
    ratio += along
    ratio /= from_edge
    return np.log(ratio, out=ratio)


def _alternate(corners: np.ndarray) -> np.ndarray:
    """The sum over the eight corners, shape (2, 2, 2, n), each upper plane changing the sign; shape (n,)."""
    return _CORNER_SIGNS @ corners.reshape(8, -1)


def _half_size(size: ArrayLike) -> np.ndarray:
    """Half the lengths of a block, each above 0."""
    size = vector("size", size)
    if np.any(size <= 0):
        raise ValueError("size must be three lengths greater than 0")
    return size / 2
