"""Coils in the slots of a stator, whole: two sides in their slots, and at both ends of the iron the end winding that joins them.

At each end a coil leaves its first slot outward, runs behind the others to the middle of its span, steps over in front of them
and comes back to its second slot: all coils have one shape, turned from slot to slot, and none runs through another. A
coil's path is followed from the non-drive end of its go side; angles are counter-clockwise seen from the drive end, +z.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.machines.stator import StatorShape, turned
from visual.solid.mesh import Mesh, cone, joined, simplified, swept
from visual.solid.shade import hidden_share, with_shade
from visual.solid.solids import Group, Solid
from visual.solid.told import Told, point

OVERHANG = 0.020  # m by which the sides stand out of the iron
BEHIND, BEFORE = 0.0055, 0.0148  # m from the iron to the two layers of the end winding
FROM, TO = 0.0055, 0.0235  # m beyond the bottom of the slots, between which it runs outward
# of the bundle, its first coordinate along the shaft, with furrows between the wires
ACROSS = np.array([1.0, 0.5, 0.0, -0.5, -1.0, -1.0, -0.5, 0.0, 0.5, 1.0])
PROFILE = np.column_stack([0.0044 * ACROSS, 0.0029 * np.repeat([1.0, -1.0], 5) * np.tile([0.5, 1.0, 0.85, 1.0, 0.5], 2)])
FURROWS = np.tile([0.65, 1.0, 0.6, 1.0, 0.65], 2)
SAMPLES = 720  # places along a coil where a flow mark can stand
MOST_MARKS, LEAST_SHARE = 12, 0.02
SWING = 0.028  # m by which the marks move to each side with the largest current
ABOVE = 0.005  # m by which they stand before the end winding
FLOW = palette.rgb("#ffb31a")


@dataclass(frozen=True)
class CoilPlace:
    """Where a coil lies: number of its phase, and the angles of its go and its return side, rad."""

    phase: int
    go: float
    back: float

    @property
    def span(self) -> float:
        """rad clockwise from the go to the return side."""
        return (self.go - self.back) % (2 * np.pi)


class CoilsDrawn(Group):
    """Coils with their sides, `side` being the mesh of one in a slot at angle 0, white, around `iron`; names of the phases."""

    def __init__(self, shape: StatorShape, coils: list[CoilPlace], side: Mesh, iron: Mesh, phases=("U", "V", "W")):
        super().__init__()
        self.shape, self.coils, self.phases = shape, coils, phases
        span = coils[0].span
        own = coil_mesh(shape, span, side)
        whole = [own.turned(turned(coil.go)) for coil in coils]
        own = with_shade(own, hidden_share(own.turned(turned(coils[0].go)), joined(iron, *whole)))
        coil = Solid(own)
        # one for each, of one shape, which is sent once
        self.drawn = [self.add(coil if k == 0 else coil.copy()) for k in range(len(coils))]
        for solid, place in zip(self.drawn, coils, strict=True):
            solid.put((0, 0, 0), turned(place.go))
        self.flow = self.add(FlowMarks(shape, coils))
        self._shown: list[int] = []

    def colour(self, colours) -> None:
        """The colours of the phases."""
        for solid, coil in zip(self.drawn, self.coils, strict=True):
            solid.colour(colours[coil.phase])

    def show(self, phase: int | None, one: bool) -> None:
        """All coils, or those of one phase, or only the first coil of it."""
        ours = [k for k, coil in enumerate(self.coils) if phase in (None, coil.phase)]
        self._shown = ours[:1] if one else ours
        for k, solid in enumerate(self.drawn):
            solid.visible = self.visible and k in self._shown

    @property
    def first(self) -> list[Solid]:
        """Of each phase the first coil."""
        return [next(solid for solid, coil in zip(self.drawn, self.coils, strict=True) if coil.phase == n) for n in range(len(self.phases))]

    def carry(self, shares, passed) -> None:
        """Currents of the coils, positive along their paths, as shares of the largest, and how far each has flowed since it
        was last zero in the middle of its swing, as a share of the most."""
        self.flow.put(self._shown, shares, passed)

    def tell(self, found: Told) -> None:
        """Each end winding in sight by the angles at which it enters the slots; the sign is that of its end of the machine."""
        front = end_path(self.shape, self.coils[0].span)
        for k in self._shown:
            coil = self.coils[k]
            line = front @ turned(coil.go).T
            first, last = (np.degrees(np.arctan2(at[1], at[0])) % 360 for at in (line[0], line[-1]))
            apex = line[len(line) // 2]
            for sign in (1, -1):
                place = point(apex * [1, 1, sign])
                found.marks.append((f"end winding of {self.phases[coil.phase]} from {first:.1f}° to {last:.1f}°", place, sign))


class FlowMarks(Group):
    """Marks that move along the coils as the current does: as fast as it is large, the way it flows; pointed that way."""

    def __init__(self, shape: StatorShape, coils: list[CoilPlace]):
        super().__init__()
        line, along = sampled(coil_path(shape, coils[0].span))
        lifted = np.sign(line[:, 2]) * np.clip(np.abs(line[:, 2]) - shape.half_length, 0, BEHIND) / BEHIND * ABOVE
        line = line + lifted[:, None] * [0.0, 0.0, 1.0]
        across = np.where(np.abs(along[:, 2:]) < 0.9, [0.0, 0.0, 1.0], [1.0, 0.0, 0.0])
        across = across - (across * along).sum(axis=1, keepdims=True) * along
        across /= np.linalg.norm(across, axis=1, keepdims=True)
        turns = np.array([turned(coil.go) for coil in coils])
        # of each coil, at each of its samples: place, unit vector along it, and one at right angles
        self._tables = np.einsum("cij,tnj->ctni", turns, np.array([line, along, across])).round(5)
        self._long = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
        shape_of_mark = Solid(cone([-0.010, 0, 0], [0.011, 0, 0], 0.0082, (1, 1, 1), 10))
        self.marks = [self.add(shape_of_mark if k == 0 else shape_of_mark.copy()) for k in range(MOST_MARKS)]
        for mark in self.marks:
            mark.colour(FLOW)
            mark.visible = False
        # the first of each coil stands on the end winding in front while nothing has flowed
        self._start = int(np.argmin(np.linalg.norm(line - end_path(shape, coils[0].span)[_apex(shape, coils[0].span)], axis=1)))
        self._told: list[tuple] = []

    def put(self, shown: list[int], shares, passed) -> None:
        """Marks on the coils of these numbers, where they are many on every second or third; the rest as in `CoilsDrawn.carry`."""
        shown = shown[:: max(1, math.ceil(len(shown) / MOST_MARKS))]
        each = MOST_MARKS // max(1, len(shown))
        self._told, used = [], 0
        for coil in shown:
            share = float(shares[coil])
            if abs(share) <= LEAST_SHARE:
                continue
            moved = self._start + round(float(passed[coil]) * SWING / self._long * SAMPLES)
            places = [(moved + n * SAMPLES // each) % SAMPLES for n in range(each)]
            size, sense = round(0.45 + 0.55 * min(abs(share), 1.0), 2), 1.0 if share > 0 else -1.0
            for at, way, across in self._tables[coil][:, places].transpose(1, 0, 2).tolist():
                mark, way = self.marks[used], [sense * part for part in way]
                mark.put_along(at, way, across, size)
                mark.visible = self.visible
                self._told.append((coil, at, way))
                used += 1
        for mark in self.marks[used:]:
            mark.visible = False

    def tell(self, found: Told) -> None:
        found.needles.extend((f"flow mark on coil {coil + 1}", point(at), point(way)) for coil, at, way in self._told)


def coil_mesh(shape: StatorShape, span: float, side: Mesh, other: Mesh | None = None) -> Mesh:
    """A whole coil, its go side at angle 0 and its return side `span` rad clockwise of it; white. `other`: the return side, where
    it is not as the go side."""
    front = simplified(end_path(shape, span), 0.0014)
    end = swept(PROFILE, front, [0.0, 0.0, 1.0], (1, 1, 1))
    rings = len(front) * len(PROFILE)
    end.colours[:rings] *= np.tile(FURROWS, len(front))[:, None]
    return joined(side, (other or side).turned(turned(-span)), end, _mirrored_in_z(end))


def end_path(shape: StatorShape, span: float) -> np.ndarray:
    """The middle line of the end winding at the drive end, (n, 3), from slot to slot."""
    inside, low, high = shape.slot_bottom - 0.004, shape.slot_bottom + FROM, shape.slot_bottom + TO
    behind, before = shape.half_length + BEHIND, shape.half_length + BEFORE
    step = 0.006 / high / (span / 2)  # share of half the span in which it steps over
    turn = 0.006 / low / (span / 2)  # and in which it bends round, out of the slot
    share = np.linspace(0, 1, 7)
    bend = np.array([low - 0.006 * (1 - share) ** 2, turn * share**2])
    run = np.linspace(turn, 1 - step, 14)[1:]
    radius = np.concatenate([[inside], bend[0], low + (high - low) * run])
    along = np.concatenate([[0.0], bend[1], run])
    first = np.column_stack([radius, -along * span / 2, np.full(len(radius), behind)])
    middle = np.array([[high, -span / 2, (behind + before) / 2]])
    last = np.column_stack([radius, -span + along * span / 2, np.full(len(radius), before)])[::-1]
    line = np.vstack([first, middle, last])
    return np.column_stack([line[:, 0] * np.cos(line[:, 1]), line[:, 0] * np.sin(line[:, 1]), line[:, 2]])


def coil_path(shape: StatorShape, span: float) -> np.ndarray:
    """The way of the current once round a coil, (n, 3), closed: up the go side, over the front, down, and back over the rear.

    In the slots it runs at the wall of the bore, where a mark on it can be seen.
    """
    front = end_path(shape, span)
    rear = front[::-1] * [1, 1, -1]
    middle, bore = shape.slot_middle, shape.bore
    length = shape.half_length

    def side(angle: float, way: float, start: float, end: float) -> np.ndarray:
        radii_and_heights = [(middle, -start), (bore, -length), (bore, length), (middle, end)]
        return np.array([(radius * np.cos(angle), radius * np.sin(angle), way * z) for radius, z in radii_and_heights])

    go = side(0.0, 1.0, length + BEHIND, length + BEHIND)
    back = side(-span, -1.0, length + BEFORE, length + BEFORE)
    return np.vstack([go, front, back, rear, go[:1]])


def sampled(line: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """`SAMPLES` places at equal distances along a closed line, and the unit vectors along it there."""
    steps = np.diff(line, axis=0)
    far = np.concatenate([[0.0], np.cumsum(np.linalg.norm(steps, axis=1))])
    at = far[-1] * np.arange(SAMPLES) / SAMPLES
    places = np.column_stack([np.interp(at, far, line[:, k]) for k in range(3)])
    along = np.roll(places, -2, axis=0) - np.roll(places, 2, axis=0)
    return places, along / np.linalg.norm(along, axis=1, keepdims=True)


def _apex(shape: StatorShape, span: float) -> int:
    return len(end_path(shape, span)) // 2


def _mirrored_in_z(shape: Mesh) -> Mesh:
    mirror = np.array([1.0, 1.0, -1.0])
    return Mesh(shape.points * mirror, shape.normals * mirror, shape.colours, shape.triangles[:, ::-1])
