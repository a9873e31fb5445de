"""What the moved conductor asks: which way the EMF drives current while the rod passes between the poles."""

from __future__ import annotations

import numpy as np

from physics.directions import direction_words, emf_direction, right_hand
from scenes.conductors.moved_conductor.snapshot import ALONG_ROD, Snapshot
from scenes.scene.drawn_arrow import arrow_along
from scenes.scene.scene import Question
from scenes.scene.story import Look


def question(now: Snapshot, look: Look) -> Question:
    """The question, about the passage between the poles, where the field is straight up or down."""
    setup, seen = now.setup, look.view.directions.words
    field, motion = setup.sense * np.array([0, 1.0, 0]), now.coming * setup.direction
    drives = emf_direction(field, motion)
    along = drives @ ALONG_ROD * ALONG_ROD if abs(drives @ ALONG_ROD) > 0.5 else np.zeros(3)
    if not np.any(motion):
        reason = "A rod at rest cuts no flux."
    elif np.any(drives) and not np.any(along):
        reason = (
            f"Field {seen(field)} and motion {seen(motion)}: the second finger points across the rod, not along it, and drives no "
            "current from end to end."
        )
    else:
        reason = right_hand(field, motion).words(seen)
    moves = f"the rod moves {seen(motion)} between the poles" if np.any(motion) else "the rod is at rest"
    return Question(
        f"The field points {seen(field)}, {moves}. Which way does the induced EMF drive current in the rod?",
        tuple(
            (direction_words(each), seen(each) if np.any(each) else "there is no voltage") for each in (ALONG_ROD, -ALONG_ROD, np.zeros(3))
        ),
        direction_words(along),
        reason,
        arrow=arrow_along("E", now.middle, (ALONG_ROD, -ALONG_ROD)),
    )


def random_setup(random) -> dict:
    return {
        "motion": "hand",
        "place": float(random.choice((-1, 1)) * random.choice((70, 80, 90))),
        "way": random.choice(("across", "across", "across", "along-field", "along-rod")),
        "field": random.choice(("up", "down")),
        "turns": float(random.choice((1, 20, 50))),
        "slow": "5",
    }
