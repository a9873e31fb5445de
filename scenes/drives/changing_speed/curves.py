"""Torque-speed curves for every setting of the method, and the motor's operating point."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from physics.induction import EquivalentCircuit
from scenes.drives.changing_speed.motors import joined_motor, motor_at
from scenes.drives.changing_speed.snapshot import INVERTER, POLES, Snapshot
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

FAMILY = (10, 20, 30, 40, 50, 60, 80, 100)  # Hz, of the inverter's curves
FAINT = "#9aa3a7"


def curves(now: Snapshot, look: Look) -> Plot | None:
    """The curves, the present one last and bold; none while the answer is hidden."""
    if not look.reveals_answer:
        return None
    setup = now.setup
    if setup.method == INVERTER:
        others = [motor_at(float(f)) for f in FAMILY if f != setup.frequency]
    else:
        others = [joined_motor(n) for n in POLES[setup.method] if n != setup.poles]
    lines = [Line("", FAINT, _curve(circuit)) for circuit in others]
    lines.append(Line("torque at present supply", palette.HEX["force"], _curve(setup.circuit)))
    fastest = max(60 * circuit.synchronous_speed for circuit in (*others, setup.circuit))
    lines.append(Line("load", palette.HEX["emf"], ((0.0, setup.load), (fastest, setup.load))))
    return Plot("speed", "r/min", "torque", "N m", tuple(lines))


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer:
        return []
    return [Mark("now", palette.HEX["motion"], 60 * now.setup.sense * now.speed, now.torque)]


@lru_cache(maxsize=128)
def _curve(circuit: EquivalentCircuit) -> tuple[tuple[float, float], ...]:
    """Torque against speed, r/min and N m, from rest to synchronous speed."""
    points = circuit.at(np.linspace(1.0, 0.0, 61))
    return tuple(zip((60 * points.speed).tolist(), points.torque.tolist(), strict=True))
