"""The curves of the starting scene: a start against time, or the torques of motor and load against speed."""

from __future__ import annotations

import numpy as np

from physics import speeds
from physics.induction import EquivalentCircuit
from physics.shaft.loads import REST_SPEED, Shaft
from physics.starting.methods import Method
from physics.starting.stages import Stage
from physics.starting.starts import Start
from scenes.drives.shown_start import ShownStart
from scenes.scene.scene import Line
from visual import palette

POINTS = 140  # of each curve
LOAD = "#6b7378"
EARLIER = ("#7fb8a4", "#a9cfc2", "#c3ddd4", "#d7e8e2")  # paler for what is not the whole voltage


def against_time(shown: ShownStart, torque_to_move: float | None, rated_current: float, rated_torque: float, synchronous: float) -> tuple[Line, ...]:
    """Line current, speed and torques of a start, each over its rated (speed: synchronous) value.

    torque_to_move: N m, where the load is not moved: then it is drawn in the place of the load's torque.
    """
    every = np.unique(np.linspace(0, shown.time.size - 1, POINTS).astype(int))
    stays = torque_to_move is not None
    load = np.full(shown.time.size, torque_to_move) if stays else shown.load_torque
    curves = (
        ("line current", palette.HEX["current"], shown.line_current / rated_current),
        ("speed", palette.HEX["motion"], shown.speed / synchronous),
        ("motor torque", palette.HEX["force"], shown.torque / rated_torque),
        ("torque to move the load" if stays else "load torque", LOAD, load / rated_torque),
    )
    return tuple(Line(name, colour, _points(shown.time[every], values[every])) for name, colour, values in curves)


def against_speed(start: Start, shaft: Shaft, method: Method, motor: EquivalentCircuit, rated_torque: float) -> tuple[Line, ...]:
    """Torque of the motor in each stage with a steady feed, or along the run-up where the feed rises, and torque of the
    load, over the rated torque; speed over synchronous speed."""
    synchronous = float(motor.synchronous_speed)
    at = np.concatenate([np.linspace(0.0, 0.9, 60), np.linspace(0.905, 1.0, 40)]) * synchronous
    lines = []
    steady = [stage for stage in method.stages(motor) if isinstance(stage, Stage) and stage.seconds is None]
    for place, stage in enumerate(steady):
        torque = stage.first.circuit(motor).at(speeds.slip(synchronous, at)).torque
        colour = palette.HEX["force"] if stage is steady[-1] else EARLIER[min(len(EARLIER) - 1, len(steady) - 2 - place)]
        lines.append(Line(f"motor, {stage.name}", colour, _points(at / synchronous, torque / rated_torque)))
    run = start.run_up
    rising = [place for place, stage in enumerate(method.stages(motor)) if isinstance(stage, Stage) and stage.seconds is not None]
    for place in rising:
        moments = np.flatnonzero(run.stage == place)
        moments = moments[np.unique(np.linspace(0, moments.size - 1, POINTS).astype(int))]
        lines.append(Line(f"motor, {run.stages[place]}", EARLIER[0], _points(run.speed[moments] / synchronous, run.torque[moments] / rated_torque)))
    # a load at rest takes what moves it: friction holds with any torque up to that
    load = shaft.torque(np.maximum(at, REST_SPEED))
    return (*lines, Line("load", LOAD, _points(at / synchronous, load / rated_torque)))


def _points(xs, ys) -> tuple[tuple[float, float], ...]:
    return tuple(zip(np.asarray(xs, float).tolist(), np.asarray(ys, float).tolist()))
