"""From where a scene is seen, and what has to be in sight."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from physics.directions import turning_sense
from scenes.scene.seen import Directions, directions_of

AT_REST = 1e-9  # slower than this, in whatever unit, is standing still
Box = tuple[tuple[float, float, float], tuple[float, float, float]]  # its corners with the least and the greatest x, y and z, metres


def round_the_shaft(radius: float, low: float, high: float) -> tuple[Box, ...]:
    """Boxes round a machine of that radius which reaches from `low` to `high` along its shaft."""
    return tuple(
        ((-radius * math.cos(turn), -radius * math.sin(turn), low), (radius * math.cos(turn), radius * math.sin(turn), high))
        for turn in (math.pi / 8, math.pi / 4, 3 * math.pi / 8)
    )


@dataclass(frozen=True)
class View:
    """A ready view: the eye looks along `forward`, from so far that the subject fills the picture."""

    name: str
    words: str
    forward: tuple[float, float, float]
    subject: tuple[Box, ...] = ()  # where it differs from the scene's
    letters: tuple[str, ...] = ()  # shown first here, where they differ from the scene's
    up: tuple[float, float, float] = (0.0, 1.0, 0.0)

    @property
    def directions(self) -> Directions:
        """The words for the bench's directions, as seen from here."""
        return directions_of(self.forward, self.up)

    @property
    def side(self) -> float:
        """The sign of z on the eye's side: 1 looking at the drive end, -1 at the non-drive end."""
        return -1.0 if self.forward[2] > 0 else 1.0

    @property
    def end(self) -> str:
        """The end of the machine in view, in words."""
        return "the drive end" if self.side > 0 else "the non-drive end"

    def readable(self, hand):
        """The hand, with `thumb`, `first_finger` and `second_finger`, if its fingers can be told apart from here; else None."""
        fingers = (hand.thumb, hand.first_finger, hand.second_finger)
        return hand if all(np.any(each) for each in fingers) and self.directions.can_be_read(fingers) else None

    def turning(self, speed: float) -> str:
        """The rotation seen from here: "clockwise", "counter-clockwise" or "none"; `speed` is positive counter-clockwise looking
        at the drive end."""
        return turning_sense((0.0, 0.0, speed), (0.0, 0.0, self.side)) if abs(speed) > AT_REST else "none"

    def turns(self, speed: float) -> str:
        """The same in words, with the end that is looked at."""
        direction = self.turning(speed)
        return "at standstill" if direction == "none" else f"{direction}, looking at {self.end}"
