"""A lamp in a socket, with variable brightness."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.machine_shapes import lathed
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Solid

_DARK, _BRIGHT = np.array([0.36, 0.33, 0.28]), np.array([1.0, 0.93, 0.45])
_LEVELS = 40  # shades between dark and bright: as many as one can tell
_UPRIGHT = np.array([[1.0, 0, 0], [0, 0, 1.0], [0, -1.0, 0]])  # carries z to y


class Lamp:
    """A lamp of `size` metres standing at `pos`; its terminals are at `ends`."""

    def __init__(self, group, pos, size: float):
        pos = np.asarray(pos, float)
        self.socket = group.add(
            Solid(
                joined(
                    block([0, 0.08, 0], [1.0, 0.16, 0.6], palette.CORD),
                    rod([0, 0.16, 0], [0, 0.5, 0], 0.2, palette.BRASS, 14),
                    rod([-0.4, 0.16, 0], [-0.4, 0.3, 0], 0.07, palette.STEEL, 8),
                    rod([0.4, 0.16, 0], [0.4, 0.3, 0], 0.07, palette.STEEL, 8),
                )
            )
        )
        outline = [(0.0, 0.17), (0.1, 0.22), (0.25, 0.38), (0.45, 0.46), (0.65, 0.4), (0.78, 0.24), (0.83, 0.04)]
        self.bulb = group.add(Solid(lathed(outline, (1, 1, 1)).turned(_UPRIGHT)))
        self.socket.put(pos, None, size)
        self.bulb.put(pos + size * np.array([0, 0.5, 0]), None, size)
        self.ends = pos + size * np.array([[-0.4, 0.3, 0], [0.4, 0.3, 0]])
        self.level: int | None = None
        self.glow(0.0)

    def glow(self, share: float) -> None:
        """Shine with this share, 0 to 1, of full power; more is shown as full. The eye finds half the light more than half
        as bright: shades follow the square root."""
        level = round(_LEVELS * float(np.sqrt(np.clip(share, 0.0, 1.0))))
        if level != self.level:
            self.level = level
            self.bulb.colour(_DARK + level / _LEVELS * (_BRIGHT - _DARK))
