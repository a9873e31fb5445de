"""Speed, torque and energies of a braking over time, or its torque over the speed; and where on them it is now."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from scenes.drives.braking.motors import BY_INVERTER, LINES, OFF, RATED_TORQUE, SWAPPED, electrical
from scenes.drives.braking.shaft import FASTEST, SUPPLIED, Case
from scenes.drives.braking.snapshot import Snapshot
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

POINTS = 140
LOAD = "#6b7378"


def curves(now: Snapshot, look: Look) -> Plot:
    """No lines while the answer is hidden."""
    if now.setup.curves == "time":
        lines = _over_time(now.case) if look.reveals_answer else ()
        return Plot("time", "s", "speed, heat × start; torque × rated", "", lines)
    lines = _over_speed(now.case) if look.reveals_answer else ()
    return Plot("speed, clockwise positive", "% of nₛ", "torque", "% of rated", lines)


def marks(now: Snapshot, look: Look) -> list[Mark]:
    if not look.reveals_answer or now.time < 0:
        return []
    if now.setup.curves == "time":
        last = float(now.case.history.time[-1])
        return [Mark("now", palette.HEX["field"], min(now.time, last), math.nan)]
    return [Mark("now", palette.HEX["field"], 100 * now.speed, 100 * float(now.running.torque) / RATED_TORQUE)]


@lru_cache(maxsize=32)
def _over_time(case: Case) -> tuple[Line, ...]:
    history = case.history
    at = np.unique(np.linspace(0, len(history.time) - 1, POINTS).astype(int))
    torques = [float(electrical(history.supplied[k], history.speed[k], case.direct, case.ratio(history.time[k])).torque) for k in at]
    every = (
        ("speed", palette.HEX["motion"], history.speed[at] / case.before),
        ("torque of the motor", palette.HEX["force"], np.array(torques) / RATED_TORQUE),
        ("heat in the rotor", palette.HEX["emf"], history.rotor_heat[at] / case.energy),
    )
    return tuple(Line(name, colour, _points(history.time[at], values)) for name, colour, values in every)


@lru_cache(maxsize=32)
def _over_speed(case: Case) -> tuple[Line, ...]:
    supplied = SUPPLIED[case.method]
    speeds = np.linspace(-1.0, 1.1 if supplied != LINES else FASTEST, 200)
    speeds = speeds[(np.abs(speeds) > 1e-6)]
    lines = [Line("on the lines", "#7fb8a4", _points(100 * speeds, 100 * electrical(LINES, speeds).torque / RATED_TORQUE))]
    names = {SWAPPED: "two lines swapped", "direct": "direct current"}
    if supplied in names:
        torque = electrical(supplied, speeds, case.direct).torque
        lines.append(Line(names[supplied], palette.HEX["force"], _points(100 * speeds, 100 * torque / RATED_TORQUE)))
    if supplied == BY_INVERTER:
        for ratio in (0.75, 0.5, 0.25):
            torque = electrical(supplied, speeds, 0.0, ratio).torque
            lines.append(Line(f"at {50 * ratio:g} Hz", palette.HEX["force"], _points(100 * speeds, 100 * torque / RATED_TORQUE)))
    held = 100 * (case.driving - case.friction if case.driving else case.friction) / RATED_TORQUE
    ends = 100 * float(speeds[0]), 100 * float(speeds[-1])
    load = ((ends[0], -held), (ends[1], -held)) if case.driving else ((ends[0], -held), (0.0, -held), (0.0, held), (ends[1], held))
    name = "what holds the weight" if case.driving else "load and bearings"
    return (*lines, Line(name, LOAD, load)) if supplied != OFF else (Line(name, LOAD, load),)


def _points(xs, ys) -> tuple[tuple[float, float], ...]:
    return tuple(zip(np.asarray(xs, float).tolist(), np.asarray(ys, float).tolist(), strict=True))
