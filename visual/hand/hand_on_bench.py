"""Hands on the bench: turned to the vectors they are given, with a letter at each finger of the rule."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.hand.hands import WORK_GLOVE, Glove, fleming_hand, fleming_rotation, grip_hand, grip_rotation
from visual.solid.mesh import at_right_angles, cone, joined, rod
from visual.solid.solids import Group, Letters, NamedLine, Solid
from visual.solid.told import HandTold, Point, Told, point

WRIST = np.array([0.01, -0.14, 0.42])  # the middle of the wrist, in hand lengths from the first finger's knuckle
BEYOND = (1.38, 1.22, 1.22)  # where the letters of thumb, first and second finger are, in multiples of their tips' positions

LAST_BONE, FINGER_RADIUS = 0.12, 0.05  # of a finger, in hand lengths
BEHIND = np.array([0.01, -0.14, 0.85])  # where a mistake stands, behind the wrist


class FlemingHand(Group):
    """A left or right hand of `size` metres with `letters` at thumb, first and second finger, and a thin line to the conductor that
    it is about. `mistake`: the one by which it is held so, which then stands behind its wrist."""

    def __init__(self, side: str, size: float, letters: tuple[str, str, str], colours, *, glove: Glove = WORK_GLOVE, mistake: str = ""):
        super().__init__()
        self.side, self.size, self.mistake = side, size, mistake
        self._held: np.ndarray | None = None
        self._turn = np.eye(3)
        thumb, first, second = colours
        self.hand = fleming_hand(side, thumb, first, second, glove)
        self.solid = self.add(Solid(self.hand.mesh))
        self.letters = [
            self.add(Letters(letter, palette.PAPER, 20, ground=colour, role="hand", lines=[_last_bone(self.solid, tip, pointing)]))
            for letter, colour, tip, pointing in zip(letters, colours, self.hand.tips, self.hand.pointing, strict=True)
        ]
        self.line = self.add(ConductorLine(0.016 * size))
        self.sign = self.add(sign_of(mistake)) if mistake else None

    def put(self, pos, hand, conductor=None) -> None:
        """Put it at `pos`, m, with its fingers along `hand.thumb`, `hand.first_finger` and `hand.second_finger`, unit vectors at
        right angles; hide it if one of them is zero, or `hand` is None. `conductor`: the position, (3,), m, of the conductor that
        it is about, to which a line is drawn."""
        fingers = (hand.thumb, hand.first_finger, hand.second_finger) if hand is not None else ()
        self.visible = bool(fingers) and all(np.any(finger) for finger in fingers)
        if not self.visible:
            return
        stands = self._held is not None and np.array_equal(self._held, np.array((pos, *fingers)))
        turn = self._turn = self._turn if stands else fleming_rotation(self.side, *fingers)
        self.line.put(np.asarray(pos) + self.size * (turn @ WRIST), conductor)
        if stands:
            return
        self._held = np.array((pos, *fingers))
        self.solid.put(pos, turn, self.size)
        for letters, tip, beyond in zip(self.letters, self.hand.tips, BEYOND, strict=True):
            letters.put(np.asarray(pos) + self.size * (turn @ (tip * beyond)))
        if self.sign:
            self.sign.put(np.asarray(pos) + self.size * (turn @ BEHIND))

    def tell(self, found: Told) -> None:
        """The direction of each finger, from knuckle to tip."""
        if self._held is None:
            return
        thumb, first, second = (point(self._turn @ along) for along in self.hand.pointing)
        found.hands.append(HandTold(self.side, point(self._held[0]), thumb, first, second, self.line.end, self.mistake))


def sign_of(mistake: str) -> Letters:
    """The words that mark a hand as wrong."""
    return Letters(crossed_out(mistake), palette.PAPER, 20, ground=palette.WRONG, role="hand")


def crossed_out(text: str) -> str:
    return f"\N{BALLOT X} {text}"


def _last_bone(solid: Solid, tip, pointing) -> NamedLine:
    """The end of a finger, which no letter may cover."""
    start = np.asarray(tip) - LAST_BONE * np.asarray(pointing)
    return NamedLine(solid, point(start), point(tip), FINGER_RADIUS)


class ConductorLine(Group):
    """A thin line with a bead at its far end, from a hand to the conductor that it is about."""

    def __init__(self, thickness: float):
        super().__init__()
        self.thickness = thickness
        self.end: Point | None = None
        self.shaft = self.add(Solid(rod([0, 0, 0], [1, 0, 0], 0.5, palette.INK, 6)))
        self.bead = self.add(Solid(joined(*[cone([0, 0, 0], [0, end, 0], 0.8, palette.INK, 8) for end in (-1, 1)])))

    def put(self, start, end) -> None:
        """Draw it from `start` to `end`, each (3,), m; None for no line."""
        self.visible = end is not None
        self.end = None if end is None else point(end)
        if end is None:
            return
        between = np.asarray(end, float) - np.asarray(start, float)
        long = float(np.linalg.norm(between))
        along = (between / long).tolist()
        self.shaft.put_along(start, along, at_right_angles(along), (long, self.thickness, self.thickness))
        self.bead.put(end, None, 2.6 * self.thickness)


class GripHand(Group):
    """A hand of `size` metres closed round a wire, the thumb along the current, `letters` at thumb and fingers. It is a right hand
    but where a mistake takes the left; `mistake`: the one by which it is held so."""

    def __init__(
        self,
        size: float,
        letters: tuple[str, str],
        thumb_colour,
        finger_colour,
        side: str = "right",
        *,
        glove: Glove = WORK_GLOVE,
        mistake: str = "",
    ):
        super().__init__()
        self.side, self.size, self.mistake = side, size, mistake
        self.hand = grip_hand(side, thumb_colour, finger_colour, glove)
        self.solid = self.add(Solid(self.hand.mesh))
        self.thumb, self.finger = [
            self.add(Letters(letter, palette.PAPER, 20, ground=colour, role="hand", lines=[_last_bone(self.solid, tip, pointing)]))
            for letter, colour, tip, pointing in zip(
                letters, (thumb_colour, finger_colour), self.hand.tips, self.hand.pointing, strict=False
            )
        ]
        self.sign = self.add(sign_of(mistake)) if mistake else None

    def put(self, pos, current, wrist) -> None:
        """Close it round the line through `pos`, m, along `current`; hide it if there is no current."""
        self.visible = bool(np.any(current))
        if not self.visible:
            return
        turn = self._turn = grip_rotation(current, wrist)
        self._pos = point(pos)
        self.solid.put(pos, turn, self.size)
        beside = np.array([-0.12 if self.side == "right" else 0.12, -0.2, 0.1])
        self.thumb.put(np.asarray(pos) + self.size * (turn @ (self.hand.thumb_tip * 1.25)))
        self.finger.put(np.asarray(pos) + self.size * (turn @ (self.hand.first_tip + beside)))
        if self.sign:
            self.sign.put(np.asarray(pos) + self.size * (turn @ BEHIND))

    def tell(self, found: Told) -> None:
        """The direction of the thumb, and of the first finger's last bone."""
        thumb, first, _ = (point(self._turn @ along) for along in self.hand.pointing)
        found.hands.append(HandTold(self.side, self._pos, thumb, first, None, on=self._pos, mistake=self.mistake))
