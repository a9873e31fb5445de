"""The rotating field's figures, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.windings import LaidWinding
from physics.windings.coils_in_slots import PHASES
from scenes.machines.turning_field.snapshot import Snapshot
from scenes.machines.turning_field.windings import SHAPE, as_laid, winding_of
from scenes.scene.common_readings import field_rotation, synchronous_speed
from scenes.scene.phases import LINES
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look

NO_FIELD = 1e-6  # A


def readings(now: Snapshot, look: Look) -> list[Reading]:
    setup, pairs = now.setup, now.setup.poles // 2
    degrees = round(float(np.degrees(now.angle)), 1)
    speed = 60 * now.synchronous_speed
    there = now.mmf_amplitude > NO_FIELD
    return [
        field_rotation(look.view, now.rotation, now.uneven),
        *_laid(setup.laid),
        synchronous_speed(speed, setup.frequency, setup.poles),
        Reading("ωt", f"electrical angle: instant {now.instant} of {setup.instants}", f"{degrees:.0f}", "°"),
        *[
            Reading(
                f"i {phase}",
                f"current of {phase}, which {line} feeds, positive into {phase}1",
                minus(current, 1),
                "A",
                _current_formula(now, line, degrees),
                tells=True,
            )
            for phase, line, current in zip(PHASES, setup.lines, now.currents, strict=True)
        ],
        Reading("", "phase group with the largest current toward the drive end", strongest_group(now), "", tells=True),
        Reading("Θ", "MMF of the working wave, peak", f"{now.mmf_amplitude:.0f}", "A", _amplitude_formula(now), tells=True),
        Reading(
            "B",
            "field at the wall of the empty bore, peak",
            f"{1000 * now.field:.1f}",
            "mT",
            f"B = µ₀ p Θ / r = 1.2566 µT m/A × {pairs} × {now.mmf_amplitude:.1f} A / {SHAPE.bore:g} m = {1000 * now.field:.1f} mT",
            tells=True,
        ),
        Reading(
            "θ",
            "angle of the field's axis from that of U, clockwise looking at the drive end",
            minus(np.degrees(-now.peak) % (360 / pairs), 0) if there else "none",
            "°",
            tells=True,
        ),
        Reading(
            "Θ₊",
            "MMF wave that rotates clockwise, looking at the drive end",
            minus(now.waves[0], 0),
            "A",
            "two equal waves only pulsate; one alone is as strong at every instant",
            tells=True,
        ),
        Reading("Θ₋", "MMF wave that rotates counter-clockwise, looking at the drive end", minus(now.waves[1], 0), "A", tells=True),
    ]


def _laid(laid: LaidWinding | None) -> list[Reading]:
    return [] if laid is None else [Reading("", "winding on the bench", f"yours of {laid.slots} slots", "", as_laid(laid))]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    return {"synchronous-speed": {"frequency": now.setup.frequency, "poles": now.setup.poles}}


def strongest_group(now: Snapshot) -> str:
    """The phase group, such as +U, in which the largest current flows toward the drive end: the first of equals."""
    if not np.any(np.abs(now.currents) > 1e-9):
        return "none"
    return winding_of(now.setup.poles).belt_at_largest_current(now.currents).replace("-", "\N{MINUS SIGN}")


def _current_formula(now: Snapshot, line: str, degrees: float) -> str:
    setup = now.setup
    if setup.lost is not None:
        return "no current: this phase is lost" if line == setup.lost else "two windings in series between the two phases that are left"
    behind = 120 * LINES.index(line)
    return f"i = {setup.current:g} A × cos({degrees:.5g}°{f' − {behind}°' if behind else ''})"


def _amplitude_formula(now: Snapshot) -> str:
    setup = now.setup
    laid = setup.laid
    if setup.lost is not None or setup.backwards is not None or laid is not None and not laid.right:
        return "the waves of U, V and W at this instant, added as arrows"
    wound = winding_of(setup.poles) if laid is None else laid.plan
    turns = wound.series_turns // setup.wound.paths
    return (
        f"Θ = 3/2 × 4/π × N k_w Î / poles = 1.5 × 1.273 × {turns} × {float(wound.winding_factor()):.3f} × "
        f"{setup.current:g} A / {setup.poles} = {now.mmf_amplitude:.0f} A"
    )
