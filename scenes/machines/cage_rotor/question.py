"""What is said of the cage in a sentence, and what is asked of it: which way it is pushed, or which way a current flows."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from scenes.machines.cage_rotor.snapshot import AXIS, Snapshot
from scenes.scene.common_controls import line_order
from scenes.scene.scene import Question
from scenes.scene.story import Look
from scenes.scene.views import View

LAGGING = "The current of this bar lags so far behind that for the moment it still flows"
IN_LINE = 0.9  # of a unit vector: so much of it along the shaft
TURNS = ("clockwise", "counter-clockwise")
ALONG = {"toward": "toward the drive end", "away": "away from the drive end", "none": "no current flows"}


def sentence(now: Snapshot, look: Look) -> str:
    view, setup, torque = look.view, now.setup, now.state.torque
    field = "The field stands" if setup.stands else f"The field turns {view.turning(now.field_speed)}"
    rotor = f"the rotor turns {view.turning(now.moment.rotor_speed)}" if abs(now.moment.rotor_speed) > 0.1 else "the rotor stands"
    sense = view.turning(torque) if abs(torque) > 1e-6 else "none"
    pushed = f"its bars are pushed {sense}" if sense != "none" else "no bar carries current and none is pushed"
    if now.stalled:
        return f"{field} and {rotor}, seen from {view.end}; {pushed}. The load is more than that: it stalls."
    held = f" The field is held at {now.peak:.2f} T." if setup.held or setup.stands else ""
    return f"{field} and {rotor}, seen from {view.end}; {pushed}.{held}"


def question(now: Snapshot, look: Look) -> Question:
    return _of_the_current(now, look) if now.setup.stands else _of_the_torque(now, look)


def _of_the_current(now: Snapshot, look: Look) -> Question:
    view, along = look.view, float(now.bar.current @ AXIS)
    answer = "toward" if along > 0 else "away" if along < 0 else "none"
    right = _hand(now, look, "right")
    return Question(
        f"The field stands still and the bars are turned {view.turning(now.moment.rotor_speed)}, seen from {view.end}. Which way does "
        f"current flow in the bar at the {now.bar.pole} pole?",
        tuple(ALONG.items()),
        answer,
        f"Bar {now.bar.number + 1}. {right} {LAGGING} {ALONG[answer]}."
        if now.lags
        else f"Bar {now.bar.number + 1}. {right} The force on it is then against its motion. {_hand(now, look, 'left')}",
    )


def _of_the_torque(now: Snapshot, look: Look) -> Question:
    view, setup, torque = look.view, now.setup, now.state.torque
    sense, percent = view.turning(now.moment.rotor_speed), abs(100 * setup.share)
    shaft = {"free": "is at standstill and free to turn", "held": "is held still"}.get(
        setup.rotor, f"is driven {sense} at {percent:g} % of the field's speed" if percent else "is held still"
    )
    answer = view.turning(torque) if abs(torque) > 1e-9 else "none"
    return Question(
        f"Seen from {view.end} the field turns {view.turning(now.field_speed)}; the rotor {shaft}. Which way do the forces on its bars "
        "push it?",
        (*((turn, turn) for turn in TURNS), ("none", "not at all")),
        answer,
        _reason(now, look, answer),
    )


def _reason(now: Snapshot, look: Look, answer: str) -> str:
    view = look.view
    if answer == "none":
        return "A bar that moves with the field cuts no flux: no EMF, no current, no force."
    relative = view.turning(now.moment.rotor_speed - now.field_speed)
    begins = (
        f"Relative to the field the bars move {relative}, seen from {view.end}. At the first instant bar {now.bar.number + 1} is at the "
        f"{now.bar.pole} pole. {_hand(now, look, 'right')} "
    )
    if now.lags:
        return f"{begins}{LAGGING} the other way. Over all bars together the torque is {answer}, against the motion relative to the field."
    return f"{begins}{_hand(now, look, 'left')} So the bars are pushed {answer}, against their motion relative to the field."


def _hand(now: Snapshot, look: Look, side: str) -> str:
    return now.bar.hand(side).words(words_of(look.view))


def words_of(view: View) -> Callable[[np.ndarray], str]:
    """Directions in words; along the shaft by the drive end, as they are asked for: from either end "toward you" would be another."""

    def said(direction: np.ndarray) -> str:
        return ALONG["toward" if direction[2] > 0 else "away"] if abs(direction[2]) > IN_LINE else view.directions.words(direction)

    return said


def random_setup(random) -> dict:
    rotor = random.choice(("free", "held", "driven", "driven", "driven", "proof", "proof"))
    return {
        "rotor": rotor,
        "lines": random.choice([name for name, _ in line_order().choices]),
        "speed": float(random.choice((50, 100, 100, 130, 150))) if rotor == "driven" else 100.0,
        "poles": random.choice(("2", "2", "4")),
        "bar": random.choice(("N", "S")),
        "hand": "right",
    }
