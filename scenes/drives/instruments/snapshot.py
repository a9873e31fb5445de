"""What is set, what has been measured so far, and everything physical at one instant."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from physics.measuring import Live
from physics.terminals import LINES
from scenes.drives.instruments import faults, measured, order
from scenes.drives.instruments.case import Case, Condition, case_of
from scenes.drives.instruments.faults import Fault
from scenes.drives.instruments.measured import Laid, Measured, measure
from scenes.drives.instruments.order import Proof
from scenes.drives.terminal_box.motors import FREQUENCY, motor_of

NOWHERE = "off"
MOST_RECORDS = 24


@dataclass(frozen=True)
class Setup:
    """What is set. clips: the points that probes or clips are on, or the lead in the clamp; () until all are laid; sheet: whether the
    question gives a test sheet."""

    joined: str
    fault: Fault
    hidden: bool
    sticks: bool
    work: str
    condition: Condition
    instrument: str
    clips: tuple[str, ...]
    sheet: bool
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        hidden = settings["fault"] == faults.HIDDEN
        fault = faults.drawn_for(round(settings["number"])) if hidden else faults.NAMED[settings["fault"]]
        return cls(
            joined=settings["joined"],
            fault=fault,
            hidden=hidden,
            sticks=settings["sticks"],
            work=settings["work"],
            condition=Condition(settings["work"] == order.ON, settings["links"], settings["leads"]),
            instrument=settings["instrument"],
            clips=clips_of(settings),
            sheet=settings["asked"] == "sheet",
            colours=settings["colours"],
        )

    @property
    def case(self) -> Case:
        return case_of(self.joined, self.fault, self.sticks)

    @property
    def laid(self) -> Laid | None:
        """What is to be measured now, None until the instrument is laid on."""
        return Laid(self.instrument, self.clips, self.condition) if self.clips else None


def clips_of(settings: dict) -> tuple[str, ...]:
    """Where the instrument is laid, () unless it is laid on as many different points as it has clips."""
    count = measured.POINTS[settings["instrument"]]
    clips = tuple(settings[name] for name in ("first", "second", "third")[:count])
    if settings["instrument"] == measured.CLAMP:
        return clips if clips[0] in LINES else ()
    known = settings["instrument"] == measured.ROTATION and any(clip in ("K1", "K2", "PE") for clip in clips)
    return () if NOWHERE in clips or len(set(clips)) < count or known else clips


@dataclass(frozen=True)
class Bench:
    """time: s since it is shown; records: what was measured, in order; tests: of proving dead, since it was last locked off; named:
    whether the fault has been named or shown."""

    time: float = 0.0
    records: tuple[Measured, ...] = ()
    tests: tuple[Measured, ...] = ()
    named: bool = False

    def noted(self, setup: Setup, answer: Measured | None) -> Bench:
        """Once the instrument has answered: what a tester shows on the locked board is a test, everything else a record."""
        if answer is None or set(answer.laid.points) & {"K1", "K2"} and setup.work != order.LOCKED:
            return self
        if setup.work == order.LOCKED and answer.laid.instrument == measured.VOLTMETER:
            again = self.tests and self.tests[-1].laid == answer.laid
            return self if again else replace(self, tests=(*self.tests, answer)[-4 * order.ALL_TESTS :])
        kept = [each for each in self.records if each.laid != answer.laid]
        return replace(self, records=(*kept, answer)[-MOST_RECORDS:])


def begin(setup: Setup) -> Bench:
    return Bench()


def advance(setup: Setup, state: Bench, seconds: float) -> Bench:
    return replace(state, time=state.time + seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    live: the motor on its supply, None while the isolator is open; speed, angle: rev/s and rad of the shaft, counter-clockwise looking at
    the drive end; answer: what the instrument shows, None where it is not laid on or must not be, for the reason `mistake`; proof:
    how far proving dead has come.
    """

    setup: Setup
    live: Live | None
    speed: float
    angle: float
    answer: Measured | None
    mistake: str
    proof: Proof
    records: tuple[Measured, ...]
    named: bool

    @property
    def case(self) -> Case:
        return self.setup.case


def observe(setup: Setup, state: Bench) -> Snapshot:
    case, proof = setup.case, Proof()
    if setup.work in (order.LOCKED, order.PROVED):
        taken = setup.work == order.PROVED and not state.tests
        for test in order.tests_in_order(case) if taken else state.tests:
            proof = proof.after(test)
        proof = replace(proof, taken=taken)
    mistake = order.mistake(setup.laid, setup.work, proof) if setup.laid else ""
    answer = None if mistake or setup.laid is None else measure(case, setup.laid)
    live = case.live(setup.condition) if setup.condition.on else None
    speed = 0.0 if live is None else -live.speed * motor_of(case.plate).synchronous_speed(FREQUENCY)
    return Snapshot(
        setup,
        live,
        speed,
        2 * math.pi * math.fmod(speed * state.time, 1.0),
        answer,
        mistake,
        proof,
        state.noted(setup, answer).records,
        state.named,
    )
