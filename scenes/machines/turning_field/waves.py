"""The three line currents over a cycle, and the present instant on them."""

from __future__ import annotations

import numpy as np

from physics.supply.supplies import instantaneous
from scenes.machines.turning_field.snapshot import Snapshot
from scenes.machines.turning_field.windings import PLOTTED
from scenes.scene import phases
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette


def curves(now: Snapshot, look: Look) -> Plot:
    setup = now.setup
    currents = instantaneous(setup.phasors, PLOTTED)
    return Plot(
        "electrical angle",
        "°",
        "current",
        "A",
        tuple(
            Line(name, colour, tuple(zip(np.degrees(PLOTTED).tolist(), currents[:, setup.lines.index(name)].tolist(), strict=True)))
            for name, colour in zip(phases.LINES, phases.REGIONS[setup.colours].hexes, strict=True)
        ),
    )


def marks(now: Snapshot, look: Look) -> list[Mark]:
    degrees, of_lines = float(np.degrees(now.angle)), dict(zip(now.setup.lines, now.currents, strict=True))
    colours = phases.REGIONS[now.setup.colours].hexes
    return [Mark(f"instant {now.instant}", palette.HEX["field"], degrees, float("nan"))] + [
        Mark(line, colour, degrees, float(of_lines[line])) for line, colour in zip(phases.LINES, colours, strict=True)
    ]
