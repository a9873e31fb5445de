"""What the pushed conductor asks: which way the rod is pushed."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from physics.directions import direction_words, force_direction, left_hand
from scenes.conductors.pushed_conductor.snapshot import Setup, Snapshot
from scenes.scene.drawn_arrow import arrow_along
from scenes.scene.scene import Question
from scenes.scene.story import Look

CHOICES = ([-1, 0, 0], [1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 0])


def question(now: Snapshot, look: Look) -> Question:
    """The question, about the rod at rest in the middle of the gap, where the field is straight up or down."""
    setup, seen = now.setup, look.view.directions.words
    field, current = setup.sense * np.array([0.0, 1.0, 0.0]), setup.current * setup.along
    return Question(
        f"{flowing(setup, current, seen)}, the field points {seen(field)}. Which way is the rod pushed?",
        tuple((direction_words(each), seen(each) if any(each) else "it is not pushed") for each in CHOICES),
        direction_words(force_direction(field, current)),
        left_hand(field, current).words(seen) if setup.current else "Without current there is no force.",
        arrow=arrow_along("F", now.middle, CHOICES),
    )


def flowing(setup: Setup, current: np.ndarray, seen: Callable[[np.ndarray], str]) -> str:
    """Which way the current flows, as the beginning of a sentence; where no word names the way the rod lies, its angle too."""
    if not setup.current:
        return "No current flows"
    level = f", the rod's marked end {abs(setup.tilt):g}° {'above' if setup.tilt > 0 else 'below'} level" if setup.tilt % 45 else ""
    return f"The current flows {seen(current)}{level}"


def random_setup(random) -> dict:
    return {
        "current": float(random.choice((-1, 1)) * random.randint(6, 16)),
        "field": random.choice(("up", "down")),
        "tilt": float(random.choice((0, 0, 0, 45, -45, 90, -90))),
    }
