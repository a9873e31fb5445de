"""A motor looked at from its drive end: frame, end shield and the shaft with its key, which turns."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point

FRAME = palette.rgb("#5f7f8c")


class DriveEnd(Group):
    """The motor about `middle`, (3,), of `radius` m; its plate stands below."""

    def __init__(self, middle, radius: float):
        super().__init__()
        self.radius = radius
        frame = [rod([0, 0, -0.02], [0, 0, 0], radius, FRAME, 36), rod([0, 0, 0], [0, 0, 0.006], 0.72 * radius, palette.IRON, 36)]
        feet = [block([side * 0.62 * radius, -0.98 * radius, -0.01], [0.4 * radius, 0.22 * radius, 0.02], FRAME) for side in (-1, 1)]
        self.frame = self.add(Solid(joined(*frame, *feet)))
        # the coupling half on the shaft, with a white mark that shows how it turns
        hub = rod([0, 0, 0.006], [0, 0, 0.02], 0.4 * radius, palette.STEEL, 28)
        shaft = rod([0, 0, 0.02], [0, 0, 0.03], 0.17 * radius, palette.IRON, 20)
        mark = block([0, 0.27 * radius, 0.0205], [0.07 * radius, 0.22 * radius, 0.002], palette.NORTH)
        self.shaft = self.add(Solid(joined(hub, shaft, mark)))
        self.name = self.add(Letters("motor, drive end", palette.PAPER, 13, ground=palette.SLATE))
        self.move(middle)

    def move(self, middle) -> None:
        """Stand it elsewhere, the mark at the top."""
        self.middle = np.asarray(middle, float)
        self.frame.put(self.middle)
        self.name.put(self.middle + [0, 1.22 * self.radius, 0.01])
        self.turn(0.0)

    def turn(self, angle: float) -> None:
        """The mark at `angle`, rad counter-clockwise from the top."""
        self.shaft.put_along(
            self.middle, [float(np.cos(angle)), float(np.sin(angle)), 0.0], [-float(np.sin(angle)), float(np.cos(angle)), 0.0]
        )

    def tell(self, found: Told) -> None:
        place, _, toward_mark, _ = self.shaft.place
        found.needles.append(("mark on the shaft", point(place), point(toward_mark)))
