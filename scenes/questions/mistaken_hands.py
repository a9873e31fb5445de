"""Hands as the usual mistakes hold them, from the vectors of the hand that the rule asks for: what is given stays given, but for the
mistake, and the last finger points where such a hand then makes it point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from physics.directions import Grip, Hand, cross
from scenes.questions.mistakes import ELECTRONS, FINGERS, OTHER_HAND

THUMB, FIRST, SECOND = 0, 1, 2
FINGER = ("thumb", "first finger", "second finger")
OTHER = {"left": "right", "right": "left"}
# by the hand that the rule asks for: the finger that is given beside the first, and the one that gives the answer
GIVEN, ANSWER = {"left": SECOND, "right": THUMB}, {"left": THUMB, "right": SECOND}


@dataclass(frozen=True, eq=False)
class MistakenHand:
    """A hand held by a mistake: which, with thumb, first and second finger along unit vectors (3,), and the hand that the `rule` asks
    for. Fingers are counted from the thumb, 0.

    stands_for  the finger of the rule that each of its own stands for;  gives  its finger that gives the wrong answer
    against     its finger that lies against what is given;  None where none does
    """

    mistake: str
    rule: str
    side: str
    thumb: np.ndarray
    first_finger: np.ndarray
    second_finger: np.ndarray
    stands_for: tuple[int, int, int]
    gives: int
    against: int | None

    def words(self, say: Callable[[np.ndarray], str]) -> str:
        """Which finger points where, in a sentence."""
        along = (self.thumb, self.first_finger, self.second_finger)
        given = GIVEN[self.rule]
        return (
            f"{self.side} hand, first finger {say(along[FIRST])}, {FINGER[given]} {say(along[given])}; its {FINGER[self.gives]} then "
            f"points {say(along[self.gives])}"
        )


@dataclass(frozen=True, eq=False)
class MistakenGrip:
    """A hand that grips a wire by a mistake: which, its thumb's unit vector (3,), and whether that is against the current."""

    mistake: str
    side: str
    thumb: np.ndarray
    against: bool

    def words(self, say: Callable[[np.ndarray], str]) -> str:
        """How it is held, in a sentence."""
        return f"{self.side} hand, thumb {say(self.thumb)}; its fingers then curl the wrong way round"


def held_by(mistake: str, right: Hand) -> MistakenHand | None:
    """The hand that the mistake holds in place of the right one; None for a mistake that is not of a hand, or of this one, and where
    there is nothing to show."""
    given, answer = GIVEN[right.side], ANSWER[right.side]
    along, stands_for = [right.thumb, right.first_finger, right.second_finger], [THUMB, FIRST, SECOND]
    side, against = right.side, None
    if not right.shows_something:
        return None
    if mistake == OTHER_HAND:
        side = OTHER[side]
    elif mistake == FINGERS:
        along[FIRST], along[given] = along[given], along[FIRST]
        stands_for[FIRST], stands_for[given] = stands_for[given], stands_for[FIRST]
    elif mistake == ELECTRONS and given == SECOND:
        along[SECOND], against = -along[SECOND], SECOND
    else:
        return None
    # thumb, first and second finger of a right hand follow each other as x, y and z do
    after, next_but_one = (answer + 1) % 3, (answer + 2) % 3
    along[answer] = cross(along[after], along[next_but_one]) * (1.0 if side == "right" else -1.0)
    thumb, first, second = along
    of_thumb, of_first, of_second = stands_for
    return MistakenHand(mistake, right.side, side, thumb, first, second, (of_thumb, of_first, of_second), answer, against)


def gripping_by(mistake: str, right: Grip) -> MistakenGrip | None:
    """The grip that the mistake holds in place of the right one; None for a mistake that is not of a grip."""
    if mistake == OTHER_HAND:
        return MistakenGrip(mistake, OTHER[right.side], right.thumb, against=False)
    return MistakenGrip(mistake, right.side, -right.thumb, against=True) if mistake == ELECTRONS else None
