"""Ask, commit, reveal: a question is put, the result stays hidden and the motion held until an answer is given."""

from __future__ import annotations

import random

from physics.arguments import quoted
from scenes.scene.scene import Question, Scene

LARGEST_SEED = 9999


class Prediction:
    """The question that is open, what was answered to it, a note on it for the page, and the running score."""

    def __init__(self, seeds: random.Random | None = None):
        self._seeds = seeds or random.Random()
        self.question: Question | None = None
        self.seed: int | None = None
        self.given: str | None = None
        self.told = False  # the answer was shown without one being given
        self.note = ""
        self.right = 0
        self.asked = 0

    @property
    def waiting(self) -> bool:
        return self.question is not None and self.given is None

    @property
    def posed(self) -> Question:
        """The question that was asked, answered or not; `ValueError` when there is none."""
        if self.question is None:
            raise ValueError("No question is waiting for an answer.")
        return self.question

    def ask(self, scene: Scene, seed=None) -> None:
        """Set the scene up at random, the same for the same seed, and put its question."""
        seed = self._seeds.randint(1, LARGEST_SEED) if seed is None else checked_seed(seed)
        scene.set_all(setup_of(scene, seed))
        self.ask_present(scene)
        self.seed = seed

    def ask_present(self, scene: Scene) -> None:
        """Put the question about the set-up that is there, from its start, so that nothing has yet moved."""
        scene.restart()
        self.seed = self.given = None
        self.told = False
        self.note = ""
        self.question = scene.question()

    def set_up_anew(self, scene: Scene) -> None:
        """The set-up was changed while the question stands: ask it of what is there now, from its start."""
        if self.waiting:
            scene.restart()
            self.question = scene.question()
            self.seed = None

    def reword(self, scene: Scene) -> None:
        """The same set-up is seen from another side: the question that waits names its directions as they are seen now."""
        if self.waiting:
            self.question = scene.question()

    def answer(self, choice: str) -> bool:
        """Commit to a choice; whether it is right. `ValueError` when nothing is asked or that is no choice."""
        if not self.waiting:
            raise ValueError("No question is waiting for an answer.")
        values = [value for value, _ in self.posed.choices]
        if choice not in values:
            raise ValueError(f"The answer is one of {', '.join(values)}, not {quoted(choice)}.")
        self.given = choice
        self.asked += 1
        right = choice == self.posed.answer
        self.right += right
        return right

    def reveal(self) -> None:
        """Show the answer without one being given; nothing is counted. `ValueError` when nothing is asked."""
        if not self.waiting:
            raise ValueError("No question is waiting for an answer.")
        self.given = self.posed.answer
        self.told = True

    def enough(self) -> None:
        self.question = self.seed = self.given = None

    def shown(self) -> dict | None:
        """The question as the page shows it: nothing of the answer before one is given."""
        if self.question is None:
            return None
        answered = self.given is not None
        words = dict(self.question.choices)
        return {
            "text": self.question.text,
            "choices": [{"value": value, "words": said} for value, said in self.posed.choices],
            "seed": self.seed,
            "given": self.given,
            "right": self.given == self.posed.answer if answered and not self.told else None,
            "answer": words[self.question.answer] if answered else None,
            "reason": self.question.reason if answered else None,
            "note": self.note,
            "score": {"right": self.right, "asked": self.asked},
        }


def choice_meant(question: Question, text: str) -> str:
    """The value of the choice that a person means who writes its value, its words, or enough of them to tell it from
    the others; `ValueError` with the choices when it is none of them, or more than one."""
    said = text.lower().split()
    # words first: from the other end "clockwise" is what is called counter-clockwise from the drive end
    for exact in (lambda value, words: words, lambda value, words: value):
        for value, words in question.choices:
            if said == exact(value, words).lower().split():
                return value
    near = [value for value, words in question.choices if said and set(said) <= set(words.lower().split())]
    if len(near) != 1:
        raise ValueError(f"The answer is one of {' | '.join(words for _, words in question.choices)}, not {quoted(text)}.")
    return near[0]


def checked_seed(seed) -> int:
    """`seed` as a whole number; `ValueError` says which are allowed."""
    text = seed if isinstance(seed, str) else quoted(seed)
    if not (text.isdecimal() and len(text) < 10 and 1 <= int(text) <= LARGEST_SEED):
        raise ValueError(f"A question's number goes from 1 to {LARGEST_SEED}, not {quoted(text)}.")
    return int(text)


def setup_of(scene: Scene, seed: int) -> dict:
    """The settings that belong to a seed, whatever the scene was set to before."""
    plain = {control.name: control.default for control in scene.controls}
    return plain | scene.random_setup(random.Random(f"{scene.name} {seed}"))
