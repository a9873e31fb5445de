"""What is said and asked of the field round a wire."""

from __future__ import annotations

import numpy as np

from physics.directions import direction_words, field_direction, turning_sense
from scenes.conductors.field_round_a_wire.snapshot import IN_WORDS, PLACES, UP, Setup, Snapshot
from scenes.scene.drawn_arrow import arrow_along
from scenes.scene.scene import Question
from scenes.scene.story import Look

CHOICES = (PLACES["right"], PLACES["left"], PLACES["front"], PLACES["back"], np.zeros(3))


def sentence(now: Snapshot, look: Look) -> str:
    setup = now.setup
    if not setup.current:
        return (
            "No current flows; the needles point north in the Earth's field."
            if setup.earth
            else "No current flows and the Earth's field is left out: the needles turn only each other."
        )
    return (
        f"A current of {abs(setup.current):.3g} A flows {look.view.directions.words(setup.current * UP)} through the table; "
        f"seen from above the field goes round the wire {_sense(setup)}."
    )


def question(now: Snapshot, look: Look) -> Question:
    setup, say = now.setup, look.view.directions.words
    where = IN_WORDS[setup.place]
    field = field_direction(setup.current * UP, PLACES[setup.place])
    if setup.current:
        flowing = f"The current flows {say(setup.current * UP)} through the table."
        reason = (
            f"Right hand round the wire, thumb along the current, {say(setup.current * UP)}: seen from above the fingers curl "
            f"{_sense(setup)}, and {where} the wire they point {say(field)}."
        )
    else:
        flowing = "No current flows." if setup.closed else "The switch is open: no current flows."
        reason = "The wire has a field only while it carries current. Without one only the Earth's field is left."
    return Question(
        f"{flowing} Which way does the wire's own field point {where} the wire?",
        tuple((direction_words(each), say(each)) for each in CHOICES),
        direction_words(field),
        reason,
        arrow=arrow_along("B", setup.radius * PLACES[setup.place], CHOICES),
    )


def _sense(setup: Setup) -> str:
    """The direction of the field round the wire, seen from above."""
    return turning_sense(setup.current * UP, UP)


def random_setup(random) -> dict:
    return {
        "switch": random.random() > 0.12,
        "current": float(random.choice((-1, 1)) * random.randint(10, 50)),
        "compass": random.choice(list(PLACES)),
        "distance": float(random.choice((45, 50, 60, 80))),
    }
