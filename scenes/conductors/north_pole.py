"""Which of the two magnets, above and below a rod, has its N pole toward it: asked back from what happens to the rod."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from scenes.questions.backward import backward
from scenes.questions.kinds import Kind, Mistaken, SetUp

UPWARD = np.array([0.0, 1.0, 0.0])  # the field where N is below


def north_pole(asks: Callable[[SetUp, str], str], mistaken: Mistaken, fixed: dict[str, Any]) -> Kind:
    """The control "field" is asked for, of a scene whose set-up has its `sense`, +1 upward; `fixed`: settings that it needs."""
    return backward(
        "poles",
        "where N is",
        "field",
        asks=lambda setup, result: (
            f"One magnet is above the rod, one below. {asks(setup, result)} Which magnet has its N pole toward the rod?"
        ),
        says=lambda setup: "the lower one" if setup.now.setup.sense > 0 else "the upper one",
        hidden=None,
        mistaken=mistaken,
        setup=lambda dice, settings: fixed,
        aside=("tilt",),
    )
