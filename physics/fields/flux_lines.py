"""Flux lines traced through any field, and rings round a wire spaced so that equal flux lies between them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import NumberOrArray, not_negative, number, positive, vector, vectors, whole
from physics.constants import VACUUM_PERMEABILITY
from physics.directions import plane_axes

# Dormand and Prince's fifth-order steps with their fourth-order check (J. Comp. Appl. Math. 6, 1980, p. 19).
_STAGES = (
    np.array([1 / 5]),
    np.array([3 / 40, 9 / 40]),
    np.array([44 / 45, -56 / 15, 32 / 9]),
    np.array([19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729]),
    np.array([9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656]),
    np.array([35 / 384, 0.0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84]),
)
_ERROR = np.array([71 / 57600, 0.0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40])

# Between two points that are given back a step is halved at most this often: at the face of a magnet a line has a
# corner, which no step is short enough to follow exactly.
_HALVINGS = 4


def flux_lines(
    field: Callable[[np.ndarray], np.ndarray], starts: ArrayLike, length: float, points: int = 65, tolerance: float = 1e-3
) -> np.ndarray:
    """Trace lines along the direction of a field, all of them together.

    field      function of points, shape (n, 3) metres, that gives tesla, shape (n, 3)
    starts     where the lines begin, shape (m, 3), metres
    length     of each line, metres, not 0; below 0 the lines run against the field
    points     how many evenly spaced points of each line are given back, at least 2
    tolerance  greatest error of one step, as a part of the distance between two of those points

    Returns shape (m, points, 3), metres, the start first. A line that comes to where there is no field stays there.
    Raises `ValueError` naming the argument.

    Method: dx/ds = B / |B| by Dormand and Prince's fifth-order steps; one step length for all lines, so that the
    field is asked for all of them at once.
    """
    place = vectors("starts", starts).copy()
    length, points = number("length", length), whole("points", points, least=2)
    tolerance = positive("tolerance", tolerance)
    if length == 0:
        raise ValueError("length must not be 0")
    spacing = abs(length) / (points - 1)

    def direction(at: np.ndarray) -> NumberOrArray:
        flux_density = field(at)
        size = np.sqrt(np.einsum("ni,ni->n", flux_density, flux_density))[:, np.newaxis]
        return np.sign(length) * np.divide(flux_density, size, out=np.zeros_like(flux_density), where=size > 0)

    lines = np.empty((len(place), points, 3))
    lines[:, 0] = place
    heading, step = direction(place), spacing
    for point in range(1, points):
        left = spacing
        while left > 0:
            step = min(step, left)
            # A rest too small to matter is taken along with this step.
            step = left if left - step < 1e-9 * spacing else step
            new_place, new_heading, error = _step(direction, place, heading, step)
            if error > tolerance * spacing and step > spacing / 2**_HALVINGS:
                step = max(step / 2, spacing / 2**_HALVINGS)
                continue
            place, heading, left = new_place, new_heading, left - step
            if error < tolerance * spacing / 64:
                step *= 2
        lines[:, point] = place
    return lines


def flux_line(
    field: Callable[[np.ndarray], np.ndarray], start: ArrayLike, length: float, points: int = 65, tolerance: float = 1e-3
) -> np.ndarray:
    """Trace one line along the direction of a field from `start`, shape (3,), with the arguments of `flux_lines`; shape
    (points, 3), metres."""
    return flux_lines(field, vector("start", start)[np.newaxis], length, points, tolerance)[0]


def between_faces(
    field: Callable[[np.ndarray], np.ndarray], midway: ArrayLike, axis: int, half_gap: float, points: int = 41
) -> list[np.ndarray]:
    """Lines across a gap, along the field from face to face, each (n, 3), metres.

    midway    where the lines pass the middle of the gap, shape (m, 3), metres; the coordinate `axis` is 0 there
    half_gap  metres from there to the faces, which lie across that axis; the field crosses from the lower to the higher one
    """
    there, back = (up_to_plane(flux_lines(field, midway, 2 * sign * half_gap, points), axis, sign * half_gap) for sign in (1, -1))
    return [np.vstack([before[:0:-1], after]) for before, after in zip(back, there, strict=True)]


def up_to_plane(lines: ArrayLike, axis: int, at: float) -> list[np.ndarray]:
    """Of each of `lines`, shape (m, n, 3), metres, the part before it comes to the plane where its coordinate `axis` is `at`; its last
    point lies on the plane, on the straight piece that crosses it. A line that never comes there stays whole.
    """
    ended = []
    for line in np.asarray(lines, float):
        beyond = np.sign(line[:, axis] - at) != np.sign(line[0, axis] - at)
        last = int(beyond.argmax())
        if not last:
            ended.append(line)
            continue
        before, after = line[last - 1], line[last]
        share = (at - before[axis]) / (after[axis] - before[axis])
        ended.append(np.vstack([line[:last], before + share * (after - before)]))
    return ended


def _step(
    direction: Callable[[np.ndarray], np.ndarray], place: np.ndarray, heading: np.ndarray, step: float
) -> tuple[np.ndarray, np.ndarray, float]:
    """The places and headings a step further, and the greatest error over the lines, metres."""
    slopes = np.empty((len(_ERROR), *heading.shape))
    slopes[0] = heading
    rows = slopes.reshape(len(_ERROR), -1)
    for stage, weights in enumerate(_STAGES, 1):
        new_place = place + step * (weights @ rows[:stage]).reshape(place.shape)
        slopes[stage] = direction(new_place)
    error = step * (_ERROR @ rows).reshape(place.shape)
    return new_place, slopes[-1], float(np.sqrt(np.max(np.sum(error**2, axis=1), initial=0.0)))


def ring_radii(current: float, innermost: float, outermost: float, flux_per_metre: float) -> np.ndarray:
    """Radii of flux rings round a long wire, with the same flux between any ring and the next.

    current         amperes; only its size counts
    innermost       radius of the first ring, metres, more than 0 and at least the wire's radius
    outermost       no ring is larger than this, metres; more than `innermost`
    flux_per_metre  webers between neighbouring rings, for each metre of the wire, more than 0

    Returns rising radii, metres, shape (k,): more and closer ones for a larger current, none without current.
    Raises `ValueError` naming the argument.

    Formula: the flux between r1 and r2 is mu0 I / (2 pi) * ln(r2 / r1) per metre, so each radius is the one before
    times exp(2 pi flux_per_metre / (mu0 I)).
    """
    current, innermost = abs(number("current", current)), positive("innermost", innermost)
    outermost, flux_per_metre = positive("outermost", outermost), positive("flux_per_metre", flux_per_metre)
    if outermost <= innermost:
        raise ValueError(f"outermost must be greater than innermost, {innermost:g}, not {outermost:g}")
    if current == 0:
        return np.empty(0)
    growth = 2 * np.pi * flux_per_metre / (VACUUM_PERMEABILITY * current)
    rings = int(np.floor(np.log(outermost / innermost) / growth * (1 + 1e-12))) + 1
    return innermost * np.exp(growth * np.arange(rings))


def ring(centre: ArrayLike, normal: ArrayLike, radius: float, points: int = 65) -> np.ndarray:
    """A closed circle for drawing a flux ring: shape (points, 3), metres, the last point on the first.

    centre  shape (3,), metres; normal  shape (3,), the direction of the current, which the ring goes round in the
    sense of its field (the grip rule); radius  metres, 0 or more. Raises `ValueError` naming the argument.
    """
    centre, radius = vector("centre", centre), not_negative("radius", radius)
    first, second = plane_axes("normal", normal)
    turn = np.linspace(0.0, 2 * np.pi, whole("points", points, least=4))
    return centre + radius * (np.outer(np.cos(turn), first) + np.outer(np.sin(turn), second))
