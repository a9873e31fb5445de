"""How many of the class answered what to the question that is put: no names, one answer each, changed at will."""

from __future__ import annotations

from physics.arguments import quoted
from scenes.bench.prediction import Prediction

MOST = 300  # answers kept to one question
OF_ONE_ADDRESS = 64  # of these: a class may stand behind one network address, and nobody can give many for others


class Tally:
    """The class's answers to one question. It begins anew with the next."""

    def __init__(self):
        self.round = 0
        self.opened = False
        self._question = None
        self._answers: dict[str | None, tuple[str, str]] = {}  # by visitor: the choice, and from which address

    def follow(self, prediction: Prediction) -> None:
        """Begin anew when another question is put, or this one about another set-up."""
        if prediction.question is not self._question:
            self._question = prediction.question
            self._answers.clear()
            self.opened = False
            self.round += 1

    def take(self, prediction: Prediction, visitor: str | None, address: str, choice) -> None:
        """One answer from the class, the visitor's newest; `ValueError` with the reason when it does not count."""
        self.follow(prediction)
        if not prediction.waiting:
            raise ValueError("No question is waiting for an answer.")
        if choice not in [value for value, _ in prediction.posed.choices]:
            raise ValueError(f"There is no answer {quoted(choice)} to this question.")
        if visitor not in self._answers:
            if sum(other == address for _, other in self._answers.values()) >= OF_ONE_ADDRESS:
                raise ValueError(f"Not counted: {OF_ONE_ADDRESS} answers have come from your network address, and no more are taken.")
            if len(self._answers) >= MOST:
                raise ValueError(f"Not counted: {MOST} answers have come, and no more are taken.")
        self._answers[visitor] = choice, address

    def vote(self, prediction: Prediction, visitor: str | None) -> dict:
        """What counts for that visitor, as his own page is told."""
        self.follow(prediction)
        return {"round": self.round, "choice": self._answers.get(visitor, (None, ""))[0]}

    def shown(self, prediction: Prediction, following: int) -> dict:
        """As the page shows it. How many said what stays hidden until the answer is given or somebody wants to see it."""
        self.follow(prediction)
        counts = None
        if self._question is not None and (self.opened or not prediction.waiting):
            given = [choice for choice, _ in self._answers.values()]
            counts = {value: given.count(value) for value, _ in self._question.choices}
        return {"round": self.round, "following": following, "answered": len(self._answers), "counts": counts}
