"""How a start goes on, moment by moment, and everything physical at one instant of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from physics.induction.run_up import History, run
from physics.induction.transient import MotorState
from physics.starting.changeover import OPENED, Fed, residual_voltage
from physics.starting.transients import PERIODS_AFTER_SWITCHING
from physics.supply.space_vectors import STAR as STEADY
from physics.supply.space_vectors import phase_values
from scenes.drives.terminal_box.snapshot import PAUSE
from scenes.drives.terminal_box.starter.case import StarterCase, case_for
from scenes.drives.terminal_box.starter.settings import DELTA, MAIN, STAR, Setup

LONGEST, INTERVAL = 0.05, 1e-3  # s, at one go and from one moment looked at to the next
CLOSED = {"star": frozenset((MAIN, STAR)), "open": frozenset((MAIN,)), "delta": frozenset((MAIN, DELTA))}


@dataclass(frozen=True)
class Starting:
    """motor: its time, s, is that since Q1 and Q3 closed, below 0 while the isolator is open. heat, melted: of relay and fuses, as far as
    they are from tripping; tripped: "relay" or "fuse" once one has; peak_current, peak_torque: A and N m since delta closed."""

    motor: MotorState = MotorState(time=-PAUSE)
    heat: float = 0.0
    melted: float = 0.0
    tripped: str = ""
    peak_current: float = 0.0
    peak_torque: float = 0.0


def begin(setup: Setup) -> Starting:
    return Starting()


def advance(setup: Setup, state: Starting, seconds: float) -> Starting:
    case = case_for(setup)
    if not case.may_run:
        return state
    ends = state.motor.time + seconds
    while ends - state.motor.time > 1e-9:
        step, until = step_at(setup, state)
        if step == "short":
            state = replace(state, tripped="fuse")
            continue
        upto = min(ends, until, state.motor.time + LONGEST)
        if step == "isolated":
            state = replace(state, motor=replace(state.motor, time=0.0 if upto > -1e-9 else upto))
        else:
            state = _switched_on(setup, case, state, step, upto)
    return state


def step_at(setup: Setup, state: Starting) -> tuple[str, float]:
    """What the starter does then, and until when: "isolated", "star", "open", "delta", "short", or what has tripped."""
    time, changed = state.motor.time, setup.timer + setup.pause
    if state.tripped:
        return state.tripped, math.inf
    if time < 0:
        return "isolated", 0.0
    if setup.sticks:
        if setup.interlock or time < changed - 1e-9:
            return "star", math.inf if setup.interlock else changed
        return "short", math.inf
    for name, until in (("star", setup.timer), ("open", changed)):
        if time < until - 1e-9:
            return name, until
    return "delta", math.inf


def _switched_on(setup: Setup, case: StarterCase, state: Starting, step: str, upto: float) -> Starting:
    seconds = upto - state.motor.time
    interval = seconds / math.ceil(seconds / INTERVAL - 1e-9)
    fed = {"star": case.star, "delta": case.delta}.get(step)
    supply, connection = (_none, OPENED) if fed is None else (fed.supply, STEADY)
    history = run(case.windings, state.motor, seconds, interval, supply, case.friction.torque, connection)
    lines = np.zeros(1) if fed is None else np.abs(fed.line_current(history.phase_currents))
    state = replace(state, motor=replace(history.state(-1), time=upto))
    if step == "delta":
        state = _with_peak(setup, state, history, lines)
    return state if state.tripped else _protected(setup, state, lines / math.sqrt(2), seconds)


def _with_peak(setup: Setup, state: Starting, history: History, lines: np.ndarray) -> Starting:
    soon = history.time <= setup.timer + setup.pause + PERIODS_AFTER_SWITCHING / setup.frequency
    current, torque = np.where(soon, lines, 0.0).max(), np.where(soon, np.abs(history.torque), 0.0).max()
    return replace(state, peak_current=max(state.peak_current, float(current)), peak_torque=max(state.peak_torque, float(torque)))


def _protected(setup: Setup, state: Starting, lines: np.ndarray, seconds: float) -> Starting:
    """With what `seconds` of that current, r.m.s., do to relay and fuses."""
    relay, fuse = setup.plate.relay(setup.supply), setup.plate.fuse(setup.supply)
    even = np.full(3, math.sqrt(float(np.mean(lines**2))))
    heat = float(relay.warmed(state.heat, even, seconds))
    melted = state.melted + seconds * float(np.mean(1.0 / np.asarray(fuse.melts_after(lines))))
    tripped = "fuse" if melted >= 1 else "relay" if heat >= float(relay.threshold(even)) ** 2 else ""
    return replace(state, heat=heat, melted=melted, tripped=tripped)


def _none(time: float) -> complex:
    return 0j


def shown_whole(setup: Setup, state: Starting) -> bool:
    """Whether delta has been closed and its peak is over."""
    return state.motor.time >= setup.timer + setup.pause + PERIODS_AFTER_SWITCHING / setup.frequency or not case_for(setup).may_run


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    time: s since Q1 and Q3 closed; step: as of `step_at`; closed: the contactors; speed, angle: rev/s and rad of the shaft,
    counter-clockwise looking at the drive end; volts, amperes: r.m.s. of each winding, line: of each line, as long as their space vectors
    are now; torque: N m, clockwise positive; power, heat: W, drawn and lost; difference: V r.m.s. across each winding between what delta
    puts on it and what the rotor's field induces, while all is open.
    """

    setup: Setup
    time: float
    step: str
    closed: frozenset[str]
    speed: float
    angle: float
    volts: float
    amperes: float
    line: float
    torque: float
    power: float
    heat: float
    difference: float
    peak_current: float
    peak_torque: float

    @cached_property
    def case(self) -> StarterCase:
        return case_for(self.setup)

    @property
    def changed_over(self) -> bool:
        """Whether delta has been closed."""
        return self.peak_current > 0

    @property
    def timed(self) -> float:
        """The share of the set time that the timer has run."""
        return min(max(self.time / self.setup.timer, 0.0), 1.0)


def observe(setup: Setup, state: Starting) -> Snapshot:
    case, motor = case_for(setup), state.motor
    step = step_at(setup, state)[0]
    step = "star" if step == "short" else step
    fed: Fed | None = {"star": case.star, "delta": case.delta}.get(step) if case.may_run else None
    windings = case.windings
    current, voltage, residual = 0j, 0j, 0j
    if fed is not None:
        current, voltage = windings.stator_current(motor), fed.supply(motor.time)
    elif motor.time >= 0:
        voltage = residual = residual_voltage(windings, motor)
    line = 0.0 if fed is None else float(np.abs(fed.line_current(phase_values(current))))
    losses = 1.5 * windings.stator_resistance * abs(current) ** 2 + float(windings.rotor_loss(motor)) if fed is not None else 0.0
    return Snapshot(
        setup=setup,
        time=motor.time,
        step=step,
        closed=CLOSED.get(step, frozenset()),
        speed=-motor.speed,
        angle=-math.fmod(motor.angle, 2 * math.pi),
        volts=abs(voltage) / math.sqrt(2),
        amperes=abs(current) / math.sqrt(2),
        line=line / math.sqrt(2),
        torque=float(windings.torque(motor)) if fed is not None else 0.0,
        power=1.5 * (voltage * complex(current).conjugate()).real,
        heat=losses,
        difference=abs(case.delta.supply(motor.time) - residual) / math.sqrt(2) if step == "open" else 0.0,
        peak_current=state.peak_current,
        peak_torque=state.peak_torque,
    )
