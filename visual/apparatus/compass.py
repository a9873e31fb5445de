"""A compass lying on the table: a case with marks, and a needle whose north end is red and carries the point."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, block, joined, ring, rod
from visual.solid.solids import Hideable, Solid
from visual.solid.told import Told, point


class CompassDrawn(Hideable):
    """A compass of `radius` metres at a place; its needle turned by a vector."""

    _case: Solid | None = None
    _needle: Solid | None = None

    def __init__(self, group, radius: float):
        if CompassDrawn._case is None:
            CompassDrawn._case, CompassDrawn._needle = Solid(_case()), Solid(_needle())
            CompassDrawn._case.visible = CompassDrawn._needle.visible = False
        self.radius = radius
        assert CompassDrawn._needle is not None  # made with the case
        self.case, self.needle = CompassDrawn._case.copy(), CompassDrawn._needle.copy()
        group.add(self)  # as one: a group that hides its parts one by one would take the second for hidden before

    def put(self, pos, north_end) -> None:
        """Lay it at `pos`, the needle's north end along the level unit vector `north_end`."""
        self.case.put(pos, None, self.radius)
        x = np.asarray(north_end, float)
        turn = np.column_stack([x, [0.0, 1.0, 0.0], np.cross(x, [0.0, 1.0, 0.0])])
        self.needle.put(np.asarray(pos) + [0, 0.22 * self.radius, 0], turn, self.radius)

    def _show(self) -> None:
        self.case.visible = self.needle.visible = self._visible

    def tell(self, found: Told) -> None:
        at, along, _, _ = self.needle.place
        found.needles.append(("red end of a compass needle", point(at), point(along)))


def _case() -> Mesh:
    """A shallow white dish of radius 1 with a brass rim and four marks."""
    parts = [
        _disc(0.08, 0.98, (0.97, 0.97, 0.94), 20),
        ring(1.0, 0.2, palette.BRASS, around=20, sides=4).moved([0, 0.1, 0]),
    ]
    for way in np.eye(3)[[0, 2]]:
        for sign in (-1, 1):
            parts.append(block(0.84 * sign * way + [0, 0.08, 0], [0.06, 0.03, 0.06] + 0.1 * way, palette.INK))
    return joined(*parts)


def _disc(height: float, radius: float, colour, sides: int) -> Mesh:
    """A flat disc that faces up."""
    angles = 2 * np.pi * np.arange(sides) / sides
    points = np.column_stack([radius * np.cos(angles), np.full(sides, height), -radius * np.sin(angles)])
    fan = np.column_stack([np.zeros(sides - 2, int), np.arange(1, sides - 1), np.arange(2, sides)])
    return Mesh(points, np.tile([0, 1.0, 0], (sides, 1)), np.tile(np.asarray(colour, float), (sides, 1)), fan)


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
        rod([0, 0.02, 0], [0, 0.14, 0], 0.06, palette.BRASS, 5),
    )
