"""A squirrel cage on its core: bars and end rings, in each bar its current, on each bar its force.

Every bar has a dot at the end toward which current flows and a cross at the other; the area of dot and cross, and how
bright the bar is, show how large the current is. Forces lie outside the bars, along their motion. All turns with the
rotor; angles are counter-clockwise seen from +z. A bar's origin lies on the shaft, so that turning it changes one
vector only, and directions are given to four decimals: there are many of them, and every one is sent for every picture.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.machines.motor_iron import EDGES, SHOWN, edges, rotor_iron, told_iron
from visual.machines.stator import CurrentMark, polar, sector, turned
from visual.solid.mesh import Mesh, block, cone, joined, rod
from visual.solid.shade import shaded
from visual.solid.solids import Group, Hideable, Letters, Solid
from visual.solid.told import Told, point

IDLE, BUSY = np.array((0.88, 0.9, 0.91)), np.array((1.0, 0.55, 0.05))  # a bar without current, and with the largest
RING = (0.58, 0.61, 0.63)
SHADES = 12  # between the two
LEAST_CURRENT, LEAST_FORCE = 0.0005, 0.02  # shares of the largest below which nothing is drawn
LONGEST_FORCE = 0.055  # m


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
    """The rotor of a cage motor. `longest` metres is the length of the largest force, `full_force`; a bar with
    `full_current` is as bright and its mark as large as can be."""

    def __init__(self, shape: CageShape, longest: float = LONGEST_FORCE):
        super().__init__()
        self.shape, self.full_current, self.full_force = shape, 1.0, 1.0
        self.core = self.add(Solid(_rings(shape)))
        self.iron = self.add(Solid(rotor_iron(shape.circle - 0.001, shape.half_length)))
        self.edges = self.add(Solid(edges((shape.circle - 0.001,), shape.half_length, 0.0009, 0)))
        self.how = SHOWN
        bar, force = Solid(_bar(shape)), Solid(_force(shape, longest))
        self.bars = [self.add(bar if k == 0 else bar.copy()) for k in range(shape.bars)]
        self.marks = [self.add(CurrentMark(shape.front + 0.001)) for _ in self.bars]
        self.forces = [self.add(ForceOnBar(force if k == 0 else force.copy(), shape)) for k in range(shape.bars)]
        self.chosen = self.add(Letters("", palette.PAPER, 17, ground=palette.INK))
        self._angles = 2 * np.pi / shape.bars * np.arange(shape.bars)

    def put(self, rotor_angle: float, currents, forces=None, broken=(), chosen: int | None = None, side: float = 1.0) -> None:
        """Show one moment: currents (toward +z) and forces (counter-clockwise) in the units of `full_current` and
        `full_force`; the bars that are `broken`; the number of the `chosen` bar, told on the `side` of +z, 1, or -z, -1."""
        self.core.put((0, 0, 0), turned(rotor_angle))
        self.iron.visible, self.edges.visible = self.visible and self.how == SHOWN, self.visible and self.how == EDGES
        angles = self._angles + rotor_angle
        for k, (cosine, sine) in enumerate(zip(np.cos(angles).round(4).tolist(), np.sin(angles).round(4).tolist(), strict=True)):
            current = 0.0 if k in broken else float(currents[k]) / self.full_current
            force = 0.0 if k in broken or forces is None else float(forces[k])
            share = shown_share(current)
            shade = round(min(abs(share), 1.0) * SHADES) / SHADES
            turn = np.array([[0.0, cosine, -sine], [0.0, sine, cosine], [1.0, 0.0, 0.0]])
            self.bars[k].put((0, 0, 0), turn)
            self.bars[k].colour(palette.SLATE if k in broken else IDLE + shade * (BUSY - IDLE))
            self.marks[k].put((self.shape.circle * cosine, self.shape.circle * sine, 0.0), 0.95 * self.shape.bar, share)
            self.forces[k].put(cosine, sine, force, self.full_force)
        self.chosen.visible = self.visible and chosen is not None
        if chosen is not None:
            self.chosen.text = str(chosen + 1)
            self.chosen.put(polar(self.shape.circle - 0.0125, angles[chosen], side * self.shape.front))

    def tell(self, found: Told) -> None:
        """How its iron is seen."""
        found.marks.append((f"iron of the rotor: {told_iron(self.iron, self.edges)}", (0.0, 0.0, 0.0), 0))


def shown_share(current: float) -> float:
    """Radius and brightness for a current as a share of the largest, with its sign: the area goes with the current, so that
    small currents are seen too."""
    return 0.0 if abs(current) < LEAST_CURRENT else float(np.copysign(np.sqrt(abs(current)), current))


class ForceOnBar(Hideable):
    """The force on one bar: an arrow on it in the middle of the rotor and at either end."""

    def __init__(self, solid: Solid, shape: CageShape):
        self.solid = solid
        self.solid.colour(palette.FORCE)
        self.outside, self.front = shape.circle + 0.0075, shape.front
        self._drawn = False
        self._foot, self._along = (0.0, 0.0, 0.0), np.zeros(3)
        self._newtons = 0.0

    def put(self, cosine: float, sine: float, force: float, full_force: float) -> None:
        """At the bar whose angle has that cosine and sine: `force` newtons counter-clockwise, the longest for `full_force`."""
        share = force / full_force
        self._drawn = abs(share) > LEAST_FORCE
        self._show()
        if not self.solid.visible:
            return
        sign, size = (1.0 if share > 0 else -1.0), round(abs(share), 3)
        turn = np.array([[-sign * sine, cosine * sign, 0.0], [sign * cosine, sine * sign, 0.0], [0.0, 0.0, -1.0]])
        self._foot, self._along = point((self.outside * cosine, self.outside * sine, 0.0)), turn[:, 0]
        self._newtons = size * full_force
        self.solid.put(self._foot, turn, (size, 0.45 + 0.55 * size, 1.0))

    def _show(self) -> None:
        self.solid.visible = self._visible and self._drawn

    def tell(self, found: Told) -> None:
        if self._drawn:
            found.arrows.append(("F", self._foot, point(self._newtons * self._along)))


def _bar(shape: CageShape) -> Mesh:
    """A white bar along x, its middle out along y, to be tinted."""
    middle = np.array([0, shape.circle, 0])
    return rod(middle - [shape.front, 0, 0], middle + [shape.front, 0, 0], shape.bar, (1, 1, 1), 12)


def _force(shape: CageShape, longest: float) -> Mesh:
    """An arrow along x at either end of the rotor and in the middle, white, to be stretched and tinted."""
    parts = []
    for place, thick in ((-shape.front - 0.004, 0.0078), (0.0, 0.0048), (shape.front + 0.004, 0.0078)):
        start = np.array([0.0, 0.0, place])
        neck, tip = start + [0.6 * longest, 0, 0], start + [longest, 0, 0]
        parts += [rod(start, neck, 0.44 * thick, (1, 1, 1), 6), cone(neck, tip, thick, (1, 1, 1), 10)]
    return joined(*parts)


def _rings(shape: CageShape) -> Mesh:
    """The end rings, the shaft, and on the rings a white mark by which one sees the rotor turn."""
    round_about = np.linspace(0, 2 * np.pi, 41)
    low, high = shape.half_length + 0.0015, shape.front - 0.001
    inner, outer = shape.circle - shape.bar - 0.003, shape.circle + shape.bar - 0.0005
    one = sector(round_about, inner, outer, (high - low) / 2).coloured(RING)
    rings = [one.moved([0, 0, side * (high + low) / 2]) for side in (1, -1)]
    line = block([inner + 0.001, 0, 0], [0.008, 0.005, 2 * high + 0.002], palette.PAPER)
    hub = rod([0, 0, -shape.half_length], [0, 0, shape.half_length], shape.shaft + 0.004, palette.IRON, 16)
    shaft = rod([0, 0, -shape.front - 0.012], [0, 0, shape.front], shape.shaft, palette.SLATE, 16)
    rings = [shaded(each, *rings, hub) for each in rings]
    return joined(*rings, hub, shaft, _half(line, 1.0, low), _half(line, -1.0, low))


def _half(line: Mesh, side: float, low: float) -> Mesh:
    """The piece of a bar along z that lies on the ring at that side."""
    points = line.points.copy()
    points[:, 2] = np.where(points[:, 2] * side > 0, points[:, 2], side * (low - 0.001))
    return Mesh(points, line.normals, line.colours, line.triangles)
