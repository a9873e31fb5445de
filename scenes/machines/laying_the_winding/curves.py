"""The winding factors of the harmonics as the coils lie: a line for each order."""

from __future__ import annotations

import numpy as np

from physics.windings.coils_in_slots import PHASES
from scenes.machines.laying_the_winding.snapshot import Snapshot
from scenes.scene import phases
from scenes.scene.scene import Line, Plot
from scenes.scene.story import Look

ORDERS = range(1, 14, 2)
NOT_SEEN = "#00000000"


def factors(now: Snapshot, look: Look) -> Plot:
    """Of each phase an upright line at each odd order, side by side."""
    lines = []
    colours = phases.REGIONS[now.setup.colours].hexes
    sizes = np.abs([now.winding.slot_star(order) for order in ORDERS])
    for number, (phase, colour) in enumerate(zip(PHASES, colours, strict=True)):
        if not look.reveals_answer or not now.winding.counts[number]:
            continue
        points = [
            (order + 0.2 * (number - 1), height) for order, size in zip(ORDERS, sizes, strict=True) for height in (0.0, size[number], 0.0)
        ]
        lines.append(Line(phase, colour, tuple((float(x), float(y)) for x, y in points)))
    return Plot("order of the harmonic", "", "winding factor", "", tuple(lines) or (Line("", NOT_SEEN, ((1.0, 0.0), (13.0, 1.0))),))
