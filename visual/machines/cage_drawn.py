"""A squirrel cage on its core: bars and end rings, in each bar its current, on each bar its force.

Every bar is as bright as its current is large, with a dot at the end toward which current flows and a cross at the
other. Forces lie outside the bars, along their motion. All turns with the rotor; angles are counter-clockwise seen
from +z. A bar's origin lies on the shaft, so that turning it changes one vector only, and directions are given to four
decimals: there are many of them, and every one is sent for every picture.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.machines.stator import CurrentMark, polar, sector, turned
from visual.solid.mesh import Mesh, block, cone, joined, rod
from visual.solid.solids import Group, Letters, Solid

IDLE, BUSY = np.array((0.88, 0.9, 0.91)), np.array((1.0, 0.55, 0.05))  # a bar without current, and with the largest
RING = (0.58, 0.61, 0.63)
SHADES = 12  # between the two
LONGEST_FORCE = 0.036  # m


@dataclass(frozen=True)
class CageShape:
    """Number of bars, radius of their circle, of a bar, half the length of the core, and of the shaft; metres."""

    bars: int
    circle: float = 0.050
    bar: float = 0.0062
    half_length: float = 0.030
    shaft: float = 0.008

    @property
    def front(self) -> float:
        """How far the ends of the bars stand from the middle."""
        return self.half_length + 0.007


class CageDrawn(Group):
    """The rotor of a cage motor. `longest` metres is the length of the largest force."""

    def __init__(self, shape: CageShape, longest: float = LONGEST_FORCE):
        super().__init__()
        self.shape = shape
        self.core = self.add(Solid(_core(shape)))
        bar, force = Solid(_bar(shape)), Solid(_force(shape, longest))
        self.bars = [self.add(bar if k == 0 else bar.copy()) for k in range(shape.bars)]
        self.marks = [self.add(CurrentMark(shape.front + 0.001)) for _ in self.bars]
        self.forces = [self.add(force if k == 0 else force.copy()) for k in range(shape.bars)]
        for force in self.forces:
            force.colour(palette.FORCE)
        self.chosen = self.add(Letters("", palette.PAPER, 17, ground=palette.INK))
        self._angles = 2 * np.pi / shape.bars * np.arange(shape.bars)

    def put(self, rotor_angle: float, currents, forces, broken=(), chosen: int | None = None, side: float = 1.0) -> None:
        """Show one moment: currents (toward +z) and forces (counter-clockwise) as shares of the largest; the bars that
        are `broken`; the number of the `chosen` bar, told on the `side` of +z, 1, or -z, -1."""
        self.core.put((0, 0, 0), turned(rotor_angle))
        angles = self._angles + rotor_angle
        for k, (cosine, sine) in enumerate(zip(np.cos(angles).round(4).tolist(), np.sin(angles).round(4).tolist())):
            current, force = (0.0, 0.0) if k in broken else (float(currents[k]), float(forces[k]))
            shade = round(min(abs(current), 1.0) * SHADES) / SHADES
            turn = np.array([[0.0, cosine, -sine], [0.0, sine, cosine], [1.0, 0.0, 0.0]])
            self.bars[k].put((0, 0, 0), turn)
            self.bars[k].colour(palette.SLATE if k in broken else IDLE + shade * (BUSY - IDLE))
            middle = (self.shape.circle * cosine, self.shape.circle * sine, 0.0)
            self.marks[k].put(middle, 0.95 * self.shape.bar, current)
            self._push(self.forces[k], cosine, sine, force)
        self.chosen.visible = self.visible and chosen is not None
        if chosen is not None:
            self.chosen.text = str(chosen + 1)
            self.chosen.put(polar(self.shape.circle - 0.0125, angles[chosen], side * self.shape.front))

    def _push(self, force: Solid, cosine: float, sine: float, share: float) -> None:
        """An arrow just outside the bar, along x as built, counter-clockwise for a positive share."""
        force.visible = self.visible and abs(share) > 0.02
        if not force.visible:
            return
        way, outside = (1.0 if share > 0 else -1.0), self.shape.circle + 0.0105
        turn = np.array([[-way * sine, cosine * way, 0.0], [way * cosine, sine * way, 0.0], [0.0, 0.0, -1.0]])
        size = round(abs(share), 3)
        force.put((outside * cosine, outside * sine, 0.0), turn, (size, 0.45 + 0.55 * size, 1.0))



def _bar(shape: CageShape) -> Mesh:
    """A white bar along x, its middle out along y, to be tinted."""
    middle = np.array([0, shape.circle, 0])
    return rod(middle - [shape.front, 0, 0], middle + [shape.front, 0, 0], shape.bar, (1, 1, 1), 12)


def _force(shape: CageShape, longest: float) -> Mesh:
    """An arrow along x at either end of the rotor, white, to be stretched and tinted."""
    parts = []
    for end in (-1, 1):
        start = np.array([0.0, 0.0, end * (shape.front + 0.004)])
        neck, tip = start + [0.55 * longest, 0, 0], start + [longest, 0, 0]
        parts += [rod(start, neck, 0.0028, (1, 1, 1), 6), cone(neck, tip, 0.0068, (1, 1, 1), 10)]
    return joined(*parts)


def _core(shape: CageShape) -> Mesh:
    """Iron between the rings, the rings themselves, the shaft, a white line by which one sees it turn."""
    round_about = np.linspace(0, 2 * np.pi, 41)
    ring_middle = (shape.half_length + shape.front - 0.0015) / 2
    ring_half = (shape.front - 0.0015 - shape.half_length) / 2
    ring = sector(round_about, shape.circle - shape.bar - 0.002, shape.circle + shape.bar - 0.0005, ring_half).coloured(RING)
    line = block([shape.circle - shape.bar - 0.007, 0, 0], [0.01, 0.005, 2 * shape.half_length + 0.002], palette.PAPER)
    return joined(
        rod([0, 0, -shape.half_length], [0, 0, shape.half_length], shape.circle - 0.001, palette.IRON, 40),
        ring.moved([0, 0, ring_middle]), ring.moved([0, 0, -ring_middle]), line,
        rod([0, 0, -shape.front - 0.012], [0, 0, shape.front], shape.shaft, palette.SLATE, 16),
    )
