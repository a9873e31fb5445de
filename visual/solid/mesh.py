"""Shapes made of triangles, low-sided with smooth normals, as plain arrays: what the page can draw by the hundred.

Nothing here knows VPython; `solids.Solid` puts a shape on the bench. Lengths in metres, colours red-green-blue 0..1.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np


@dataclass(frozen=True)
class Mesh:
    """A shape: `points` (n, 3), outward unit `normals` (n, 3), `colours` (n, 3) in 0..1, `triangles` (m, 3) of
    indices, counter-clockwise seen from outside."""

    points: np.ndarray
    normals: np.ndarray
    colours: np.ndarray
    triangles: np.ndarray

    def moved(self, by) -> Mesh:
        """The same shape shifted by the vector `by`."""
        return Mesh(self.points + np.asarray(by, float), self.normals, self.colours, self.triangles)

    def turned(self, rotation) -> Mesh:
        """The same shape turned by the 3x3 `rotation` about the origin."""
        matrix = np.asarray(rotation, float)
        return Mesh(self.points @ matrix.T, self.normals @ matrix.T, self.colours, self.triangles)

    def mirrored_in_x(self) -> Mesh:
        """The mirror image in the plane x = 0, its triangles turned over so that they still face outward."""
        mirror = np.array([-1.0, 1.0, 1.0])
        return Mesh(self.points * mirror, self.normals * mirror, self.colours, self.triangles[:, ::-1])

    def coloured(self, colour) -> Mesh:
        """The same shape in one `colour`."""
        return Mesh(self.points, self.normals, _everywhere(colour, len(self.points)), self.triangles)


def joined(*meshes: Mesh) -> Mesh:
    """Several shapes as one, to be drawn in one go."""
    offsets = np.cumsum([0] + [len(mesh.points) for mesh in meshes[:-1]])
    return Mesh(
        np.concatenate([mesh.points for mesh in meshes]),
        np.concatenate([mesh.normals for mesh in meshes]),
        np.concatenate([mesh.colours for mesh in meshes]),
        np.concatenate([mesh.triangles + offset for mesh, offset in zip(meshes, offsets, strict=True)]),
    )


def repeated(shape: Mesh, angles) -> Mesh:
    """Copies of a shape as one, turned by each of the `angles` about z, counter-clockwise seen from +z."""
    angle = np.asarray(angles, float)
    count, zero = len(angle), np.zeros_like(angle)
    turns = np.array([[np.cos(angle), -np.sin(angle), zero], [np.sin(angle), np.cos(angle), zero], [zero, zero, zero + 1]])
    points, normals = (np.einsum("ijn,kj->nki", turns, lines).reshape(-1, 3) for lines in (shape.points, shape.normals))
    triangles = shape.triangles + len(shape.points) * np.arange(count)[:, None, None]
    return Mesh(points, normals, np.tile(shape.colours, (count, 1)), triangles.reshape(-1, 3))


def rotation_to(x_axis, y_axis) -> np.ndarray:
    """The 3x3 rotation that carries x to `x_axis` and y to the part of `y_axis` at right angles to it."""
    # plain numbers: this is asked for every arrow of every picture, where numpy's small arrays cost more than they help
    x0, x1, x2 = (float(part) for part in x_axis)
    long = math.sqrt(x0 * x0 + x1 * x1 + x2 * x2)
    x0, x1, x2 = x0 / long, x1 / long, x2 / long
    y0, y1, y2 = (float(part) for part in y_axis)
    along = x0 * y0 + x1 * y1 + x2 * y2
    y0, y1, y2 = y0 - along * x0, y1 - along * x1, y2 - along * x2
    long = math.sqrt(y0 * y0 + y1 * y1 + y2 * y2)
    y0, y1, y2 = y0 / long, y1 / long, y2 / long
    return np.array([[x0, y0, x1 * y2 - x2 * y1], [x1, y1, x2 * y0 - x0 * y2], [x2, y2, x0 * y1 - x1 * y0]])


def at_right_angles(way: list[float]) -> list[float]:
    """A unit vector at right angles to the unit vector `way`, as near as possible to the axis furthest from it."""
    least = min(range(3), key=lambda part: abs(way[part]))
    share = way[least]
    long = math.sqrt(1.0 - share * share)
    return [((1.0 if part == least else 0.0) - share * way[part]) / long for part in range(3)]


def swept(profile, centre_line, sideways, colour) -> Mesh:
    """A tube: the closed `profile` (k, 2) carried along `centre_line` (n, 3), ends capped.

    `sideways` is a vector never parallel to the line: the profile's first coordinate points that way as far as it
    can. Normals are smooth round the tube.
    """
    profile = np.asarray(profile, float)
    line = np.asarray(centre_line, float)
    steps = _units(line[1:] - line[:-1])
    along = _units(np.concatenate([steps[:1], steps[1:] + steps[:-1], steps[-1:]]))  # at a corner halfway between, however far the next is
    wanted = np.asarray(sideways, float)
    across = _units(wanted - (along @ wanted)[:, None] * along)
    upward = crossed(along, across)
    rings = line[:, None] + profile[None, :, :1] * across[:, None] + profile[None, :, 1:] * upward[:, None]
    edge = np.concatenate([profile[1:], profile[:1]]) - np.concatenate([profile[-1:], profile[:-1]])
    outward = _units(np.array([edge[:, 1], -edge[:, 0]]).T)
    normals = outward[None, :, :1] * across[:, None] + outward[None, :, 1:] * upward[:, None]
    n, k = len(line), len(profile)
    points = np.concatenate([rings.reshape(-1, 3), rings[0], rings[-1]])
    of_caps = _everywhere(-along[0], k), _everywhere(along[-1], k)
    return Mesh(points, np.concatenate([normals.reshape(-1, 3), *of_caps]), _everywhere(colour, len(points)), _of_a_tube(n, k))


@lru_cache(maxsize=512)  # thousands of tubes have a few hundred numbers of points
def _of_a_tube(n: int, k: int) -> np.ndarray:
    """The triangles of a tube of `n` rings of `k` points, and then of its two caps."""
    i, j = np.meshgrid(np.arange(n - 1), np.arange(k), indexing="ij")
    a, b = i * k + j, i * k + (j + 1) % k
    walls = np.concatenate([np.stack([a, b, b + k], -1), np.stack([a, b + k, a + k], -1)]).reshape(-1, 3)
    fan = n * k + np.array([np.zeros(k - 2, int), np.arange(1, k - 1), np.arange(2, k)]).T
    triangles = np.concatenate([walls, fan[:, ::-1], fan + k])
    triangles.flags.writeable = False
    return triangles


def _units(rows: np.ndarray) -> np.ndarray:
    """The rows, each scaled to length 1: for a few a third of what numpy's norm takes."""
    return rows / np.sqrt((rows * rows).sum(axis=1, keepdims=True))


def _everywhere(vector, count: int) -> np.ndarray:
    """The same vector `count` times, (count, 3)."""
    rows = np.empty((count, 3))
    rows[:] = vector
    return rows


def crossed(first, second) -> np.ndarray:
    """The cross product of each row of `first` (n, 3) and `second` (n, 3); for a few rows a tenth of what numpy's own takes."""
    (a0, a1, a2), (b0, b1, b2) = first.T, second.T
    return np.array([a1 * b2 - a2 * b1, a2 * b0 - a0 * b2, a0 * b1 - a1 * b0]).T


def simplified(line, tolerance: float) -> np.ndarray:
    """The points of `line` (n, 3) without those that a straight line between the others passes within `tolerance`
    (Douglas and Peucker 1973); its ends stay."""
    line = np.asarray(line, float)
    kept, pieces = [0], [(0, len(line) - 1)]
    while pieces:
        first, last = pieces.pop()
        off = line[first + 1 : last] - line[first]
        if not len(off):
            kept.append(last)
            continue
        chord = line[last] - line[first]
        square = chord @ chord
        if square > 0:
            along = off @ chord / square
            off -= np.minimum(np.maximum(along, 0.0), 1.0)[:, None] * chord
        far = np.einsum("ij,ij->i", off, off)
        worst = int(far.argmax())
        if far[worst] <= tolerance**2:
            kept.append(last)
        else:
            middle = first + 1 + worst
            pieces += [(middle, last), (first, middle)]
    return line[kept]


def circle(radius: float, sides: int = 8) -> np.ndarray:
    """A regular polygon as a profile for `swept`, counter-clockwise, shape (sides, 2)."""
    angles = 2 * np.pi * np.arange(sides) / sides
    return radius * np.array([np.cos(angles), np.sin(angles)]).T


def rod(start, end, radius: float, colour, sides: int = 10) -> Mesh:
    """A straight round rod from `start` to `end`."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    return swept(circle(radius, sides), [start, end], _not_along(end - start), colour)


def cone(base, tip, radius: float, colour, sides: int = 12) -> Mesh:
    """A cone standing on a disc round `base`, its point at `tip`."""
    base, tip = np.asarray(base, float), np.asarray(tip, float)
    height = np.linalg.norm(tip - base)
    axis = (tip - base) / height
    across = crossed(axis, _not_along(axis))
    across /= np.linalg.norm(across)
    angles = 2 * np.pi * np.arange(sides) / sides
    outward = np.cos(angles)[:, None] * across + np.sin(angles)[:, None] * crossed(axis, across)
    rim = base + radius * outward
    slope = _units(outward * height + axis * radius)
    around = np.arange(sides)
    after = (around + 1) % sides
    walls = np.column_stack([around, after, sides + around])
    floor = 2 * sides + np.column_stack([np.zeros(sides - 2, int), around[2:], around[1:-1]])
    points = np.concatenate([rim, _everywhere(tip, sides), rim])
    normals = np.concatenate([slope, slope, _everywhere(-axis, sides)])
    return Mesh(points, normals, _everywhere(colour, len(points)), np.concatenate([walls, floor]))


def block(centre, size, colour) -> Mesh:
    """A box with its sides along the axes."""
    points = CUBE_CORNERS * np.asarray(size, float) + np.asarray(centre, float)
    return Mesh(points, CUBE_NORMALS, _everywhere(colour, 24), CUBE_TRIANGLES)


def _cube() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Corners of a cube of side 1 about the origin, four for each face, their normals, and its triangles."""
    corners, normals = [], []
    for axis in range(3):
        for sign in (-1.0, 1.0):
            normal, side, up = np.roll([1.0, 0, 0], axis) * sign, np.roll([0, 1.0, 0], axis), np.roll([0, 0, 1.0], axis)
            if sign < 0:
                side, up = up, side
            corners += [normal - side - up, normal + side - up, normal + side + up, normal - side + up]
            normals += [normal] * 4
    quads = np.arange(24).reshape(6, 4)
    return 0.5 * np.array(corners), np.array(normals), np.vstack([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])


CUBE_CORNERS, CUBE_NORMALS, CUBE_TRIANGLES = _cube()


def ring(radius: float, thickness: float, colour, around: int = 48, sides: int = 6) -> Mesh:
    """A closed round ring about the y axis, of round section `thickness` across."""
    angle = 2 * np.pi * np.arange(around) / around
    turn = 2 * np.pi * np.arange(sides) / sides
    outward = np.column_stack([np.cos(angle), np.zeros(around), -np.sin(angle)])
    normals = np.cos(turn)[None, :, None] * outward[:, None] + np.sin(turn)[None, :, None] * np.array([0, 1.0, 0])
    points = radius * outward[:, None] + 0.5 * thickness * normals
    i, j = np.meshgrid(np.arange(around), np.arange(sides), indexing="ij")
    a, b = i * sides + j, i * sides + (j + 1) % sides
    c, d = ((i + 1) % around) * sides + (j + 1) % sides, ((i + 1) % around) * sides + j
    triangles = np.concatenate([np.stack([a, d, c], -1), np.stack([a, c, b], -1)]).reshape(-1, 3)
    points = points.reshape(-1, 3)
    return Mesh(points, normals.reshape(-1, 3), np.tile(np.asarray(colour, float), (len(points), 1)), triangles)


def _not_along(direction) -> np.ndarray:
    """Some axis that is far from parallel to `direction`."""
    return np.eye(3)[np.argmin(np.abs(direction))]
