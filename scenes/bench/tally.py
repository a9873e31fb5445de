"""How many of the class answered what to the question that is put: no names, one answer each, changed at will."""

from __future__ import annotations

import re

from physics.arguments import quoted
from scenes.bench.prediction import Prediction

MOST = 300  # answers kept to one question
VOTER = re.compile(r"[0-9a-f]{16}")  # what a page calls itself for as long as it is open; it says nothing of whose it is


class Tally:
    """The class's answers to one question. It begins anew with the next."""

    def __init__(self):
        self.round = 0
        self.opened = False
        self._question = None
        self._answers: dict[str, str] = {}

    def follow(self, prediction: Prediction) -> None:
        """Begin anew when another question is put, or this one about another set-up."""
        if prediction.question is not self._question:
            self._question = prediction.question
            self._answers.clear()
            self.opened = False
            self.round += 1

    def take(self, prediction: Prediction, voter, choice) -> None:
        """One answer from the class; `ValueError` when nothing is asked or it is none of the choices."""
        self.follow(prediction)
        if not prediction.waiting:
            raise ValueError("No question is waiting for an answer.")
        if choice not in [value for value, _ in prediction.question.choices]:
            raise ValueError(f"There is no answer {quoted(choice)} to this question.")
        if not isinstance(voter, str) or not VOTER.fullmatch(voter):
            raise ValueError("An answer comes from a page that says 16 hexadecimal figures of itself.")
        if voter in self._answers or len(self._answers) < MOST:
            self._answers[voter] = choice

    def shown(self, prediction: Prediction, following: int) -> dict:
        """As the page shows it. How many said what stays hidden until the answer is given or somebody wants to see it."""
        self.follow(prediction)
        counts = None
        if self._question is not None and (self.opened or not prediction.waiting):
            given = list(self._answers.values())
            counts = {value: given.count(value) for value, _ in self._question.choices}
        return {"round": self.round, "following": following, "answered": len(self._answers), "counts": counts}
