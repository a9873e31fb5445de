"""What is said and asked of the two wires."""

from __future__ import annotations

import numpy as np

from physics.directions import direction_words, field_direction, force_direction, left_hand
from scenes.conductors.two_wires.snapshot import ALONG, SIDES, Snapshot
from scenes.scene.drawn_arrow import arrow_along
from scenes.scene.scene import Question
from scenes.scene.story import Look

CHOICES = ((-1.0, 0, 0), (1.0, 0, 0), (0, 1.0, 0), (0, -1.0, 0), (0, 0, 0))


def together(product: float) -> str:
    """What the wires do to each other, from the product of their currents."""
    return "attract each other" if product > 0 else "repel each other" if product < 0 else "exert no force on each other"


def sentence(now: Snapshot, look: Look) -> str:
    left, right = now.setup.currents.values()
    return f"{flowing(now, look)}: the wires {together(left * right)}."


def question(now: Snapshot, look: Look) -> Question:
    setup, say = now.setup, look.view.directions.words
    wire, other = setup.wire, setup.other
    current, makes_it = setup.currents[wire] * ALONG, setup.currents[other] * ALONG
    field = field_direction(makes_it, [SIDES[wire], 0, 0])
    if not np.any(makes_it):
        reason = f"Without a current the {other} wire has no field and exerts no force."
    elif not np.any(current):
        reason = f"The {wire} wire lies in the field of the {other} one but carries no current itself: there is no force on it."
    else:
        reason = (
            f"Right hand round the {other} wire, thumb {say(makes_it)}: at the {wire} wire its field points {say(field)}. "
            f"{left_hand(field, current).words(say)} The wires {together(float(current @ makes_it))}."
        )
    toward = SIDES[other] - SIDES[wire]
    return Question(
        f"{flowing(now, look)}. Which way does the field of the {other} wire push the {wire} wire?",
        tuple((direction_words(each), say(each) if any(each) else "it is not pushed") for each in CHOICES),
        direction_words(force_direction(field, current)),
        reason,
        arrow=arrow_along("F", now.middles[now.looked_at], CHOICES),
        also=(("attract", direction_words([toward, 0, 0])), ("repel", direction_words([-toward, 0, 0]))),
    )


def flowing(now: Snapshot, look: Look) -> str:
    """The directions of the currents, as the beginning of a sentence."""
    left, right = (look.view.directions.words(current * ALONG) for current in now.setup.currents.values())
    if left == right:
        return "No current flows" if left == "nowhere" else f"Both currents flow {left}"
    if "nowhere" in (left, right):
        carrying, way = ("right", right) if left == "nowhere" else ("left", left)
        return f"Only the {carrying} wire carries a current, {way}"
    return f"The current in the left wire flows {left}, that in the right wire {right}"


def random_setup(random) -> dict:
    """Currents and spacings for which the force between the wires is at least twice that of the Earth's field."""
    currents = [float(random.choice((-1, 1)) * random.randint(30, 50)) for _ in range(2)]
    if random.random() < 0.15:
        currents[random.randint(0, 1)] = 0.0
    return {
        "current": currents[0],
        "other": currents[1],
        "spacing": float(random.choice((30, 40, 50))),
        "wire": random.choice(list(SIDES)),
    }
