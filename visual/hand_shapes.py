"""The parts a drawn hand is made of: fingers, the body of the palm, nails. Each part is a closed low-sided shape.

The parts reach into one another and are drawn as one `Mesh`. Lengths in hand lengths (wrist to fingertip about 1).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual.mesh import Mesh

# How far the rounded end of a finger has narrowed, and how far before the very tip (in radii of the finger).
_TIP_WIDTHS = np.array([1.0, 0.84, 0.50])
_TIP_BEFORE = np.array([1.05, 0.50, 0.13])


@dataclass(frozen=True)
class Finger:
    """A finger (or thumb) as it lies: `joints` (k, 3) from inside the palm to the tip, `radii` (k,) there, and
    `back` (3,), the way its nail faces; `sides` of its section, `tip_length` that takes the tip's colour."""

    joints: np.ndarray
    radii: np.ndarray
    back: np.ndarray
    tip_length: float = 0.2
    sides: int = 8

    @property
    def tip(self) -> np.ndarray:
        """The end of the finger, (3,)."""
        return self.joints[-1]

    @property
    def direction(self) -> np.ndarray:
        """The way the last piece of the finger points, unit vector (3,)."""
        return _unit(self.joints[-1] - self.joints[-2])


def finger_shape(finger: Finger, colour, tip_colour) -> Mesh:
    """A tapered round tube through the finger's joints, bent there, with a rounded tip in `tip_colour`."""
    centres, across, upward, tinted = _finger_rings(finger)
    # Half a step of turn puts an edge line, not a corner, on the back: the nail then lies flat on it.
    angle = 2 * np.pi * (np.arange(finger.sides) + 0.5) / finger.sides
    rings = centres[:, None] + np.cos(angle)[None, :, None] * across[:, None] + _bent_outline(upward, np.sin(angle))
    colours = np.where(tinted[:, None], np.asarray(tip_colour, float), np.asarray(colour, float))
    return lofted(rings, colours, end=finger.tip)


def _finger_rings(finger: Finger):
    """Centres, half widths across (n, 3), half heights outside and inside of the bend (n, 2, 3), and which rings
    take the tip's colour, from the base to the last ring before the tip."""
    joints, radii = np.asarray(finger.joints, float), np.asarray(finger.radii, float)
    pieces = np.diff(joints, axis=0)
    lengths = np.linalg.norm(pieces, axis=1)
    along = pieces / lengths[:, None]
    backs = _backs(along, finger.back)
    rings = [(joints[0], along[0], backs[0], radii[0], 1.0, False)]
    for i in range(1, len(joints) - 1):
        rings += _joint_rings(joints[i], along[i - 1:i + 1], backs[i - 1:i + 1], radii[i])
    last, direction, back, radius = joints[-1], along[-1], backs[-1], radii[-1]
    start = last - finger.tip_length * direction
    share = 1 - finger.tip_length / lengths[-1]
    at_start = radii[-2] + share * (radius - radii[-2])
    rings += [(start, direction, back, at_start, 1.0, False), (start, direction, back, at_start, 1.0, True)]
    rings += [(last - before * radius * direction, direction, back, width * radius, 1.0, True)
              for before, width in zip(_TIP_BEFORE, _TIP_WIDTHS)]
    centres = np.array([ring[0] for ring in rings])
    directions = np.array([ring[1] for ring in rings])
    up = np.array([ring[2] for ring in rings])
    sizes = np.array([ring[3] for ring in rings])[:, None]
    stretch = np.array([ring[4] for ring in rings])[:, None]
    across = np.cross(up, directions) * sizes
    return centres, across, np.stack([up * sizes, up * sizes * stretch], axis=1), np.array([r[5] for r in rings])


def _joint_rings(joint, along, backs, radius):
    """One ring where the finger goes straight on; three round a bend: before it, in the middle, after it."""
    half_angle = 0.5 * np.arccos(np.clip(along[0] @ along[1], -1.0, 1.0))
    middle = (joint, _unit(along[0] + along[1]), _unit(backs[0] + backs[1]), radius, 1 / np.cos(half_angle), False)
    if half_angle < np.radians(6):
        return [middle]
    # Nearer than this the inner sides of the rings would cross.
    clear = 1.12 * radius * np.tan(half_angle)
    return [(joint - clear * along[0], along[0], backs[0], radius, 1.0, False), middle,
            (joint + clear * along[1], along[1], backs[1], radius, 1.0, False)]


def _backs(along, last_back):
    """The way the back of each piece faces, (k, 3): that of the last piece, carried round each bend."""
    backs = [_unit(last_back - (last_back @ along[-1]) * along[-1])]
    for here, after in zip(along[-2::-1], along[:0:-1]):
        back = backs[0]
        # Turn the frame through the bend from `after` to `here` (the shortest turn).
        total = here + after
        backs.insert(0, back - (back @ here) / (1 + here @ after) * total)
    return np.array(backs)


def _bent_outline(upward, height):
    """Offsets toward and away from the back, (n, sides, 3): `upward` holds both half heights."""
    outside, inside = upward[:, 0], upward[:, 1]
    return np.where(height[None, :, None] > 0, outside[:, None], inside[:, None]) * height[None, :, None]


def lofted(rings, colours, end=None) -> Mesh:
    """A closed shape through `rings` (n, k, 3), one of `colours` (n, 3) each, counter-clockwise seen from the far end.

    The first ring is closed flat; the last ends in the point `end`, or flat without one. Two rings in the same
    place make a sharp change of colour. Normals are smooth throughout.
    """
    rings = np.asarray(rings, float)
    n, k, _ = rings.shape
    points = rings.reshape(-1, 3)
    colours = np.repeat(np.asarray(colours, float), k, axis=0)
    i, j = np.meshgrid(np.arange(n - 1), np.arange(k), indexing="ij")
    a, b = i * k + j, i * k + (j + 1) % k
    apart = np.linalg.norm(rings[1:] - rings[:-1], axis=2).max(axis=1) > 1e-12
    walls = np.stack([np.stack([a, b, b + k], -1), np.stack([a, b + k, a + k], -1)], axis=1)[apart].reshape(-1, 3)
    triangles = [walls, _fan(k)[:, ::-1]]
    if end is None:
        triangles.append((n - 1) * k + _fan(k))
    else:
        points = np.vstack([points, end])
        colours = np.vstack([colours, colours[-1]])
        around = (n - 1) * k + np.arange(k)
        triangles.append(np.column_stack([around, np.roll(around, -1), np.full(k, n * k)]))
    triangles = np.vstack(triangles)
    return Mesh(points, smooth_normals(points, triangles), colours, triangles)


def _fan(k: int) -> np.ndarray:
    """Triangles that fill a ring of k points, zigzag so that none is a sliver."""
    low, high, triangles = 0, k - 1, []
    while high - low > 1:
        triangles.append((low, low + 1, high))
        low += 1
        if high - low > 1:
            triangles.append((low, high - 1, high))
            high -= 1
    return np.array(triangles)


def smooth_normals(points, triangles) -> np.ndarray:
    """Unit normals (n, 3): at each place the mean of the faces that meet there, weighted by area. Points that share a
    place share a normal."""
    corners = points[triangles]
    faces = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    _, place = np.unique(np.round(points, 9), axis=0, return_inverse=True)
    place = place.reshape(-1)
    sums = np.zeros((place.max() + 1, 3))
    np.add.at(sums, place[triangles].reshape(-1), np.repeat(faces, 3, axis=0))
    normals = sums[place]
    return normals / np.linalg.norm(normals, axis=1, keepdims=True)


def nail_shape(finger: Finger, colour) -> Mesh:
    """A fingernail lying on the back of the finger's tip: a thin curved plate with rounded ends."""
    direction, radius = finger.direction, finger.radii[-1]
    back = _unit(finger.back - (finger.back @ direction) * direction)
    across = np.cross(back, direction)
    before = np.array([1.75, 1.5, 0.55, 0.3])
    half_width = np.array([0.34, 0.52, 0.52, 0.30])
    lift = np.array([1.0, 1.02, 0.98, 0.86])
    middle = finger.tip - radius * before[:, None] * direction + radius * lift[:, None] * back
    sideways = radius * half_width[:, None] * across
    drop = -radius * 0.22 * back
    rings = np.stack([middle + sideways + 1.6 * drop, middle + sideways + drop, middle + 0.06 * radius * back,
                      middle - sideways + drop, middle - sideways + 1.6 * drop], axis=1)
    return lofted(rings, np.tile(np.asarray(colour, float), (len(rings), 1)))


def _unit(vector) -> np.ndarray:
    return vector / np.linalg.norm(vector)
