"""A compass lying on the table: a case with marks, and a needle whose north end is red and carries the point."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.mesh import Mesh, joined, ring, rod
from visual.solids import Solid


class CompassDrawn:
    """A compass of `radius` metres at a place; its needle turned by a vector."""

    _case: Solid | None = None
    _needle: Solid | None = None

    def __init__(self, group, radius: float):
        if CompassDrawn._case is None:
            CompassDrawn._case, CompassDrawn._needle = Solid(_case()), Solid(_needle())
            CompassDrawn._case.visible = CompassDrawn._needle.visible = False
        self.radius = radius
        self.case = group.add(CompassDrawn._case.copy())
        self.needle = group.add(CompassDrawn._needle.copy())

    def put(self, pos, north_end) -> None:
        """Lay it at `pos`, the needle's north end along the level unit vector `north_end`."""
        self.case.put(pos, None, self.radius)
        x = np.asarray(north_end, float)
        turn = np.column_stack([x, [0.0, 1.0, 0.0], np.cross(x, [0.0, 1.0, 0.0])])
        self.needle.put(np.asarray(pos) + [0, 0.22 * self.radius, 0], turn, self.radius)


def _case() -> Mesh:
    """A shallow white dish of radius 1 with a brass rim and four marks."""
    parts = [
        rod([0, 0, 0], [0, 0.08, 0], 0.98, (0.97, 0.97, 0.94), sides=24),
        ring(1.0, 0.2, palette.BRASS, around=28, sides=6).moved([0, 0.1, 0]),
    ]
    for way in np.eye(3)[[0, 2]]:
        for sign in (-1, 1):
            parts.append(rod(0.78 * sign * way + [0, 0.09, 0], 0.9 * sign * way + [0, 0.09, 0], 0.03, palette.INK, 4))
    return joined(*parts)


def _needle() -> Mesh:
    """A flat lozenge along x, its north end red, on a pin."""
    def half(tip, colour):
        top, side = np.array([0, 0.1, 0]), np.array([0, 0, 0.17])
        corners = np.array([top, side, tip, -side, -0.3 * top])
        order = [[0, 1, 2], [0, 2, 3], [4, 2, 1], [4, 3, 2]]
        if tip[0] < 0:
            order = [face[::-1] for face in order]
        points = np.vstack([corners[face] for face in order])
        faces = np.cross(points[1::3] - points[::3], points[2::3] - points[::3])
        normals = np.repeat(faces / np.linalg.norm(faces, axis=1, keepdims=True), 3, axis=0)
        return Mesh(points, normals, np.tile(np.asarray(colour, float), (12, 1)), np.arange(12).reshape(4, 3))

    return joined(
        half(np.array([0.82, 0, 0]), palette.NORTH),
        half(np.array([-0.82, 0, 0]), (0.55, 0.6, 0.63)),
        rod([0, 0.02, 0], [0, 0.14, 0], 0.06, palette.BRASS, 8),
    )
