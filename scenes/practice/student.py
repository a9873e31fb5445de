"""One who practises: which question comes next, and what comes of an answer, in practice and in a mock test."""

from __future__ import annotations

from dataclasses import dataclass, field

from scenes.bench.prediction import Prediction
from scenes.practice.mock import MockTest, begun
from scenes.practice.practice import Next, Practice
from scenes.scene.scene import Scene

NOT_WHILE_IT_GOES_ON = "A mock test is going on: nothing is told before its end, and the next question comes with the answer to this one."


@dataclass
class Student:
    """`prediction`: the question that was put last, and what came of it."""

    practice: Practice
    prediction: Prediction = field(default_factory=Prediction)
    mock: MockTest | None = None

    @property
    def sits(self) -> bool:
        """Whether a mock test is going on."""
        return self.mock is not None and not self.mock.over

    def wanted(self) -> Next:
        """The next question. `ValueError`, in a sentence, while one of a mock test waits; a mock test that is over is put away."""
        if self.sits and self.prediction.waiting:
            raise ValueError(NOT_WHILE_IT_GOES_ON)
        if not self.sits:
            self.mock = None
        return self.practice.unlike(self.mock.sat) if self.mock else self.practice.next()

    def answer(self, scene: Scene, choice: str) -> None:
        """Take an answer about what the scene shows. A wrong one may be tried once more, but not in a mock test."""
        if self.mock and self.sits:
            self.practice.sit(scene, self.prediction, choice, self.mock)
            self.prediction.enough()
        else:
            self.practice.answer(scene, self.prediction, choice)

    def may_be_told(self) -> None:
        """`ValueError`, in a sentence, while a mock test goes on."""
        if self.sits:
            raise ValueError(NOT_WHILE_IT_GOES_ON)

    def reveal(self, scene: Scene) -> None:
        """Show the answer, which counts as not known; `ValueError`, in a sentence, while a mock test goes on."""
        self.may_be_told()
        self.practice.reveal(scene, self.prediction)

    def begin_mock(self, questions: float, minutes: float) -> None:
        """Begin a mock test; `ValueError`, in a sentence, if one goes on or it cannot be so long."""
        self.may_be_told()
        self.mock = begun(questions, minutes)
        self.prediction.enough()

    def end_mock(self) -> None:
        """End it, if one goes on."""
        if self.mock and self.sits:
            self.mock.end(self.prediction.question)
            self.prediction.enough()
