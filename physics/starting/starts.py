"""Starting a motor under its load, by any method, and the methods side by side.

The run-up goes along the exact torque-speed curve of the equivalent circuit: at every speed the motor is taken to be as
it would be if it turned at that speed for good (quasi-steady; handbook method). So time, heat and r.m.s. currents come
at once, by one integral over speed where the feed stays, and whether the motor starts is not a matter of waiting, but
of its torque staying above the load's. What quasi-steady running does not know, the momentary peaks of current when
something is switched, is taken from the transient model over the first periods after each switching
(`starting_transients`). Currents are r.m.s. unless called momentary.

Not in the circuit, hence not here: torque dips by harmonics of the field (a cage may hang at a seventh of synchronous
speed), saturation, iron and stray losses.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from physics import arguments, speeds
from physics.arguments import NumberOrArray
from physics.induction import EquivalentCircuit
from physics.shaft.loads import REST_SPEED, Load, check_load
from physics.starting.methods import Method, standard_methods
from physics.starting.quasi_steady import SETTLED_WITHIN, Leg, work_out
from physics.starting.stages import Pause, Stage
from physics.starting.transients import Switching, peak_current

RUNS, STAYS_AT_REST, CRAWLS, DRIVEN_BACK, RUNS_AWAY = "runs", "stays at rest", "crawls", "is driven back", "runs away"


@dataclass(frozen=True)
class RunUp:
    """n moments of a start, first to last. Where one stage follows another, one moment stands twice: before, after."""

    stages: tuple[str, ...]  #: names
    stage: np.ndarray  #: (n,) index into `stages`
    time: np.ndarray  #: (n,) s
    speed: np.ndarray  #: (n,) rev/s
    torque: np.ndarray  #: (n,) N m in the air gap
    load_torque: np.ndarray  #: (n,) N m that hold the shaft back
    motor_current: np.ndarray  #: (n,) A at the motor's terminals
    line_current: np.ndarray  #: (n,) A drawn from the lines
    stator_heat: np.ndarray  #: (n,) J so far in the stator windings
    rotor_heat: np.ndarray  #: (n,) J so far in the rotor, inside the motor
    resistor_heat: np.ndarray  #: (n,) J so far in resistors on the slip rings


@dataclass(frozen=True)
class Start:
    """What comes of starting one motor with one load by one method: a row of the table.

    Heat is counted until the motor has settled, wherever that is. Values that do not exist are nan.
    """

    method: str
    outcome: str  #: RUNS, STAYS_AT_REST, CRAWLS, DRIVEN_BACK or RUNS_AWAY
    last_stage: str  #: where it settles: the last one, or the one it hangs in
    settled_speed: float  #: rev/s
    time: float  #: s until it has settled
    starting_torque: float  #: N m in the air gap at standstill
    starting_motor_current: float  #: A at standstill
    starting_line_current: float  #: A at standstill
    largest_line_current: float  #: A, the largest on the way
    peak_line_current: float  #: A momentary, the highest in a line, were it switched at the worst instant
    peak_motor_current: float  #: A momentary, likewise at the motor's terminals
    settled_line_current: float  #: A
    settled_heating: float  #: W in the motor's windings once settled; at rest or crawling it soon burns them
    stator_heat: float  #: J
    rotor_heat: float  #: J in the rotor
    resistor_heat: float  #: J in resistors outside
    run_up: RunUp

    @property
    def starts(self) -> bool:
        """Whether it comes to the speed at which it is meant to run."""
        return self.outcome == RUNS

    @property
    def sentence(self) -> str:
        """The outcome in words."""
        speed = f"{60 * self.settled_speed:.0f} r/min"
        return {
            RUNS: f"runs up to {speed} in {self.time:.3g} s",
            STAYS_AT_REST: f"stays at rest ({self.last_stage}): the load needs more torque to move than the motor has",
            CRAWLS: f"crawls at {speed} ({self.last_stage}): there the load takes all the torque the motor has",
            DRIVEN_BACK: f"is driven back by the load ({self.last_stage}): it pulls harder than the motor",
            RUNS_AWAY: f"runs away ({self.last_stage}): the load drives harder than the motor can hold back",
        }[self.outcome]


def compare(motor: EquivalentCircuit, shaft: Load, methods: Sequence[Method] | None = None) -> list[Start]:
    """One motor, one load, all `methods` (None: `standard_methods`): the table by which one decides.

    Wound rotor or cage: rotor resistance needs the former; its row shows what that buys in current and torque, and how
    much of the heat it takes out of the motor.
    """
    return [start(motor, shaft, method) for method in (standard_methods(motor) if methods is None else methods)]


def start(motor: EquivalentCircuit, shaft: Load, method: Method) -> Start:
    """Start `motor` with `shaft`, from rest, by `method`.

    motor: the star that draws the same on its own voltage as the real windings do; shaft: torque and inertia of all
    that turns, the motor's rotor with it (`loads.Shaft`). A stage that ends at a slip ends also where the motor settles
    before, if it runs there, at less than the slip at which the stage's torque turns down; else the motor hangs in that stage.
    """
    if not isinstance(motor, EquivalentCircuit):
        raise ValueError(f"motor must be an EquivalentCircuit, not {motor!r}")
    arguments.positive("inertia of the shaft", check_load("shaft", shaft).inertia)
    if not hasattr(method, "stages"):
        raise ValueError(f"method must be one of starting_methods, such as DirectOnLine(), not {method!r}")
    legs: list[tuple[Stage | Pause, Leg]] = []
    for stage in method.stages(motor):
        leg = work_out(motor, shaft, stage, float(legs[-1][1].speed[-1]) if legs else 0.0)
        legs.append((stage, leg))
        if isinstance(stage, Stage) and leg.settled_speed is not None and _slip_beyond_breakdown(motor, stage, leg.settled_speed):
            break
    run_up = _run_up(legs)
    stage, leg = legs[-1]
    if isinstance(stage, Pause) or leg.settled_speed is None:
        raise ValueError(f"method must end in a stage that lasts until the motor settles, not in {stage.name}")
    outcome = _outcome(motor, stage, leg.settled_speed)
    settled = leg.settled_speed if math.isfinite(leg.settled_speed) else math.nan
    circuit = stage.first.circuit(motor)
    point = circuit.at(speeds.slip(circuit.synchronous_speed, settled)) if math.isfinite(settled) else None
    there = _index_when_settled(run_up, outcome, settled)
    largest = float(run_up.line_current.max())
    peak_line, peak_motor = _peaks(motor, shaft, legs)
    return Start(
        method=method.name,
        outcome=outcome,
        last_stage=stage.name,
        settled_speed=settled,
        time=float(run_up.time[there]) if point else math.nan,
        starting_torque=float(run_up.torque[0]),
        starting_motor_current=float(run_up.motor_current[0]),
        starting_line_current=float(run_up.line_current[0]),
        largest_line_current=largest,
        peak_line_current=max(peak_line, math.sqrt(2.0) * largest),
        peak_motor_current=max(peak_motor, math.sqrt(2.0) * float(run_up.motor_current.max())),
        settled_line_current=float(stage.line_current(motor, stage.first, point)) if point else math.nan,
        settled_heating=float(point.stator_loss + stage.first.share_inside(motor) * point.rotor_loss) if point else math.nan,
        stator_heat=float(run_up.stator_heat[there]),
        rotor_heat=float(run_up.rotor_heat[there]),
        resistor_heat=float(run_up.resistor_heat[there]),
        run_up=run_up,
    )


def _slip_beyond_breakdown(motor: EquivalentCircuit, stage: Stage, settled: float) -> bool:
    """Whether it settles where it has less torque the slower it is, or nowhere."""
    circuit = stage.first.circuit(motor)
    return not math.isfinite(settled) or 1.0 - settled / circuit.synchronous_speed > circuit.pull_out_slip()


def _outcome(motor: EquivalentCircuit, stage: Stage, settled: float) -> str:
    if settled == math.inf:
        return RUNS_AWAY
    if settled < -REST_SPEED:
        return DRIVEN_BACK
    if settled <= REST_SPEED:
        return STAYS_AT_REST
    return CRAWLS if _slip_beyond_breakdown(motor, stage, settled) else RUNS


def _run_up(legs: Sequence[tuple[Stage | Pause, Leg]]) -> RunUp:
    """The stages one after another; heat added up, the loss between two moments taken as their mean."""
    began = np.cumsum([0.0] + [leg.time[-1] for _, leg in legs])

    def joined(name: str) -> NumberOrArray:
        return np.concatenate([getattr(leg, name) for _, leg in legs])

    time = np.concatenate([start + leg.time for start, (_, leg) in zip(began, legs, strict=False)])

    def heat(name: str) -> NumberOrArray:
        loss = joined(name)
        return np.concatenate([[0.0], np.cumsum(0.5 * (loss[1:] + loss[:-1]) * np.diff(time))])

    return RunUp(
        stages=tuple(stage.name for stage, _ in legs),
        stage=np.repeat(np.arange(len(legs)), [leg.time.size for _, leg in legs]),
        time=time,
        speed=joined("speed"),
        torque=joined("torque"),
        load_torque=joined("load_torque"),
        motor_current=joined("motor_current"),
        line_current=joined("line_current"),
        stator_heat=heat("stator_loss"),
        rotor_heat=heat("rotor_loss"),
        resistor_heat=heat("resistor_loss"),
    )


def _index_when_settled(run_up: RunUp, outcome: str, settled: float) -> int:
    """Which moment of the run-up is the first within `SETTLED_WITHIN` of the speed that it runs at; else the last."""
    if outcome != RUNS:
        return -1
    within = run_up.speed >= (1.0 - SETTLED_WITHIN * (1.0 + 1e-9)) * settled
    return int(np.argmax(within)) if within.any() else -1


def _peaks(motor: EquivalentCircuit, shaft: Load, legs: Sequence[tuple[Stage | Pause, Leg]]) -> tuple[float, float]:
    """Highest momentary currents, A, in a line and at the motor's terminals, after each change of feed.

    In the lines it is as much less or more as the r.m.s. current is at that moment.
    """
    peak_line = peak_motor = 0.0
    before, left_at, pause = None, 0.0, 0.0
    for stage, leg in legs:
        if isinstance(stage, Pause):
            pause = stage.seconds
            continue
        if before != stage.first:
            peak = peak_current(motor, shaft, Switching(stage, before, left_at, pause))
            peak_motor = max(peak_motor, peak)
            peak_line = max(peak_line, peak * float(leg.line_current[0] / leg.motor_current[0]))
        before, left_at, pause = stage.at_end, float(leg.speed[-1]), 0.0
    return peak_line, peak_motor
