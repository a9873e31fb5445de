"""Torque and current of the motor at any speed, the load, and where on those curves it is now."""

from __future__ import annotations

import numpy as np

from scenes.drives.slip_and_speed.snapshot import Snapshot
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette


def curves(now: Snapshot, look: Look) -> Plot | None:
    """Nothing while the answer is hidden."""
    if not look.reveals_answer:
        return None
    motor, percent = now.motor, now.setup.percent
    points = motor.circuit.at(np.linspace(1.0, 0.0, 91))
    speeds = (60 * points.speed).tolist()
    torque = 100 * (points.torque - motor.lost * points.speed) / motor.rated_torque
    current = 100 * np.abs(points.stator_current) / motor.rated_current
    lines = [
        Line("current", palette.HEX["current"], tuple(zip(speeds, current.tolist(), strict=True))),
        Line("torque", palette.HEX["force"], tuple(zip(speeds, torque.tolist(), strict=True))),
    ]
    if percent:
        lines.append(Line("load", palette.HEX["emf"], ((0.0, percent), (speeds[-1], percent))))
    return Plot("speed", "r/min", "of rated", "%", tuple(lines))


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer:
        return []
    motor, rpm = now.motor, 60 * now.speed
    torque = float(now.point.torque) - motor.lost * now.speed
    return [
        Mark("current", palette.HEX["current"], rpm, 100 * now.times),
        Mark("torque", palette.HEX["force"], rpm, 100 * torque / motor.rated_torque),
    ]
