"""A scene with a shaft along z, viewed from one end: the direction of rotation as the viewer sees it."""

from __future__ import annotations

import numpy as np

from physics.directions import turning_sense
from scenes.scene.scene import Scene

AXIS = np.array([0.0, 0.0, 1.0])  # of the shaft, toward the drive end; positive is counter-clockwise looking at that end
AT_REST = 1e-9  # slower than this, in whatever unit, is standing still


class SeenFromAnEnd(Scene):
    """What the scenes of machines with a shaft have in common."""

    other_end = "the non-drive end"

    @property
    def side(self) -> float:
        """The sign of z on the eye's side: 1 looking at the drive end, -1 at the non-drive end."""
        return -1.0 if self.eye.forward[2] > 0 else 1.0

    @property
    def end(self) -> str:
        """The end in view, in words."""
        return "the drive end" if self.side > 0 else self.other_end

    def seen(self, speed: float) -> str:
        """The rotation seen from here: "clockwise", "counter-clockwise" or "none"; `speed` positive counter-clockwise at the drive end."""
        return turning_sense(speed * AXIS, self.side * AXIS) if abs(speed) > AT_REST else "none"
