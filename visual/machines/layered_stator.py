"""A stator whose slots hold two coil sides each, one at the bore and one at the bottom, seen from its end.

Each side is in the colour of the line that feeds it, with a plus where positive current of that line flows toward the drive
end and a minus where it flows away; from either end the same sign is read.
"""

from __future__ import annotations

from itertools import groupby

import numpy as np

from visual import palette
from visual.machines.motor_iron import stand
from visual.machines.stator import OVERHANG, SLOT_SHARE, WHITE, StatorShape, polar, sector, slotted_iron
from visual.solid.mesh import Mesh, block, joined, repeated
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point

GAP = 0.0008  # m between the two sides of a slot


class LayeredStator(Group):
    """`sides`: for every slot the (phase 0..2, sign) of the side at the bore and of that at the bottom; `letters`: what
    the three phases are called. Letters stand outside, one for each run of slots with the same side at the bottom."""

    def __init__(self, shape: StatorShape, slot_angles, sides, letters):
        super().__init__()
        self.shape, self.angles, self.letters = shape, np.asarray(slot_angles, float), letters
        pitch = 2 * np.pi / len(self.angles)
        middle = shape.slot_middle
        self.rings = ((shape.bore + 0.001, middle - GAP / 2), (middle + GAP / 2, shape.slot_bottom - 0.0005))
        iron = slotted_iron(shape, self.angles, pitch)
        self.iron = self.add(Solid(joined(iron, stand(shape, iron, -shape.outside - 0.013))))
        self.conductors = [self.add(Solid(self._conductors(n, sides, pitch))) for n in range(3)]
        self._signs_at: list[tuple[int, int, np.ndarray]] = []  # phase, sign and place of each that is drawn
        self.signs = [self.add(Solid(self._signs(n, sides))) for n in range(3)]
        for solid in (self.iron, *self.conductors, *self.signs):
            solid.put((0, 0, 0))
        self.groups = [
            (phase, sign, self._letter(letters[phase], sign), angle) for phase, sign, angle in self._runs([bottom for _, bottom in sides])
        ]

    def colour(self, colours, inks) -> None:
        """The colours of the three phases, and what is written on them."""
        for n in range(3):
            self.conductors[n].colour(colours[n])
            self.signs[n].colour(inks[n])
        for phase, _, letters, _ in self.groups:
            letters.paint(inks[phase], colours[phase])

    def call(self, letters) -> None:
        """Call the three phases by these letters."""
        self.letters = letters
        for phase, sign, label, _ in self.groups:
            label.text = _signed(letters[phase], sign)

    def seen_from(self, side: float) -> None:
        """Put the letters on the face at +z for a `side` of 1, on the other for -1."""
        radius = (self.shape.slot_bottom + self.shape.outside) / 2 + 0.001
        for _, _, letters, angle in self.groups:
            letters.put(polar(radius, angle, side * self.shape.half_length))

    def tell(self, found: Told) -> None:
        """The sign drawn on each coil side: that of its line's positive current toward +z."""
        for phase, sign, place in self._signs_at:
            found.marks.append((f"coil side {_signed(self.letters[phase], sign)}", point(place), sign))

    def _letter(self, name: str, sign: int) -> Letters:
        return self.add(Letters(_signed(name, sign), palette.PAPER, 17, ground=palette.INK))

    def _runs(self, bottoms):
        """(phase, sign, angle of the middle) of every run of slots that have the same side at the bottom."""
        begin = next(n for n in range(len(bottoms)) if bottoms[n] != bottoms[n - 1])
        order = [(begin + n) % len(bottoms) for n in range(len(bottoms))]
        for (phase, sign), run in groupby(order, key=lambda slot: bottoms[slot]):
            slots = list(run)
            yield phase, sign, float(np.angle(np.exp(1j * self.angles[slots]).sum()))

    def _where(self, sides, phase: int, *signs: int):
        """(ring, sign, angles) of that phase's sides, for each ring and each of the signs that is there."""
        for ring, at_ring in zip(self.rings, zip(*sides, strict=True), strict=True):
            for sign in signs:
                angles = [angle for angle, side in zip(self.angles, at_ring, strict=True) if side == (phase, sign)]
                if angles:
                    yield ring, sign, angles

    def _conductors(self, phase: int, sides, pitch: float) -> Mesh:
        half = SLOT_SHARE * pitch / 2 * 0.94
        across, length = np.linspace(-half, half, 3), self.shape.half_length + OVERHANG
        return joined(
            *[
                repeated(sector(across, inner, outer, length).coloured(WHITE), angles)
                for (inner, outer), _, angles in self._where(sides, phase, 1, -1)
            ]
        )

    def _signs(self, phase: int, sides) -> Mesh:
        """A plus or a minus on both ends of each side, its strokes along and across the radius."""
        along, thick = 0.0062, 0.0018  # m
        length = 2 * (self.shape.half_length + OVERHANG) + 0.001
        minus = block([0, 0, 0], [thick, along, length], WHITE)
        self._signs_at += [
            (phase, sign, polar(sum(ring) / 2, angle)) for ring, sign, angles in self._where(sides, phase, 1, -1) for angle in angles
        ]
        drawn = {-1: minus, 1: joined(minus, block([0, 0, 0], [along, thick, length], WHITE))}
        return joined(
            *[repeated(drawn[sign].moved((sum(ring) / 2, 0, 0)), angles) for ring, sign, angles in self._where(sides, phase, 1, -1)]
        )


def _signed(name: str, sign: int) -> str:
    return ("+" if sign > 0 else "\N{MINUS SIGN}") + name
