"""The moving conductor on the bench: what is made once, and where everything is at one instant."""

from __future__ import annotations

from functools import cache

import numpy as np

from physics.fields.flux_lines import between_faces
from scenes.conductors.moved_conductor.snapshot import (
    AT_REST,
    DEPTHS,
    GAP,
    HALF_ROD,
    POLE,
    TO_AND_FRO,
    TRAVEL,
    Setup,
    Snapshot,
    poles_field,
)
from scenes.scene.story import Look
from visual.apparatus.moved_rod import EMF_AT_FULL_SCALE, METRES_PER_NEWTON, METRES_PER_SPEED, METRES_PER_TESLA, MovedRod

TO_BE_FOLLOWED = 0.7  # s as shown: a hand that turns over more often than that only flickers
SLOW = 0.2  # of the greatest speed: below it, near the turning points, no hand is shown


def build(host) -> MovedRod:
    drawn = MovedRod(GAP, POLE, HALF_ROD, {str(mm): _lines(mm / 1000) for mm in DEPTHS})
    drawn.name_for_tests(host)
    return drawn


def place(drawn: MovedRod, now: Snapshot, look: Look) -> None:
    setup, shown = now.setup, look.reveals_answer
    drawn.magnetise(f"{setup.depth * 1000:.0f}", setup.depth, setup.sense)
    drawn.wind(setup.turns)
    drawn.connect(setup.closed)
    emf, force = (now.emf, now.force) if shown else (0.0, np.zeros(3))
    drawn.move(now.middle, now.field, _motion(now, shown), emf, arrow_scale(setup), force)
    drawn.measure((now.voltage if shown else 0.0) / setup.full_scale, volts(setup.full_scale))
    drawn.hold_out(hand_of(now, look))


def hand_of(now: Snapshot, look: Look):
    """The hand for the present field and motion; before the answer for those that are asked about."""
    worth = is_worth_a_hand(now) if look.reveals_answer else bool(now.coming)
    return look.held((now.hand if look.reveals_answer else now.asked_about) if worth else None)


def is_worth_a_hand(now: Snapshot) -> bool:
    setup, speed = now.setup, abs(now.state.speed)
    if not now.generates:
        return False
    if setup.motion != TO_AND_FRO:
        return speed > AT_REST
    return speed > SLOW * setup.speed and np.pi * TRAVEL[setup.way] / setup.speed * setup.slowness > TO_BE_FOLLOWED


def _motion(now: Snapshot, shown: bool) -> np.ndarray:
    """The velocity; while the rod waits for an answer, the motion it is about to make."""
    return now.velocity if shown or now.state.speed else 0.5 * now.coming * now.setup.direction


def arrow_scale(setup: Setup) -> float:
    """The EMF, V, of the longest arrow E; a meter range that is too small does not lengthen the arrow."""
    return max(setup.full_scale, setup.fitting_scale)


def volts(value: float) -> str:
    return f"{value:g} V" if value >= 0.5 else f"{value * 1000:.3g} mV"


def scales(now: Snapshot) -> dict[str, str]:
    return {
        "B": f"10 mm is {10 / METRES_PER_TESLA:.0f} mT",
        "v": f"10 mm is {0.01 / METRES_PER_SPEED:g} m/s",
        "F": f"10 mm is {10 / METRES_PER_NEWTON:.0f} mN",
        "E": f"10 mm is {volts(0.01 * arrow_scale(now.setup) / EMF_AT_FULL_SCALE)}",
    }


def chart(now: Snapshot, look: Look) -> list[float] | None:
    return [now.state.clock, now.emf * 1000] if look.reveals_answer else None


@cache
def _lines(depth: float) -> list[np.ndarray]:
    """Flux lines across the gap from face to face, traced through the field of poles of that depth."""
    midway = [(x, 0.0, side * 0.38 * depth) for x in (-0.026, -0.013, 0.0, 0.013, 0.026) for side in (-1, 1)]
    return between_faces(poles_field(depth, 1.0), midway, 1, GAP / 2)
