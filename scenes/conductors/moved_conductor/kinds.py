"""The kinds of question on the moved rod."""

from __future__ import annotations

import numpy as np

from physics.directions import direction_words, emf_direction, right_hand
from scenes.conductors.moved_conductor.snapshot import LENGTH, Snapshot
from scenes.conductors.north_pole import UPWARD, north_pole
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import ALONG_FIELD, FINGERS, OTHER_HAND, left_out
from scenes.questions.why import Reasons, hands, why
from scenes.scene.question import DRAWN
from scenes.scene.typed import shown

ACROSS = {"way": "across"}


def _vectors(now: Snapshot) -> tuple[np.ndarray, np.ndarray]:
    """Field between the poles and motion."""
    return now.setup.sense * UPWARD, now.coming * now.setup.direction


def _mistaken(setup: SetUp) -> dict[str, str]:
    field, motion = _vectors(setup.now)
    drives = emf_direction(field, motion)
    return {OTHER_HAND: direction_words(-drives), FINGERS: direction_words(emf_direction(motion, field))}


def _asks_motion(setup: SetUp, drives: str) -> str:
    field, motion = _vectors(setup.now)
    seen = setup.look.view.directions.words
    both = " or ".join(sorted((seen(motion), seen(-motion))))
    return f"The field points {seen(field)}, and the EMF drives current {drives} in the rod. Which way is the rod moved, {both}?"


def _asks_poles(setup: SetUp, drives: str) -> str:
    motion = setup.look.view.directions.words(_vectors(setup.now)[1])
    return f"The rod is moved {motion}, and the EMF drives current {drives} in it."


def _tesla(now: Snapshot) -> float:
    """The mean along the rod, as it is told."""
    return round(float(np.linalg.norm(now.field)), 4)


def _millivolts(now: Snapshot) -> float:
    """Of a rod moved across, from what is told."""
    return 1000 * now.setup.turns * _tesla(now) * LENGTH * now.state.speed


def _given(now: Snapshot) -> str:
    wires = f"{now.setup.turns} wires in series" if now.setup.turns > 1 else "one wire"
    return f"A rod of {wires}, {1000 * LENGTH:.0f} mm long, is moved"


def _asks_emf(now: Snapshot) -> str:
    return f"{_given(now)} at {now.state.speed:g} m/s across a field of {1000 * _tesla(now):g} mT, the mean along it. How large is its EMF?"


def _because(now: Snapshot) -> str:
    return (
        f"E = N B l v = {now.setup.turns} × {_tesla(now):.4f} T × {LENGTH:.3f} m × {now.state.speed:g} m/s = {shown(_millivolts(now))} mV."
    )


def _to_and_fro(dice, settings) -> dict:
    return ACROSS | {
        "motion": "to-and-fro",
        "speed": dice.choice((0.4, 0.5, 0.8, 1.0)),
        "turns": dice.choice((5.0, 10.0, 20.0, 50.0)),
        "strength": dice.choice((0.6, 0.7, 0.8, 1.0)),
    }


def _why(setup: SetUp) -> Reasons:
    field, motion = _vectors(setup.now)
    seen = setup.look.view.directions.words
    return hands(
        f"The field points {seen(field)}, the rod moves {seen(motion)}.",
        "the way the EMF drives current",
        right_hand(field, motion),
        seen,
        setup.question().reason,
    )


KINDS = (
    forward(
        "which way the EMF drives current",
        _mistaken,
        overlooked=lambda setup: ALONG_FIELD if setup.now.setup.way == "along-field" and setup.now.coming else "",
        setup=lambda dice, settings: {"way": dice.choice(("across", "along-field"))},
        answered=DRAWN,
    ),
    backward(
        "motion",
        "which way the rod must be moved",
        "place",
        asks=_asks_motion,
        says=lambda setup: setup.look.view.directions.words(_vectors(setup.now)[1]),
        hidden=0.0,
        mistaken=_mistaken,
        setup=lambda dice, settings: ACROSS | {"motion": "hand"},
    ),
    north_pole(_asks_poles, _mistaken, ACROSS),
    figure(
        "figure",
        "how large the EMF is",
        "mV",
        asks=_asks_emf,
        size=_millivolts,
        because=_because,
        slips=lambda now: {left_out("the number of turns"): _millivolts(now) / now.setup.turns},
        setup=_to_and_fro,
        works="conductor-emf",
        given=lambda now: {"field": _tesla(now), "speed": now.state.speed, "length": 1000 * LENGTH, "turns": now.setup.turns},
    ),
    compare(
        lambda setup: f"{_given(setup.now)} to and fro across a field.",
        (
            Change("speed", times(2, 0.5, low=0.1, high=2)),
            Change("turns", times(2, 0.5, low=1, high=200)),
            Change("strength", times(2, 0.5, low=0.4, high=1.4)),
            Change("closed", one_of(True, False), "the resistor's switch", {True: "closed", False: "open"}),
        ),
        (
            Measure("the size of the EMF in the middle of the poles", _millivolts, "mV", "E = N B l v."),
            Measure(
                "the current in the rod there",
                lambda now: abs(now.current) * 1000,
                "mA",
                "The current is the EMF over the resistance, and flows only while the circuit is closed.",
            ),
        ),
        setup=lambda dice, settings: _to_and_fro(dice, settings) | {"closed": dice.random() < 0.5},
    ),
    why(_why, words="which hand shows it, and how it is held", setup=lambda dice, settings: ACROSS),
)
