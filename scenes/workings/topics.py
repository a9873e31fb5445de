"""All topics of the workings by name, and how one is worked: for the command line and for the bench."""

from __future__ import annotations

from typing import Any

import numpy as np

from scenes.workings import circuit, conductors, nameplate, speeds, starting, windings
from scenes.workings.writing import Topic, Working

BEYOND = "These numbers give results too large or too small to compute."

TOPICS: dict[str, Topic] = {
    topic.name: topic
    for topics in (speeds.TOPICS, nameplate.TOPICS, circuit.TOPICS, starting.TOPICS, conductors.TOPICS, windings.TOPICS)
    for topic in topics
}


class Beyond(ValueError):
    """The inputs are allowed, but the results are no finite numbers."""

    def __init__(self) -> None:
        super().__init__(BEYOND)


def worked(topic: Topic, values: dict[str, Any]) -> Working:
    """The working with those inputs; `ValueError`, naming the input that is wrong, where there is none."""
    try:
        with np.errstate(all="ignore"):  # overflow is checked for afterwards
            working = topic.work(**values)
    except ArithmeticError:
        raise Beyond from None
    if not all(np.isfinite(result.value) for step in working.steps for result in step.results):
        raise Beyond
    return working
