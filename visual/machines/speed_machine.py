"""A stator that can be connected for several numbers of poles, seen end-on, with a mark on the rotor in the bore.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.layered_stator import LayeredStator
from visual.machines.stator import LAMINATIONS, StatorShape, polar, sector, turned
from visual.solid.curved import CurvedArrow
from visual.solid.mesh import Mesh, cone, joined, rod
from visual.solid.shade import shaded
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point

HAND = 0.038  # m
RING, BAR = (0.58, 0.61, 0.63), (0.70, 0.73, 0.75)
TURNING_AT, TURNING_SPAN = 0.040, 0.9  # m and rad: the curved arrow from the field's peak on
LONGEST_ACROSS, LONGEST_OUT = 0.075, 0.036  # m, of the field's arrows


def longest_field(poles: int) -> float:
    """Metres of the longest field arrow."""
    return LONGEST_ACROSS if poles == 2 else LONGEST_OUT


class SpeedMachine(Group):
    """`layouts`: for each way to connect it the number of poles, and slot angles, sides and letters as `LayeredStator` takes
    them; one is shown at a time. `full_fields`: for each number of poles the field that makes the longest arrow."""

    def __init__(self, layouts: dict[str, tuple], full_fields: dict[int, float]):
        super().__init__()
        self.shape = StatorShape()
        self.rotor = self.add(Solid(_rotor()))
        self.rotor.put((0, 0, 0))
        self.stators = {way: self.add(LayeredStator(self.shape, *layout[1:])) for way, layout in layouts.items()}
        numbers = sorted({layout[0] for layout in layouts.values()})
        self.poles = {n: self.add(PolesDrawn(self.shape, n // 2)) for n in numbers}
        self.fields = {n: self.add(FieldArrows("B", n // 2, longest_field(n), full_fields[n])) for n in numbers}
        self.hand = self.add(RotorMark())
        self.turning = self.add(CurvedArrow("", palette.FIELD, TURNING_AT, 0.006, TURNING_SPAN, "rotation of the field", steady=True))

    def put(self, way: str, poles: int, peak_angle: float, field: float, rotation: float, rotor: float, side: float) -> None:
        """The connection of that name, its `field` of so many `poles` with an outward peak at `peak_angle` (none for 0),
        which way that turns (counter-clockwise above 0), and the mark on the rotor at the angle `rotor`."""
        for name, stator in self.stators.items():
            stator.visible = self.visible and name == way
        for n in self.poles:
            self.poles[n].visible = self.fields[n].visible = self.visible and n == poles and field > 0
        self.stators[way].seen_from(side)
        self.poles[poles].put(peak_angle, side)
        self.fields[poles].put(peak_angle, field, side * 0.036)
        self.turning.visible = self.visible and field > 0
        self.turning.put(peak_angle + 0.3 / (poles // 2) * rotation, rotation, side * 0.036)
        self.hand.put(rotor, side * 0.05)


def _rotor() -> Mesh:
    """A cage rotor from outside: core, end rings, the ends of its bars, shaft."""
    core = rod([0, 0, -0.027], [0, 0, 0.021], 0.046, LAMINATIONS, 36)
    ring = sector(np.linspace(0, 2 * np.pi, 37), 0.034, 0.045, 0.0025).coloured(RING)
    rings = [ring.moved([0, 0, z]) for z in (0.0235, -0.0295)]
    bars = [rod(polar(0.0405, k * 2 * np.pi / 28, -0.0325), polar(0.0405, k * 2 * np.pi / 28, 0.0265), 0.0024, BAR, 6) for k in range(28)]
    return joined(shaded(core, *rings), *rings, *bars, rod([0, 0, -0.07], [0, 0, 0.05], 0.009, palette.STEEL, 12))


class RotorMark(Group):
    """A hand on the rotor's end that turns with it: a mark by which one sees the rotor turn, no quantity."""

    def __init__(self):
        super().__init__()
        self.solid = self.add(
            Solid(
                joined(
                    rod([0.008, 0, 0], [HAND - 0.018, 0, 0], 0.00425, palette.MOTION, 10),
                    cone([HAND - 0.018, 0, 0], [HAND + 0.008, 0, 0], 0.0102, palette.MOTION, 14),
                )
            )
        )
        self.letters = self.add(Letters("rotor", palette.PAPER, 20, ground=palette.MOTION))
        self._told = ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))

    def put(self, angle: float, z: float) -> None:
        """Point it along the mechanical `angle`, at `z` along the shaft."""
        self.solid.put((0, 0, z), turned(angle))
        self.letters.put(polar(0.03, angle, z) + polar(0.014, angle - np.pi / 2))
        self._told = point((0, 0, z)), point(polar(1.0, angle))

    def tell(self, found: Told) -> None:
        found.needles.append(("mark on the rotor", *self._told))
