"""A mock test in practice: so many questions in so many minutes, and what was right is told only at its end."""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Sequence

from scenes.practice.results import Answer
from scenes.questions.mistakes import listed, parted
from scenes.scene.question import Question
from visual.host import messages

MOST_QUESTIONS, MOST_MINUTES = 1000, 600


class MockTest:
    """`sat`: the answers so far; `reasons`: of each what is told of it; `left_open`: the question that waited at the end; `over`: whether
    it has ended."""

    def __init__(self, questions: int, minutes: float):
        self.questions = questions
        self.sat: list[Answer] = []
        self.reasons: list[str] = []
        self.left_open: Question | None = None
        self.over = False
        self._clock = time.monotonic
        self._ends = self._clock() + 60 * minutes

    @property
    def left(self) -> float:
        """The seconds that are left."""
        return max(0.0, self._ends - self._clock())

    def take(self, answer: Answer, reason: str) -> None:
        """Count an answer, of which that is told at the end; after the last question it is over."""
        self.sat.append(answer)
        self.reasons.append(reason)
        self.over = self.over or len(self.sat) == self.questions

    def end(self, waiting: Question | None) -> None:
        """It is over before all is answered, with this question waiting."""
        self.over, self.left_open = True, waiting

    @property
    def late(self) -> bool:
        """Whether its time has run out with questions left."""
        return self.left == 0 and self.unanswered > 0

    @property
    def out_of_time(self) -> bool:
        """Whether it goes on though its time has run out."""
        return not self.over and self.left == 0

    @property
    def right(self) -> int:
        return sum(answer.right for answer in self.sat)

    @property
    def unanswered(self) -> int:
        return self.questions - len(self.sat)

    @property
    def put(self) -> list[messages.MockAnswer]:
        """All that was put: what was given, "" for nothing, what is right, and why."""
        told: list[messages.MockAnswer] = [
            {"question": each.question, "given": each.given, "answer": each.answer, "right": each.right, "reason": reason}
            for each, reason in zip(self.sat, self.reasons, strict=True)
        ]
        if (last := self.left_open) is not None:
            told.append({"question": last.text, "given": "", "answer": last.words_of(last.answer), "right": False, "reason": last.reason})
        return told

    @property
    def result(self) -> str:
        """How much was right of all that was to be answered, in words."""
        of = f"{self.right} of {self.questions} right{f', {self.unanswered} not answered' if self.unanswered else ''}"
        return f"The time is up: {of}" if self.late else of

    def described(self) -> messages.MockTest:
        """As the page is told it."""
        return {
            "place": min(len(self.sat) + 1, self.questions),
            "count": self.questions,
            "seconds": math.ceil(self.left),
            "over": self.over,
            "right": self.right if self.over else None,
            "result": self.result if self.over else "",
            "put": self.put if self.over else [],
            "mistakes": mistakes_made(self.sat) if self.over else [],
        }


def mistakes_made(sat: Sequence[Answer]) -> list[str]:
    """The mistakes in words, those among which an answer does not tell together, with how often each was made, the most frequent first."""
    made = Counter(listed(parted(answer.mistake)) for answer in sat if answer.mistake)
    return [f"{name} ({count})" for name, count in made.most_common()]


def begun(questions: float, minutes: float) -> MockTest:
    """A mock test that begins now; `ValueError`, in a sentence, if it cannot be so long."""
    if not (1 <= questions <= MOST_QUESTIONS and questions == int(questions)):
        raise ValueError(f"A mock test has from 1 to {MOST_QUESTIONS} questions.")
    if not 1 <= minutes <= MOST_MINUTES:
        raise ValueError(f"A mock test takes from 1 to {MOST_MINUTES} minutes.")
    return MockTest(int(questions), minutes)
