"""Which question each trainee is put: of one topic and kind for all at the same place, with other figures for each."""

from __future__ import annotations

import random
from functools import lru_cache
from itertools import cycle
from typing import NamedTuple

from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED
from scenes.marked.record import Terms
from scenes.questions.kinds import draw, kind_of

TRIES = 8  # at a question that nobody has yet


class Asked(NamedTuple):
    """A question: the scene, the kind of question, and the seed of its figures."""

    scene: str
    kind: str
    seed: int


def question_for(terms: Terms, trainee: int, place: int) -> Asked:
    """A trainee's question at a place, both counted from 1. No question comes again, at another place or to another trainee, before
    there are no others of that kind; then the one that was put longest ago."""
    every = kinds_asked(terms)
    mine = every[place - 1]
    number = (trainee - 1) * every.count(mine) + every[: place - 1].count(mine)
    return Asked(*mine, _seeds(terms.seed, *mine).at(number))


def kinds_asked(terms: Terms) -> list[tuple[str, str]]:
    """Scene and kind of the question at each place: every topic once before one comes again, and every kind of it."""
    dice = random.Random(f"{terms.seed} topics")
    topics: list[str] = []
    while len(topics) < terms.questions:
        topics += dice.sample(terms.scenes, len(terms.scenes))
    of_each = {topic: [kind.name for kind in catalogue.scene_class(topic).kinds] for topic in terms.scenes}
    in_turn = {topic: cycle(random.Random(f"{terms.seed} kinds {topic}").sample(names, len(names))) for topic, names in of_each.items()}
    return [(topic, next(in_turn[topic])) for topic in topics[: terms.questions]]


class Seeds:
    """The seeds of the questions of a kind, in the order in which they are put; what is asked in each is unlike what was before."""

    def __init__(self, seed: int, scene: str, kind: str):
        self._scene = catalogue.scene_class(scene)()
        self._kind = kind_of(self._scene, kind)
        self._left = random.Random(f"{seed} {scene} {kind}").sample(range(1, LARGEST_SEED + 1), LARGEST_SEED)
        self._tries = TRIES
        self._drawn: dict[tuple[str, str], list[int]] = {}  # by what is asked and its answer: the seeds that are not put yet
        self._last: dict[tuple[str, str], int] = {}  # when it was put last
        self._put: list[int] = []

    def at(self, number: int) -> int:
        while len(self._put) <= number:
            self._add()
        return self._put[number]

    def _add(self) -> None:
        for _ in range(self._tries):
            seed = self._left.pop()
            question = draw(self._scene, self._kind, seed).question(self._scene)
            self._drawn.setdefault((question.text, question.answer), []).append(seed)
            if len(self._drawn) > len(self._last):
                break
        else:
            self._tries = 1  # there are hardly any others
        asked = min((one for one, seeds in self._drawn.items() if seeds), key=lambda one: self._last.get(one, -1))
        self._last[asked] = len(self._put)
        self._put.append(self._drawn[asked].pop())


@lru_cache(64)
def _seeds(seed: int, scene: str, kind: str) -> Seeds:
    return Seeds(seed, scene, kind)
