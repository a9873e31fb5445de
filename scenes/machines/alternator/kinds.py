"""The kinds of question on the alternator."""

from __future__ import annotations

import numpy as np

from scenes.machines.alternator.snapshot import Snapshot
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, reverse, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import AS_MARKED, MINUTES, OTHER_END, POLES, left_out
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import PRESSED, Question
from scenes.scene.typed import shown

ENDS = ("drive-end", "other-end")
OF_COIL_U = ("coils", "load")  # what is asked of that coil is the same whatever else there is
SPEEDS = (500.0, 600.0, 1000.0, 1500.0, 1800.0, 3000.0)


def _turning(dice, settings) -> dict:
    """It turns, and has its field."""
    return {"coils": "3", "speed": float(dice.choice((-1, 1)) * dice.choice(SPEEDS)), "load": "open"}


def _mistaken(setup: SetUp) -> dict[str, str]:
    """Seen from the other end it turns the other way; without regard to its turning the order is that of the letters."""
    answer = setup.question().answer
    return {OTHER_END: {"V": "W", "W": "V"}.get(answer, "none"), AS_MARKED: "V"}


def _asks_direction(setup: SetUp, next_one: str) -> str:
    view = setup.look.view
    return (
        f"Looking at {view.end}, the coils U, V, W follow each other {view.turning(-1.0)}. U has just peaked, and {next_one} peaks next. "
        "Which way does the magnet turn?"
    )


def _rpm(now: Snapshot) -> float:
    return abs(now.setup.speed) * 60


def _pairs(now: Snapshot) -> int:
    return now.setup.poles // 2


def _frequency(setup: SetUp) -> Question:
    """The frequency as an answer, the reason beside it."""
    answer = shown(setup.now.frequency)
    return Question("", ((answer, f"{answer} Hz"),), answer, _because(setup.now))


def _because(now: Snapshot) -> str:
    return (
        f"{_cycles(_pairs(now))} per revolution, one for each pole pair: f = {_rpm(now):.0f} r/min / 60 × {_pairs(now)} = "
        f"{shown(now.frequency)} Hz."
    )


def _slips(now: Snapshot) -> dict[str, float]:
    turns = _rpm(now) / 60
    return {POLES: turns * now.setup.poles, MINUTES: _rpm(now) * _pairs(now), left_out("the number of poles"): turns}


def _why(setup: SetUp) -> Reasons:
    now = setup.now
    pairs, turns = _pairs(now), shown(_rpm(now) / 60)
    return statements(
        f"A magnet of {now.setup.poles} poles turns at {_rpm(now):.0f} r/min, and the voltage in coil U has "
        f"{shown(now.frequency)} Hz. Where does that come from?",
        "{} in a revolution, {} revolutions in a second",
        (_cycles(pairs), turns),
        [
            ((_cycles(now.setup.poles), turns), POLES),
            ((_cycles(pairs), f"{_rpm(now):.0f}"), MINUTES),
            ((_cycles(1), turns), left_out("the number of poles")),
            ((_cycles(now.setup.poles), f"{_rpm(now):.0f}"), ""),
        ],
        _because(now),
    )


def _cycles(number: int) -> str:
    return "1 cycle" if number == 1 else f"{number} cycles"


KINDS = (
    forward("which phase peaks next", _mistaken, without=("none",), setup=_turning, views=ENDS, answered=PRESSED, aside=("load",)),
    backward(
        "direction",
        "which way the magnet turns",
        "speed",
        asks=_asks_direction,
        says=lambda setup: setup.look.view.turning(setup.now.setup.speed),
        hidden=0.0,
        mistaken=lambda setup: {OTHER_END: _mistaken(setup)[OTHER_END]},
        setup=_turning,
        views=ENDS,
        aside=("load",),
    ),
    backward(
        "poles",
        "how many poles it has",
        "poles",
        asks=lambda setup, hertz: (
            f"A magnet turns at {_rpm(setup.now):.0f} r/min, and the voltage in coil U has {hertz}. How many poles has it?"
        ),
        says=lambda setup: f"{setup.now.setup.poles} poles",
        hidden=None,
        result=_frequency,
        mistaken=lambda setup: {POLES: shown(_slips(setup.now)[POLES])},
        setup=_turning,
        aside=OF_COIL_U,
    ),
    figure(
        "figure",
        "at what frequency",
        "Hz",
        asks=lambda now: (
            f"A magnet of {now.setup.poles} poles turns at {_rpm(now):.0f} r/min. What is the frequency of the voltage in coil U?"
        ),
        size=lambda now: now.frequency,
        because=_because,
        slips=_slips,
        setup=_turning,
        aside=OF_COIL_U,
        works="generated-frequency",
        given=lambda now: {"poles": now.setup.poles, "speed": round(_rpm(now))},
    ),
    compare(
        lambda setup: (
            f"A magnet of {setup.now.setup.poles} poles turns at {_rpm(setup.now):.0f} r/min. Each phase of the winding round it has the "
            "same number of turns in series for any poles."
        ),
        (
            Change("speed", times(2, 0.5, low=-3000, high=3000)),
            Change("speed", reverse),
            Change("poles", one_of("2", "4", "8")),
            Change("field", times(1.5, 0.5, low=-500, high=500)),
            Change("load", one_of("open", "lamp"), "what each phase feeds"),
        ),
        (
            Measure(
                "the current of a phase, r.m.s.",
                lambda now: float(np.linalg.norm(now.currents)) / 3**0.5,
                "A",
                "The current is the EMF over the resistance of winding and lamp; with nothing connected no current flows.",
                {"poles": "With more poles the frequency is higher and the flux of each is less, in proportion: the EMF stays as it was."},
            ),
            Measure("the frequency of the voltage", lambda now: now.frequency, "Hz", "f = poles × r/min / 120."),
            Measure(
                "the EMF of a phase",
                lambda now: now.rms,
                "V",
                "The EMF goes with speed and field; each phase has the same turns for any poles.",
                {"poles": "With more poles the frequency is higher and the flux of each is less, in proportion."},
            ),
        ),
        setup=lambda dice, settings: (
            _turning(dice, settings)
            | {
                "load": dice.choice(("open", "lamp")),
                "speed": dice.choice((-1500.0, -1000.0, 1000.0, 1500.0)),
                "field": dice.choice((200.0, 300.0)),
            }
        ),
    ),
    why(_why, words="where the frequency comes from", setup=_turning, aside=OF_COIL_U),
)
