"""The curves of a start, against time, or the torques of motor and load against speed; and where on them it is now."""

from __future__ import annotations

import math

import numpy as np

from physics import speeds
from physics.shaft.loads import REST_SPEED
from physics.starting.stages import Stage
from physics.starting.starts import STAYS_AT_REST, Start
from scenes.drives.starting.case import Case
from scenes.drives.starting.motors import RATED_CURRENT, RATED_TORQUE, SYNCHRONOUS
from scenes.drives.starting.snapshot import Snapshot
from scenes.drives.starting.worked_out import WorkedOut
from scenes.scene.curves import Line, Mark, Plot
from scenes.scene.story import Look
from visual import palette

POINTS = 140  # of each curve
LOAD = "#6b7378"
EARLIER = ("#7fb8a4", "#a9cfc2", "#c3ddd4", "#d7e8e2")  # paler for what is not the whole voltage


def curves(now: Snapshot, look: Look) -> Plot:
    """Against time or speed; no lines while the answer is hidden or the start is being worked out."""
    shown = now.worked_out if look.reveals_answer else None
    if now.setup.curves == "time":
        return Plot("time", "s", "times rated", "", _against_time(shown, now.case) if shown else ())
    return Plot("speed, of synchronous", "", "torque, times rated", "", _against_speed(shown.start, now.case) if shown else ())


def marks(now: Snapshot, look: Look) -> list[Mark]:
    moment = now.moment
    if now.worked_out is None or not look.reveals_answer:
        return []
    if now.setup.curves == "time":
        return [Mark("now", palette.HEX["field"], moment.time, math.nan)]
    return [Mark("motor now", palette.HEX["field"], moment.speed / SYNCHRONOUS, moment.torque / RATED_TORQUE)]


def _against_time(worked_out: WorkedOut, case: Case) -> tuple[Line, ...]:
    """Line current, speed and torques of a start, each over its rated (speed: synchronous) value; where the load is not moved,
    the torque that it would take in the place of its torque."""
    shown = worked_out.shown
    every = np.unique(np.linspace(0, shown.time.size - 1, POINTS).astype(int))
    stays = worked_out.start.outcome == STAYS_AT_REST
    load = np.full(shown.time.size, case.torque_to_move) if stays else shown.load_torque
    curves = (
        ("line current", palette.HEX["current"], shown.line_current / RATED_CURRENT),
        ("speed", palette.HEX["motion"], shown.speed / SYNCHRONOUS),
        ("motor torque", palette.HEX["force"], shown.torque / RATED_TORQUE),
        ("torque to move the load" if stays else "load torque", LOAD, load / RATED_TORQUE),
    )
    return tuple(Line(name, colour, _points(shown.time[every], values[every])) for name, colour, values in curves)


def _against_speed(start: Start, case: Case) -> tuple[Line, ...]:
    """Torque of the motor in each stage with a steady feed, or along the run-up where the feed rises, and torque of the
    load, over the rated torque; speed over synchronous speed."""
    motor, synchronous = case.motor, SYNCHRONOUS
    at = np.concatenate([np.linspace(0.0, 0.9, 60), np.linspace(0.905, 1.0, 40)]) * synchronous
    lines = []
    steady = [stage for stage in case.stages if isinstance(stage, Stage) and stage.seconds is None]
    for place, stage in enumerate(steady):
        torque = stage.first.circuit(motor).at(speeds.slip(synchronous, at)).torque
        colour = palette.HEX["force"] if stage is steady[-1] else EARLIER[min(len(EARLIER) - 1, len(steady) - 2 - place)]
        lines.append(Line(f"motor, {stage.name}", colour, _points(at / synchronous, torque / RATED_TORQUE)))
    run = start.run_up
    rising = [place for place, stage in enumerate(case.stages) if isinstance(stage, Stage) and stage.seconds is not None]
    for place in rising:
        moments = np.flatnonzero(run.stage == place)
        moments = moments[np.unique(np.linspace(0, moments.size - 1, POINTS).astype(int))]
        points = _points(run.speed[moments] / synchronous, run.torque[moments] / RATED_TORQUE)
        lines.append(Line(f"motor, {run.stages[place]}", EARLIER[0], points))
    # a load at rest takes what moves it: friction holds with any torque up to that
    load = case.shaft.torque(np.maximum(at, REST_SPEED))
    return (*lines, Line("load", LOAD, _points(at / synchronous, load / RATED_TORQUE)))


def _points(xs, ys) -> tuple[tuple[float, float], ...]:
    return tuple(zip(np.asarray(xs, float).tolist(), np.asarray(ys, float).tolist(), strict=True))
