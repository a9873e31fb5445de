"""A stator into which a winding is laid coil by coil: iron with its slots numbered, the coils that lie there, and their currents.

Looking at the drive end, slots count clockwise. A coil lies from a slot `span` slots clockwise; in two layers with its first side at
the bore and the other at the bottom of the slot.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.stator import SLOT_SHARE, WHITE, CurrentMark, StatorShape, polar, sector, slotted_iron, turned
from visual.machines.winding.coils import coil_mesh, end_path
from visual.solid.mesh import Mesh, joined
from visual.solid.solids import Group, Solid
from visual.solid.told import Told, point
from visual.terminal_box.markings import stamped

NUMBERS_AT = 0.0335  # m beyond the bottom of the slots: clear of the end windings
OUT = 0.020  # m by which coil sides stand out of the iron
GAP = 0.0008  # m between two sides in a slot
PALE = 0.62  # share of white in a coil that is not looked at
DEEP = 0.86, 0.86, 0.84  # behind the numbers


class LaidStator(Group):
    """Iron with slots at `slot_angles`, rad, falling, and what is `around` it; coils of `span` slots in one or two `layers`, none laid
    yet."""

    def __init__(self, shape: StatorShape, slot_angles, span: int, layers: int, around: Mesh):
        super().__init__()
        self.shape, self.angles, self.span, self.layers = shape, np.asarray(slot_angles, float), span, layers
        pitch = 2 * np.pi / len(self.angles)
        self.pitch = pitch
        self.iron = self.add(Solid(joined(slotted_iron(shape, self.angles, pitch), around)))
        self.iron.put((0, 0, 0))
        coil = Solid(self._coil(pitch))
        # by the slot of the side at the bore; of one shape, which is sent once
        self.coils = [self.add(coil if k == 0 else coil.copy()) for k in range(len(self.angles))]
        for solid, angle in zip(self.coils, self.angles, strict=True):
            solid.put((0, 0, 0), turned(float(angle)))
        self.mark_radius = 0.47 * min(SLOT_SHARE * pitch * shape.slot_middle, shape.slot_bottom - shape.bore)
        self.marks = [self.add(CurrentMark(shape.half_length + OUT + 0.001)) for _ in self.angles]
        self._middles = [polar(shape.slot_middle, float(angle)) for angle in self.angles]
        self._laid: list[tuple[int, str, tuple]] = []

    def lay(self, coils) -> None:
        """The coils that lie there: (slot of the first side, letter of the phase, colour, whether it is looked at) of each."""
        self._laid = [(slot, phase, paled(colour, bold)) for slot, phase, colour, bold in coils]
        there = {slot: colour for slot, _, colour in self._laid}
        for slot, solid in enumerate(self.coils):
            solid.visible = self.visible and slot in there
            if slot in there:
                solid.colour(there[slot])

    def carry(self, shares) -> None:
        """Currents of the slots toward the drive end as shares of the one that fills a mark."""
        for mark, middle, share in zip(self.marks, self._middles, shares, strict=True):
            mark.put(middle, self.mark_radius, float(share))

    def tell(self, found: Told) -> None:
        """Each end winding at the drive end, by the angles at which it enters the slots."""
        for slot, phase, _ in self._laid:
            _, x_axis, y_axis, _ = self.coils[slot].place
            line = end_path(self.shape, self.span * self.pitch) @ np.array([x_axis, y_axis, [0.0, 0.0, 1.0]])
            first, last = (np.degrees(np.arctan2(at[1], at[0])) % 360 for at in (line[0], line[-1]))
            found.marks.append((f"end winding of {phase} from {first:.1f}° to {last:.1f}°", point(line[len(line) // 2]), 1))

    def _coil(self, pitch: float) -> Mesh:
        half, shape = SLOT_SHARE * pitch / 2 * 0.94, self.shape
        across, long = np.linspace(-half, half, 3), shape.half_length + OUT
        whole = (shape.bore + 0.001, shape.slot_bottom - 0.0005)
        rings = (whole, whole) if self.layers == 1 else ((whole[0], shape.slot_middle - GAP / 2), (shape.slot_middle + GAP / 2, whole[1]))
        first, second = (sector(across, *ring, long).coloured(WHITE) for ring in rings)
        return coil_mesh(shape, self.span * pitch, first, second)


def numbered_ring(shape: StatorShape, slot_angles) -> Mesh:
    """A ring round the end windings with the numbers of the slots on its front, as many as can be read."""
    count = len(slot_angles)
    every = 1 if count <= 24 else 2 if count <= 36 else 4
    height = 0.0125 if count <= 18 else 0.0105
    radius, front = shape.slot_bottom + NUMBERS_AT, shape.half_length + OUT
    plate = sector(np.linspace(0, 2 * np.pi, 73), radius - 0.009, radius + 0.009, front).coloured(DEEP)
    return joined(
        plate,
        *[
            stamped(str(slot + 1), height, palette.INK).moved(polar(radius, float(slot_angles[slot]), front + 0.001))
            for slot in range(0, count, every)
        ],
    )


def paled(colour, bold: bool):
    """The colour of a coil, pale where it is not looked at."""
    return tuple(float(part) + (0 if bold else PALE) * (0.93 - float(part)) for part in colour)
