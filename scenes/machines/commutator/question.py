"""The commutator machine's question: which way it turns on a battery, or which brush is positive when cranked."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from physics.commutated.averages import averages
from physics.commutated.motion import step
from physics.commutated.network import OpenCircuit
from physics.shaft.shafts import FreeShaft
from scenes.machines.commutator.machine import BRUSHES, BRUSHES_AT
from scenes.machines.commutator.snapshot import AROUND, NEAR_A_POLE, Setup, Snapshot, begin, observe
from scenes.scene.scene import Question
from scenes.scene.story import Look

KEEPS_TURNING = np.radians(200.0)  # rad from rest, after which a motor has passed every position where it could stick
LONGEST = 30.0  # s allowed for that
POSITIVE = (("A1", "A1"), ("A2", "A2"), ("changes", "it changes twice in a revolution"), ("neither", "neither: no voltage"))


def question(now: Snapshot, look: Look) -> Question:
    """The question about the machine at its start; the reason is about what the hand shows then, or, where nothing flows in the
    side shown, about the side at the N pole."""
    start = observe(now.setup, begin(now.setup))
    if not start.shown.hand.shows_something:
        setup = replace(now.setup, side=NEAR_A_POLE)
        start = observe(setup, begin(setup))
    return _which_brush(start, look) if now.setup.by_hand else _which_way(start, look)


def _which_way(start: Snapshot, look: Look) -> Question:
    """Which way the machine turns from rest, looking at the end in view; decided by running it. The choices' values are for
    the drive end."""
    setup, view = start.setup, look.view
    turned = turned_from_rest(setup)
    answer = "none" if abs(turned) <= KEEPS_TURNING else "counter-clockwise" if turned > 0 else "clockwise"
    fed = f"+ of the battery is on brush {'A1' if setup.battery > 0 else 'A2'}" if setup.battery else "the battery is flat: 0 V"
    rings = " Slip rings replace the commutator." if setup.rings else ""
    braked = f" The brake takes {setup.brake * 1000:.0f} mN m." if setup.brake else ""
    return Question(
        f"{_poles(setup, look)}; {fed}.{rings}{braked} Which way does the machine turn, looking at {view.end}?",
        (("clockwise", view.turning(-1.0)), ("counter-clockwise", view.turning(1.0)), ("none", "it does not keep turning")),
        answer,
        _why_it_turns(start, look, answer),
    )


def _which_brush(start: Snapshot, look: Look) -> Question:
    """Which brush of the cranked machine is positive."""
    setup, view = start.setup, look.view
    turning = (
        f"The machine is cranked {view.turning(setup.cranked)}, looking at {view.end}" if setup.cranked else "The crank is at standstill"
    )
    on = "two slip rings" if setup.rings else "a commutator"
    if not (setup.cranked and setup.flux_density):
        answer, why = "neither", "Without a field, or without motion, no flux is cut."
    elif setup.rings:
        answer, why = (
            "changes",
            (
                "Each ring stays with its end of the coil, and every half revolution that end comes to the other pole: the "
                "voltage alternates."
            ),
        )
    else:
        answer = "A1" if averages(setup.armature, setup.cranked, OpenCircuit(), 72).terminal_voltage > 0 else "A2"
        why = (
            f"{_which_side(start)}: {start.shown.hand.words(view.directions.words)} Whichever coils are there, the commutator joins "
            "them to the "
            f"brushes the same way round, and brush {answer} becomes positive."
        )
    return Question(
        f"{_poles(setup, look)}. {turning}, with {on} on the shaft. Which brush is positive?",
        POSITIVE,
        answer,
        why,
        pressed=True,
        spots=tuple(zip(BRUSHES, BRUSHES_AT, strict=True)),
    )


@lru_cache(maxsize=64)
def turned_from_rest(setup: Setup) -> float:
    """Radians turned by the time the machine has passed every position where it could stick, or has stopped."""
    if setup.rings:
        return 0.0  # it swings past the neutral axis, never as far as it started from
    start, circuit = begin(setup), setup.circuit(0.0)
    state = setup.armature.state(start.angle, start.speed, circuit)
    for _ in range(round(LONGEST / 0.1)):
        state = step(setup.armature, state, setup.shaft, circuit, 0.1)
        if state.speed == 0.0 or abs(float(state.angle) - start.angle) > KEEPS_TURNING:
            break
    return float(state.angle) - start.angle


def _why_it_turns(start: Snapshot, look: Look, answer: str) -> str:
    setup = start.setup
    if not start.shown.hand.shows_something:
        return "Without a current, or without a field, there is no force."
    if setup.rings:
        return (
            "Slip rings do not reverse the current in the coil: once it has swung past the neutral axis the force drives it back, and it "
            "comes to rest there."
        )
    why = (
        f"{_which_side(start)}: {start.shown.hand.words(look.view.directions.words)} The opposite side is pushed the other way. "
        f"Looking at {look.view.end} the machine is driven {look.view.turning(start.torque)}."
    )
    if answer == "none" and isinstance(setup.shaft, FreeShaft):
        torques = np.abs(setup.armature.state(AROUND, 0.0, setup.circuit(0.0)).torque) * 1000
        why += (
            f" But brake and bearings hold it with {setup.shaft.dry_friction * 1000:.0f} mN m, and at standstill the coils give only "
            f"{torques.min():.0f} to {torques.max():.0f} mN m."
        )
    return why


def _which_side(start: Snapshot) -> str:
    """The coil side shown by the hand, in words."""
    setup, name = start.setup, start.shown.name
    if setup.side == NEAR_A_POLE:
        return f"The coil side at the N pole, {name}"
    toward_north = float(start.places[start.shown.at] @ setup.north)
    return f"Coil side {name}, on the side of the {'N' if toward_north > 0 else 'S'} pole"


def _poles(setup: Setup, look: Look) -> str:
    if not setup.flux_density:
        return "The magnets have no field"
    words = look.view.directions.words
    return f"Looking at {look.view.end}, the N pole is {_on_the(words(setup.north))} and the field goes {words(-setup.north)}"


def _on_the(direction: str) -> str:
    """The place of something, from the words for its direction."""
    return {"to the left": "on the left", "to the right": "on the right"}[direction]


def random_setup(random) -> dict:
    return {
        "mode": random.choice(("battery", "hand")),
        "battery": random.choice((-1, 1)) * random.choice((2.0, 3.0, 4.0)),
        "brake": random.choice((0.0, 0.0, 0.02, 0.06, 0.2)),
        "crank": random.choice((-1, 1)) * float(random.choice((60, 120, 180))),
        "field": random.choice((-1, 1)) * float(random.choice((150, 200, 250))) * random.choice((1, 1, 1, 1, 1, 1, 0)) + 0.0,
        "collector": random.choice(("commutator",) * 4 + ("slip-rings",)),
        "load": random.choice(("open", "lamp")),
        "coils": random.choice("1123"),
    }
