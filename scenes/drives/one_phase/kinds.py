"""The kinds of question on a motor on one phase."""

from __future__ import annotations

from scenes.drives.one_phase import shaft
from scenes.drives.one_phase.motors import (
    IN_DELTA,
    IN_STAR,
    LINE,
    MAIN_ALONE,
    NOTHING,
    RUN_CAPACITOR,
    START_CAPACITOR,
    SYNCHRONOUS,
    WINDING,
)
from scenes.drives.one_phase.shaft import REST, RUNNING
from scenes.drives.one_phase.snapshot import ONE, THREE, Setup
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import NO_EFFECT, OTHER_END, OTHER_FIELD, SUM
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

CAPACITORS = (RUN_CAPACITOR, START_CAPACITOR)
IN_SERIES = {RUN_CAPACITOR: "a run capacitor", START_CAPACITOR: "a start capacitor", MAIN_ALONE: "nothing, as it is open"}
OTHER = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise", "none": "none"}
NEARLY = 1e-6  # of the sum of two torques: no difference


def _of(setup: SetUp) -> Setup:
    return setup.typed


def _with_capacitor(dice, settings) -> dict:
    return {
        "motor": ONE,
        "auxiliary": dice.choice(CAPACITORS),
        "start": REST,
        "load": 20.0,
        "main": dice.choice(("marked", "swapped")),
        "ends": dice.choice(("marked", "swapped")),
        "asked": "turns",
    }


def _torques(of: Setup) -> tuple[float, float]:
    """At standstill, N m of the fields that turn clockwise and counter-clockwise."""
    at_rest = of.feed.at(0.0, True)
    return abs(float(at_rest.forward_torque)), abs(float(at_rest.backward_torque))


def _starts(setup: SetUp) -> Question:
    """Which way it starts, by the stronger field at standstill."""
    forward_torque, backward_torque = _torques(_of(setup))
    view = setup.look.view
    said = {"clockwise": view.turning(-1.0), "counter-clockwise": view.turning(1.0)}
    answer = "clockwise" if forward_torque > backward_torque else "counter-clockwise"
    return Question(
        "",
        tuple(said.items()),
        answer,
        f"At standstill the field that turns {said['clockwise']} gives {forward_torque:.2f} N m, the other {backward_torque:.2f} "
        f"N m: with the ends of "
        "one winding swapped the two change places.",
    )


def _asks_ends(setup: SetUp, turns: str) -> str:
    as_marked = _starts(setup.other(main="marked", ends="marked"))
    main = "as marked" if setup.settings["main"] == "marked" else "swapped"
    return (
        f"Looking at {setup.look.view.end}, a single-phase motor with a capacitor starts {dict(as_marked.choices)[as_marked.answer]} "
        "with the "
        f"ends of both windings as marked. This one starts {turns}, the ends of its main winding {main}. How are the ends of its auxiliary "
        "winding?"
    )


def _rpm(of: Setup) -> float:
    """At which it settles, in whole r/min."""
    return float(round(abs(shaft.settled(of.case, of.start).speed) * 60 * SYNCHRONOUS))


def _slip(of: Setup) -> float:
    """In the field that turns with the rotor, of the speed as it is told."""
    return 1 - _rpm(of) / (60 * SYNCHRONOUS)


def _asks_slip(of: Setup) -> str:
    return (
        f"A single-phase motor of 2 poles on 50 Hz runs at {_rpm(of):.0f} r/min. How large is its slip in the field that turns against it?"
    )


def _because_slip(of: Setup) -> str:
    return (
        f"The field that turns against the rotor has −3000 r/min: s = (−3000 − {_rpm(of):.0f}) / −3000 = "
        f"{shown(100 * (2 - _slip(of)))} %, which is "
        f"200 % less the slip in the other one."
    )


def _amperes(of: Setup) -> float:
    """In the auxiliary winding at standstill."""
    return float(abs(of.feed.at(0.0, True).currents[1]))


def _torque(of: Setup) -> float:
    clockwise, other = _torques(of)
    difference = abs(clockwise - other)
    return 0.0 if difference < NEARLY * (clockwise + other) else difference


def _words(of: Setup) -> str:
    return {
        IN_STAR: "three-phase motor in star",
        IN_DELTA: "three-phase motor in delta",
        RUN_CAPACITOR: "single-phase motor with its run capacitor",
        START_CAPACITOR: "single-phase motor with a start capacitor",
        MAIN_ALONE: "single-phase motor with its auxiliary winding open",
    }[of.feed.motor]


def _why(setup: SetUp) -> Reasons:
    of, view = _of(setup), setup.look.view
    clockwise, other = _torques(of)
    lost = ", winding W open," if of.feed.opened == WINDING else ""
    equal = abs(clockwise - other) < NEARLY * (clockwise + other)
    said = {"the two are equal": equal}
    said |= {
        f"the one that turns {view.turning(sense)} is the stronger": not equal and (clockwise > other) == (sense < 0)
        for sense in (-1.0, 1.0)
    }
    (true,) = [words for words, so in said.items() if so]
    windings = {"main": of.feed.reversed_main, "auxiliary": of.feed.reversed_auxiliary and of.feed.motor != MAIN_ALONE}
    swapped = [] if of.feed.three_phase else [name for name, is_so in windings.items() if is_so]
    ends = f", the ends of its {' and of its '.join(swapped)} winding swapped," if swapped else ""
    return statements(
        f"Looking at {view.end}, a {_words(of)}{lost}{ends} is switched on at rest, without load. Why does it start as it does, or not "
        "at all, "
        "of its two rotating fields?",
        "{}",
        (true,),
        [((words,), OTHER_END if not equal and "turns" in words else "") for words in said if words != true],
        f"At standstill the field that turns {view.turning(-1.0)} gives {clockwise:.2f} N m, the one that turns "
        f"{view.turning(1.0)} {other:.2f} N m against it.",
    )


def _any(dice, settings) -> dict:
    motor = dice.choice((*CAPACITORS, *CAPACITORS, MAIN_ALONE, IN_STAR, IN_STAR, IN_DELTA))
    if motor in (IN_STAR, IN_DELTA):
        return {"motor": THREE, "joined": motor, "open": dice.choice((NOTHING, WINDING, WINDING)), "start": REST}
    return {"motor": ONE, "auxiliary": motor, "start": REST} | {each: dice.choice(("marked", "swapped")) for each in ("main", "ends")}


def _lost_or_loaded(dice, settings) -> dict:
    """A three-phase motor that loses a line or a winding under one load or another, or at times one with a capacitor."""
    load = float(dice.choice((10, 20, 50, 80, 110, 140)))
    if dice.random() < 0.3:
        return {"asked": "trips", "motor": ONE, "auxiliary": RUN_CAPACITOR, "start": REST, "load": load}
    joined, opened = dice.choice(((IN_STAR, LINE), (IN_STAR, WINDING), (IN_DELTA, LINE)))
    return {"asked": "trips", "motor": THREE, "joined": joined, "open": opened, "start": RUNNING, "load": load}


KINDS = (
    forward(
        "whether it runs, and which way",
        lambda setup: {OTHER_END: OTHER[setup.question().answer]},
        even=False,
        setup=lambda dice, settings: {"asked": "turns"},
    ),
    forward("whether the relay trips", name="trips", even=False, setup=_lost_or_loaded),
    backward(
        "ends",
        "which ends are swapped",
        "ends",
        asks=_asks_ends,
        says=lambda setup: "as marked" if setup.settings["ends"] == "marked" else "swapped",
        hidden=None,
        result=_starts,
        mistaken=lambda setup: {NO_EFFECT: _starts(setup.other(main="marked")).answer},
        setup=_with_capacitor,
    ),
    figure(
        "figure",
        "how large the slip in the other field is",
        "%",
        of=_of,
        asks=_asks_slip,
        size=lambda of: 100 * (2 - _slip(of)),
        because=_because_slip,
        slips=lambda of: {OTHER_FIELD: 100 * _slip(of), SUM: 100 * (2 + _slip(of))},
        tolerance=0.005,
        setup=lambda dice, settings: _with_capacitor(dice, settings) | {"load": float(dice.choice((20, 50, 80, 100)))},
        settled=True,
    ),
    compare(
        lambda setup: (
            f"A {_words(_of(setup))} is switched on at "
            f"rest{', the ends of its auxiliary winding swapped' if setup.settings['ends'] == 'swapped' else ''}."
        ),
        (
            Change("auxiliary", one_of(*CAPACITORS, MAIN_ALONE), "what is in series with the auxiliary winding", IN_SERIES),
            Change("load", one_of(20.0, 50.0, 100.0)),
        ),
        (
            Measure("the torque that the load takes", lambda of: of.load, "N m", "The load hangs on what is driven, not on the motor."),
            Measure(
                "its torque at standstill",
                _torque,
                "N m",
                "The torque is what is left of two fields that pull against each other; a larger capacitor makes them less equal.",
            ),
            Measure(
                "the current in its auxiliary winding at standstill",
                _amperes,
                "A",
                "A larger capacitor lets more current through, an open circuit none; the load has no part in it yet.",
                {"load": ""},
            ),
        ),
        of=_of,
        setup=lambda dice, settings: {
            "motor": ONE,
            "auxiliary": dice.choice((*CAPACITORS, MAIN_ALONE)),
            "start": REST,
            "main": "marked",
            "ends": dice.choice(("marked", "swapped")),
            "load": float(dice.choice((20, 50))),
        },
    ),
    why(_why, words="why it starts, or does not", setup=_any, even=True),
)
