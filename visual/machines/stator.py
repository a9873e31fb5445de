"""What stators are made of: iron with open slots, pieces of rings, and the dot or cross of a current along the shaft.

The dot is the tip of an arrow that flies toward the eye, the cross its tail: each mark is one solid right through the
machine, so that from the other end dots are seen as crosses.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, block, crossed, joined, repeated, rod
from visual.solid.shade import hidden_share, with_shade
from visual.solid.solids import Hideable, Solid
from visual.solid.told import Told, point

ALONG_SHAFT = np.array([0.0, 0.0, 1.0])
# rotations that carry x toward +z and away from it, and leave y upward
TOWARD, AWAY = np.array([[0.0, 0, -1], [0, 1, 0], [1, 0, 0]]), np.array([[0.0, 0, 1], [0, 1, 0], [-1, 0, 0]])
LAMINATIONS = (0.76, 0.79, 0.80)  # the bare sheets of a core
SLOT_SHARE = 0.6  # of a slot pitch that is slot, the rest being tooth
OVERHANG = 0.006  # m by which the conductors stand out of the iron
WHITE = (1.0, 1.0, 1.0)


@dataclass(frozen=True)
class StatorShape:
    """Radii of the bore, of the bottom of the slots and of the outside, and half the length of the iron; metres."""

    bore: float = 0.060
    slot_bottom: float = 0.083
    outside: float = 0.102
    half_length: float = 0.03

    @property
    def slot_middle(self) -> float:
        return (self.bore + self.slot_bottom) / 2


def polar(radius: float, angle: float, z: float = 0.0) -> np.ndarray:
    """A place by its distance from the shaft and its angle, counter-clockwise from x as seen from +z."""
    return np.array([radius * np.cos(angle), radius * np.sin(angle), z])


def turned(angle: float) -> np.ndarray:
    """The rotation by `angle` about the shaft, counter-clockwise seen from +z."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


class CurrentMark(Hideable):
    """A dot at the end toward which current flows, a cross at the other; as large as the current."""

    _shape: Solid | None = None

    def __init__(self, half_length: float):
        if CurrentMark._shape is None:
            CurrentMark._shape = Solid(_mark())
            CurrentMark._shape.visible = False
        self.half_length = half_length
        self.solid = CurrentMark._shape.copy()
        self._flowing = False
        self._middle, self._sign = (0.0, 0.0, 0.0), 0

    def put(self, middle, radius: float, share: float) -> None:
        """Stand it round `middle`; a share of 1 gives it that radius, a negative one turns it round."""
        size = round(abs(share), 3) * radius
        self._flowing = size > 0.02 * radius
        self._show()
        self._middle, self._sign = point(middle), 1 if share > 0 else -1
        if self._flowing and self._visible:
            self.solid.put(middle, TOWARD if share > 0 else AWAY, (self.half_length, size, size))

    def tell(self, found: Told) -> None:
        """The sign is that of the current toward +z: a dot at that end of the machine, a cross at the other."""
        if self._flowing:
            found.marks.append(("dot toward the drive end" if self._sign > 0 else "cross toward the drive end", self._middle, self._sign))

    def _show(self) -> None:
        self.solid.visible = self._visible and self._flowing


def _mark() -> Mesh:
    """Along x from -1 to 1, of radius 1: a disc with a dot at +1 and one with a cross at -1."""
    bar = block([-1.0, 0, 0], [0.06, 0.3, 1.5], palette.INK)
    tilt = [np.array([[1.0, 0, 0], [0, c, -s], [0, s, c]]) for c, s in ((np.sqrt(0.5), np.sqrt(0.5)), (np.sqrt(0.5), -np.sqrt(0.5)))]
    return joined(
        rod([0.9, 0, 0], [1.0, 0, 0], 1.0, WHITE, 16),
        rod([0.95, 0, 0], [1.04, 0, 0], 0.42, palette.INK, 10),
        rod([-1.0, 0, 0], [-0.9, 0, 0], 1.0, WHITE, 16),
        *[bar.turned(turn) for turn in tilt],
    )


def slotted_iron(shape: StatorShape, slot_angles, pitch: float) -> Mesh:
    """Teeth, yoke and both faces."""
    half = SLOT_SHARE * pitch / 2
    slot = sector(np.linspace(-half, half, 3), shape.slot_bottom, shape.outside, shape.half_length)
    tooth = sector(np.linspace(half, pitch - half, 3), shape.bore, shape.outside, shape.half_length)
    one = joined(slot, tooth).coloured(LAMINATIONS)
    ring = repeated(one, slot_angles)
    return repeated(with_shade(one, hidden_share(one.turned(turned(slot_angles[0])), ring)), slot_angles)


def sector(angles, inner: float, outer: float, half_length: float) -> Mesh:
    """A piece of a thick ring between the first and the last of the rising `angles`, from -half_length to half_length
    along the shaft, with a polygon for its arcs."""
    way = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(len(angles))])
    ends = half_length * ALONG_SHAFT
    edge = np.array([way[0], way[-1]])
    sides = np.array([[way[0][1], -way[0][0], 0.0], [-way[-1][1], way[-1][0], 0.0]])
    strips = [
        (inner * way + ends, outer * way + ends, np.tile(ALONG_SHAFT, (len(angles), 1))),
        (outer * way - ends, inner * way - ends, np.tile(-ALONG_SHAFT, (len(angles), 1))),
        (outer * way + ends, outer * way - ends, way),
        (inner * way - ends, inner * way + ends, -way),
        (np.array([inner, outer])[:, None] * edge[0] - ends, np.array([inner, outer])[:, None] * edge[0] + ends, np.tile(sides[0], (2, 1))),
        (np.array([outer, inner])[:, None] * edge[1] - ends, np.array([outer, inner])[:, None] * edge[1] + ends, np.tile(sides[1], (2, 1))),
    ]
    return joined(*[_strip(*strip) for strip in strips])


def _strip(first, second, normals) -> Mesh:
    """A band between two lines of points, wound so that it faces along `normals`."""
    count = len(first)
    near = np.arange(count - 1)
    triangles = np.concatenate([np.array([near, near + count, near + count + 1]).T, np.array([near, near + count + 1, near + 1]).T])
    points = np.concatenate([first, second])
    face = crossed(second[0] - first[0], second[1] - first[0])
    if face @ normals[0] < 0:
        triangles = triangles[:, ::-1]
    return Mesh(points, np.concatenate([normals, normals]), np.zeros((2 * count, 3)), triangles)
