"""Magnetic fields in air: straight conductors, loops, block magnets, the Earth. Tesla, shape (n, 3), for n points.

Conductors are filaments unless a radius is given, and air has the permeability of vacuum. On a filament itself the
field has no value; zeros stand there, so that a picture sampled anywhere never meets nan or infinity. Points are xyz
rows in metres. Every function raises `ValueError` naming the argument for wrong shapes or values that are not finite.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from physics.arguments import not_negative, number, numbers, positive, vector, vectors
from physics.constants import VACUUM_PERMEABILITY
from physics.directions import unit

# A point nearer to a filament's line than this part of the filament's size lies on it as far as rounding can tell.
ON_THE_LINE = 1e-12

# Pairs of point and conductor worked on at a time: the score of arrays that hold them stay in the processor's cache.
_PAIRS_AT_A_TIME = 8192


def segment_field(points, start, end, current) -> np.ndarray:
    """The field of straight conductors of finite length, summed over them.

    points   where the field is asked, shape (n, 3), metres
    start    where each conductor begins, shape (m, 3), metres
    end      where each conductor ends, shape (m, 3), metres; a conductor of no length has no field
    current  amperes in each, positive from start to end, shape (m,), or one number for all

    Returns tesla, shape (n, 3); a conductor adds zeros for points on its own line, on the conductor or beyond it.
    Raises `ValueError` naming the argument.

    Formula: Biot and Savart integrated along the conductor. With a and b from its two ends to the point and l from
    start to end, B = mu0 I / (4 pi) * (l x a) (|a| + |b|) / (|a| |b| (|a| |b| + a.b)); beside the conductor, where
    the last bracket is the small difference of large numbers, it is |l x a|^2 / (|a| |b| - a.b) instead.
    """
    points, start, end = vectors("points", points), vectors("start", start), vectors("end", end)
    if start.shape != end.shape:
        raise ValueError(f"end must have as many rows as start, which has {len(start)}, not {len(end)}")
    current = numbers("current", current)
    if current.shape not in ((), (len(start),)):
        raise ValueError(f"current must be one number or one for each of the {len(start)} conductors, "
                         f"not of shape {current.shape}")
    strength = np.broadcast_to(VACUUM_PERMEABILITY / (4 * np.pi) * current, (len(start),))

    field = np.zeros((len(points), 3))
    conductors = min(len(start), _PAIRS_AT_A_TIME)
    rows = max(1, _PAIRS_AT_A_TIME // max(conductors, 1))
    for row in range(0, len(points), rows):
        these_points = slice(row, row + rows)
        for column in range(0, len(start), _PAIRS_AT_A_TIME):
            these = slice(column, column + _PAIRS_AT_A_TIME)
            field[these_points] += _segment_block(points[these_points], start[these], end[these], strength[these])
    return field


def _segment_block(points, start, end, strength) -> np.ndarray:
    """`segment_field` for few enough points (n, 3) and conductors (m, 3) to hold all n x m pairs at once."""
    ax, ay, az = (points[:, axis, np.newaxis] - start[:, axis] for axis in range(3))
    bx, by, bz = (points[:, axis, np.newaxis] - end[:, axis] for axis in range(3))
    lx, ly, lz = (end - start).T
    cross_x = ly * az - lz * ay
    cross_y = lz * ax - lx * az
    cross_z = lx * ay - ly * ax
    cross_squared = cross_x * cross_x + cross_y * cross_y + cross_z * cross_z
    a = np.sqrt(ax * ax + ay * ay + az * az)
    b = np.sqrt(bx * bx + by * by + bz * bz)
    product = a * b
    dot = ax * bx
    dot += ay * by
    dot += az * bz
    beside = dot < 0
    on_the_line = cross_squared <= (ON_THE_LINE * (lx * lx + ly * ly + lz * lz)) ** 2

    a += b
    np.abs(dot, out=dot)
    dot += product  # now |a||b| + |a.b|, which is never a difference
    # Past the ends the bracket is `dot`; beside the conductor it is cross_squared / dot.
    product *= np.where(beside, cross_squared, dot)
    a *= np.where(beside, dot, 1.0)
    a *= strength
    product[on_the_line] = 1.0
    a[on_the_line] = 0.0
    a /= product
    return np.stack([np.einsum("nm,nm->n", a, cross) for cross in (cross_x, cross_y, cross_z)], axis=1)


def long_wire_field(points, point_on_axis, direction, current, radius=0.0) -> np.ndarray:
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
    axis = _axis("direction", direction)
    radius = not_negative("radius", radius)
    current = number("current", current)
    offset = points - vector("point_on_axis", point_on_axis)
    offset -= np.outer(offset @ axis, axis)
    within = np.maximum(np.einsum("ni,ni->n", offset, offset), radius**2)
    strength = np.divide(VACUUM_PERMEABILITY * current / (2 * np.pi), within,
                         out=np.zeros(len(points)), where=within > 0)
    return strength[:, np.newaxis] * np.cross(axis, offset)


def loop_field(points, centre, normal, radius, current) -> np.ndarray:
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
    axis = _axis("normal", normal)
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


def _loop_integrals(complement) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
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
    return (first_kind * (0.5 + modulus_squared * total),
            first_kind * (0.5 - modulus_squared * total) / complement,
            first_kind * (0.5 - (2.0 - modulus_squared) * total) / complement)


def block_magnet_field(points, centre, size, polarisation) -> np.ndarray:
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


def gap_field(gap, size, polarisation, centre=(0.0, 0.0, 0.0), direction=(1.0, 0.0, 0.0)) -> Callable:
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
    axis = _axis("direction", direction)
    if np.count_nonzero(axis) != 1:
        raise ValueError("direction must be along x, y or z, with only one part that is not 0")
    magnetised = number("polarisation", polarisation) * axis
    offset = (gap / 2 + np.abs(axis) @ half) * axis
    centres = np.stack([centre - offset, centre + offset])[:, np.newaxis]

    def field(points) -> np.ndarray:
        relative = (vectors("points", points) - centres).reshape(-1, 3)
        return _block_field(relative, half, magnetised).reshape(2, -1, 3).sum(axis=0)

    return field


def _block_field(points, half, polarisation) -> np.ndarray:
    """`block_magnet_field` of a block at the origin with half lengths `half`; nothing is checked."""
    # From the lower and the upper corner plane of each axis: shape (axis, corner, n).
    low, high = points.T + half[:, np.newaxis], points.T - half[:, np.newaxis]
    offsets = np.stack([low, high], axis=1)
    # +1 and -1: the side of each corner plane the point is on; on a face it is taken to be inside.
    sides = np.stack([np.where(low >= 0, 1.0, -1.0), np.where(high <= 0, -1.0, 1.0)], axis=1)
    squares = offsets**2
    x, y, z = squares[0, :, None, None], squares[1, None, :, None], squares[2, None, None, :]
    distance = np.sqrt(x + y + z)  # (2, 2, 2, n), axes of space in order
    closest = (ON_THE_LINE * 2 * half.max()) ** 2

    field = np.zeros((3, len(points)))
    for axis in np.flatnonzero(polarisation):
        # Put the axis of polarisation first; the other two follow in turn.
        second, third = (axis + 1) % 3, (axis + 2) % 3
        r = distance.transpose(axis, second, third, 3)
        along, across, height = (offsets[each] for each in (axis, second, third))
        angle = np.arctan2(across[None, :, None] * height[None, None, :], np.abs(along[:, None, None]) * r)
        angle *= sides[axis][:, None, None]
        scale = polarisation[axis] / (4 * np.pi)
        field[axis] -= scale * _alternate(angle)
        field[second] += scale * _edge_logarithms(squares[axis], squares[second], height, closest)
        field[third] += scale * _edge_logarithms(squares[axis], squares[third], across, closest)
    inside = np.all(np.abs(points) <= half, axis=1)
    return field.T + inside[:, np.newaxis] * polarisation


def _edge_logarithms(first_squared, second_squared, along, closest) -> np.ndarray:
    """The signed sum of ln(along + r) over a block's corners; squared distances across the edge and `along` it, (2, n).

    arsinh(along / h), h the distance from the edge's line, differs from the logarithm by ln h, which the two ends of
    an edge share with opposite signs, and has no difference of nearly equal numbers.
    """
    from_the_edge = np.sqrt(np.maximum(first_squared[:, None] + second_squared[None, :], closest))
    return _alternate(np.arcsinh(along[None, None] / from_the_edge[:, :, None]))


def _alternate(corners) -> np.ndarray:
    """The sum over the eight corners, shape (2, 2, 2, n), each upper plane changing the sign; shape (n,)."""
    edges = corners[0] - corners[1]
    ends = edges[0] - edges[1]
    return ends[0] - ends[1]


def earth_field(horizontal, dip, north=(0.0, 0.0, -1.0), up=(0.0, 1.0, 0.0)) -> np.ndarray:
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
    vertical = _axis("up", up)
    northward = unit("north", north)
    northward = unit("north", northward - (northward @ vertical) * vertical)
    if not np.any(northward):
        raise ValueError("north must have a part across up")
    return horizontal * (northward - np.tan(dip) * vertical)


def _axis(name: str, value) -> np.ndarray:
    """`value` as a direction of length 1; `ValueError` when it has none."""
    direction = unit(name, value)
    if not np.any(direction):
        raise ValueError(f"{name} must have a length greater than 0")
    return direction


def _half_size(size) -> np.ndarray:
    """Half the lengths of a block, each above 0."""
    size = vector("size", size)
    if np.any(size <= 0):
        raise ValueError("size must be three lengths greater than 0")
    return size / 2
