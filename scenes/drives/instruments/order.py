"""The order of work: isolate, lock off, prove dead, then measure. What is wrong with laying an instrument now, and what comes first.

Proving dead: the tester on a proving unit, every conductor against every other and against earth, the tester on the proving unit again
(common practice; EN 50110-1, memory).
"""

from __future__ import annotations

from dataclasses import dataclass

from physics.measuring.board import TEST_VOLTAGE
from physics.measuring.limits import DEAD_BELOW
from physics.terminals import LINES
from scenes.drives.instruments.case import KNOWN, PAIRS_TO_PROVE, Case, Condition
from scenes.drives.instruments.measured import INSULATION, OHMMETER, VOLTMETER, WORDS, Laid, Measured, measure

ON, OFF, LOCKED, PROVED = "on", "off", "locked", "proved"
WORK = (
    (ON, "switched on"),
    (OFF, "isolated"),
    (LOCKED, "isolated and locked off"),
    (PROVED, "locked off and proved dead"),
)


def settings_of(laid: Laid) -> dict[str, str | bool]:
    """The settings with which the instrument lies there as it should: live, or locked off and proved dead."""
    first, second, third = (*laid.points, "off", "off")[:3]
    return {
        "work": ON if laid.condition.on else PROVED,
        "instrument": laid.instrument,
        "first": first,
        "second": second,
        "third": third,
        "links": laid.condition.links,
        "leads": laid.condition.leads,
    }


ALL_TESTS = len(PAIRS_TO_PROVE) + 2


@dataclass(frozen=True)
class Proof:
    """How far proving dead has come: the tester found to work, the pairs found dead, found to work again; the pair that is live."""

    tester: bool = False
    dead: frozenset[frozenset[str]] = frozenset()
    again: bool = False
    live: tuple[str, ...] = ()
    taken: bool = False  # as done, without its tests

    @property
    def tests(self) -> int:
        return self.tester + len(self.dead) + self.again

    @property
    def next(self) -> str:
        """What comes next, in words."""
        if self.live:
            return f"{' to '.join(self.live)} is live: it is not isolated"
        if not self.tester:
            return "first the voltmeter on the proving unit"
        left = [" to ".join(pair) for pair in PAIRS_TO_PROVE if frozenset(pair) not in self.dead]
        if left:
            return f"next {left[0]}"
        return "all is dead and the tester works" if self.again else "last the voltmeter on the proving unit again"

    def after(self, test: Measured) -> Proof:
        """Once the voltmeter has shown something: no voltage counts for nothing before the tester is known to work, voltage always."""
        points = frozenset(test.laid.points)
        if points == set(KNOWN):
            complete = self.tester and len(self.dead) == len(PAIRS_TO_PROVE)
            return Proof(True, self.dead, complete, self.live)
        if points & set(LINES):
            return self
        if test.value >= DEAD_BELOW:
            return Proof(self.tester, frozenset(), False, self.live or test.laid.points)
        if not self.tester or points not in [frozenset(pair) for pair in PAIRS_TO_PROVE]:
            return self
        return Proof(True, self.dead | {points}, False, self.live)


def tests_in_order(case: Case) -> list[Measured]:
    """The whole of proving dead on that board, as the voltmeter shows it."""
    condition = Condition(on=False)
    return [measure(case, Laid(VOLTMETER, pair, condition)) for pair in (KNOWN, *PAIRS_TO_PROVE, KNOWN)]


def advice(laid: Laid | None, work: str, proof: Proof) -> str:
    """What to mind or to do next where nothing is wrong, in few words."""
    if work == ON:
        return "live: for a licensed person only, by the local code"
    if work == OFF:
        return "next: lock it off"
    if work == LOCKED:
        return f"proving dead, {proof.tests} of {ALL_TESTS} tests: {proof.next}"
    if proof.live:
        return f"not dead: {proof.next}"
    if laid and laid.instrument == INSULATION:
        return "leave the probes on until the tester has discharged the winding"
    return f"{'taken as ' if proof.taken else ''}proved dead: now measure resistance"


def mistake(laid: Laid, work: str, proof: Proof) -> str:
    """What is wrong with laying that instrument there now, as a sentence; "" if nothing is."""
    if laid.instrument not in (OHMMETER, INSULATION):
        return ""
    name = WORDS[laid.instrument]
    if work == ON:
        return f"No {name} on a live board: isolate, lock off and prove dead first."
    if proof.live:
        return f"Not dead: {' to '.join(proof.live)} has voltage. Find what feeds it first."
    if work == OFF:
        return "Isolated, but anyone can switch on: lock off and prove dead first."
    if work == LOCKED:
        return f"Not proved dead: {proof.next}."
    if set(laid.points) & set(LINES):
        return "L1, L2 and L3 stay live on the supply's side of the open isolator."
    if set(laid.points) & set(KNOWN):
        return f"The proving unit is live: no {name} on it."
    if laid.instrument == INSULATION and laid.condition.leads:
        return f"Take the leads off first: {TEST_VOLTAGE:.0f} V d.c. would reach whatever is on them."
    return ""
