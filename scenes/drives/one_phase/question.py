"""What is said of a motor on one phase, and what is asked: which way it goes if at all, and whether its relay trips."""

from __future__ import annotations

import numpy as np

from scenes.drives.one_phase import shaft
from scenes.drives.one_phase.motors import (
    IN_DELTA,
    IN_STAR,
    LINE,
    MAIN_ALONE,
    NOTHING,
    RUN_CAPACITOR,
    START_CAPACITOR,
    THREE_PHASE,
    WINDING,
    rated,
    running_at,
)
from scenes.drives.one_phase.readings import after
from scenes.drives.one_phase.shaft import CLOCKWISE, COUNTER, REST, RUNNING
from scenes.drives.one_phase.snapshot import ONE, THREE, Setup, Snapshot
from scenes.scene.scene import Question
from scenes.scene.story import Look

ASKED = (("turns", "whether it runs, and in which direction"), ("trips", "whether the overload relay trips"))
SOON = 30.0  # s
WORDS = {
    IN_STAR: "A three-phase motor in star",
    IN_DELTA: "A three-phase motor in delta",
    RUN_CAPACITOR: "A single-phase motor with its run capacitor",
    START_CAPACITOR: "A single-phase motor with a start capacitor and a centrifugal switch",
    MAIN_ALONE: "A single-phase motor with its auxiliary winding open",
}
OPEN = {NOTHING: "", LINE: "phase L3 lost", WINDING: "winding W open"}


def sentence(now: Snapshot, look: Look) -> str:
    view, running = look.view, now.running
    if now.state.tripped:
        return "The overload relay has tripped: no current flows, and the rotor coasts to rest or has come to it."
    forward, backward = now.sizes
    if not look.reveals_answer:
        return f"{_given(now.setup)}."
    share = min(forward, backward) / max(forward, backward, 1e-9)
    fields = (
        "two equal fields rotate in opposite directions: their sum only swells and shrinks"
        if share > 0.995
        else "one field rotates, round and steady"
        if share < 0.02
        else f"the field that turns {view.turning(-1.0 if forward > backward else 1.0)} is the stronger"
    )
    if now.stands:
        return f"Looking at {view.end}, the rotor hums at standstill; {fields}."
    pulls = float(running.torque) * now.state.speed > 0
    turns = f"the rotor turns {view.turning(now.speed)}{'' if pulls else ' and slows down'}"
    return f"Looking at {view.end}, {turns}; {fields}{_of_swapped_ends(now, look)}."


def _of_swapped_ends(now: Snapshot, look: Look) -> str:
    """What it takes to reverse a single-phase motor that runs against the direction in which it would start."""
    case, speed = now.setup.case, now.state.speed
    pulls = 0.0 if case.feed.three_phase else float(running_at(case.feed, 0.0, True).torque)
    if pulls * speed >= 0 or abs(pulls) < 1e-6 * rated(case.feed.motor)[0] or not shaft.keeps_direction(case, now.state):
        return ""
    from_rest = look.view.turning(-pulls)
    if abs(pulls) <= case.load:
        return f". Running, it keeps its direction; at standstill its torque is now {from_rest}, too little for this load"
    return f". Running, it keeps its direction; to turn it {from_rest}, as its ends are now, switch off, let it stop, start again"


def _given(setup: Setup) -> str:
    feed = setup.feed
    swapped = [name for name, is_so in (("main", feed.reversed_main), ("auxiliary", feed.reversed_auxiliary)) if is_so]
    ends = f", the ends of its {' and of its '.join(swapped)} winding swapped," if swapped else ""
    opened = f", {OPEN[feed.opened]}," if feed.opened != NOTHING else ""
    if setup.start == RUNNING:
        under = f"runs under {setup.percent:g} % of its rated torque" if setup.percent else "runs without load"
        was = {NOTHING: ""}.get(feed.opened, f"; then {_loses(feed.opened)}")
        return f"{WORDS[feed.motor]}{ends} {under}{was}"
    how = "is switched on at rest" if setup.start == REST else f"is switched on and turned by hand {setup.start}, looking at the drive end"
    load = f"its load {setup.percent:g} % of rated torque" if setup.percent else "without load"
    return f"{WORDS[feed.motor]}{opened}{ends} {how}, {load}"


def _loses(opened: str) -> str:
    return "phase L3 is lost" if opened == LINE else "its winding W comes open"


def question(now: Snapshot, look: Look) -> Question:
    return _turns(now, look) if now.setup.asked == "turns" else _trips(now)


def _turns(now: Snapshot, look: Look) -> Question:
    setup, view = now.setup, look.view
    answer = shaft.direction(setup.case, setup.start)
    words = {CLOCKWISE: view.turning(-1.0), COUNTER: view.turning(1.0)}
    return Question(
        f"{_given(setup)}. What does it do, looking at {view.end}?",
        (
            *((value, f"it runs {said}") for value, said in words.items()),
            ("none", "it hums at standstill, or stalls and comes to it"),
        ),
        answer,
        _why(setup, answer),
    )


def _why(setup: Setup, answer: str) -> str:
    case, feed = setup.case, setup.feed
    last = shaft.settled(case, setup.start)
    sizes = [abs(float(part)) for part in (feed.at(0.0, True).forward_torque, feed.at(0.0, True).backward_torque)]
    stands = float(feed.at(0.0, True).torque)
    if answer == "none":
        if abs(stands) < 1e-6 * rated(feed.motor)[0]:
            first = f"At standstill both fields have the same torque, {sizes[0]:.2f} N m each way: nothing is left to start it"
            if setup.start == REST:
                return f"{first}, and the current of {np.max(np.abs(feed.at(0.0).lines)):.1f} A heats it."
            return f"{first}. Running, the motor has less torque than the {case.load:.2f} N m of load and bearings, slows down and stalls."
        return f"At standstill the motor has {abs(stands):.2f} N m, and load and bearings take {case.load:.2f} N m."
    rpm = f"{abs(last.speed) * 3000:.0f} r/min"
    if abs(stands) < 1e-6 * rated(feed.motor)[0]:
        return (
            f"Turning, its rotor has little slip in the field that turns with it and nearly 200 % in the other: the first has more "
            f"torque. It {'goes on' if setup.start == RUNNING else 'runs up the way it was turned'}, at {rpm}."
        )
    if not feed.three_phase:
        lead = "The current of the auxiliary winding leads, so the field goes from its axis to that of the main winding"
        turned = "" if feed.reversed_main == feed.reversed_auxiliary else "; with the ends of one of the two swapped, the other way round"
        return f"{lead}{turned}. At standstill that gives {abs(stands):.2f} N m; it runs at {rpm}."
    return f"U-V-W on L1-L2-L3 turns clockwise looking at the drive end, with {abs(stands):.1f} N m at standstill; it runs at {rpm}."


def _trips(now: Snapshot) -> Question:
    setup = now.setup
    seconds = shaft.trips_after(setup.case, setup.start)
    answer = "never" if seconds == shaft.NEVER else "soon" if seconds < SOON else "later"
    last = shaft.settled(setup.case, setup.start)
    amperes = float(np.max(np.abs(setup.feed.at(last.speed, last.starting).lines)))
    full = rated(setup.feed.motor)[1]
    relay = "the relay never trips" if seconds == shaft.NEVER else f"the relay trips {after(seconds)}"
    does = "stays at standstill" if abs(last.speed) < 1e-3 else f"runs at {abs(last.speed) * 3000:.0f} r/min"
    cold = " Two heaters of three carry the current, so it trips from 1.05 times its setting." if shaft.lost(setup.case) else ""
    return Question(
        f"{_given(setup)}. Does the overload relay trip, set to the rated current?",
        (
            ("never", "no: it bears that current"),
            ("soon", f"yes, within {SOON:.0f} s"),
            ("later", f"yes, but later than {SOON:.0f} s"),
        ),
        answer,
        f"The motor {does} and draws {amperes:.1f} A, {amperes / full:.2f} times the rated current: {relay}.{cold}",
    )


def random_setup(random) -> dict:
    motor = random.choice((IN_STAR, IN_DELTA, RUN_CAPACITOR, RUN_CAPACITOR, START_CAPACITOR, MAIN_ALONE))
    start = random.choice(
        (REST, REST, RUNNING, CLOCKWISE, COUNTER) if motor in (MAIN_ALONE, IN_STAR, IN_DELTA) else (REST, REST, REST, RUNNING)
    )
    return {
        "motor": THREE if motor in THREE_PHASE else ONE,
        "joined" if motor in THREE_PHASE else "auxiliary": motor,
        "open": random.choice((LINE, LINE, WINDING)),
        "start": start,
        "load": float(random.choice((0, 20, 20, 50, 80, 140))),
        "main": random.choice(("marked", "marked", "swapped")),
        "ends": random.choice(("marked", "swapped")),
        "asked": random.choice(("turns", "turns", "turns", "trips")),
    }
