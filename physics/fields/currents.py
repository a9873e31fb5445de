"""Magnetic fields in air: straight conductors, loops, block magnets, the Earth. Tesla, shape (n, 3), for n points.

Conductors are filaments unless a radius is given, and air has the permeability of vacuum. On a filament itself the
field has no value; zeros stand there, so that a picture sampled anywhere never meets nan or infinity. Points are xyz
rows in metres. Every function raises `ValueError` naming the argument for wrong shapes or values that are not finite.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import not_negative, number, numbers, positive, vector, vectors
from physics.constants import VACUUM_PERMEABILITY
from physics.directions import axis_of, cross, unit
from physics.fields.block_magnets import block_magnet_field, gap_field

__all__ = ["block_magnet_field", "earth_field", "gap_field", "long_wire_field", "loop_field", "segment_field"]

# A point nearer to a filament's line than this part of the filament's size lies on it as far as rounding can tell.
ON_THE_LINE = 1e-12

# Beside a conductor and nearer than about a twentieth of the way to its end, another form of the formula is used.
_CLOSE = 1e-3

# Pairs of point and conductor worked on at a time: the dozen arrays that hold them stay in the processor's cache.
_PAIRS_AT_A_TIME = 4096


def segment_field(points: ArrayLike, start: ArrayLike, end: ArrayLike, current: ArrayLike) -> np.ndarray:
    """The field of straight conductors of finite length, summed over them.

    points   where the field is asked, shape (n, 3), metres
    start    where each conductor begins, shape (m, 3), metres
    end      where each conductor ends, shape (m, 3), metres; a conductor of no length has no field
    current  amperes in each, positive from start to end, shape (m,), or one number for all

    Returns tesla, shape (n, 3); a conductor adds nothing for points on its own line, on the conductor or beyond it.
    Raises `ValueError` naming the argument.

    Formula: Biot and Savart integrated along the conductor. With a and b from its two ends to the point and l from
    start to end, B = mu0 I / (4 pi) * (l x a) (|a| + |b|) / (|a| |b| (|a| |b| + a.b)).
    """
    points, start, end = vectors("points", points), vectors("start", start), vectors("end", end)
    if start.shape != end.shape:
        raise ValueError(f"end must have as many rows as start, which has {len(start)}, not {len(end)}")
    current = numbers("current", current)
    if current.shape not in ((), (len(start),)):
        raise ValueError(f"current must be one number or one for each of the {len(start)} conductors, not of shape {current.shape}")
    field = np.zeros((len(points), 3))
    conductors = _conductor_frames(start, end, np.broadcast_to(current, (len(start),)))
    if conductors is None:
        return field
    origin, frames = conductors
    points = np.column_stack([points - origin, np.ones(len(points))])
    columns = min(frames.length.size, _PAIRS_AT_A_TIME)
    rows = _PAIRS_AT_A_TIME // columns
    for column in range(0, frames.length.size, columns):
        these = frames.part(slice(column, column + columns))
        for row in range(0, len(points), rows):
            field[row : row + rows] += _segment_block(points[row : row + rows], these)
    return field


@dataclass(frozen=True, eq=False)
class _Frames:
    """For each conductor an axis along it and two across, so that a point's place beside it is three dot products.

    Each of `along`, `first`, `second` has shape (4, m): a unit vector and, last, minus the place of the conductor's
    start in that direction. `length` and `strength` (mu0 I l / (4 pi)) have shape (m,).
    """

    along: np.ndarray
    first: np.ndarray
    second: np.ndarray
    length: np.ndarray
    strength: np.ndarray

    def part(self, columns: slice) -> _Frames:
        return _Frames(
            self.along[:, columns], self.first[:, columns], self.second[:, columns], self.length[columns], self.strength[columns]
        )


def _conductor_frames(start: np.ndarray, end: np.ndarray, current: np.ndarray) -> tuple[np.ndarray, _Frames] | None:
    """The middle of all conductors (3,), and their frames seen from there; None when none of them has a length."""
    difference = end - start
    length = np.sqrt(np.einsum("mi,mi->m", difference, difference))
    with_length = length > 0
    if not np.any(with_length):
        return None
    start, difference, length = start[with_length], difference[with_length], length[with_length]
    # Seen from amid the conductors the numbers are small, wherever the whole lies.
    origin = (start + difference / 2).mean(axis=0)
    along = difference / length[:, np.newaxis]
    # Across: any direction will do; from the axis the conductor is least along it is well defined.
    first = cross(along, np.eye(3)[np.argmin(np.abs(along), axis=1)])
    first /= np.sqrt(np.einsum("mi,mi->m", first, first))[:, np.newaxis]
    second = cross(along, first)
    axes = [np.vstack([axis.T, -np.einsum("mi,mi->m", axis, start - origin)]) for axis in (along, first, second)]
    return origin, _Frames(axes[0], axes[1], axes[2], length, VACUUM_PERMEABILITY / (4 * np.pi) * length * current[with_length])


def _segment_block(points: np.ndarray, conductors: _Frames) -> np.ndarray:
    """The field at points, shape (n, 4) with a last 1, of few enough conductors (m) to hold all n x m pairs at once.

    Works in place, since making arrays would take longer than the arithmetic.
    """
    from_start = points @ conductors.along
    first, second = points @ conductors.first, points @ conductors.second
    from_end = from_start - conductors.length
    across_squared = first * first
    across_squared += second * second
    a = from_start * from_start
    a += across_squared
    np.sqrt(a, out=a)
    b = from_end * from_end
    b += across_squared
    np.sqrt(b, out=b)
    product = a * b
    bracket = from_start * from_end
    bracket += across_squared
    bracket += product  # |a||b| + a.b
    a += b
    b = np.multiply(product, _CLOSE, out=b)
    np.maximum(b, 2 * ON_THE_LINE * conductors.length**2, out=b)  # at an end both are lost in rounding
    close = np.flatnonzero(bracket <= b)
    product *= bracket
    if close.size:
        product.flat[close] = 1.0
    a /= product
    if close.size:
        columns = close % conductors.length.size
        a.flat[close] = _close_beside(from_start.flat[close], from_end.flat[close], across_squared.flat[close], conductors.length[columns])
    a *= conductors.strength
    first *= a
    second *= a
    return first @ conductors.second[:3].T - second @ conductors.first[:3].T


def _close_beside(from_start: np.ndarray, from_end: np.ndarray, across_squared: np.ndarray, length: np.ndarray) -> np.ndarray:
    """(|a| + |b|) / (|a| |b| (|a| |b| + a.b)) close beside a conductor, where the last bracket has lost its figures.

    There it is ((t / |a|) - (t' / |b|)) / (l d^2), t and t' along the conductor from its start and its end, of opposite
    signs, d the distance from its line; zeros on the conductor.
    """
    beside = across_squared > (ON_THE_LINE * length) ** 2
    d_squared = np.where(beside, across_squared, 1.0)
    cosines = from_start / np.sqrt(from_start**2 + d_squared) - from_end / np.sqrt(from_end**2 + d_squared)
    return np.where(beside, cosines / (length * d_squared), 0.0)


def long_wire_field(points: ArrayLike, point_on_axis: ArrayLike, direction: ArrayLike, current: float, radius: float = 0.0) -> np.ndarray:
    """The field of a straight round wire so long that its ends do not matter.

    points         where the field is asked, shape (n, 3), metres
    point_on_axis  any point of the wire's axis, shape (3,), metres
    direction      of the wire, shape (3,), any length but zero
    current        amperes, positive along `direction`, spread evenly over the wire's cross-section
    radius         of the wire, metres, 0 or more; 0 is a filament

    Returns tesla, shape (n, 3). Raises `ValueError` naming the argument.

    Formula: Ampere's law: mu0 I / (2 pi r) outside; inside only the current within r counts, so it grows as r.
    """
    points = vectors("points", points)
    axis = axis_of("direction", direction)
    radius = not_negative("radius", radius)
    current = number("current", current)
    offset = points - vector("point_on_axis", point_on_axis)
    offset -= np.outer(offset @ axis, axis)
    within = np.maximum(np.einsum("ni,ni->n", offset, offset), radius**2)
    strength = np.divide(VACUUM_PERMEABILITY * current / (2 * np.pi), within, out=np.zeros(len(points)), where=within > 0)
    return strength[:, np.newaxis] * cross(axis, offset)


def loop_field(points: ArrayLike, centre: ArrayLike, normal: ArrayLike, radius: float, current: float) -> np.ndarray:
    """The field of a current in a circle.

    points   where the field is asked, shape (n, 3), metres
    centre   of the circle, shape (3,), metres
    normal   along the circle's axis, shape (3,), any length but zero
    radius   metres, more than 0
    current  amperes, positive counter-clockwise as seen with `normal` pointing at the eye

    Returns tesla, shape (n, 3); zeros on the wire itself. Raises `ValueError` naming the argument.

    Formula: Biot and Savart round the circle. With r from the axis, z along it, f^2 = (R + r)^2 + z^2 and
    D^2 = 1 - k^2 sin^2(t), k^2 = 4 R r / f^2, integrals over t from 0 to pi/2:
        B_axial  = mu0 I R / (pi f^3) * integral of ((R + r) cos^2 t + (R - r) sin^2 t) / D^3
        B_radial = 4 mu0 I R^2 r z / (pi f^5) * integral of sin^4 t / D^3
    which is the usual result in complete elliptic integrals, in a form that loses no figures near the axis.
    """
    points = vectors("points", points)
    axis = axis_of("normal", normal)
    radius, current = positive("radius", radius), number("current", current)
    offset = points - vector("centre", centre)
    z = offset @ axis
    outward = offset - np.outer(z, axis)
    r = np.sqrt(np.einsum("ni,ni->n", outward, outward))

    nearest_squared = (radius - r) ** 2 + z**2
    farthest_squared = (radius + r) ** 2 + z**2
    on_the_wire = nearest_squared <= (ON_THE_LINE * radius) ** 2
    complement = np.where(on_the_wire, 1.0, nearest_squared / farthest_squared)
    cosine_squared, sine_squared, sine_fourth = _loop_integrals(complement)

    scale = np.where(on_the_wire, 0.0, VACUUM_PERMEABILITY * current * radius / np.pi / farthest_squared**1.5)
    axial = scale * ((radius + r) * cosine_squared + (radius - r) * sine_squared)
    radial_over_r = scale * 4 * radius * z / farthest_squared * sine_fourth
    return np.outer(axial, axis) + radial_over_r[:, np.newaxis] * outward


def _loop_integrals(complement: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The integrals of cos^2 t, sin^2 t and sin^4 t over D^3 from 0 to pi/2, D^2 = cos^2 t + complement sin^2 t.

    complement  1 - k^2, above 0 and at most 1, shape (n,)

    Gauss's arithmetic-geometric mean gives K, and E / K = 1 - k^2 / 2 - s with a rapidly convergent sum s of order
    k^4 (Abramowitz and Stegun, 17.6). The three integrals are written with s / k^4, so that nothing is divided by a
    vanishing k.
    """
    modulus_squared = 1.0 - complement
    geometric = np.sqrt(complement)
    arithmetic = (1.0 + geometric) / 2
    term = 1.0 / (4 * (1.0 + geometric) ** 2)  # c_1^2 / k^4
    geometric = np.sqrt(geometric)
    total = term.copy()
    weight = 1.0
    while np.any(modulus_squared**2 * term > 1e-18 * arithmetic**2):
        arithmetic, geometric, previous = (arithmetic + geometric) / 2, np.sqrt(arithmetic * geometric), term
        term = previous**2 * modulus_squared**2 / (16 * arithmetic**2)
        weight *= 2
        total += weight * term
    first_kind = np.pi / 2 / arithmetic
    return (
        first_kind * (0.5 + modulus_squared * total),
        first_kind * (0.5 - modulus_squared * total) / complement,
        first_kind * (0.5 - (2.0 - modulus_squared) * total) / complement,
    )


def earth_field(horizontal: float, dip: float, north: ArrayLike = (0.0, 0.0, -1.0), up: ArrayLike = (0.0, 1.0, 0.0)) -> np.ndarray:
    """The Earth's field on the bench.

    horizontal  size of its level part, tesla, 0 or more (some tens of microtesla at mid latitudes)
    dip         angle below the level, radians between -pi/2 and pi/2; positive where the field points into the ground
    north       the way to magnetic north on the bench, shape (3,): the part of it across `up` counts
    up          shape (3,)

    Returns tesla, shape (3,). Raises `ValueError` naming the argument.

    Formula: the vertical part is the level part times tan(dip), downward.
    """
    horizontal, dip = not_negative("horizontal", horizontal), number("dip", dip)
    if abs(dip) >= np.pi / 2:
        raise ValueError(f"dip must be between -pi/2 and pi/2 radians, not {dip:g}")
    vertical = axis_of("up", up)
    northward = unit("north", north)
    northward = unit("north", northward - (northward @ vertical) * vertical)
    if not np.any(northward):
        raise ValueError("north must have a part across up")
    return horizontal * (northward - np.tan(dip) * vertical)
