"""A cage motor seen from its end, made for counting: field and rotor each with a hand, and a band for what lies between.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.cage_drawn import CageDrawn, CageShape
from visual.machines.stator import StatorShape, plain_stator, polar, turned
from visual.solid.mesh import Mesh
from visual.solid.solids import Arrow, Group, Letters, Solid

STATOR = StatorShape(bore=0.066, slot_bottom=0.067, outside=0.085)
HAND = 0.040  # m, of the rotor
LONGEST_ACROSS, LONGEST_OUT = 0.08, 0.04  # m, the arrow of a two-pole field and those of more poles
BAND = (0.0875, 0.0945)  # m, radii
PIECES = 36  # of a lap, in which the band grows


class SlipMachine(Group):
    """Poles and field arrows for each of the numbers of `poles`, a cage of `bars`, three counters."""

    def __init__(self, bars: int, poles):
        super().__init__()
        self.shape = CageShape(bars)
        self.add(Solid(plain_stator(STATOR))).put((0, 0, 0))
        self.rotor = self.add(CageDrawn(self.shape))
        self.nothing = np.zeros(bars)
        self.poles = {n: self.add(PolesDrawn(STATOR, n // 2, letters_at=STATOR.bore + 0.0095)) for n in poles}
        self.fields = {n: self.add(FieldArrows("B", n // 2, LONGEST_ACROSS if n == 2 else LONGEST_OUT)) for n in poles}
        self.hand = self.add(Arrow("", palette.MOTION, 0.0085))
        self.hand_letter = self.add(Letters("n", palette.PAPER, 24, ground=palette.MOTION))
        self.band = [self.add(Solid(_band(2 * np.pi * (k + 1) / PIECES))) for k in range(PIECES)]
        for band in self.band:
            band.visible = False
            band.colour(palette.EMF)
        self.field_count = self.add(Letters("", palette.PAPER, 22, ground=palette.FIELD))
        self.rotor_count = self.add(Letters("", palette.PAPER, 22, ground=palette.MOTION))
        self.lap_count = self.add(Letters("", palette.PAPER, 28, ground=palette.EMF))

    def show_field(self, poles: int, crest: float, share: float, side: float) -> None:
        """The stator's field: where flux goes outward most, rad, and how strong it is."""
        for n in self.poles:
            self.poles[n].visible = self.fields[n].visible = self.visible and n == poles
        self.poles[poles].put(crest, side)
        self.fields[poles].put(crest, share, side * (self.shape.front + 0.009))

    def show_rotor(self, angle: float, currents, side: float) -> None:
        """The cage at that angle, its hand, and the currents of its bars, toward +z, as shares of the largest."""
        self.rotor.put(angle, currents, self.nothing, side=side)
        front = [0.0, 0.0, side * (self.shape.front + 0.02)]
        way = polar(1.0, angle)
        self.hand.put(0.004 * way + front, HAND * way)
        self.hand_letter.put(polar(0.033, angle) + polar(0.016, angle - np.pi / 2) + front)

    def show_band(self, crest: float, sense: float, part: float, side: float) -> None:
        """From the field's hand at `crest` back, against its `sense`, as much of a round as `part` of a lap."""
        wanted = round(part * PIECES) - 1
        for k, band in enumerate(self.band):
            band.visible = self.visible and k == wanted
            if k == wanted:
                # built counter-clockwise from angle 0: behind a field that turns clockwise
                start = crest if sense < 0 else crest - 2 * np.pi * (k + 1) / PIECES
                band.put((0, 0, side * STATOR.half_length), turned(start))

    def show_counts(self, field: str, rotor: str, laps: str, side: float) -> None:
        """What the counters say: the field's and the rotor's at the upper left, the laps below."""
        z = side * STATOR.half_length
        for counter, text, place in ((self.field_count, field, (-side * 0.115, 0.093, z)), (self.rotor_count, rotor, (-side * 0.115, 0.067, z)),
                                     (self.lap_count, laps, (0.0, -0.106, z))):
            counter.text = text
            counter.put(place)


def _band(span: float) -> Mesh:
    """A flat part of a ring from angle 0 counter-clockwise through `span`, seen from both ends, white."""
    angles = np.linspace(0, span, max(2, int(np.ceil(span / np.radians(10))) + 1))
    way = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(len(angles))])
    edges = np.vstack([BAND[0] * way, BAND[1] * way])
    count = len(angles)
    near = np.arange(count - 1)
    front = np.concatenate([np.column_stack([near, near + count, near + count + 1]), np.column_stack([near, near + count + 1, near + 1])])
    normal = np.tile([0.0, 0.0, 1.0], (len(edges), 1))
    return Mesh(
        np.vstack([edges + 0.0005 * normal, edges - 0.0005 * normal]), np.vstack([normal, -normal]), np.ones((2 * len(edges), 3)),
        np.vstack([front, front[:, ::-1] + len(edges)]),
    )
