"""The cage's torque at any speed, and where on that curve it is now."""

from __future__ import annotations

from scenes.machines.cage_rotor.motor import RPM
from scenes.machines.cage_rotor.snapshot import Snapshot
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette


def curves(now: Snapshot, look: Look) -> Plot | None:
    """The torque of the bars at any speed, and the load; nothing while the answer is hidden, or while the field stands still: then
    there is no speed of the field for the bars to fall behind."""
    setup = now.setup
    if not look.reveals_answer or setup.stands:
        return None
    speeds = now.curves.shares * abs(now.synchronous) * RPM
    fed = "field held constant" if setup.held else "fixed voltage"
    points = tuple(zip(speeds.tolist(), now.curves.torque.tolist(), strict=True))
    lines = [Line(f"torque of the bars, {fed}", palette.HEX["force"], points)]
    if setup.load:
        lines.append(Line("load", palette.HEX["current"], ((0.0, setup.load), (float(speeds[-1]), setup.load))))
    return Plot("speed with the field", "r/min", "torque with the field", "N m", tuple(lines))


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer or now.setup.stands:
        return []
    speed = (1 - now.slip) * abs(now.synchronous) * RPM
    return [Mark("rotor", palette.HEX["motion"], speed, now.sense * now.state.torque)]
