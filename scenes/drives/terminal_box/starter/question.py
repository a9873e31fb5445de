"""What is said of the starter, and what is asked: the contactors, the way round the delta, the peak at the change-over."""

from __future__ import annotations

import math

from scenes.drives.terminal_box.starter.case import case_for
from scenes.drives.terminal_box.starter.settings import ASKED, DELTA, MAIN, STAR, WAYS, Setup, pairs
from scenes.drives.terminal_box.starter.snapshot import Snapshot
from scenes.drives.terminal_box.starter.words import at_last, blown, held, judged, named, way, why
from scenes.scene.scene import Question
from scenes.scene.story import Look

ALIKE, NEAR = 0.02, 0.1  # shares by which two peaks, or a peak and that of direct on line, are called the same
NO_CHANGE = ("none", "there is no change-over")


def sentence(now: Snapshot, look: Look) -> str:
    said = why(now)
    if now.step == "isolated":
        return f"The isolator is open and nothing is live: {said}."
    view = look.view
    turning = view.turning(now.speed)
    shaft = "the shaft stands" if turning == "none" else f"the shaft turns {turning} at {60 * abs(now.speed):.0f} r/min"
    return f"Looking at {view.end}, {shaft}; {said}."


def question(now: Snapshot, look: Look) -> Question:
    return {"closed": _closed, "way": _way, "peak": _peak}[now.setup.asked](now.setup)


def _given(setup: Setup) -> str:
    fitted = "interlocked" if setup.interlock else "without an interlock"
    sticks = "; Q3 sticks once it has closed" if setup.sticks else ""
    return (
        f"A motor of {setup.plate.words} on {setup.supply:.0f} V, {setup.frequency:.0f} Hz, with a star-delta starter. Q1 is the main, "
        f"Q2 the delta, Q3 the star contactor, Q2 and Q3 {fitted}{sticks}. Delta joins {pairs(setup.leads) or 'nothing'}. "
    )


def _load(setup: Setup) -> str:
    return f"{setup.percent:g} % load, {setup.timer:.1f} s in star, then both open for {1000 * setup.pause:.0f} ms. "


def _closed(setup: Setup) -> Question:
    case = case_for(setup)
    sets = {"main-star": (MAIN, STAR), "main-delta": (MAIN, DELTA), "delta-star": (DELTA, STAR)}
    last = at_last(setup)
    answer = next((value for value, each in sets.items() if last == frozenset(each)), "none")
    if not case.may_run:
        reason = f"The connection is {judged(case)}."
    elif not last:
        reason = f"The fuses blow: {blown(setup)}."
    elif held(setup):
        reason = "Q3 has not opened, and the interlock lets Q2 close only when it has."
    else:
        reason = f"Q1 feeds one end of each winding and Q2 the other, {pairs(setup.leads)}; Q3 had to open before Q2 closed."
    return Question(
        f"{_given(setup)}A start is called for, and more than the timer's time passes. Which contactors are closed then?",
        (*((value, named(each)) for value, each in sets.items()), ("none", "none")),
        answer,
        reason,
    )


def _no_change(setup: Setup) -> str:
    """Why there is no change-over, "" if there is one."""
    case = case_for(setup)
    if not case.may_run:
        return f"The connection is {judged(case)}."
    if setup.sticks:
        return "Q3 does not open, so delta does not take over: the interlock holds, or without it the fuses blow."
    return ""


def _way(setup: Setup) -> Question:
    case, none = case_for(setup), _no_change(setup)
    answer, reason = "none", none
    if not none:
        (own, first), (other, second) = case.peaks.items()
        near = abs(first.current / second.current - 1) <= ALIKE
        answer = "same" if near else way(own if first.current < second.current else other)
        reason = (
            f"At closing each winding meets {first.difference:.0f} V with {way(own)} and {second.difference:.0f} V with {way(other)}: "
            f"what is put on less what the rotor's field, fallen behind, still induces. The peaks are {first.current:.0f} A and "
            f"{second.current:.0f} A."
        )
    ways = tuple(WAYS) if none else tuple(sorted(way(leads) for leads in case.peaks))
    return Question(
        f"{_given(setup)}{_load(setup)}Which way round the delta has the smaller current peak at the change-over?",
        (*((each, each) for each in ways), ("same", f"both within {ALIKE:.0%}"), NO_CHANGE),
        answer,
        reason,
    )


def _peak(setup: Setup) -> Question:
    case, none = case_for(setup), _no_change(setup)
    answer, reason = "none", none
    if not none:
        share = case.peak.current / case.direct.current
        answer = "lower" if share < 1 - NEAR else "higher" if share > 1 + NEAR else "same"
        reason = (
            f"The peak comes to {case.peak.current:.0f} A, direct on line to {case.direct.current:.0f} A. At the change-over the shaft has "
            f"{60 * abs(case.start.closing.speed):.0f} r/min, and the rotor's field still induces "
            f"{abs(case.start.residual) / math.sqrt(2):.0f} V in each winding, fallen behind."
        )
    return Question(
        f"{_given(setup)}{_load(setup)}How does the current peak at the change-over compare with that of starting direct on line?",
        (
            ("lower", f"more than {NEAR:.0%} lower"),
            ("same", f"within {NEAR:.0%} of it"),
            ("higher", f"more than {NEAR:.0%} higher"),
            NO_CHANGE,
        ),
        answer,
        reason,
    )


def random_setup(random) -> dict:
    asked = random.choice([name for name, _ in ASKED])
    plate, supply = random.choice((("230/400", "230"), ("400/690", "400"), ("400/690", "400"), ("230/400", "400")))
    return {
        "by": "starter",
        "asked-starter": asked,
        "way": random.choice(list(WAYS)),
        "plate": plate,
        "supply": supply,
        "load": float(random.choice((0, 20, 40, 50))),
        "timer": random.choice((0.3, 0.6, 2.0, 3.0)),
        "pause": float(random.choice((20, 50, 50, 100))),
        "interlock": random.random() < 0.7,
        "sticks": random.random() < (0.4 if asked == "closed" else 0.1),
    }
