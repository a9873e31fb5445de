"""Block magnets: one half in the colour of the north pole, one in that of the south pole."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, block, joined


def block_magnet(centre, size, north) -> Mesh:
    """A magnet filling the block of `size` round `centre`; `north` is the axis, with sign, that its N face looks along."""
    centre, size, north = (np.asarray(value, float) for value in (centre, size, north))
    axis = int(np.argmax(np.abs(north)))
    half = size.copy()
    half[axis] /= 2
    offset = np.zeros(3)
    offset[axis] = np.sign(north[axis]) * half[axis] / 2
    return joined(block(centre + offset, half, palette.NORTH), block(centre - offset, half, palette.SOUTH))


def facing_magnets(gap: float, size, field) -> Mesh:
    """Two of them with a `gap` between, round the origin; the field in the gap goes along the axis `field`, with its sign."""
    along = np.asarray(field, float)
    far = (gap + np.asarray(size, float) @ np.abs(along)) / 2
    return joined(*[block_magnet(end * far * along, size, along) for end in (-1, 1)])
