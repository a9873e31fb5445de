"""Which question a student is asked next, from the answers given so far.

A question answered wrongly comes back after 3 others; if right then, again after 8, and a last time after 20. A wrong answer
at any time starts this again. The spacing is counted in questions, not days, since practice comes in bursts; the count
carries over from one day to the next. While none is due a new question is drawn: the more of a scene's last 6 answers
were wrong the more likely that scene is, and a scene never asked about is likelier still.

All of this follows from the kept answers, so nothing else is stored.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED, Prediction
from scenes.names import no_such
from scenes.practice.results import Answer, Results, now
from scenes.scene import address
from scenes.scene.scene import Scene

RESTS = (3, 8, 20)  # other questions in between, after a wrong answer and after each right one since
RECENT = 6  # answers of a scene that decide how often new questions of it are drawn
NEVER_ASKED = 4  # weight of a scene without answers; one without recent mistakes has 1
UNLIKE = 4  # recent answers whose wording a new question does not repeat
TRIES = 6  # to find one
SHORTEST_TOPIC = 3  # letters
NUMBERS = range(1, LARGEST_SEED + 1)  # of questions that can be put; any other in the file is not ours


@dataclass(frozen=True)
class Next:
    """The question that comes next, and whether it comes back after a wrong answer."""

    scene: str
    seed: int
    again: bool


@dataclass(frozen=True)
class Waiting:
    """A question that comes back: how many of the `RESTS` it has passed, and at which count of answers it is due."""

    passed: int
    due: int


def waiting(answers: Sequence[Answer]) -> dict[tuple[str, int], Waiting]:
    """The questions that come back, by scene and seed."""
    found: dict[tuple[str, int], Waiting] = {}
    for place, answer in enumerate(answers, 1):
        if answer.seed is None:
            continue
        question = (answer.scene, answer.seed)
        if answer.seed not in NUMBERS or (answer.right and question not in found):
            continue
        passed = found[question].passed + 1 if answer.right else 0
        if passed == len(RESTS):
            del found[question]
        else:
            found[question] = Waiting(passed, place + RESTS[passed])
    return found


def next_question(answers: Sequence[Answer], scenes: Sequence[str], dice: random.Random) -> Next:
    """The next question from `scenes`, by name; due questions go before new ones."""
    due = [
        (wait.due, *question) for question, wait in waiting(answers).items()
        if question[0] in scenes and wait.due <= len(answers)
    ]  # fmt: skip
    if due:
        _, scene, seed = min(due)
        return Next(scene, seed, again=True)
    (scene,) = dice.choices(scenes, [_weight(answers, name) for name in scenes])
    asked = {answer.seed for answer in answers if answer.scene == scene}
    new = [seed for seed in NUMBERS if seed not in asked]
    return Next(scene, dice.choice(new or NUMBERS), again=False)


def _weight(answers: Sequence[Answer], scene: str) -> int:
    recent = [answer.right for answer in answers if answer.scene == scene][-RECENT:]
    return 1 + recent.count(False) if recent else NEVER_ASKED


def scenes_of(topic: str | None) -> tuple[str, ...]:
    """The scenes that belong to a topic: the one of that name, or all in whose name, title or principle every word of
    it begins a word, as "push" and "left hand" do; every scene for `None`. `ValueError` with the nearest if there
    is none."""
    if topic is None or topic in catalogue.NAMES:
        return catalogue.NAMES if topic is None else (topic,)
    wanted = _words(topic)
    found = [
        scene.name for scene in catalogue.LESSON
        if wanted and all(any(word.startswith(part) for word in _words_of(scene)) for part in wanted)
    ]  # fmt: skip
    if found and min(map(len, wanted)) >= SHORTEST_TOPIC:
        return tuple(found)
    raise ValueError(no_such("topic", topic, catalogue.NAMES))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.lower())


def _words_of(scene: type[Scene]) -> Iterable[str]:
    return _words(f"{scene.name} {scene.title} {scene.principle}")


def _words_asked(wanted: Next) -> str:
    prediction = Prediction()
    prediction.ask(catalogue.scene_class(wanted.scene)(), wanted.seed)
    return prediction.posed.text


class Practice:
    """A student at work: the results so far, the scenes that are asked about, and what comes next."""

    def __init__(self, results: Results, scenes: Sequence[str], dice: random.Random):
        self.results = results
        self.scenes = scenes
        self._dice = dice

    def next(self) -> Next:
        """The next question; a new one is not worded like any of the last few, if that can be had."""
        recent = {answer.question for answer in self.results.all[-UNLIKE:]}
        for _ in range(TRIES):
            wanted = next_question(self.results.all, self.scenes, self._dice)
            if wanted.again or _words_asked(wanted) not in recent:
                break
        return wanted

    def take(self, scene: Scene, prediction: Prediction) -> None:
        """Add the answer just given to the results, to be written."""
        question = prediction.posed
        given = prediction.first_given
        assert given is not None  # it was just given
        self.results.add(
            Answer(
                when=now(),
                scene=scene.name,
                seed=prediction.seed,
                address=address.written(scene, prediction.seed),
                question=question.text,
                given=given,
                answer=question.answer,
                right=given == question.answer,
            )
        )

    def when_it_returns(self) -> str:
        """When the question just answered comes back, in a sentence; empty if it was right first time."""
        answers = self.results.all
        last = answers[-1]
        question = (last.scene, last.seed)
        coming_back = waiting(answers)
        if question in coming_back:
            return f"This question comes back after {RESTS[coming_back[question].passed]} others."
        return "You know this one now." if question in waiting(answers[:-1]) else ""
