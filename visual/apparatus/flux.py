"""Flux lines as thin tubes with arrowheads on them, rings of flux round a wire, and marks that show a field's direction."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, circle, cone, joined, ring, simplified, swept
from visual.solid.solids import Solid
from visual.solid.told import Told, point


def flux_tubes(lines, thickness: float, heads=(0.5,), colour=palette.FIELD, sides: int = 5) -> Mesh:
    """Lines (each (n, 3), in the direction of the field) as one shape, an arrowhead at each of the `heads` along them."""
    parts = []
    for line in lines:
        along = line[-1] - line[0]
        sideways = np.eye(3)[np.argmin(np.abs(along))]
        parts.append(swept(circle(thickness / 2, sides), simplified(line, thickness / 20), sideways, colour))
        for share in heads:
            at = int(share * (len(line) - 1))
            way = line[min(at + 1, len(line) - 1)] - line[max(at - 1, 0)]
            way = way / np.linalg.norm(way)
            parts.append(cone(line[at] - 2 * thickness * way, line[at] + 3 * thickness * way, 1.8 * thickness, colour, 8))
    return joined(*parts)


class FluxRings:
    """Rings round the y axis with arrowheads, drawn at any radii up to `largest`; all turn one way or the other.

    A ladder of ready rings, each a little larger than the one before, is scaled by a few per cent to the radius asked
    for, so that all stay equally thick and nothing is made while the scene runs.
    """

    STEP = 1.12

    def __init__(self, group, smallest: float, largest: float, thickness: float):
        count = int(np.ceil(np.log(largest / smallest) / np.log(self.STEP))) + 1
        self.built = smallest * self.STEP ** np.arange(count)
        self.rings = [group.add(FluxRing(radius, thickness)) for radius in self.built]

    def put(self, radii, height: float, sense: float) -> None:
        """Show a ring at each of the rising `radii`, at `height`; `sense` > 0 is counter-clockwise seen from above."""
        turn = np.eye(3) if sense > 0 else np.diag([1.0, -1.0, -1.0])
        wanted = (
            dict(zip(np.abs(np.log(self.built[:, None] / np.asarray(radii, float))).argmin(0), radii, strict=True)) if len(radii) else {}
        )
        for index, one in enumerate(self.rings):
            one.visible = index in wanted
            if index in wanted:
                grow = wanted[index] / self.built[index]
                one.put((0, height, 0), turn, (grow, 1.0, grow))


class FluxRing(Solid):
    """One of them, hidden until it is put."""

    def __init__(self, radius: float, thickness: float):
        super().__init__(_ring_with_heads(radius, thickness))
        self.radius = radius
        self.visible = False

    def tell(self, found: Told) -> None:
        """The direction of its heads where the ring is farthest along +x."""
        at, x_axis, y_axis, grow = self.place
        on = np.asarray(at) + grow[0] * self.radius * np.asarray(x_axis)
        found.needles.append(("head on a flux ring", point(on), point(-np.cross(x_axis, y_axis))))


class FieldMarks:
    """Small flat arrows, `size` metres long, at fixed `places` of an upright plane across z: the field's direction there."""

    def __init__(self, group, places, size: float):
        self.places = np.asarray(places, float)
        self.size = size
        first = FieldMark(_mark())
        self.marks = [group.add(first), *[group.add(FieldMark(None, like=first)) for _ in self.places[1:]]]

    def put(self, field) -> None:
        """Lay each along its row of `field` (n, 3), of which the part across z counts; hide it where there is none."""
        for mark, place, way in zip(self.marks, self.places, np.asarray(field, float), strict=True):
            size = float(np.hypot(way[0], way[1]))
            mark.visible = size > 0
            if mark.visible:
                c, s = way[0] / size, way[1] / size
                mark.put(place, np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]), self.size)


class FieldMark(Solid):
    """One of them."""

    def tell(self, found: Told) -> None:
        at, along, _, _ = self.place
        found.needles.append(("arrow on the field", point(at), point(along)))


def _mark() -> Mesh:
    """A flat arrow of length 1 along x about the origin, seen from both sides of its plane, which is across z."""
    outline = np.array([[-0.5, -0.09], [0.05, -0.09], [0.05, -0.26], [0.5, 0.0], [0.05, 0.26], [0.05, 0.09], [-0.5, 0.09]])
    faces = np.array([[0, 1, 5], [0, 5, 6], [2, 3, 4]])
    points = np.column_stack([np.vstack([outline, outline]), np.repeat([0.04, -0.04], 7)])
    normals = np.repeat([[0, 0, 1.0], [0, 0, -1.0]], 7, axis=0)
    return Mesh(points, normals, np.tile(palette.FIELD, (14, 1)), np.vstack([faces, faces[:, ::-1] + 7]))


def _ring_with_heads(radius: float, thickness: float) -> Mesh:
    """A ring about y with three heads that go round counter-clockwise as seen from above."""
    parts = [ring(radius, thickness, palette.FIELD, around=36, sides=4)]
    for angle in np.radians([30.0, 150.0, 270.0]):
        middle = radius * np.array([np.cos(angle), 0, -np.sin(angle)])
        along = np.array([-np.sin(angle), 0, -np.cos(angle)])
        length = min(5 * thickness, radius)
        parts.append(cone(middle - length / 2 * along, middle + length / 2 * along, 2 * thickness, palette.FIELD, 8))
    return joined(*parts)
