"""The synchronous motor on the bench: what is made once, and where everything stands at one instant."""

from __future__ import annotations

import math

from scenes.drives.synchronous_motor import motors
from scenes.drives.synchronous_motor.snapshot import BY_INVERTER, Snapshot
from scenes.scene.scene import minus
from scenes.scene.story import Look
from visual.machines.synchronous_machine import LONGEST_FIELD, SynchronousDrawn

LARGEST_EMF = 1.8  # of the line voltage
FULL_FIELD = LARGEST_EMF * motors.USUAL_FIELD  # T
FULL_TORQUE = 1.5  # of rated: the longest arrow


def build(host) -> SynchronousDrawn:
    drawn = SynchronousDrawn(motors.POLES, FULL_FIELD)
    for poles in motors.POLES:
        host.name(f"synchronous-rotor-{poles}", drawn.rotors[poles].core.drawn)
        host.name(f"synchronous-faces-{poles}", drawn.rotors[poles].faces.drawn)
        host.name(f"synchronous-cage-{poles}", drawn.rotors[poles].cage.drawn)
        host.name(f"synchronous-field-{poles}", drawn.fields[poles].arrows[0].shaft.drawn)
    host.name("synchronous-arc", drawn.arc.head.drawn)
    host.name("synchronous-angle", drawn.angle.drawn)
    return drawn


def place(drawn: SynchronousDrawn, now: Snapshot, look: Look) -> None:
    setup, side, poles = now.setup, look.view.side, now.setup.poles
    drawn.wiring.join(setup.lines, through_inverter=setup.start == BY_INVERTER)
    drawn.show_field(poles, now.field_angle, now.field, side)
    drawn.show_rotor(poles, now.rotor_angle, now.rotor_field if now.magnetised else 0.0, setup.damper, side)
    shown = look.reveals_answer and now.magnetised
    degrees = math.degrees(now.load_angle)
    drawn.show_load_angle(poles, now.field_angle, -now.sense * degrees, f"δ {minus(degrees, 0)}°" if shown else "", side)
    torque = now.sense * now.torque if look.reveals_answer else 0.0
    full = FULL_TORQUE * motors.rated_torque(poles)
    drawn.show_shaft(torque, full, now.sense * 60 * now.speed, 60 * setup.machine.speed / (2 * math.pi), side)


def scales(now: Snapshot) -> dict[str, str]:
    field = f"10 mm is {0.01 / LONGEST_FIELD * FULL_FIELD:.2f} T"
    return {"B": field, "B\N{LATIN SUBSCRIPT SMALL LETTER R}": field}
