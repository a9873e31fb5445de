"""Torque over the load angle, or the V-curves of the current over the excitation, and where on them the motor is now."""

from __future__ import annotations

import math

import numpy as np

from physics.synchronous.round_rotor import running_at_angle
from scenes.drives.synchronous_motor import motors
from scenes.drives.synchronous_motor.snapshot import Snapshot
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

EMFS = np.arange(20.0, 181.0, 4.0)  # % of the line voltage


def curves(now: Snapshot, look: Look) -> Plot | None:
    """Nothing while the answer is hidden."""
    if not look.reveals_answer:
        return None
    return _v_curves(now) if now.setup.curves == "v" else _torque(now)


def _torque(now: Snapshot) -> Plot:
    setup, machine, rated = now.setup, motors.machine(now.setup.poles, True), motors.rated_torque(now.setup.poles)
    at = [running_at_angle(machine, motors.VOLTAGE, setup.emf, math.radians(degrees)) for degrees in range(-190, 191, 5)]
    angles = np.degrees(np.unwrap([each.load_angle for each in at]))
    angles -= 360 * round(float(angles.mean()) / 360)
    points = tuple((float(x), 100 * each.torque / rated) for x, each in zip(angles, at, strict=True) if abs(x) <= 180)
    return Plot(
        "load angle",
        "°",
        "of rated torque",
        "%",
        (
            Line("torque", palette.HEX["force"], points),
            Line("load", palette.HEX["emf"], ((-180.0, setup.percent), (180.0, setup.percent))),
        ),
    )


def _v_curves(now: Snapshot) -> Plot:
    poles, rated = now.setup.poles, motors.rated_torque(now.setup.poles)
    loads = {"no load": (0.0, "field"), "rated load": (1.0, "force"), f"{now.setup.percent:g} % load": (now.setup.percent / 100, "current")}
    lines = []
    for name, (share, colour) in loads.items():
        at = [(float(emf), motors.carrying(poles, emf / 100 * motors.VOLTAGE, share * rated)) for emf in EMFS]
        points = tuple((emf, abs(running.current) / math.sqrt(2)) for emf, running in at if running is not None)
        if points:
            lines.append(Line(name, palette.HEX[colour], points))
    return Plot("EMF by the excitation", "% of line voltage", "current", "A", tuple(lines))


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer:
        return []
    setup, rated = now.setup, motors.rated_torque(now.setup.poles)
    if setup.curves == "v":
        excitation = 100 * now.rotor_field / motors.USUAL_FIELD
        return [Mark("now", palette.HEX["current"], excitation, now.current)] if now.in_step else []
    most = motors.most(setup.poles, setup.emf)
    found = [Mark("pull-out", palette.HEX["emf"], math.degrees(most.load_angle), 100 * most.torque / rated)] if setup.emf else []
    if now.magnetised:
        found.append(Mark("now", palette.HEX["force"], math.degrees(now.load_angle), 100 * now.torque / rated))
    return found
