"""A stator that can be joined for several numbers of poles, seen from its end, with a rotor's hand in the bore.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.layered_stator import LayeredStator
from visual.machines.stator import StatorShape, polar
from visual.solid.mesh import joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

HAND = 0.038  # m
LONGEST_ACROSS, LONGEST_OUT = 0.075, 0.036  # m, of the field's arrows


class SpeedMachine(Group):
    """`layouts`: for each way to connect it the number of poles, and slot angles, sides and letters as `LayeredStator` takes
    them; one is shown at a time."""

    def __init__(self, layouts: dict[str, tuple]):
        super().__init__()
        self.shape = StatorShape()
        self.rotor = self.add(Solid(joined(
            rod([0, 0, -0.03], [0, 0, 0.024], 0.046, (0.70, 0.73, 0.75), 32), rod([0, 0, -0.07], [0, 0, 0.05], 0.009, palette.STEEL, 12))))
        self.rotor.put((0, 0, 0))
        self.stators = {way: self.add(LayeredStator(self.shape, *layout[1:])) for way, layout in layouts.items()}
        numbers = sorted({layout[0] for layout in layouts.values()})
        self.poles = {n: self.add(PolesDrawn(self.shape, n // 2)) for n in numbers}
        self.fields = {n: self.add(FieldArrows("B", n // 2, LONGEST_ACROSS if n == 2 else LONGEST_OUT)) for n in numbers}
        self.hand = self.add(Arrow("", palette.MOTION, 0.0085))
        self.hand_letter = self.add(Letters("n", palette.PAPER, 24, ground=palette.MOTION))

    def put(self, way: str, poles: int, crest: float, strength: float, rotor: float, side: float) -> None:
        """The connection of that name, its field of so many `poles` with a crest at that angle, as strong as
        `strength` (none for 0), and the rotor's hand at `rotor`."""
        for name, stator in self.stators.items():
            stator.visible = self.visible and name == way
        for n in self.poles:
            self.poles[n].visible = self.fields[n].visible = self.visible and n == poles and strength > 0
        self.stators[way].seen_from(side)
        self.poles[poles].put(crest, side)
        self.fields[poles].put(crest, strength, side * 0.036)
        way = polar(1.0, rotor)
        front = np.array([0, 0, side * 0.05])
        self.hand.put(0.008 * way + front, HAND * way)
        self.hand_letter.put(polar(0.03, rotor) + polar(0.014, rotor - np.pi / 2) + front)
