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
    """A finger (or thumb) as it lies: `joints` (k, 3) from inside the palm to the tip, `radii` (k,) there, `back`
    (3,) the way its nail faces, the number of `sides` of its section, and `tip_from`, the joint at which the colour
    of the tip begins."""

    joints: np.ndarray
    radii: np.ndarray
    back: np.ndarray
    tip_from: int
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
    """A tapered round tube through the finger's joints, bent there, with a rounded end in `tip_colour`."""
    sections, in_tip_colour = _sections(finger)
    # Half a step of turn puts a flat side, not an edge, on the back: the nail lies on it.
    angle = 2 * np.pi * (np.arange(finger.sides) + 0.5) / finger.sides + 0.5 * np.pi
    rings = np.array([_ring(*section, angle) for section in sections])
    colours = np.where(np.array(in_tip_colour)[:, None], np.asarray(tip_colour, float), np.asarray(colour, float))
    return lofted(rings, colours, end=finger.tip)


def _sections(finger: Finger):
    """The sections (centre, direction, back, radius, fold) from the base to the last before the tip, and for each
    whether it takes the tip's colour. `fold` points into the bend, longer the sharper it is; zeros where straight."""
    joints, radii = finger.joints, finger.radii
    along = np.diff(joints, axis=0)
    along = along / np.linalg.norm(along, axis=1, keepdims=True)
    backs = _carried_backs(along, finger.back)
    sections, in_tip_colour = [(joints[0], along[0], backs[0], radii[0], np.zeros(3))], [False]
    for i in range(1, len(joints) - 1):
        here = _joint_sections(joints[i], along[i - 1:i + 1], backs[i - 1:i + 1], radii[i])
        if i == finger.tip_from:
            here.append(here[-1])
        sections += here
        in_tip_colour += [i > finger.tip_from] * len(here)
        in_tip_colour[-1] = i >= finger.tip_from
    for before, width in zip(_TIP_BEFORE * radii[-1], _TIP_WIDTHS * radii[-1]):
        sections.append((finger.tip - before * along[-1], along[-1], backs[-1], width, np.zeros(3)))
        in_tip_colour.append(True)
    return sections, in_tip_colour


def _joint_sections(joint, along, backs, radius) -> list:
    """One section where the finger goes straight on; three round a bend: before it, in its middle, after it."""
    half_angle = 0.5 * np.arccos(np.clip(along[0] @ along[1], -1.0, 1.0))
    if half_angle < np.radians(5):
        return [(joint, along[0], backs[0], radius, np.zeros(3))]
    fold = (1 / np.cos(half_angle) - 1) * _unit(along[1] - along[0])
    # Nearer than this the inner sides of the sections would cross.
    clear = 1.12 * radius * np.tan(half_angle)
    return [(joint - clear * along[0], along[0], backs[0], radius, np.zeros(3)),
            (joint, _unit(along[0] + along[1]), _unit(backs[0] + backs[1]), radius, fold),
            (joint + clear * along[1], along[1], backs[1], radius, np.zeros(3))]


def _carried_backs(along, last_back) -> np.ndarray:
    """The way the back of each piece faces, (k, 3): that of the last piece, turned back through each bend."""
    backs = [_unit(last_back - (last_back @ along[-1]) * along[-1])]
    for here, after in zip(along[-2::-1], along[:0:-1]):
        backs.insert(0, backs[0] - (backs[0] @ here) / (1 + here @ after) * (here + after))
    return np.array(backs)


def _ring(centre, direction, back, radius, fold, angle) -> np.ndarray:
    """The points (k, 3) of one section at the given angles, counted from the side toward the back."""
    round_it = np.cos(angle)[:, None] * np.cross(back, direction) + np.sin(angle)[:, None] * back
    depth = np.linalg.norm(fold)
    into_bend = np.clip(round_it @ fold, 0.0, None)[:, None] * (fold / depth if depth else fold)
    return centre + radius * (round_it + into_bend)


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
