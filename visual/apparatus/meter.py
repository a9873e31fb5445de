"""A centre-zero moving-coil meter that stands on the bench and faces the viewer."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Letters, Solid
from visual.solid.told import Told, point

FULL_SCALE_ANGLE = np.radians(50.0)


class Meter:
    """A meter of `size` metres, its face toward +z, or toward -z for a `facing` of -1; `show(share)` turns the needle, 1 being
    full scale to the right."""

    visible = True

    def __init__(self, group, pos, size: float, what: str, facing: float = 1.0):
        self.pos, self.size, self.what = np.asarray(pos, float), size, what
        self.facing = np.diag([facing, 1.0, facing])
        self.hub = self.pos + size * (self.facing @ [0, -0.28, 0.13])
        self.face = group.add(Solid(_face()))
        self.face.put(self.pos, self.facing, size)
        self.needle = group.add(
            Solid(joined(rod([0, 0, 0], [0, 0.62, 0], 0.014, palette.INK, 6), rod([0, 0, -0.02], [0, 0, 0.03], 0.05, palette.INK, 10)))
        )
        self.letters = group.add(Letters(what, palette.INK, 18))
        self.letters.put(self.pos + size * (self.facing @ [-0.4, -0.28, 0.14]))
        self.scale = [group.add(Letters("", palette.INK, 15)) for _ in range(3)]
        self.show(0.0)
        group.add(self)

    def show(self, share: float) -> None:
        """Turn the needle; beyond full scale it lies at its stop."""
        angle = FULL_SCALE_ANGLE * float(np.clip(share, -1.08, 1.08))
        self._turn = self.facing @ [[np.cos(angle), np.sin(angle), 0], [-np.sin(angle), np.cos(angle), 0], [0, 0, 1.0]]
        self.needle.put(self.hub, self._turn, self.size)

    def tell(self, found: Told) -> None:
        found.needles.append((f"meter {self.what}", point(self.hub), point(self._turn @ [0.0, 1.0, 0.0])))

    def mark(self, low: str, middle: str, high: str) -> None:
        """The figures on the scale."""
        for letters, text, angle in zip(self.scale, (low, middle, high), (-FULL_SCALE_ANGLE, 0, FULL_SCALE_ANGLE), strict=True):
            letters.text = text
            letters.put(self.hub + 0.44 * self.size * (self.facing @ [np.sin(angle), np.cos(angle), 0]))


def _face():
    """Case, white face and scale marks, of size 1, seen from +z."""
    parts = [
        block([0, 0, 0], [1.24, 1.0, 0.2], palette.SLATE),
        block([0, 0.03, 0.09], [1.14, 0.86, 0.05], (0.98, 0.98, 0.95)),
    ]
    hub = np.array([0, -0.28, 0.125])
    for step in range(-5, 6):
        angle = FULL_SCALE_ANGLE * step / 5
        way = np.array([np.sin(angle), np.cos(angle), 0])
        inner = 0.56 if step % 5 == 0 else 0.61
        parts.append(rod(hub + inner * way, hub + 0.68 * way, 0.012, palette.INK, 4))
    return joined(*parts)
