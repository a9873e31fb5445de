"""The hands as they stand on the bench: turned by the vectors they are given, a letter at each telling finger."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.hand.hands import fleming_hand, fleming_rotation, grip_hand, grip_rotation
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import HandTold, Told, point

BEYOND = (1.38, 1.22, 1.22)  # where the letters of thumb, first and second finger stand, in lengths of these


class FlemingHand(Group):
    """A left or a right hand of `size` metres with `letters` at thumb, first and second finger."""

    def __init__(self, side: str, size: float, letters: tuple[str, str, str], colours):
        super().__init__()
        self.side, self.size, self._held = side, size, None
        self.hand = fleming_hand(side, *colours)
        self.solid = self.add(Solid(self.hand.mesh))
        self.letters = [
            self.add(Letters(letter, palette.PAPER, 20, ground=colour)) for letter, colour in zip(letters, colours)
        ]

    def put(self, pos, hand) -> None:
        """Stand it at `pos` with its fingers along `hand.thumb`, `hand.first_finger` and `hand.second_finger`, unit vectors
        at right angles; hide it where one of them is nothing, and for a `hand` of None."""
        fingers = (hand.thumb, hand.first_finger, hand.second_finger) if hand is not None else ()
        self.visible = bool(fingers) and all(np.any(finger) for finger in fingers)
        if not self.visible:
            return
        if self._held is not None and np.array_equal(self._held, (pos, *fingers)):
            return
        self._held = np.array((pos, *fingers))
        turn = self._turn = fleming_rotation(self.side, *fingers)
        self.solid.put(pos, turn, self.size)
        tips = (self.hand.thumb_tip, self.hand.first_tip, self.hand.second_tip)
        for letters, tip, beyond in zip(self.letters, tips, BEYOND):
            letters.put(np.asarray(pos) + self.size * (turn @ (tip * beyond)))

    def tell(self, found: Told) -> None:
        """The fingers as they stand: from the knuckle to the tip of each."""
        thumb, first, second = (point(self._turn @ along) for along in self.hand.pointing)
        found.hands.append(HandTold(self.side, point(self._held[0]), thumb, first, second))


class GripHand(Group):
    """A right hand of `size` metres closed round a wire, the thumb along the current, `letters` at thumb and fingers."""

    def __init__(self, size: float, letters: tuple[str, str], thumb_colour, finger_colour):
        super().__init__()
        self.size = size
        self.hand = grip_hand("right", thumb_colour, finger_colour)
        self.solid = self.add(Solid(self.hand.mesh))
        self.thumb = self.add(Letters(letters[0], palette.PAPER, 20, ground=thumb_colour))
        self.finger = self.add(Letters(letters[1], palette.PAPER, 20, ground=finger_colour))

    def put(self, pos, current, wrist) -> None:
        """Close it round the line through `pos` along `current`; hide it where there is no current."""
        self.visible = bool(np.any(current))
        if not self.visible:
            return
        turn = self._turn = grip_rotation(current, wrist)
        self._pos = point(pos)
        self.solid.put(pos, turn, self.size)
        self.thumb.put(np.asarray(pos) + self.size * (turn @ (self.hand.thumb_tip * 1.25)))
        self.finger.put(np.asarray(pos) + self.size * (turn @ (self.hand.first_tip + np.array([-0.12, -0.2, 0.1]))))

    def tell(self, found: Told) -> None:
        """The thumb as it stands, and the first finger by its last bone."""
        thumb, first, _ = (point(self._turn @ along) for along in self.hand.pointing)
        found.hands.append(HandTold("right", self._pos, thumb, first, None))
