"""The parts of a drawn hand: fingers, palm and nails, each a closed shape with few faces.

The parts overlap and are drawn as one `Mesh`. Lengths are in hand lengths (wrist to fingertip about 1).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from visual.solid.mesh import Mesh

# the rounded end of a finger: its width, and the distance before the tip, both in radii of the finger
_TIP_WIDTHS = np.array([1.0, 0.84, 0.50])
_TIP_BEFORE = np.array([1.05, 0.50, 0.13])
# thickness of a finger between two joints, as a share of that at the joints
_SLIM = 0.93
_STRAIGHT = np.zeros(3)


@dataclass(frozen=True)
class Finger:
    """A finger or thumb: `joints` (k, 3) from inside the palm to the tip, `radii` (k,) there, `back` (3,) the direction that its
    nail faces, the joint `tip_from` at which the colour of its tip begins (None for no such colour), and the number of `sides`
    of its section."""

    joints: np.ndarray
    radii: np.ndarray
    back: np.ndarray
    tip_from: int | None
    sides: int = 8

    @property
    def tip(self) -> np.ndarray:
        """The tip of the finger, (3,)."""
        return self.joints[-1]

    @property
    def direction(self) -> np.ndarray:
        """The direction of the finger's last bone, unit vector (3,)."""
        return _units(self.joints[-1] - self.joints[-2])

    def root(self, points) -> np.ndarray:
        """Which of `points` (n, 3) lie up to the first joint, (n,) bool."""
        before, after = _units(self.joints[1] - self.joints[0]), _units(self.joints[2] - self.joints[1])
        return (points - self.joints[1]) @ _units(before + after) <= 0.5 * self.radii[1]


class _Section(NamedTuple):
    """A round section of a finger. `fold` points into the bend of the finger; its length, in radii, is how much further the section
    reaches on that side; zeros where the finger is straight."""

    centre: np.ndarray
    direction: np.ndarray
    back: np.ndarray
    radius: float
    fold: np.ndarray

    def points(self, sides: int) -> np.ndarray:
        """The corners, (sides, 3), counter-clockwise seen from the fingertip."""
        # turned by half a step, so that a flat side, not an edge, is at the back under the nail
        angle = 2 * np.pi * (np.arange(sides) + 0.5) / sides
        outward = np.cos(angle)[:, None] * self.back - np.sin(angle)[:, None] * np.cross(self.back, self.direction)
        longer = np.linalg.norm(self.fold)
        if longer:
            outward = outward + np.clip(outward @ self.fold, 0.0, None)[:, None] * self.fold / longer
        return self.centre + self.radius * outward


def finger_shape(finger: Finger, colour, tip_colour) -> Mesh:
    """A tapered round tube through the finger's joints, with a rounded end in `tip_colour`."""
    sections = _sections_by_bone(finger)
    coloured_from = len(sections) if finger.tip_from is None else finger.tip_from
    if finger.tip_from is not None:
        # the same section twice: the colour changes sharply there
        sections[coloured_from].insert(0, sections[coloured_from - 1][-1])
    rings = [section.points(finger.sides) for bone in sections for section in bone]
    colours = [tip_colour if i >= coloured_from else colour for i, bone in enumerate(sections) for _ in bone]
    return lofted(rings, colours, end=finger.tip)


def _sections_by_bone(finger: Finger) -> list[list[_Section]]:
    """The sections from the base to the last before the tip, one list for each bone: list i leads to joint i + 1."""
    joints, radii = finger.joints, finger.radii
    along = _units(np.diff(joints, axis=0))
    backs = _carried_backs(along, finger.back)
    bones = [[_Section(joints[0], along[0], backs[0], radii[0], _STRAIGHT)]]
    for i in range(1, len(joints) - 1):
        at_joint = _joint_sections(joints[i], along[i - 1 : i + 1], backs[i - 1 : i + 1], radii[i])
        if i == 1:
            bones[0] += at_joint
            continue
        start, end = bones[-1][-1].centre, at_joint[0].centre
        slim = []
        if np.linalg.norm(end - start) > 1.6 * radii[i]:
            radius = 0.5 * _SLIM * (radii[i - 1] + radii[i])
            slim = [_Section(0.5 * (start + end), along[i - 1], backs[i - 1], radius, _STRAIGHT)]
        bones.append(slim + at_joint)
    bones.append(
        [
            _Section(finger.tip - before * along[-1], along[-1], backs[-1], radius, _STRAIGHT)
            for before, radius in zip(radii[-1] * _TIP_BEFORE, radii[-1] * _TIP_WIDTHS, strict=True)
        ]
    )
    return bones


def _joint_sections(joint, along, backs, radius) -> list[_Section]:
    """One section where the finger is nearly straight; at a bend three: before it, in its middle and after it."""
    half_angle = 0.5 * np.arccos(np.clip(along[0] @ along[1], -1.0, 1.0))
    # the inside of a mitred bend reaches further than the radius; the outside, kept at the radius, is the knuckle
    fold = (1 / np.cos(half_angle) - 1) * _units(along[1] - along[0]) if half_angle > 1e-6 else _STRAIGHT
    middle = _Section(joint, _units(along[0] + along[1]), _units(backs[0] + backs[1]), radius, fold)
    if half_angle < np.radians(12):
        return [middle]
    # any nearer, the inner sides of the sections would cross
    clear = 1.12 * radius * np.tan(half_angle)
    return [
        _Section(joint - clear * along[0], along[0], backs[0], radius, _STRAIGHT),
        middle,
        _Section(joint + clear * along[1], along[1], backs[1], radius, _STRAIGHT),
    ]


def _carried_backs(along, last_back) -> np.ndarray:
    """The direction that the back of each bone faces, (k, 3): that of the last bone, turned back through each bend."""
    backs = [_units(last_back - (last_back @ along[-1]) * along[-1])]
    for here, after in zip(along[-2::-1], along[:0:-1], strict=True):
        backs.insert(0, backs[0] - (backs[0] @ here) / (1 + here @ after) * (here + after))
    return np.array(backs)


def lofted(rings, colours, end=None) -> Mesh:
    """A closed shape through `rings` (n, k, 3), counter-clockwise seen from the far end, each in one of `colours` (n, 3).

    The first ring is closed flat; the last ends in the point `end`, or flat without one. Two rings in the same place make a
    sharp change of colour. Normals are smooth throughout.
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
    all_triangles = np.vstack(triangles)
    return Mesh(points, smooth_normals(points, all_triangles), colours, all_triangles)


def _fan(k: int) -> np.ndarray:
    """Triangles that fill a ring of k points, in a zigzag so that none is a sliver."""
    low, high, triangles = 0, k - 1, []
    while high - low > 1:
        triangles.append((low, low + 1, high))
        low += 1
        if high - low > 1:
            triangles.append((low, high - 1, high))
            high -= 1
    return np.array(triangles)


def smooth_normals(points, triangles) -> np.ndarray:
    """Unit normals (n, 3): at each place the mean of the faces that meet there, weighted by their angles there, so that a narrow
    rim counts as much as the large wall beside it. Points at the same place share a normal."""
    corners = points[triangles]
    onward = _units(np.roll(corners, -1, axis=1) - corners)
    angles = np.arccos(np.clip(-np.sum(onward * np.roll(onward, 1, axis=1), axis=2), -1.0, 1.0))
    faces = _units(np.cross(onward[:, 0], onward[:, 1]))
    _, place = np.unique(np.round(points, 9), axis=0, return_inverse=True)
    place = place.reshape(-1)
    sums = np.zeros((int(np.max(place)) + 1, 3))
    np.add.at(sums, place[triangles], angles[:, :, None] * faces[:, None])
    return _units(sums[place])


def nail_shape(finger: Finger, colour) -> Mesh:
    """A fingernail on the back of the fingertip: a thin curved plate with rounded ends, its edges inside the finger."""
    direction, radius = finger.direction, finger.radii[-1]
    back = _units(finger.back - (finger.back @ direction) * direction)
    across = np.cross(back, direction)
    # in radii of the finger, from the root of the nail to its end; the corners of its section are inside the finger
    before = np.array([1.9, 1.6, 0.75, 0.30])
    width = np.array([0.65, 1.0, 0.95, 0.65])
    height = np.array([0.95, 1.08, 1.04, 0.70])
    section = np.array([[0.60, 0.60], [0.50, 0.92], [0.20, 1.0], [-0.20, 1.0], [-0.50, 0.92], [-0.60, 0.60]])
    rings = (
        finger.tip
        - radius * before[:, None, None] * direction
        + radius * (width[:, None] * section[:, 0])[:, :, None] * across
        + radius * (height[:, None] * section[:, 1])[:, :, None] * back
    )
    nail = lofted(rings, np.tile(np.asarray(colour, float), (len(rings), 1)))
    # lit like the finger under it, as a thin plate's own edges would show as dark specks
    outward = nail.points - finger.tip
    outward = _units(outward - (outward @ direction)[:, None] * direction)
    return Mesh(nail.points, outward, nail.colours, nail.triangles)


def skinned(body: Mesh, finger: Mesh, root: np.ndarray, depth: float) -> tuple[Mesh, Mesh]:
    """`body` and `finger` with normals that blend into each other where the finger joins the body.

    root   which points of the finger belong to its root, (n,) bool: only there do the two share a skin
    depth  the distance from the seam within which the normals change

    Where the surfaces cross, both have the same normal, half of each, so that light shows no edge there.
    """
    everywhere = np.ones(len(body.points), bool)
    return _leaning(body, everywhere, finger, root, depth), _leaning(finger, root, body, everywhere, depth)


def _leaning(mesh: Mesh, may_lean, other: Mesh, counts, depth) -> Mesh:
    """`mesh` with the normals of the points that `may_lean` turned toward those of the points of `other` that count: half way where
    the surfaces meet, all the way at `depth` inside it, not at all at `depth` outside."""
    faces = other.triangles[counts[other.triangles].all(axis=1)]
    places = np.vstack([other.points[counts], other.points[faces].mean(axis=1)])
    normals = np.vstack([other.normals[counts], other.normals[faces].mean(axis=1)])
    distances = np.linalg.norm(mesh.points[:, None] - places, axis=2)
    nearest = distances.argmin(axis=1)
    height = np.sum((mesh.points - places[nearest]) * normals[nearest], axis=1)
    # beyond the rim of the other surface, a height above it means nothing
    beyond = np.maximum(distances.min(axis=1) - 2 * depth, 0.0)
    share = np.clip(0.5 - 0.5 * (height + beyond) / depth, 0.0, 1.0)
    share = np.where(may_lean, share * share * (3 - 2 * share), 0.0)[:, None]
    turned = _units((1 - share) * mesh.normals + share * normals[nearest])
    return Mesh(mesh.points, turned, mesh.colours, mesh.triangles)


def _units(vectors) -> np.ndarray:
    """`vectors` scaled to length 1 along the last axis."""
    return vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)
