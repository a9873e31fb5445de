"""What is asked of the machine with a commutator: which way it turns when it is fed, which brush is positive when it is spun."""

from __future__ import annotations

import numpy as np

from physics.commutated.averages import averages
from physics.commutated.motion import step
from physics.commutated.network import OpenCircuit
from physics.directions import direction_words, left_hand, right_hand
from scenes.scene.scene import Question
from scenes.scene.seen_from_an_end import AXIS

KEEPS_TURNING = np.radians(200.0)  # rad from rest after which a motor has passed every place where it could stick
LONGEST = 30.0  # s that it is given for that
TURNING = (("clockwise", "clockwise"), ("counter-clockwise", "counter-clockwise"), ("none", "it does not keep turning"))
POSITIVE = (("A1", "A1"), ("A2", "A2"), ("changes", "it changes twice in a turn"), ("neither", "neither: no voltage"))


def which_way(scene) -> Question:
    """Which way the machine turns from rest, seen from the end one looks at; decided by letting it run."""
    turned = turned_from_rest(scene)
    sense = scene.seen(turned) if abs(turned) > KEEPS_TURNING else "none"
    volts, brake = scene["battery"], scene["brake"]
    fed = f"+ of the battery is on brush {'A1' if volts > 0 else 'A2'}" if volts else "the battery gives nothing"
    rings = " Slip rings stand in place of the commutator." if has_rings(scene) else ""
    braked = f" The brake takes {brake * 1000:.0f} mN m." if brake else ""
    return Question(
        f"{_poles(scene)}; {fed}.{rings}{braked} Which way does the machine turn, seen from {scene.end}?",
        TURNING, sense, _why_it_turns(scene, sense),
    )


def which_brush(scene) -> Question:
    """Which brush of the machine spun by hand is the positive one."""
    speed = scene.cranked
    turning = f"The crank is turned {scene.seen(speed)} seen from {scene.end}" if speed else "The crank stands still"
    on = "two slip rings" if has_rings(scene) else "a commutator"
    if not (speed and scene["field"]):
        answer, why = "neither", "Without a field, or without motion, no flux is cut."
    elif has_rings(scene):
        answer, why = "changes", (
            "Each ring stays with its end of the coil, and with every half turn that end comes before the other pole: "
            "the voltage alternates."
        )
    else:
        answer = "A1" if averages(scene.armature, speed, OpenCircuit(), 72).terminal_voltage > 0 else "A2"
        moved = right_hand(scene.as_seen(scene.field), scene.as_seen(np.cross(speed * AXIS, _before_the_north_pole(scene))))
        why = (
            f"A coil side that passes the N pole: {moved.words()} The commutator always joins the coils whose sides are there "
            f"to the brushes the same way round, and brush {answer} becomes positive."
        )
    return Question(f"{_poles(scene)}. {turning}, with {on} on the spindle. Which brush is positive?", POSITIVE, answer, why)


def turned_from_rest(scene) -> float:
    """Radians that the machine has turned when it has passed every place where it could stick, or has given up."""
    if has_rings(scene):
        return 0.0  # it swings past the neutral axis, never as far as it came from
    at_rest = state = scene.at_rest()
    for _ in range(round(LONGEST / 0.1)):
        state = step(scene.armature, state, scene.shaft, scene.circuit, 0.1)
        if state.speed == 0.0 or abs(float(state.angle - at_rest.angle)) > KEEPS_TURNING:
            break
    return float(state.angle - at_rest.angle)


def has_rings(scene) -> bool:
    return scene["collector"] == "slip-rings"


def _why_it_turns(scene, sense: str) -> str:
    state = scene.at_rest()
    sides = np.stack([np.cos(state.side_angles), np.sin(state.side_angles), np.zeros((3, 2))], axis=-1)
    nearest = np.argmax(sides @ _before_the_north_pole(scene))
    pushed = left_hand(scene.as_seen(scene.field), scene.as_seen(float(state.side_currents.ravel()[nearest]) * AXIS))
    if not pushed.shows_something:
        return "Without a current, or without a field, nothing is pushed."
    if has_rings(scene):
        return (
            "Slip rings do not change the coil over: once it has swung past the neutral axis the push drives it back, and it "
            "comes to rest there."
        )
    why = (
        f"The coil side before the N pole: {pushed.words()} The opposite sides are pushed the other way. "
        f"Seen from {scene.end} that is {scene.seen(float(state.torque))}."
    )
    if sense == "none":
        why += f" But brake and bearings hold with {scene.shaft.dry_friction * 1000:.0f} mN m, more than it is pushed with."
    return why


def _poles(scene) -> str:
    if not scene["field"]:
        return "The magnet has no field"
    way = direction_words(scene.as_seen(scene.field))
    side = "left" if way == "to the right" else "right"
    return f"Seen from {scene.end} the field goes {way}, from the N pole on the {side}"


def _before_the_north_pole(scene) -> np.ndarray:
    """The direction from the shaft to the N pole."""
    return np.array([-np.sign(scene["field"]), 0.0, 0.0])
