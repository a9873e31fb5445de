"""A figure that is typed with its unit: computed from the snapshot, and held against what the usual mistakes would give."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from scenes.questions.kinds import Kind, SetUp
from scenes.questions.mistakes import PREFIX
from scenes.scene.question import TYPED, Question
from scenes.scene.typed import WITHOUT_PREFIX, Figure

TOLERANCE = 0.03  # of the figure


def _at_once(setup: SetUp) -> Any:
    return setup.now


def figure(
    name: str,
    words: str,
    unit: str,
    *,
    asks: Callable[[Any], str],
    size: Callable[[Any], float],
    because: Callable[[Any], str],
    slips: Callable[[Any], Mapping[str, float]] = lambda now: {},
    tolerance: float = TOLERANCE,
    of: Callable[[SetUp], Any] = _at_once,
    given: Callable[[Any], dict[str, float | str]] | None = None,
    **more,
) -> Kind:
    """A figure from the snapshot, or from what `of` gives, in `unit`: the question, its size, the reason, and what usual mistakes would
    give, in that unit too. All of it, and what is `given` to the calculation that works it through, is of the figures as the question
    tells them, so that a pocket calculator gives what is printed.

    It is not asked where the size is 0, or where a mistake would give it as well.
    """

    def put(setup: SetUp) -> Question | None:
        now = of(setup)
        right = float(size(now))
        if right <= 0:
            return None
        wrong = [(float(each), mistake) for mistake, each in slips(now).items()]
        if unit and unit not in WITHOUT_PREFIX:
            wrong += [(right * 1000, PREFIX), (right / 1000, PREFIX)]
        asked = Figure(right, unit, tolerance)
        asked = replace(asked, slips=tuple((each, mistake) for each, mistake in wrong if not asked.holds(each)))
        return Question(asks(now), (), asked.written(right), because(now), kind=name, figure=asked, of_its_start=of is _at_once)

    inputs = (lambda setup: given(of(setup))) if given else None
    return Kind(name, words, put, answered=TYPED, even=False, given=inputs, **more)
