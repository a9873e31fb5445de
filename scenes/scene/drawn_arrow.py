"""An answer that is drawn: an arrow in the picture, held against the vectors of the choices as they are seen from where it was drawn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics.directions import direction_words, unit

END_ON = 0.2  # of its length that a vector shows, below which nobody can draw it
SHORTEST = np.radians(0.5)  # between the lines of sight through its foot and its tip
NEAR = np.radians(35.0)  # between what was drawn and the vector that is meant
BETWEEN = np.radians(8.0)  # less by which one vector must be nearer than any other

Place = tuple[float, float, float]


@dataclass(frozen=True)
class DrawnArrow:
    """letter: of the quantity that it stands for; at: where it begins, metres; vectors: of every choice that is a direction, by its
    value, on the bench, any size."""

    letter: str
    at: Place
    vectors: tuple[tuple[str, Place], ...]

    def meant(self, foot: ArrayLike, tip: ArrayLike) -> list[str]:
        """The choices that an arrow may mean: one, two between which it lies, or none.

        foot, tip   directions on the bench, shape (3,), any size, of the lines of sight through its two ends

        `ValueError`, in a sentence, for an arrow too short to tell.
        """
        sight = unit("foot", foot)
        drawn = _across(unit("tip", tip), sight)
        if not np.any(sight) or np.linalg.norm(drawn) < np.sin(SHORTEST):
            raise ValueError("That arrow is too short: draw it longer.")
        off = {}
        for value, vector in self.vectors:
            seen = _across(unit("vector", vector), sight)
            if np.linalg.norm(seen) >= END_ON:
                off[value] = float(np.arccos(np.clip(unit("seen", seen) @ unit("drawn", drawn), -1.0, 1.0)))
        if not off or min(off.values()) > NEAR:
            return []
        return [value for value, angle in off.items() if angle < min(off.values()) + BETWEEN]


def arrow_along(letter: str, at: ArrayLike, directions: Iterable[ArrayLike]) -> DrawnArrow:
    """An arrow for a question whose choices have as values the bench's own words for these directions; zeros are no direction."""
    vectors = [np.asarray(each, float) for each in directions]
    return DrawnArrow(letter, place_of(at), tuple((direction_words(each), place_of(each)) for each in vectors if np.any(each)))


def place_of(vector: ArrayLike) -> Place:
    """A place or vector, shape (3,), as plain figures."""
    x, y, z = np.asarray(vector, float).tolist()
    return x, y, z


def _across(direction: np.ndarray, sight: np.ndarray) -> np.ndarray:
    """The part of a direction across the line of sight, which is what one sees of it."""
    return direction - (direction @ sight) * sight
