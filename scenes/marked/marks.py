"""What a test has shown: each trainee's marks, each question's share of right answers, and its commonest mistake."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from scenes import catalogue
from scenes.marked.questions import kinds_asked
from scenes.marked.record import Answered, Terms
from scenes.marked.sittings import Sitting


@dataclass(frozen=True)
class QuestionSeen:
    """A question, over all trainees: its place; the texts in which it was put, with each trainee's figures or set-up; the right
    answer to the first; what it is about; how many answered it, how many of them rightly, and the mistakes made most often with how many
    made each; none where none was recognised."""

    place: int
    texts: tuple[str, ...]
    answer: str
    topic: str
    answered: int
    right: int
    mistakes: tuple[str, ...]
    times: int


def questions_seen(terms: Terms, sittings: Sequence[Sitting]) -> list[QuestionSeen]:
    """Every question in its turn."""
    found = []
    for place, (name, kind) in enumerate(kinds_asked(terms), 1):
        answers = [sitting.answers[place] for sitting in sittings if place in sitting.answers]
        if answers:  # what was asked, whatever this version would ask
            name, kind = answers[0].scene, answers[0].kind
        counted = mistakes(answer.mistake for answer in answers)
        times = counted[0][1] if counted else 0
        commonest = tuple(name for name, each in counted if each == times)
        shown = sorted(answers, key=lambda answer: answer.mistake not in commonest[:1])  # first one in which it was made
        texts = tuple(dict.fromkeys(as_put(answer) for answer in shown))
        right = sum(answer.right for answer in answers)
        answer = shown[0].answer if shown else ""
        found.append(QuestionSeen(place, texts, answer, _topic(name, kind), len(answers), right, commonest, times))
    return found


def as_put(answer: Answered) -> str:
    """The question as a trainee was put it: its words, and below them the set-up."""
    return f"{answer.question}\n{answer.set_up}" if answer.set_up else answer.question


def _topic(name: str, kind: str) -> str:
    """Scene and kind in words; as they are kept where this version does not know them."""
    if name not in catalogue.NAMES:
        return f"{name}: {kind}"
    scene = catalogue.scene_class(name)
    return f"{scene.title}: {next((each.words for each in scene.kinds if each.name == kind), kind)}"


def mistakes(names) -> list[tuple[str, int]]:
    """The mistakes that were recognised, the commonest first, with how often each was made."""
    return sorted(Counter(name for name in names if name).items(), key=lambda each: (-each[1], each[0]))


def mistakes_of_all(sittings: Sequence[Sitting]) -> list[tuple[str, int]]:
    return mistakes(answer.mistake for sitting in sittings for answer in sitting.answers.values())
