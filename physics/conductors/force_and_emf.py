"""Force, torque and EMF along a conductor of any shape in any field; flux linked and cut; a circuit that is closed.

A conductor is a path: points joined by straight lines, shape (k, 3), metres, from where a positive current enters to
where it leaves. A field is a function of points, shape (n, 3) metres, that gives tesla, shape (n, 3). A coil of several
turns close together is one path with `turns`. Everything is integrated along the real path in the real field by
Gauss and Legendre's rule, with `samples` points on each straight line. Every function raises `ValueError` naming the
argument.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import number, numbers, positive, vector, vectors, whole

# Along a rod across the gap of a magnet, edges included and as near to a face as a fifteenth of its length, this is
# enough for seven figures. Over a surface, which is seldom so near, half as many each way.
SAMPLES = 64
SURFACE_SAMPLES = 32


def force(path: ArrayLike, current: float, field: Callable[[np.ndarray], np.ndarray], turns: int = 1, samples: int = SAMPLES) -> np.ndarray:
    """The force on a conductor that carries a current, newtons, shape (3,).

    path     shape (k, 3), metres;  current  amperes along the path;  field  function of points (see above)
    turns    conductors that lie together along the path;  samples  points on each straight line

    Formula: F = I * integral of dl x B.
    """
    sampled = sample(path, samples)
    return number("current", current) * whole("turns", turns) * sampled.push(field(sampled.points)).sum(axis=0)


def mean_field(path: ArrayLike, field: Callable[[np.ndarray], np.ndarray], samples: int = SAMPLES) -> np.ndarray:
    """The flux density along a conductor, averaged over its length, tesla, shape (3,).

    With it the handbook's formulas hold exactly for a straight conductor in any field, however uneven:
    F = I l x B and E = (v x B) . l, l being the whole conductor from end to end (for the EMF: all of it moving alike).
    """
    sampled = sample(path, samples)
    weights = np.sqrt(np.einsum("ni,ni->n", sampled.lengths, sampled.lengths))
    return weights @ field(sampled.points) / weights.sum()


def torque(
    path: ArrayLike, current: float, field: Callable[[np.ndarray], np.ndarray], about: ArrayLike, turns: int = 1, samples: int = SAMPLES
) -> np.ndarray:
    """The torque of that force about a point, newton metres, shape (3,).

    about  the point, shape (3,), metres; the rest as for `force`.

    Formula: integral of r x (I dl x B), r from the point.
    """
    sampled, about = sample(path, samples), vector("about", about)
    lever = np.cross(sampled.points - about, sampled.push(field(sampled.points)))
    return number("current", current) * whole("turns", turns) * lever.sum(axis=0)


def motional_emf(
    path: ArrayLike, velocity: ArrayLike, field: Callable[[np.ndarray], np.ndarray], turns: int = 1, samples: int = SAMPLES
) -> float:
    """The EMF of a conductor that moves through a field, volts; positive when it drives current along the path.

    path      shape (k, 3), metres, at this instant
    velocity  metres per second: one for all, shape (3,); or one at each point of the path, shape (k, 3), between which
              it changes evenly; or a function of points, shape (n, 3), that gives shape (n, 3)
    The rest as for `force`.

    Formula: integral of (v x B) . dl.
    """
    sampled = sample(path, samples)
    # (v x B).dl = -v.(dl x B): the same products as the force, which is why power is conserved.
    drag = sampled.push(field(sampled.points))
    return -whole("turns", turns) * float(np.einsum("ni,ni->", sampled.velocities(velocity), drag))


def flux_linkage(loop: ArrayLike, field: Callable[[np.ndarray], np.ndarray], turns: int = 1, samples: int = SURFACE_SAMPLES) -> float:
    """The flux linked by a closed loop times its turns, weber turns.

    loop     corners, shape (k, 3), metres, at least 3; the last is joined to the first
    samples  points each way on the triangle of each side; the rest as for `force`

    The flux is positive along the right thumb when the fingers curl with the corners' order, so that the EMF in that
    order is minus its rate. Formula: integral of B.dS over triangles from the corners' mean to each side. The field
    must be smooth on those; any surface would do.
    """
    corners = vectors("loop", loop)
    if len(corners) < 3:
        raise ValueError(f"loop must have at least 3 corners, not {len(corners)}")
    return whole("turns", turns) * _flux_of_fan(corners.mean(axis=0), np.vstack([corners, corners[:1]]), field, samples)


def flux_cut(
    path_before: ArrayLike,
    path_after: ArrayLike,
    field: Callable[[np.ndarray], np.ndarray],
    turns: int = 1,
    samples: int = SAMPLES,
    stations: int = SAMPLES,
) -> float:
    """The flux that a conductor cuts on its way from one position to another, times its turns, webers.

    path_before, path_after  both shape (k, 3), metres: each point goes straight from one to the other
    stations  places on the way at which the field is asked: a few are enough for a short way. The rest as for `force`.

    Divided by the time taken it is the mean EMF, positive along the path. Formula: integral of B . (dl x ds) over the
    surface swept, ds along the motion.
    """
    before, after = _path("path_before", path_before), _path("path_after", path_after)
    if before.shape != after.shape:
        raise ValueError(f"path_after must have as many points as path_before, {len(before)}, not {len(after)}")
    where, weight = _rule(whole("stations", stations))
    motion = after - before
    on_the_way = [sample(before + share * motion, samples) for share in where]
    # One question for all stations: to ask a field costs more than the points do.
    flux_density = field(np.concatenate([sampled.points for sampled in on_the_way])).reshape(len(where), -1, 3)
    swept = [
        np.einsum("ni,ni->", sampled.velocities(motion), sampled.push(there))
        for sampled, there in zip(on_the_way, flux_density, strict=True)
    ]
    return -whole("turns", turns) * float(weight @ swept)


@dataclass(frozen=True, eq=False)
class Generated:
    """A moved conductor on a resistor at one instant.

    emf               volts, positive along the path
    current           amperes, positive along the path
    force             of the field on the conductor, shape (3,), newtons: it opposes the motion
    mechanical_power  watts put in by whatever keeps the conductor moving
    electrical_power  watts turned into heat in the circuit
    """

    emf: float
    current: float
    force: np.ndarray
    mechanical_power: float
    electrical_power: float


def generate(
    path: ArrayLike,
    velocity: ArrayLike,
    field: Callable[[np.ndarray], np.ndarray],
    resistance: float,
    turns: int = 1,
    samples: int = SAMPLES,
) -> Generated:
    """A moved conductor in a circuit that is closed through a resistance.

    resistance  of the whole circuit, ohms, more than 0; the rest as for `motional_emf`.

    The circuit's own inductance is left out: it settles within microseconds. The mechanical power is worked out from
    the forces, the electrical from the current, so that their equality is a result.
    """
    resistance, turns = positive("resistance", resistance), whole("turns", turns)
    sampled = sample(path, samples)
    push = turns * sampled.push(field(sampled.points))
    velocities = sampled.velocities(velocity)
    emf = -float(np.einsum("ni,ni->", velocities, push))
    current = emf / resistance
    drag = current * push
    return Generated(emf, current, drag.sum(axis=0), -float(np.einsum("ni,ni->", velocities, drag)), current**2 * resistance)


@dataclass(frozen=True, eq=False)
class SampledPath:
    """The points of a path at which a field is asked: `points` (n, 3), metres, with the piece of conductor `lengths`
    (n, 3), metres, that each stands for; `shares` (n,) how far along its own line each lies, 0 to 1; how many `lines`.
    """

    points: np.ndarray
    lengths: np.ndarray
    shares: np.ndarray
    lines: int

    def push(self, flux_density: np.ndarray) -> np.ndarray:
        """dl x B, newtons per ampere on each piece, shape (n, 3), for tesla at `points`, shape (n, 3)."""
        return _cross(self.lengths, flux_density)

    def velocities(self, velocity: ArrayLike) -> np.ndarray:
        """Velocity at `points`, metres per second, shape (n, 3), from a velocity as `motional_emf` takes it."""
        if callable(velocity):
            velocity = vectors("velocity", velocity(self.points))
            if velocity.shape != self.points.shape:
                raise ValueError(f"velocity must give one row for each of {len(self.points)} points, not {len(velocity)}")
            return velocity
        velocity = numbers("velocity", velocity)
        if velocity.shape == (3,):
            return np.broadcast_to(velocity, self.points.shape)
        if velocity.shape != (self.lines + 1, 3):
            raise ValueError(
                f"velocity must be of shape (3,) or ({self.lines + 1}, 3), one for each point of the path, not {velocity.shape}"
            )
        samples = len(self.points) // self.lines
        first, last = np.repeat(velocity[:-1], samples, axis=0), np.repeat(velocity[1:], samples, axis=0)
        return first + self.shares[:, np.newaxis] * (last - first)


def sample(path: ArrayLike, samples: int = SAMPLES) -> SampledPath:
    """The points at which to ask a field along `path`, shape (k, 3), `samples` of them on each straight line."""
    path = _path("path", path)
    where, weight = _rule(whole("samples", samples))
    line = np.diff(path, axis=0)
    points = path[:-1, np.newaxis] + where[:, np.newaxis] * line[:, np.newaxis]
    lengths = weight[:, np.newaxis] * line[:, np.newaxis]
    return SampledPath(points.reshape(-1, 3), lengths.reshape(-1, 3), np.tile(where, len(line)), len(line))


def _flux_of_fan(tip: np.ndarray, edge: np.ndarray, field: Callable[[np.ndarray], np.ndarray], samples: int) -> float:
    """The flux through the triangles between `tip` and each line of `edge`, positive by the right hand along it."""
    where, weight = _rule(whole("samples", samples))
    lines = np.diff(edge, axis=0)
    # From the tip (0) to the edge (1) a triangle grows evenly, hence the second factor of the weight.
    along = edge[:-1, np.newaxis] + where[:, np.newaxis] * lines[:, np.newaxis] - tip
    points = tip + where[:, np.newaxis, np.newaxis, np.newaxis] * along
    flux_density = field(points.reshape(-1, 3)).reshape(points.shape)
    areas = np.cross(edge[:-1] - tip, lines)
    return float(np.einsum("r,s,rlsi,li->", weight * where, weight, flux_density, areas))


@lru_cache(maxsize=64)
def _rule(samples: int) -> tuple[np.ndarray, np.ndarray]:
    """Gauss and Legendre's points and weights between 0 and 1, each shape (samples,)."""
    where, weight = np.polynomial.legendre.leggauss(samples)
    where, weight = (where + 1) / 2, weight / 2
    where.flags.writeable = weight.flags.writeable = False
    return where, weight


def _path(name: str, value: ArrayLike) -> np.ndarray:
    """`value` as the points of a path, at least two."""
    path = vectors(name, value)
    if len(path) < 2:
        raise ValueError(f"{name} must have at least 2 points, not {len(path)}")
    return path


def _cross(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """Cross products of rows, shape (n, 3): numpy's own takes several times as long for a few rows."""
    (ax, ay, az), (bx, by, bz) = first.T, second.T
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=1)
