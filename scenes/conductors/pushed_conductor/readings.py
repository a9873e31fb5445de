"""The pushed conductor's figures, each with its formula and this instant's numbers, and its sentence."""

from __future__ import annotations

import numpy as np

from scenes.conductors.pushed_conductor.question import flowing
from scenes.conductors.pushed_conductor.snapshot import HALF_ROD, Snapshot
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look

LENGTH = 2 * HALF_ROD  # m


def readings(now: Snapshot, look: Look) -> list[Reading]:
    size, newtons, amperes = np.linalg.norm(now.field), np.linalg.norm(now.force), abs(now.setup.current)
    seen = look.view.directions.words
    deflected = f"out {seen([np.sign(now.angle), 0, 0])}; " if abs(now.angle) > 1e-4 else ""
    return [
        Reading(
            "F",
            "force on the rod",
            minus(newtons * 1000, 1),
            "mN",
            f"F = B I l sin θ = {size:.5f} T × {amperes:.1f} A × {LENGTH:.4f} m × {round(now.sine, 5):g} = {newtons * 1000:.1f} mN",
            tells=True,
        ),
        Reading(
            "α",
            "deflection, positive toward the battery",
            minus(np.degrees(now.angle), 1),
            "°",
            f"{deflected}it comes to rest at {minus(np.degrees(now.settled), 1)}°, where the field's force on rod and leads balances "
            "their weight",
            tells=True,
        ),
        Reading("B", "field, mean along the rod", minus(size * 1000, 0), "mT", f"it points {seen(now.field)}"),
        Reading(
            "I",
            "current, positive toward the marked end of the rod",
            minus(now.setup.current, 1),
            "A",
            f"it flows {seen(now.current)}" if amperes else "no current flows",
        ),
        Reading("l", "length of the rod", minus(LENGTH * 1000, 0), "mm", "from end to end; all of it lies between the poles"),
        Reading("θ", "angle from current to field", minus(now.degrees, 0), "°", f"sin θ = {round(now.sine, 5):g}", tells=True),
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    field, current = float(np.linalg.norm(now.field)), abs(now.setup.current)
    return {"conductor-force": {"field": field, "current": current, "length": 2000 * HALF_ROD, "angle": now.degrees}}


def sentence(now: Snapshot, look: Look) -> str:
    if not now.setup.current:
        return "No current flows and nothing pushes the rod."
    seen = look.view.directions.words
    pushed = f"the rod is pushed {seen(now.hand.thumb)}" if now.is_pushed else "the rod is not pushed"
    return f"{flowing(now.setup, now.current, seen)}, the field points {seen(now.field)}: {pushed}."
