"""A cage motor seen from its end, made for counting: field and rotor each with a hand, and a band for what lies between.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.cage_drawn import CageDrawn, CageShape
from visual.machines.motor_iron import StatorIron
from visual.machines.stator import StatorShape, polar, turned
from visual.solid.mesh import Mesh, block, cone, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point
from visual.switchgear.three_phase import MotorOnLines

STATOR = StatorShape(bore=0.066, slot_bottom=0.067, outside=0.085)
BOX, RAIL = (-0.0255, 0.1055, 0.0), (0.085, 0.1055, 0.0)  # the first of the motor's terminals, and of the supply's
HAND = 0.040  # m, of the rotor
LONGEST_ACROSS, LONGEST_OUT = 0.08, 0.04  # m, the arrow of a two-pole field and those of more poles
GROUND = -0.115  # m, the height on which it stands
BAND = (0.0865, 0.0925)  # m, radii
PIECES = 72  # of a lap, in which the band grows


def longest_field(poles: int) -> float:
    """Metres of the longest field arrow."""
    return LONGEST_ACROSS if poles == 2 else LONGEST_OUT


class SlipMachine(Group):
    """Stator ring on three lines, poles and field arrows for each of the numbers of `poles`, a cage of `bars`, three counters."""

    def __init__(self, bars: int, poles):
        super().__init__()
        self.shape = CageShape(bars)
        self.add(StatorIron(STATOR, GROUND))
        self.add(Solid(block([0, 0.0885, -0.0055], [0.03, 0.009, 0.01], palette.IRON))).put((0, 0, 0))  # clear of the band
        self.wiring = self.add(MotorOnLines(BOX, RAIL))
        self.rotor = self.add(CageDrawn(self.shape))
        self.poles = {n: self.add(PolesDrawn(STATOR, n // 2, letters_at=STATOR.bore + 0.0095)) for n in poles}
        self.fields = {n: self.add(FieldArrows("B", n // 2, longest_field(n))) for n in poles}
        self.hand = self.add(RotorHand(HAND))
        self.band = self.add(SlipBand())
        self.field_count = self.add(Letters("", palette.PAPER, 22, ground=palette.FIELD))
        self.rotor_count = self.add(Letters("", palette.PAPER, 22, ground=palette.MOTION))
        self.lap_count = self.add(Letters("", palette.PAPER, 26, ground=palette.EMF, role="laps"))

    def show_field(self, poles: int, peak_angle: float, tesla: float, full: float, side: float) -> None:
        """The gap field: where flux goes outward most, rad, and its peak, drawn as the longest arrow for `full` T."""
        for n in self.poles:
            self.poles[n].visible = self.fields[n].visible = self.visible and n == poles
        self.poles[poles].put(peak_angle, side)
        self.fields[poles].scale(full)
        self.fields[poles].put(peak_angle, tesla, side * (self.shape.front + 0.009))

    def show_rotor(self, angle: float, currents, side: float) -> None:
        """The cage at that angle, its hand, and the currents of its bars, toward +z, as shares of the largest."""
        self.rotor.put(angle, currents, side=side)
        self.hand.put(angle, side * (self.shape.front + 0.02))

    def show_band(self, peak_angle: float, sense: float, part: float, side: float) -> None:
        """From the field's hand at `peak_angle` back, against its `sense`, as much of a turn as `part` of a lap."""
        self.band.put(peak_angle, sense, part, side * STATOR.half_length)

    def show_counts(self, field: str, rotor: str, laps: str, side: float) -> None:
        """What the counters say: one below the other at the lower left, beside the machine."""
        z = side * STATOR.half_length
        places = (-side * 0.105, -0.052, z), (-side * 0.105, -0.084, z), (-side * 0.105, -0.118, z)
        counters = (self.field_count, field), (self.rotor_count, rotor), (self.lap_count, laps)
        for (counter, text), place in zip(counters, places, strict=True):
            counter.text = text
            counter.put(place)


class RotorHand(Group):
    """A hand like that of a clock, fixed to the rotor."""

    def __init__(self, long: float):
        super().__init__()
        self.solid = self.add(
            Solid(
                joined(
                    rod([0.004, 0, 0], [0.6 * long, 0, 0], 0.00425, (1, 1, 1), 10),
                    cone([0.5 * long, 0, 0], [long, 0, 0], 0.0102, (1, 1, 1), 14),
                )
            )
        )
        self.solid.colour(palette.MOTION)
        self.letter = self.add(Letters("rotor", palette.PAPER, 18, ground=palette.MOTION))
        self._foot, self._along = (0.0, 0.0, 0.0), np.zeros(3)

    def put(self, angle: float, z: float) -> None:
        """At that angle, rad, and that place along the shaft."""
        turn = turned(angle)
        self._foot, self._along = (0.0, 0.0, z), turn[:, 0]
        self.solid.put(self._foot, turn)
        self.letter.put(polar(0.026, angle, z) + polar(0.015, angle - np.pi / 2))

    def tell(self, found: Told) -> None:
        found.needles.append(("hand of the rotor", point(self._foot), point(self._along)))


class SlipBand(Group):
    """A band round the stator from the field's hand back to where a lap of slip has come."""

    def __init__(self):
        super().__init__()
        self.pieces = [self.add(Solid(_band(2 * np.pi * (k + 1) / PIECES))) for k in range(PIECES)]
        for piece in self.pieces:
            piece.visible = False
            piece.colour(palette.EMF)
        self._end: tuple[float, float, float] | None = None  # angle where it ends, share of a lap, z

    def put(self, peak_angle: float, sense: float, part: float, z: float) -> None:
        wanted = round(part * PIECES) - 1
        self._end = None
        for k, piece in enumerate(self.pieces):
            piece.visible = self.visible and k == wanted
            if k == wanted:
                span = 2 * np.pi * (k + 1) / PIECES
                # built counter-clockwise from angle 0: behind a field that turns clockwise
                start = peak_angle if sense < 0 else peak_angle - span
                piece.put((0, 0, z), turned(start))
                self._end = (start + span if sense < 0 else start, (k + 1) / PIECES, z)

    def tell(self, found: Told) -> None:
        """Where it ends: the field's hand is where it begins."""
        if self._end is not None:
            angle, part, z = self._end
            found.needles.append(
                (f"end of the slip band, {part:.2f} of a lap behind the field", point(polar(BAND[1], angle, z)), point(polar(1.0, angle)))
            )


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
        np.vstack([edges + 0.0005 * normal, edges - 0.0005 * normal]),
        np.vstack([normal, -normal]),
        np.ones((2 * len(edges), 3)),
        np.vstack([front, front[:, ::-1] + len(edges)]),
    )
