"""Torque over the speed, whole and as the two fields make it; and where on it the motor is now."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from scenes.drives.one_phase.motors import SPEEDS, START_CAPACITOR, Feed, rated
from scenes.drives.one_phase.snapshot import Snapshot
from scenes.scene.scene import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

EVERY = 4  # of the knots
LOAD = "#6b7378"


def curves(now: Snapshot, look: Look) -> Plot:
    """No lines while the answer is hidden."""
    lines = (*_lines(now.setup.feed), _load(now)) if look.reveals_answer else ()
    return Plot("speed, clockwise positive", "% of nₛ", "torque, clockwise positive", "% of rated", lines)


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer or not now.live:
        return []
    full = rated(now.setup.feed.motor)[0]
    return [Mark("now", palette.HEX["field"], 100 * now.state.speed, 100 * float(now.running.torque) / full)]


def _load(now: Snapshot) -> Line:
    """Friction against the motion, whichever way."""
    held = 100 * now.setup.case.load / rated(now.setup.feed.motor)[0]
    return Line("load and bearings", LOAD, ((100 * float(SPEEDS[0]), -held), (0.0, -held), (0.0, held), (100 * float(SPEEDS[-1]), held)))


@lru_cache(maxsize=32)
def _lines(feed: Feed) -> tuple[Line, ...]:
    full = rated(feed.motor)[0]
    point = feed.at(SPEEDS[::EVERY])
    parts = [
        ("mean torque", palette.HEX["force"], point.torque),
        ("by the clockwise field", palette.HEX["current"], point.forward_torque),
        ("by the counter-clockwise field", palette.HEX["emf"], point.backward_torque),
    ]
    if feed.motor == START_CAPACITOR:
        parts.insert(1, ("mean torque, switch closed", palette.HEX["motion"], feed.at(SPEEDS[::EVERY], True).torque))
    return tuple(Line(name, colour, _points(values / full)) for name, colour, values in parts)


def _points(torques: np.ndarray) -> tuple[tuple[float, float], ...]:
    return tuple(zip((100 * SPEEDS[::EVERY]).tolist(), (100 * torques).tolist(), strict=True))
