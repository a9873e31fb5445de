"""A scene with a shaft along z, looked at from one of its ends: which way a turning goes for who looks."""

from __future__ import annotations

import numpy as np

from physics.directions import turning_sense
from scenes.scene.scene import Scene

AXIS = np.array([0.0, 0.0, 1.0])  # of the shaft, toward the drive end: counter-clockwise seen from there
AT_REST = 1e-9  # slower than this, in whatever unit, is standing still


class SeenFromAnEnd(Scene):
    """What the scenes of machines with a shaft have in common."""

    other_end = "the other end"

    @property
    def side(self) -> float:
        """The sign of z on the eye's side: 1 where one looks from the drive end, -1 from the other."""
        return -1.0 if self.eye.forward[2] > 0 else 1.0

    @property
    def end(self) -> str:
        """The end one looks from, in words."""
        return "the drive end" if self.side > 0 else self.other_end

    def seen(self, speed: float) -> str:
        """How what turns so, counter-clockwise positive from the drive end, is seen: "clockwise", "counter-clockwise", "none"."""
        return turning_sense(speed * AXIS, self.side * AXIS) if abs(speed) > AT_REST else "none"
