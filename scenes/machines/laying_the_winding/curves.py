"""The winding factors of the harmonics as the coils lie: a bar for each order."""

from __future__ import annotations

import math

import numpy as np

from physics.windings.coils_in_slots import PHASES
from scenes.machines.laying_the_winding.snapshot import Snapshot
from scenes.scene import phases
from scenes.scene.curves import Line, Plot
from scenes.scene.story import Look

ORDERS = range(1, 14, 2)
BROKEN = math.nan  # where a line is broken off
APART = 0.35  # of the bars of two phases, in orders
ENDS = ((0.0, BROKEN), (ORDERS[-1] + 1.0, BROKEN))  # room on either side


def curves(now: Snapshot, look: Look) -> Plot:
    """Of each phase that is laid a bar at each odd order, side by side round it."""
    colours = phases.REGIONS[now.setup.colours].hexes
    sizes = np.abs([now.winding.slot_star(order) for order in ORDERS])
    laid = [number for number, count in enumerate(now.winding.counts) if count and look.reveals_answer]
    lines = []
    for place, number in enumerate(laid):
        aside = APART * (place - (len(laid) - 1) / 2)
        bars = [(order + aside, height) for order, size in zip(ORDERS, sizes[:, number], strict=True) for height in (0.0, size, BROKEN)]
        lines.append(Line(PHASES[number], colours[number], (*ENDS, *((float(x), float(y)) for x, y in bars))))
    return Plot("order of the harmonic", "", "winding factor", "", tuple(lines), tuple(ORDERS))
