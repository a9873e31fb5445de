"""A cage motor seen from its end: the poles of a turning field round a cage, and arrows for what comes of it.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end: letters and
arrows that belong to the picture and not to the machine stand at that end.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.hand.hand_on_bench import FlemingHand
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.cage_drawn import CageDrawn, CageShape
from visual.machines.stator import StatorShape, plain_stator, polar
from visual.solid.solids import Arrow, Group, Letters, Solid

STATOR = StatorShape(bore=0.066, slot_bottom=0.067, outside=0.085)
LONGEST_TORQUE = 0.1  # m
LONGEST_ACROSS, LONGEST_OUT = 0.074, 0.034  # m, the arrow of a two-pole field and those of more poles
LONGEST_SPEED = 0.05  # m, of a rotor that keeps up with the field


def longest_field(pole_pairs: int) -> float:
    """Metres of a field arrow whose share is 1."""
    return LONGEST_ACROSS if pole_pairs == 1 else LONGEST_OUT


class CageMachine(Group):
    """Stator ring, poles and field arrows for each of the numbers of `poles`, and a cage of `bars`."""

    def __init__(self, bars: int, poles):
        super().__init__()
        self.shape = CageShape(bars)
        self.add(Solid(plain_stator(STATOR))).put((0, 0, 0))
        self.rotor = self.add(CageDrawn(self.shape))
        self.poles = {n: self.add(PolesDrawn(STATOR, n // 2, letters_at=STATOR.bore + 0.0095)) for n in poles}
        self.fields = {n: self.add(FieldArrows("B", n // 2, longest_field(n // 2))) for n in poles}
        self.reaction = self.add(Arrow("R", palette.EMF, 0.0065, 1.0))
        self.lag = self.add(Letters("", palette.PAPER, 20, ground=palette.EMF))
        self.torque = self.add(Arrow("T", palette.FORCE, 0.008, LONGEST_TORQUE))
        self.speed = self.add(Arrow("n", palette.MOTION, 0.007, LONGEST_SPEED))
        self.hands = {
            "right": self.add(FlemingHand("right", 0.072, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF))),
            "left": self.add(FlemingHand("left", 0.072, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT))),
        }

    def show_field(self, poles: int, crest: float, share: float, side: float) -> None:
        """The stator's field: where flux goes outward most, rad, and how strong it is."""
        for n in self.poles:
            self.poles[n].visible = self.fields[n].visible = self.visible and n == poles
        self.poles[poles].put(crest, side)
        self.fields[poles].put(crest, share, self._front(side))

    def show_reaction(self, pole_pairs: int, crest: float, lag: float, share: float, side: float) -> None:
        """The rotor's own field, `lag` electrical rad behind the stator's counter-clockwise; nothing for a share of 0."""
        self.lag.visible = self.visible and share > 0
        if share <= 0:
            self.reaction.put((0, 0, 0), np.zeros(3))
            return
        angle = crest - lag / pole_pairs
        length = share * longest_field(pole_pairs)
        start = polar(-length / 2 if pole_pairs == 1 else 0.006, angle, self._front(side) + 0.004 * side)
        self.reaction.put(start, polar(length, angle))
        self.lag.text = f"\N{GREEK SMALL LETTER DELTA} {abs(np.degrees(lag)):.0f}°"
        self.lag.put((-side * 0.088, -0.089, side * STATOR.half_length))

    def show_shaft(self, torque: float, speed: float, side: float) -> None:
        """Torque and speed, counter-clockwise positive, as shares of the largest: arrows that go round outside, the
        torque's at the left of the picture, the speed's below it."""
        at = STATOR.outside + 0.008
        self.torque.put((-side * at, side * torque * LONGEST_TORQUE / 2, side * STATOR.half_length), [0, -side * torque, 0])
        self.speed.put((-speed * LONGEST_SPEED / 2, -at, side * STATOR.half_length), [speed, 0, 0])

    def show_hand(self, hand, side: float) -> None:
        """A hand with `side`, `thumb`, `first_finger` and `second_finger` beside the machine; None for no hand."""
        for name, drawn in self.hands.items():
            drawn.put((side * 0.128, -0.006, side * 0.045), hand if hand is not None and hand.side == name else None)

    def _front(self, side: float) -> float:
        return side * (self.shape.front + 0.009)
