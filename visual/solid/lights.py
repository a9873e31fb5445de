"""The light on the bench: one lamp above the viewer, one weaker from the side, so that upward faces are bright."""

from __future__ import annotations

from visual.host.bridge import vpython

_LAMPS = (((0.25, 0.75, 0.6), 0.72), ((-0.8, 0.2, 0.35), 0.3))


def shine_along(forward) -> None:
    """Put VPython's two lamps on the viewer's side of `forward`, so that no visible face is dark from either end."""
    side = -1.0 if forward[2] > 0 else 1.0
    for lamp, ((x, y, z), brightness) in zip(vpython.scene.lights, _LAMPS, strict=False):
        lamp.direction = vpython.vector(side * x, y, side * z)
        lamp.color = vpython.vector(brightness, brightness, brightness)
