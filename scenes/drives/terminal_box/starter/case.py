"""What a wired starter leads to, worked out once: what is wrong with it, and the peaks of the change-over."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

from physics.induction.transient import Motor, star_wound
from physics.shaft.loads import Friction
from physics.starting.changeover import Fed, Peak, StarDeltaStart
from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.case import BEARINGS, INERTIA, case_of
from scenes.drives.terminal_box.motors import FIT, Plate, motor_of
from scenes.drives.terminal_box.starter.settings import DELTA, MAIN, STAR, Setup, joining, other_way
from scenes.drives.terminal_box.words import misjoined, voltage_fault


@dataclass(frozen=True)
class StarterCase:
    """One way of wiring on one supply, with one load, N m, and one timer and pause, s."""

    leads: tuple[str, ...]
    plate: Plate
    supply: float
    frequency: float
    load: float
    timer: float
    pause: float

    @cached_property
    def miswired(self) -> str:
        """What is wrong with the leads, as a phrase, "" if nothing is: by what star and delta then do to the windings."""
        for step, closed in (("star", STAR), ("delta", DELTA)):
            case = case_of(joining(self.leads, frozenset((MAIN, closed))), self.plate, self.supply, self.frequency, 0.0)
            wrong = misjoined(case)
            if wrong or case.connected.kind != step:
                return f"in {step}, {wrong or f'the windings are joined in {case.connected.kind}'}"
        return ""

    @cached_property
    def wrong(self) -> str:
        """What is wrong with leads or plate, "" if nothing is."""
        return self.miswired or voltage_fault(
            case_of(joining(self.leads, frozenset((MAIN, DELTA))), self.plate, self.supply, self.frequency, 0.0)
        )

    @cached_property
    def may_run(self) -> bool:
        """Whether it does no harm: it is wired rightly, and delta puts no more on a winding than the plate allows."""
        return not self.miswired and self.supply <= self.plate.delta_voltage * (1 + FIT)

    @cached_property
    def windings(self) -> Motor:
        """Of the motor, with all that is on its shaft."""
        return star_wound(motor_of(self.plate).circuit, INERTIA)

    @cached_property
    def friction(self) -> Friction:
        return _friction(self.load)

    def fed(self, closed: str, leads: tuple[str, ...] | None = None) -> Fed:
        """The windings in star or delta; `leads`: others than its own."""
        return Fed.by(joining(leads or self.leads, frozenset((MAIN, closed))).wiring, self.supply, self.frequency)

    @cached_property
    def star(self) -> Fed:
        return self.fed(STAR)

    @cached_property
    def delta(self) -> Fed:
        return self.fed(DELTA)

    @cached_property
    def start(self) -> StarDeltaStart:
        return StarDeltaStart(self.windings, self.star, self.friction.torque, self.timer, self.pause)

    @cached_property
    def peaks(self) -> dict[tuple[str, ...], Peak]:
        """By the leads, its own first: with the delta this way and the other way round."""
        both = (self.leads, other_way(self.leads))
        return {leads: self.start.after(self.fed(DELTA, leads)) for leads in both}

    @property
    def peak(self) -> Peak:
        return self.peaks[self.leads]

    @cached_property
    def direct(self) -> Peak:
        """Direct on line, for comparison."""
        return self.start.direct(self.delta)


@lru_cache(maxsize=32)
def _friction(load: float) -> Friction:
    """One and the same for a load: by it a run-up in star is found again."""
    return Friction(load + BEARINGS * RATED_TORQUE)


@lru_cache(maxsize=32)
def _case(*values) -> StarterCase:
    return StarterCase(*values)


def case_for(setup: Setup) -> StarterCase:
    """The case, kept: it is worked out part by part as it is asked for."""
    return _case(setup.leads, setup.plate, setup.supply, setup.frequency, setup.load, setup.timer, setup.pause)
