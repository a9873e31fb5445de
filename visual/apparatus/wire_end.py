"""The end of an upright wire as it is seen along the wire: a disc with a dot or a cross."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Point, Told, point

HIGH = 0.0015  # m, the disc
ON_IT = 0.0008  # m, how far dot and cross stand out


class WireEnd(Group):
    """A disc of `radius` metres at `pos`, facing upward: a dot for a current upward, a cross for one downward, its letter beside it."""

    def __init__(self, pos, radius: float):
        super().__init__()
        self.pos: Point = point(pos)
        top = [0, HIGH, 0], [0, HIGH + ON_IT, 0]
        self.disc = self.add(Solid(rod([0, 0, 0], [0, HIGH, 0], radius, palette.PAPER, 24)))
        self.dot = self.add(Solid(rod(*top, 0.38 * radius, palette.INK, 16)))
        self.cross = self.add(Solid(joined(*[_bar(radius, top[1][1], way) for way in (1, -1)])))
        for part in (self.disc, self.dot, self.cross):
            part.put(pos)
        self.letter = self.add(Letters("I", palette.PAPER, 22, ground=palette.CURRENT))
        self.letter.put(np.asarray(pos) + [-1.9 * radius, 0, 0])
        self.upward = 0

    def carry(self, current: float) -> None:
        """Show a current of that sign, positive upward."""
        self.upward = int(np.sign(current))
        self.dot.visible, self.cross.visible = self.visible and current > 0, self.visible and current < 0
        self.letter.visible = self.visible and current != 0

    def tell(self, found: Told) -> None:
        if self.upward:
            found.marks.append(
                ("dot on the wire's upper end" if self.dot.visible else "cross on the wire's upper end", self.pos, self.upward)
            )


def _bar(radius: float, top: float, way: int):
    c, s = np.sqrt(0.5), way * np.sqrt(0.5)
    return block([0, top - 0.5 * ON_IT, 0], [1.5 * radius, ON_IT, 0.3 * radius], palette.INK).turned([[c, 0, s], [0, 1, 0], [-s, 0, c]])
