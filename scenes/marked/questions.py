"""Which question each trainee is put: of one topic and kind for all at the same place, with other figures for each."""

from __future__ import annotations

import json
import random
from functools import lru_cache
from hashlib import sha256
from itertools import cycle
from typing import NamedTuple

from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED
from scenes.marked.record import Terms
from scenes.questions.kinds import draw, kind_of

TRIES = 8  # at a question that nobody has yet
COMPARED = 3  # trainees whose questions tell one version of them from another


class Asked(NamedTuple):
    """A question: the scene, the kind of question, and the seed of its figures."""

    scene: str
    kind: str
    seed: int


def question_for(terms: Terms, trainee: int, place: int) -> Asked:
    """A trainee's question at a place, both counted from 1. No question comes again, at another place or to another trainee, before
    there are no others of that kind; then the one that was put longest ago."""
    return _put(terms, trainee, place)[0]


def version_of(terms: Terms) -> str:
    """The version of a test's questions: two programs that agree in it put the same. It is made of what they ask of the first trainees
    and the answers."""
    asked = [_put(terms, trainee, place) for trainee in range(1, COMPARED + 1) for place in range(1, terms.questions + 1)]
    return sha256(json.dumps(asked).encode()).hexdigest()[:16]


def _put(terms: Terms, trainee: int, place: int) -> tuple[Asked, tuple[str, str]]:
    """A trainee's question at a place, with what is asked and its answer."""
    every = kinds_asked(terms)
    mine = every[place - 1]
    number = (trainee - 1) * every.count(mine) + every[: place - 1].count(mine)
    seed, said = _seeds(terms.seed, *mine).at(number)
    return Asked(*mine, seed), said


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
        self._put: list[tuple[int, tuple[str, str]]] = []  # a seed, with what is asked and its answer

    def at(self, number: int) -> tuple[int, tuple[str, str]]:
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
        self._put.append((self._drawn[asked].pop(), asked))


@lru_cache(64)
def _seeds(seed: int, scene: str, kind: str) -> Seeds:
    return Seeds(seed, scene, kind)
