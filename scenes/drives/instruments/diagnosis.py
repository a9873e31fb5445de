"""Which faults agree with what was measured: each fault at each place is measured in the same way and compared."""

from __future__ import annotations

import math
from collections.abc import Sequence

from physics.terminals import LINES, PHASES
from scenes.drives.instruments.case import Case, Condition, case_of
from scenes.drives.instruments.faults import EVERY, KINDS, Fault
from scenes.drives.instruments.measured import CLAMP, INSULATION, OHMMETER, VOLTMETER, Laid, Measured, measure, sound

ROUND = (("U1", "V1"), ("V1", "W1"), ("W1", "U1"))


def usual_measurements() -> list[Laid]:
    """The usual measurements, by threes: live currents, voltages of the supply and at the studs; dead, resistances with links on, those
    of the windings with links off, and insulation to earth."""
    on, dead = Condition(on=True), Condition(on=False, leads=False)
    apart = Condition(on=False, links=False, leads=False)
    at_posts = zip(LINES, (*LINES[1:], LINES[0]), strict=True)
    return [
        *[Laid(CLAMP, (line,), on) for line in LINES],
        *[Laid(VOLTMETER, pair, on) for pair in at_posts],
        *[Laid(VOLTMETER, pair, on) for pair in ROUND],
        *[Laid(OHMMETER, pair, dead) for pair in ROUND],
        *[Laid(OHMMETER, (phase + "1", phase + "2"), apart) for phase in PHASES],
        *[Laid(INSULATION, (phase + "1", "PE"), apart) for phase in PHASES],
    ]


def agreeing(case: Case, records: Sequence[Measured]) -> list[Fault]:
    """The faults that would show the same in each of `records`."""
    return [fault for fault in EVERY if all(measure(case_of(case.joined, fault, case.sticks), each.laid).like(each) for each in records)]


def refuting(case: Case, kind: str, records: Sequence[Measured]) -> list[Measured]:
    """Few of `records` that no fault of that kind shows together, wherever it is; [] where one shows them all."""
    left = [fault for fault in EVERY if fault.answer == kind]
    shows = {each: {fault for fault in left if measure(case_of(case.joined, fault, case.sticks), each.laid).like(each)} for each in records}
    if set(left).intersection(*shows.values()):
        return []
    chosen: list[Measured] = []
    while left:
        chosen.append(min(records, key=lambda each: len(shows[each].intersection(left))))
        left = [fault for fault in left if fault in shows[chosen[-1]]]
    return chosen


def kinds_of(faults: Sequence[Fault]) -> list[str]:
    """Their kinds, each once, in the order of the answers."""
    met = {fault.answer for fault in faults}
    return [kind for kind in KINDS if kind in met]


def deciding(case: Case, among: Sequence[Fault]) -> Laid | None:
    """The usual measurement that leaves fewest other kinds of those `among`, None if none leaves fewer."""
    best, fewest = None, len(kinds_of(among))
    for laid in usual_measurements():
        shown = measure(case, laid)
        left = kinds_of([fault for fault in among if measure(case_of(case.joined, fault, case.sticks), laid).like(shown)])
        if len(left) < fewest:
            best, fewest = laid, len(left)
    return best


def telling(case: Case, records: Sequence[Measured]) -> list[Measured]:
    """Those records that a sound board would not show, what differs most first."""
    return sorted(
        [each for each in records if not sound(case, each.laid).like(each)], key=lambda each: -_apart(each, sound(case, each.laid))
    )


def _apart(one: Measured, other: Measured) -> float:
    """By how much two figures differ, as a share of the larger."""
    most = max(abs(one.value), abs(other.value))
    return 1.0 if math.inf in (one.value, other.value) else abs(one.value - other.value) / most if most else 0.0
