"""Flux lines as thin tubes with arrowheads on them, and rings of flux round a wire."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.mesh import Mesh, circle, cone, joined, ring, swept
from visual.solids import Solid


def flux_tubes(lines, thickness: float, heads=(0.5,), colour=palette.FIELD, sides: int = 5) -> Mesh:
    """Lines (each (n, 3), in the direction of the field) as one shape, an arrowhead at each of the `heads` along them."""
    parts = []
    for line in lines:
        along = line[-1] - line[0]
        sideways = np.eye(3)[np.argmin(np.abs(along))]
        parts.append(swept(circle(thickness / 2, sides), line, sideways, colour))
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
        self.rings = [group.add(Solid(_ring_with_heads(radius, thickness))) for radius in self.built]
        for one in self.rings:
            one.visible = False

    def put(self, radii, height: float, sense: float) -> None:
        """Show a ring at each of the rising `radii`, at `height`; `sense` > 0 is counter-clockwise seen from above."""
        turn = np.eye(3) if sense > 0 else np.diag([1.0, -1.0, -1.0])
        wanted = dict(zip(np.abs(np.log(self.built[:, None] / np.asarray(radii, float))).argmin(0), radii)) if len(radii) else {}
        for index, one in enumerate(self.rings):
            one.visible = index in wanted
            if index in wanted:
                grow = wanted[index] / self.built[index]
                one.put((0, height, 0), turn, (grow, 1.0, grow))


def _ring_with_heads(radius: float, thickness: float) -> Mesh:
    """A ring about y with three heads that go round counter-clockwise as seen from above."""
    parts = [ring(radius, thickness, palette.FIELD, around=36, sides=4)]
    for angle in np.radians([30.0, 150.0, 270.0]):
        middle = radius * np.array([np.cos(angle), 0, -np.sin(angle)])
        along = np.array([-np.sin(angle), 0, -np.cos(angle)])
        length = min(5 * thickness, radius)
        parts.append(cone(middle - length / 2 * along, middle + length / 2 * along, 2 * thickness, palette.FIELD, 8))
    return joined(*parts)
