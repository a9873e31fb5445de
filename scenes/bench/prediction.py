"""Ask, commit, reveal: a question is put, and the result stays hidden and the motion paused until an answer is given."""

from __future__ import annotations

import random

from physics.arguments import quoted
from scenes.scene.scene import Question, Scene
from visual.host import messages

LARGEST_SEED = 9999


class Prediction:
    """The open question, the answer given, a note on it for the page, and the running score."""

    def __init__(self, seeds: random.Random | None = None):
        self._seeds = seeds or random.Random()
        self.question: Question | None = None
        self.seed: int | None = None
        self.given: str | None = None
        self.told = False  # the answer was shown without anyone giving one
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
        """Set up the scene from a random seed and put its question."""
        seed = self._seeds.randint(1, LARGEST_SEED) if seed is None else checked_seed(seed)
        scene.set_all(setup_of(scene, seed))
        self.ask_present(scene)
        self.seed = seed

    def ask_present(self, scene: Scene) -> None:
        """Restart the present set-up, so that nothing has moved yet, and put the question about it."""
        scene.restart()
        self.seed = self.given = None
        self.told = False
        self.note = ""
        self.question = scene.question()

    def reset(self, scene: Scene) -> None:
        """The set-up has changed while a question waits: put the question about the new set-up, from its start."""
        if self.waiting:
            scene.restart()
            self.question = scene.question()
            self.seed = None

    def reword(self, scene: Scene) -> None:
        """The view has changed: a question that waits names its directions as seen from there."""
        if self.waiting:
            self.question = scene.question()

    def answer(self, choice: str) -> bool:
        """Commit to a choice; returns whether it is right. `ValueError` if no question waits or that is not a choice."""
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
        """Show the answer without counting anything. `ValueError` if no question waits."""
        if not self.waiting:
            raise ValueError("No question is waiting for an answer.")
        self.given = self.posed.answer
        self.told = True

    def enough(self) -> None:
        self.question = self.seed = self.given = None

    def shown(self) -> messages.Question | None:
        """The question as the page shows it, without the answer until one is given."""
        if self.question is None:
            return None
        answered = self.given is not None
        words = dict(self.question.choices)
        return {
            "text": self.question.text,
            "choices": [{"value": value, "words": said} for value, said in self.posed.choices],
            "pressed": self.question.pressed,
            "seed": self.seed,
            "given": self.given,
            "right": self.given == self.posed.answer if answered and not self.told else None,
            "answer": words[self.question.answer] if answered else None,
            "reason": self.question.reason_after(self.given) if answered else None,
            "note": self.note,
            "score": {"right": self.right, "asked": self.asked},
        }


def checked_seed(seed) -> int:
    """`seed` as a whole number; `ValueError` says which are allowed."""
    text = seed if isinstance(seed, str) else quoted(seed)
    if not (text.isdecimal() and len(text) < 10 and 1 <= int(text) <= LARGEST_SEED):
        raise ValueError(f"A question's number is from 1 to {LARGEST_SEED}, not {quoted(text)}.")
    return int(text)


def setup_of(scene: Scene, seed: int) -> dict:
    """The settings that belong to a seed, whatever the present ones."""
    return scene.defaults | scene.random_setup(random.Random(f"{scene.name} {seed}"))
