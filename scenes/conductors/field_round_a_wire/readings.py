"""The figures at the compass that is read, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.constants import VACUUM_PERMEABILITY
from scenes.conductors.field_round_a_wire.snapshot import IN_WORDS, Snapshot
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look


def readings(now: Snapshot, look: Look) -> list[Reading]:
    setup = now.setup
    current, radius, where = abs(setup.current), setup.radius, IN_WORDS[setup.place]
    long_wire = VACUUM_PERMEABILITY * current / (2 * np.pi * radius) * 1e6
    size, earth, others, total = (microtesla(field) for field in (now.field, now.earth, now.others, now.total))
    needle, rest = (np.degrees(angle) for angle in (now.angle, now.rest))
    return [
        Reading("I", "current in the wire, positive upward through the table", minus(setup.current, 1), "A"),
        Reading(
            "B",
            f"the current's field {where} the wire, horizontal part",
            minus(size, 1),
            "µT",
            f"of a long wire: B = µ₀ I / (2π r) = {VACUUM_PERMEABILITY * 1e6:.4f} µT m/A × {current:.1f} A / (2π × {radius:.3f} m) = "
            f"{long_wire:.1f} µT; with the leads and ends of this one: {size:.1f} µT",
        ),
        Reading("", "its direction there", look.view.directions.words(now.field) if size > 0 else "none", "", tells=True),
        Reading("Bₑ", "Earth's field, horizontal part", minus(earth, 1), "µT"),
        Reading(
            "Bₜ",
            "resultant field there, horizontal part",
            minus(total, 1),
            "µT",
            f"the current's {size:.1f} µT, the Earth's {earth:.1f} µT and the other needles' {others:.1f} µT added as vectors",
            tells=True,
        ),
        Reading(
            "α",
            "deflection of the needle from north, positive toward west",
            minus(needle, 0),
            "°",
            "only the other needles turn it" if np.isnan(rest) else f"it comes to rest at {minus(rest, 0)}°",
            tells=True,
        ),
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    return {"wire-field": {"current": now.setup.current, "distance": 1000 * now.setup.radius}}


def microtesla(field) -> float:
    """The magnitude in µT of a field in T, shape (3,)."""
    return float(np.linalg.norm(field)) * 1e6
