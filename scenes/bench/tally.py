"""The class's answers to the present question: no names, one answer each, which may be changed."""

from __future__ import annotations

from physics.arguments import quoted
from scenes.bench.prediction import Prediction
from visual.host import messages

MOST = 300  # answers kept to one question
OF_ONE_ADDRESS = 64  # of these: a class may share one network address, yet nobody can stuff the ballot


class Tally:
    """The class's answers to one question; cleared for the next."""

    def __init__(self):
        self.round = 0
        self.opened = False
        self._question = None
        self._answers: dict[str | None, tuple[str, str]] = {}  # by visitor: the choice, and from which address

    def follow(self, prediction: Prediction) -> None:
        """Clear the answers when another question is put, or this one about another set-up."""
        if prediction.question is not self._question:
            self._question = prediction.question
            self._answers.clear()
            self.opened = False
            self.round += 1

    def take(self, prediction: Prediction, visitor: str | None, address: str, choice) -> None:
        """Take a visitor's newest answer; `ValueError` with the reason if it does not count."""
        self.follow(prediction)
        if not prediction.waiting:
            raise ValueError("No question is waiting for an answer.")
        if prediction.posed.figure:
            raise ValueError("This question is answered with a figure, at the bench.")
        if choice not in [value for value, _ in prediction.posed.choices]:
            raise ValueError(f"There is no answer {quoted(choice)} to this question.")
        if visitor not in self._answers:
            if sum(other == address for _, other in self._answers.values()) >= OF_ONE_ADDRESS:
                raise ValueError(f"Not counted: {OF_ONE_ADDRESS} answers have come from your network address, the most it may give.")
            if len(self._answers) >= MOST:
                raise ValueError(f"Not counted: {MOST} answers have come, the most that are taken.")
        self._answers[visitor] = choice, address

    def vote(self, prediction: Prediction, visitor: str | None, refused: str) -> messages.Vote:
        """The visitor's answer that counts, for their own page, and why the last one does not."""
        self.follow(prediction)
        return {"round": self.round, "choice": self._answers.get(visitor, (None, ""))[0], "refused": refused}

    def shown(self, prediction: Prediction, following: int) -> messages.Tally:
        """The tally as the page shows it; counts stay hidden until the answer is given or the tally is opened."""
        self.follow(prediction)
        counts = None
        if self._question is not None and (self.opened or not prediction.waiting):
            given = [choice for choice, _ in self._answers.values()]
            counts = {value: given.count(value) for value, _ in self._question.choices}
        return {"round": self.round, "following": following, "answered": len(self._answers), "counts": counts}
