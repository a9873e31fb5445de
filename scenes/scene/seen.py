"""Directions in words, as seen from a ready view: "to the right" is to the right in the picture.

The words belong to the chosen ready view, not to a picture turned by hand: then the page draws a small triad that names
the directions.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import permutations

import numpy as np

from physics.directions import unit, worth_a_word

NOWHERE = "nowhere"
SHORTEST, NEAREST = 0.4, np.radians(25.0)  # of its length that a finger shows, and rad between two of them, in a hand that can be read


class Directions:
    """The words for the bench's six directions, seen along `forward` with `up` upward in the picture.

    Each axis of the bench is named after the nearest axis of the picture, one each. Upward on the bench is "up" if it is
    upward in the picture; in a view from above, upward in the picture is "toward the top of the picture".
    """

    def __init__(self, forward, up=(0.0, 1.0, 0.0)):
        forward, up = unit("forward", forward), unit("up", up)
        right = unit("right", np.cross(forward, up))
        of_picture = np.array([right, np.cross(right, forward), -forward])  # right, upward, toward the eye
        self._flat = of_picture[:2].T
        self._words: dict[tuple[int, int], str] = {}  # by axis and sign
        self._order: list[int] = []  # the axes in the order in which a sentence names them: upward, sideways, toward you
        for axis, (role, sign) in enumerate(_nearest(of_picture)):
            upright = axis == 1
            positive, negative = (
                ("to the right", "to the left"),
                ("up", "down") if upright else ("toward the top of the picture", "toward the bottom of the picture"),
                ("toward you", "away from you"),
            )[role]
            self._words[axis, 1], self._words[axis, -1] = (positive, negative) if sign > 0 else (negative, positive)
            self._order.append({1: 0, 0: 1, 2: 2}[role])

    def words(self, direction) -> str:
        """A direction, shape (3,), any size, in words: "up", "to the left", "down and toward you", "nowhere" for zeros."""
        parts = worth_a_word(direction)
        named = [self._words[axis, int(np.sign(parts[axis]))] for axis in np.argsort(self._order) if parts[axis]]
        if not named:
            return NOWHERE
        return " and ".join([", ".join(named[:-1]), named[-1]]) if len(named) > 1 else named[0]

    def can_be_read(self, fingers) -> bool:
        """Whether fingers along these unit vectors, (n, 3), are told apart in the picture: none points so nearly at the eye that it
        is a stump, and no two lie along each other."""
        flat = np.asarray(fingers, float) @ self._flat
        shown = np.hypot(*flat.T)
        if shown.min() < SHORTEST:
            return False
        angles = np.arctan2(flat[:, 1], flat[:, 0])
        between = np.abs(np.angle(np.exp(1j * (angles[:, None] - angles)))) + 2 * np.pi * np.eye(len(angles))
        return bool(between.min() >= NEAREST)

    def axes(self) -> list[tuple[str, tuple[float, ...]]]:
        """Each direction's words with its vector on the bench, for drawing the triad."""
        return [(words, tuple(float(sign * part) for part in np.eye(3)[axis])) for (axis, sign), words in self._words.items()]


@lru_cache(maxsize=64)
def directions_of(forward: tuple[float, float, float], up: tuple[float, float, float]) -> Directions:
    """The `Directions` of a view."""
    return Directions(forward, up)


def _nearest(of_picture: np.ndarray) -> list[tuple[int, int]]:
    """For each axis of the bench, the nearest axis of the picture and the sign, each used once."""
    best = max(permutations(range(3)), key=lambda order: sum(abs(of_picture[role, axis]) for axis, role in enumerate(order)))
    return [(role, 1 if of_picture[role, axis] >= 0 else -1) for axis, role in enumerate(best)]
