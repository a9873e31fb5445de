"""A cage motor seen from its end: the poles of a rotating field round a cage, and arrows for what comes of it.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end: letters and
arrows that belong to the picture and not to the machine stand at that end.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.hand.rule_hand import RuleHand
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.cage_drawn import CageDrawn, CageShape
from visual.machines.motor_iron import StatorIron
from visual.machines.stator import StatorShape, polar
from visual.solid.curved import CurvedArrow
from visual.solid.solids import Arrow, Group, Letters
from visual.switchgear.three_phase import MotorOnLines

STATOR = StatorShape(bore=0.066, slot_bottom=0.067, outside=0.085)
BOX, RAIL = (-0.0255, 0.0985, 0.0), (0.085, 0.0985, 0.0)  # the first of the motor's terminals, and of the supply's
BAND = 0.012  # m, of the pole faces at either end: the bars are seen between
GROUND = -0.115  # m, the height on which it stands
# of the curved arrows: where they begin, rad, on which radius, m, and how far round they go at most, rad
TORQUE, SPEED = (np.pi, 0.0945, 1.3), (-np.pi / 2, 0.1035, 1.6)
LONGEST_ACROSS, LONGEST_OUT = 0.09, 0.041  # m, the arrow of a two-pole field and those of more poles
FASTEST = 1.6  # of synchronous speed: the longest arrow
LEAST_SHARE = 0.02  # of the longest, below which the rotor's field is not drawn


def longest_field(pole_pairs: int) -> float:
    """Metres of the longest field arrow."""
    return LONGEST_ACROSS if pole_pairs == 1 else LONGEST_OUT


class CageMachine(Group):
    """Stator ring on three lines, poles and field arrows for each of the numbers of `poles`, and a cage of `bars`;
    `largest_field` T is drawn as the longest arrow."""

    def __init__(self, bars: int, poles, largest_field: float):
        super().__init__()
        self.shape = CageShape(bars)
        self.stator = self.add(StatorIron(STATOR, GROUND))
        self.wiring = self.add(MotorOnLines(BOX, RAIL))
        self.rotor = self.add(CageDrawn(self.shape))
        self.poles = {n: self.add(PolesDrawn(STATOR, n // 2, letters_at=STATOR.bore + 0.0095, band=BAND)) for n in poles}
        self.fields = {n: self.add(FieldArrows("B", n // 2, longest_field(n // 2), largest_field)) for n in poles}
        self.reaction = self.add(Arrow("B\N{LATIN SUBSCRIPT SMALL LETTER R}", palette.EMF, 0.0055))
        self.lag = self.add(Letters("", palette.PAPER, 20, ground=palette.EMF))
        self.torque = self.add(CurvedArrow("T", palette.FORCE, TORQUE[1], 0.0085, TORQUE[2]))
        self.speed = self.add(CurvedArrow("n", palette.MOTION, SPEED[1], 0.007, SPEED[2]))
        self.hands = {
            "right": self.add(RuleHand("right", 0.072, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF))),
            "left": self.add(RuleHand("left", 0.072, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT))),
        }

    def show_field(self, poles: int, peak_angle: float, tesla: float, side: float) -> None:
        """The gap field: where flux goes outward most, rad, and its peak."""
        for n in self.poles:
            self.poles[n].visible = self.fields[n].visible = self.visible and n == poles
        self.poles[poles].put(peak_angle, side)
        self.fields[poles].put(peak_angle, tesla, self._front(side) + 0.009 * side)

    def show_reaction(self, pole_pairs: int, peak_angle: float, lag: float, tesla: float, full: float, side: float) -> None:
        """The rotor's own field, its peak drawn as the longest arrow for `full`, `lag` electrical rad behind the gap field
        counter-clockwise; nothing for a field of 0."""
        share = tesla / full
        self.lag.visible = self.visible and share > LEAST_SHARE
        if share <= LEAST_SHARE:
            self.reaction.put((0, 0, 0), np.zeros(3))
            return
        angle = peak_angle - lag / pole_pairs
        length = share * longest_field(pole_pairs)
        self.reaction.metres_per_unit = longest_field(pole_pairs) / full
        start = polar(-length / 2 if pole_pairs == 1 else 0.006, angle, self._front(side))
        self.reaction.put(start, polar(tesla, angle))
        self.lag.text = f"β {abs(np.degrees(lag)):.0f}°"
        self.lag.put((-side * 0.115, -0.108, side * STATOR.half_length))

    def show_iron(self, how: str) -> None:
        """The iron of stator and rotor: `motor_iron.SHOWN`, `EDGES` or `OFF`."""
        self.stator.show(how)
        self.rotor.how = how

    def show_shaft(self, torque: float, full_torque: float, speed: float, full_speed: float, side: float) -> None:
        """Torque and speed, counter-clockwise positive, the longest for the full torque and for `FASTEST` times the full speed: curved
        arrows round the stator at the end of that `side`, the torque's at the left of it, the speed's below."""
        self.torque.full, self.speed.full = full_torque, FASTEST * full_speed
        start = TORQUE[0] if side > 0 else 0.0
        self.torque.put(start, torque, side * STATOR.half_length)
        self.speed.put(SPEED[0], speed, side * STATOR.half_length)

    def show_hand(self, hand, bar_angle: float, side: float) -> None:
        """A hand with `rule`, `thumb`, `first_finger` and `second_finger` beside the machine, tied to the bar at that angle;
        None for no hand."""
        bar = polar(self.shape.circle, bar_angle, side * self.shape.front)
        for name, drawn in self.hands.items():
            drawn.put((side * 0.128, -0.016, side * 0.045), hand if hand is not None and hand.rule == name else None, bar)

    def _front(self, side: float) -> float:
        return side * (self.shape.front + 0.009)
