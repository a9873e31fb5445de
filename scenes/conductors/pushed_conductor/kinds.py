"""The kinds of question on the pushed rod."""

from __future__ import annotations

import numpy as np

from physics.directions import direction_words, force_direction, left_hand
from scenes.conductors.north_pole import UPWARD, north_pole
from scenes.conductors.pushed_conductor.question import flowing
from scenes.conductors.pushed_conductor.snapshot import LENGTH_OF_ROD, Snapshot
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, reverse, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import ALONG_FIELD, COSINE, ELECTRONS, FINGERS, OTHER_HAND, left_out
from scenes.questions.why import Reasons, hands, why
from scenes.scene.question import DRAWN
from scenes.scene.typed import shown

LEVEL = {"switch": True, "tilt": 0.0}


def _vectors(now: Snapshot) -> tuple[np.ndarray, np.ndarray]:
    """Field and current of the rod at rest in the middle of the gap."""
    return now.setup.sense * UPWARD, now.setup.current * now.setup.along


def _mistaken(setup: SetUp) -> dict[str, str]:
    """Each of them turns the force round; across a current along the field none of them finds one."""
    field, current = _vectors(setup.now)
    force = force_direction(field, current)
    return {
        OTHER_HAND: direction_words(-force),
        FINGERS: direction_words(force_direction(current, field)),
        ELECTRONS: direction_words(force_direction(field, -current)),
    }


def _overlooked(setup: SetUp) -> str:
    """That the current flows along the field: then whoever has it pushed any way at all takes it to be across."""
    field, current = _vectors(setup.now)
    return ALONG_FIELD if np.any(current) and not np.any(force_direction(field, current)) else ""


def _back_to_the_current(setup: SetUp, pushed: str) -> str:
    field, _ = _vectors(setup.now)
    tilt = setup.settings["tilt"]
    lies = f"with its marked end {abs(tilt):g}° {'above' if tilt > 0 else 'below'} the level" if tilt else "level"
    return (
        f"The rod lies {lies}, the field points {setup.look.view.directions.words(field)}, and the rod is pushed {pushed}. "
        f"Which way does the current flow in it?"
    )


def _back_to_the_poles(setup: SetUp, pushed: str) -> str:
    _, current = _vectors(setup.now)
    return f"The current flows {setup.look.view.directions.words(current)}, and the rod is pushed {pushed}."


def _tesla(now: Snapshot) -> float:
    """As it is told."""
    return round(float(np.linalg.norm(now.field)), 4)


def _angle(now: Snapshot) -> float:
    """Degrees from the rod to the field, as they are told."""
    return round(float(np.degrees(np.arcsin(min(now.sine, 1.0)))), 1)


def _amount(now: Snapshot, angle: float | None = None) -> float:
    """mN, from what is told."""
    angle = _angle(now) if angle is None else angle
    return 1000 * _tesla(now) * abs(now.setup.current) * LENGTH_OF_ROD * float(np.sin(np.radians(angle)))


def _asks(now: Snapshot) -> str:
    lies = "across the field" if not now.setup.tilt else f"at {_angle(now):g}° to the field"
    return (
        f"A rod {1000 * LENGTH_OF_ROD:.0f} mm long lies {lies} of {1000 * _tesla(now):.4g} mT and carries "
        f"{abs(now.setup.current):g} A. "
        "How large is the force on it?"
    )


def _because(now: Snapshot) -> str:
    sine = "" if not now.setup.tilt else f" × sin {_angle(now):g}°"
    return (
        f"F = B I l{' sin θ' if sine else ''} = {_tesla(now):.4f} T × {abs(now.setup.current):g} A × "
        f"{LENGTH_OF_ROD:.3f} m{sine} = {shown(_amount(now))} mN."
    )


def _why(setup: SetUp) -> Reasons | None:
    field, current = _vectors(setup.now)
    if not np.any(force_direction(field, current)):
        return None
    seen = setup.look.view.directions.words
    return hands(
        f"{flowing(setup.now.setup, current, seen)}, the field points {seen(field)}.",
        "the way the rod is pushed",
        left_hand(field, current),
        seen,
        setup.question().reason,
    )


KINDS = (
    forward("which way the rod is pushed", _mistaken, overlooked=_overlooked, without=("up", "down"), answered=DRAWN),
    backward(
        "current",
        "which way the current must flow",
        "current",
        asks=_back_to_the_current,
        says=lambda setup: setup.look.view.directions.words(_vectors(setup.now)[1]),
        hidden=0.0,
        mistaken=_mistaken,
        setup=lambda dice, settings: LEVEL,
        aside=("tilt",),
    ),
    north_pole(_back_to_the_poles, _mistaken, LEVEL),
    figure(
        "figure",
        "how large the force is",
        "mN",
        asks=_asks,
        size=_amount,
        because=_because,
        slips=lambda now: (
            {
                left_out("the factor sin θ"): _amount(now, 90.0),
                COSINE: _amount(now, 90.0 - _angle(now)),
            }
            if now.setup.tilt and now.sine
            else {}
        ),
        setup=lambda dice, settings: {"switch": True, "tilt": float(dice.choice((0, 20, 30, 60)))},
        works="conductor-force",
        given=lambda now: {
            "field": _tesla(now),
            "current": abs(now.setup.current),
            "length": 1000 * LENGTH_OF_ROD,
            "angle": _angle(now),
        },
    ),
    compare(
        lambda setup: "The rod lies between the poles, with current in it.",
        (
            Change("current", times(2, 0.5, low=-20, high=20), "the current in the rod"),
            Change("current", reverse, "the current in the rod"),
            Change("tilt", one_of(0.0, 45.0, 60.0), "the angle by which the marked end of the rod is raised"),
        ),
        (
            Measure(
                "the size of the force on it",
                _amount,
                "mN",
                "F = B I l sin θ, θ from current to field: its size, not its direction, is asked for.",
            ),
        ),
        setup=lambda dice, settings: {
            "switch": True,
            "current": float(dice.choice((-1, 1)) * dice.choice((6, 8, 10))),
            "tilt": float(dice.choice((0, 0, 45, 60))),
        },
    ),
    why(_why, words="which hand shows it, and how it is held"),
)
