"""Torque over the speed, whole and as the two fields make it; and where on it the motor is now."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from scenes.drives.one_phase.motors import SPEEDS, START_CAPACITOR, Feed, rated
from scenes.drives.one_phase.shaft import OPENS
from scenes.drives.one_phase.snapshot import Snapshot
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

EVERY, WIDE = 4, 1.02  # of the knots, and of synchronous speed: how far the curves go
LOAD = "#6b7378"


def curves(now: Snapshot, look: Look) -> Plot:
    """No lines while the answer is hidden."""
    lines = (*_lines(now.setup.feed), _load(now)) if look.reveals_answer else ()
    return Plot("speed, clockwise positive", "% of nₛ", "torque", "% of rated", lines)


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer or not now.live:
        return []
    full = rated(now.setup.feed.motor)[0]
    # named after the curve on which it lies, it bears no words that would hide that
    curve = "switch closed" if now.setup.feed.motor == START_CAPACITOR and now.state.starting else "mean"
    return [Mark(curve, palette.HEX["field"], 100 * now.state.speed, 100 * float(now.running.torque) / full)]


def _load(now: Snapshot) -> Line:
    """Friction against the motion, whichever way."""
    held = 100 * now.setup.case.load / rated(now.setup.feed.motor)[0]
    return Line("load", LOAD, ((-100 * WIDE, -held), (0.0, -held), (0.0, held), (100 * WIDE, held)))


@lru_cache(maxsize=32)
def _lines(feed: Feed) -> tuple[Line, ...]:
    speeds = SPEEDS[np.abs(SPEEDS) <= WIDE][::EVERY]
    point = feed.at(speeds)
    lines = [
        _line(feed, "mean", palette.HEX["force"], speeds, point.torque),
        _line(feed, "clockwise field", palette.HEX["current"], speeds, point.forward_torque),
        _line(feed, "counter-clockwise field", palette.HEX["emf"], speeds, point.backward_torque),
    ]
    if feed.motor == START_CAPACITOR:
        slow = speeds[np.abs(speeds) <= OPENS]
        lines.append(_line(feed, "switch closed", palette.HEX["motion"], slow, feed.at(slow, True).torque))
    return tuple(lines)


def _line(feed: Feed, name: str, colour: str, speeds: np.ndarray, torques: np.ndarray) -> Line:
    points = zip((100 * speeds).tolist(), (100 * torques / rated(feed.motor)[0]).tolist(), strict=True)
    return Line(name, colour, tuple(points))
