"""Curved arrows round the shaft: a torque, or which way something turns, so that a still picture says it."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import circle, cone, swept
from visual.solid.solids import Hideable, Letters, Solid
from visual.solid.told import Told, point

OVER = np.array([[1.0, 0, 0], [0, -1, 0], [0, 0, -1]])  # turned over about x: what went counter-clockwise goes clockwise
HEAD = 3.4  # lengths of the head, in thicknesses
STEPS = 14  # lengths in which the arc is built; the head makes up the rest


class CurvedArrow(Hideable):
    """An arrow along a circle round z, `radius` m, seen from +z counter-clockwise for values above zero.

    `longest` rad for a value of `full`, in whatever unit it is handed; told with its letter and the vector along the shaft.
    `steady`: it is always as long as can be, and says which way and no more.
    """

    def __init__(self, letter: str, colour, radius: float, thickness: float, longest: float, stands_for: str = "", steady: bool = False):
        self.radius, self.thickness, self.longest, self.full = radius, thickness, longest, 1.0
        self.stands_for, self.steady = letter or stands_for, steady
        self.head_span = HEAD * thickness / radius
        lengths = (np.arange(STEPS) + 1) / STEPS * longest if not steady else np.array([longest - 0.6 * self.head_span])
        self.arcs = [(float(length), Solid(_arc(radius, thickness, float(length)))) for length in lengths]
        self.head = Solid(cone([0, 0, 0], [HEAD * thickness, 0, 0], 1.35 * thickness, (1, 1, 1), 12))
        for solid in (self.head, *(arc for _, arc in self.arcs)):
            solid.colour(colour)
            solid.visible = False
        self.letters = Letters(letter, palette.PAPER, 22, ground=colour) if letter else None
        self._value, self._wanted = 0.0, -1
        self._tip, self._along, self._foot = np.zeros(3), np.zeros(3), np.zeros(3)

    def put(self, angle: float, value: float, z: float) -> None:
        """From the `angle` on, rad, as far as `value` says and the way its sign says, counter-clockwise seen from +z; at `z`."""
        sense = 1.0 if value > 0 else -1.0
        span = self.longest if self.steady and value else min(abs(value) / self.full, 1.0) * self.longest
        self._value = value if span > 0.02 else 0.0
        self._wanted = -1
        if self._value:
            head = min(self.head_span, span)
            self._wanted = max((k for k, (length, _) in enumerate(self.arcs) if length <= span - 0.5 * head), default=-1)
            turn = _about_z(angle) if sense > 0 else _about_z(angle) @ OVER
            if self._wanted >= 0:
                self.arcs[self._wanted][1].put((0, 0, z), turn)
            base, tip = angle + sense * (span - head), angle + sense * span
            start, self._tip = self._at(base, z), self._at(tip, z)
            along = self._tip - start
            along /= np.linalg.norm(along)
            self._along, self._foot = along, self._at(angle, z)
            size = head / self.head_span
            self.head.put_along(start, along.tolist(), [0.0, 0.0, 1.0], (size, size, size))
            if self.letters:
                self.letters.put(self._at(angle - sense * 0.016 / self.radius, z))
        self._show()

    def _at(self, angle: float, z: float) -> np.ndarray:
        return np.array([self.radius * np.cos(angle), self.radius * np.sin(angle), z])

    def tell(self, found: Told) -> None:
        """A pointer along the head, and a torque or speed as an arrow along the shaft too."""
        if not self._value:
            return
        found.needles.append((f"curved arrow: {self.stands_for}", point(self._tip), point(self._along)))
        if not self.steady:
            found.arrows.append((self.stands_for, point(self._foot), (0.0, 0.0, float(self._value))))
        if self.letters:
            self.letters.tell(found)

    def _show(self) -> None:
        there = self._visible and bool(self._value)
        for k, (_, arc) in enumerate(self.arcs):
            arc.visible = there and k == self._wanted
        self.head.visible = there
        if self.letters:
            self.letters.visible = there


def _arc(radius: float, thickness: float, length: float):
    """A tube along a circle round z, from angle 0 counter-clockwise."""
    angles = np.linspace(0, length, max(3, int(np.ceil(length / np.radians(9))) + 1))
    line = np.column_stack([radius * np.cos(angles), radius * np.sin(angles), np.zeros(len(angles))])
    return swept(circle(thickness / 2, 6), line, [0.0, 0.0, 1.0], (1, 1, 1))


def _about_z(angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
