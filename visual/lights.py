"""The light on the bench: one lamp above and before it, one weaker from the side, so that upward faces are bright."""

from __future__ import annotations

from visual.host.bridge import vpython

_LAMPS = (((0.25, 0.75, 0.6), 0.72), ((-0.8, 0.2, 0.35), 0.3))


def switch_on() -> None:
    """Set the two lamps of VPython's canvas where this bench wants them."""
    for lamp, (direction, brightness) in zip(vpython.scene.lights, _LAMPS):
        lamp.direction = vpython.vector(*direction)
        lamp.color = vpython.vector(brightness, brightness, brightness)
