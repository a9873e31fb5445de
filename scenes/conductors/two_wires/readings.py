"""The figures of the two wires, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.conductors.parallel_wires import field_beside_middle, force_per_metre
from physics.constants import VACUUM_PERMEABILITY
from scenes.conductors.earth import EARTH
from scenes.conductors.two_wires.question import together
from scenes.conductors.two_wires.snapshot import Snapshot
from scenes.scene.scene import Reading, minus, sign_before
from scenes.scene.story import Look


def readings(now: Snapshot, look: Look) -> list[Reading]:
    setup = now.setup
    wire, other, currents = setup.wire, setup.other, setup.currents
    here, there = currents[wire], currents[other]
    apart, length, permeability = now.apart, setup.length, f"{VACUUM_PERMEABILITY * 1e6:.5f} µN/A²"
    field = abs(float(field_beside_middle(there, apart, length))) * 1e6
    each_metre, newtons = abs(float(force_per_metre(here, there, apart))) * 1000, abs(now.push) * 1000
    earth, leads = (now.toward_the_other(force) * 1000 for force in (now.of_earth[now.looked_at][0], now.of_leads[now.looked_at]))
    upright, sign = abs(EARTH[1]) * 1e6, sign_before(earth, 2)
    return [
        Reading(
            "F",
            f"force on the {wire} wire from the {other} one",
            minus(newtons, 2),
            "mN",
            f"F = (F / l) × (√(l² + d²) \N{MINUS SIGN} d) = {each_metre:.3f} mN/m × (√({length:.3f}² + {apart:.7f}²) "
            f"\N{MINUS SIGN} {apart:.7f}) m = {newtons:.2f} mN",
            tells=True,
        ),
        Reading("", "the wires", together(here * there), "", tells=True),
        Reading(
            "F / l",
            "force per metre of long wires",
            minus(each_metre, 2),
            "mN/m",
            f"F / l = µ₀ I₁ I₂ / (2π d) = {permeability} × {abs(here):.1f} A × {abs(there):.1f} A / (2π × {apart:.7f} m) "
            f"= {each_metre:.2f} mN/m",
            tells=True,
        ),
        Reading(
            "B",
            f"field of the {other} wire at the middle of the {wire} one",
            minus(field, 0),
            "µT",
            f"B = µ₀ I / (2π d) × l / √(l² + 4 d²) = {permeability} × {abs(there):.1f} A / (2π × {apart:.7f} m) × "
            f"{length / np.hypot(length, 2 * apart):.5f} = {field:.0f} µT",
            tells=True,
        ),
        Reading("", "its direction there", look.view.directions.words(now.fields[now.looked_at]) if there else "none", "", tells=True),
        Reading(
            "Fₑ",
            f"force on the {wire} wire from the Earth's field, positive toward the other",
            minus(earth, 2),
            "mN",
            f"Fₑ = {sign}Bₑ I l = {sign}{upright:.1f} µT × {abs(here):.1f} A × {length:.3f} m = {minus(earth, 2)} mN, Bₑ the vertical part",
        ),
        Reading(
            "Fₗ",
            f"contribution of the leads, as a force at the {wire} wire, positive toward the other",
            minus(leads, 2),
            "mN",
            "torque of the leads' field about the rail, divided by the hanging length",
            tells=True,
        ),
        Reading(
            "d",
            "distance between the wires",
            minus(apart * 1000, 1),
            "mm",
            f"without current they hang {setup.spacing * 1000:.0f} mm apart",
            tells=True,
        ),
        Reading("I₁", "current in the left wire, positive toward end P", minus(currents["left"], 1), "A"),
        Reading("I₂", "current in the right wire, positive toward end P", minus(currents["right"], 1), "A"),
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    currents, apart, length = now.setup.currents, 1000 * now.apart, 1000 * now.setup.length
    return {"wires-force": {"current": currents["left"], "other_current": currents["right"], "distance": apart, "length": length}}
