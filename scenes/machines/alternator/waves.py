"""The alternator's waves: the EMF of each phase over a revolution, and the magnet's present place on them."""

from __future__ import annotations

import numpy as np

from scenes.machines.alternator.snapshot import AT_FIRST, Snapshot
from scenes.scene import phases
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

PLOTTED = np.radians(np.arange(0, 361, 3))


def curves(now: Snapshot, look: Look) -> Plot:
    setup = now.setup
    emfs = now.machine.emfs(AT_FIRST + np.sign(setup.speed) * PLOTTED, setup.speed)
    colours = phases.REGIONS[setup.colours].hexes
    lines = tuple(
        Line(phase, colours[k], tuple(zip(np.degrees(PLOTTED).tolist(), emfs[:, k].tolist(), strict=True)))
        for k, phase in enumerate(setup.wound if look.reveals_answer else ())
    )
    return Plot("angle turned by the magnet", "°", "EMF", "V", lines)


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer:
        return []
    colours = phases.REGIONS[now.setup.colours].hexes
    return [Mark("now", palette.HEX["field"], now.turned, float("nan"))] + [
        Mark(phase, colours[k], now.turned, float(now.emfs[k])) for k, phase in enumerate(now.setup.wound)
    ]
