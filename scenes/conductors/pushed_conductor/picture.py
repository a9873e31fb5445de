"""The pushed conductor on the bench: what is made once, and where everything is at one instant."""

from __future__ import annotations

import numpy as np

from physics.fields.flux_lines import between_faces
from scenes.conductors.pushed_conductor.snapshot import GAP, HALF_ROD, HEIGHT, LEAD_RADIUS, POLE, RAIL, ROD_RADIUS, Snapshot, field_of
from scenes.scene.story import Look
from visual.apparatus.hung_rod_bench import HungRodBench

METRES_PER_NEWTON = 0.4
METRES_PER_TESLA = 0.03 / 0.26
METRES_PER_AMPERE = 0.1 / 20


def build(host) -> HungRodBench:
    midway = [(x, 0.0, side * 0.036) for x in (-0.045, -0.022, 0.022, 0.045) for side in (-1, 1)]
    drawn = HungRodBench(
        GAP,
        POLE,
        (2 * HALF_ROD, ROD_RADIUS),
        HEIGHT,
        RAIL,
        2 * LEAD_RADIUS,
        between_faces(field_of(1.0), midway, 1, GAP / 2),
        (METRES_PER_TESLA, METRES_PER_AMPERE, METRES_PER_NEWTON),
    )
    drawn.name_for_tests(host)
    return drawn


def place(drawn: HungRodBench, now: Snapshot, look: Look) -> None:
    setup, shown = now.setup, look.reveals_answer
    drawn.magnetise(setup.sense)
    drawn.connect(setup.battery, setup.closed)
    drawn.swing(now.ends, now.turn, now.leads)
    drawn.point_out(now.field, now.current, now.force if shown else np.zeros(3))
    drawn.hold_out(look.view.name, hand_of(now, look))


def hand_of(now: Snapshot, look: Look):
    return look.held(now.hand if now.is_pushed else None)


def scales(now: Snapshot) -> dict[str, str]:
    return {
        "B": f"10 mm is {0.01 / METRES_PER_TESLA * 1000:.0f} mT",
        "I": f"10 mm is {0.01 / METRES_PER_AMPERE:.1f} A",
        "F": f"10 mm is {0.01 / METRES_PER_NEWTON * 1000:.0f} mN",
    }
