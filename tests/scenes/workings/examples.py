"""An example of each topic of the workings, and how the tests ask for it."""

from __future__ import annotations

from scenes.workings import writing as workings
from scenes.workings.topics import TOPICS

CHAPMAN = dict(
    voltage=460, frequency=60, poles=4, stator_resistance=0.641, stator_reactance=1.106, rotor_resistance=0.332,
    rotor_reactance=0.464, magnetising_reactance=26.3,
)  # fmt: skip
PLATE = dict(power=7.5, voltage=400, frequency=50, speed=1450, current=15, power_factor=0.85)
FAN = dict(rotor_inertia=0.03, load="fan", load_inertia=0.5, load_torque=40)


# one of each topic with what it can be told, as one would type it
EXAMPLES = {
    "synchronous-speed": dict(frequency=50, poles=4),
    "slip": dict(frequency=50, poles=4, speed=1450),
    "slip-from-speeds": dict(field_speed=1500, speed=1450),
    "generated-frequency": dict(poles=4, speed=1500),
    "rotor-frequency": dict(frequency=50, slip=4),
    "nameplate": PLATE | dict(connection="star", starting_current=6.5, starting_torque=2.2, breakdown_torque=2.8),
    "equivalent-circuit": CHAPMAN | dict(slip=2.2),
    "run-up": PLATE | FAN,
    "run-up-of-circuit": CHAPMAN | FAN,
    "wire-field": dict(current=20, distance=60),
    "conductor-force": dict(field=0.5, current=10, length=200, angle=30),
    "wires-force": dict(current=20, other_current=-30, distance=60, length=400),
    "conductor-emf": dict(field=0.5, speed=2, length=200, angle=30, turns=20),
    "coil-emf": dict(turns=100, flux=10, poles=4, speed=1500, winding_factor=0.966),
    "winding-factors": dict(slots=36, poles=4, coil_pitch=8),
}  # fmt: skip


def worked(topic: str, **values) -> workings.Working:
    return TOPICS[topic].work(**EXAMPLES[topic] | values)


def options(values: dict) -> list[str]:
    """The same as one would type it."""
    return [f"--{name.replace('_', '-')}={value}" for name, value in values.items() if value is not None]


def result(working: workings.Working, symbol: str, unit: str | None = None) -> float | complex:
    """The value of the step with that symbol, in that unit if it is shown in several."""
    step = next(step for step in working.steps if step.symbol == symbol)
    return next(r.value for r in step.results if unit is None or r.unit == unit)
