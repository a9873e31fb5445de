"""The class's answers to the present question: no names, one answer each, which may be changed. It may be asked twice, with talk in
between: then both counts stand beside each other."""

from __future__ import annotations

from collections.abc import Callable

from physics.arguments import quoted
from scenes.bench.prediction import Prediction
from scenes.bench.votes import Vote
from scenes.kept.lines import now
from visual.host import messages

MOST = 300  # answers kept to one question
SHOW, ASK_AGAIN = "Show the votes", "Ask again"
OF_ONE_ADDRESS = 64  # of these: a class may share one network address, yet nobody can stuff the ballot


# Long, for whether an answer counts, is seen and is kept hangs on the same few states of a vote.
class Tally:
    """The class's answers to one question; cleared for the next. `keep(vote)` is called with each vote that is over."""

    def __init__(self):
        self.round = 0
        self.opened = False
        self.large = False  # over the picture
        self.closed = False  # a vote that was planned, once it is shown
        self.keep: Callable[[Vote], object] = lambda vote: None
        self._about = ""
        self._question = None
        self._before: dict[str, int] | None = None  # the first vote's counts, once it is asked again
        self._answers: dict[str | None, tuple[str, str]] = {}  # by visitor: the choice, and from which address
        self._kept = self._over = False

    def follow(self, prediction: Prediction, about: str = "") -> None:
        """Clear the answers when another question is put, or this one about another set-up. `about`: its address, as soon as that is
        known."""
        if prediction.question is not self._question:
            self._keep()
            self._question, self._about, self._before = prediction.question, "", None
            self._begin()
        self._about = self._about or about
        if not prediction.waiting:
            self._keep()
            if not self._over:  # what happens then is to be seen
                self._over, self.large = True, False

    def _begin(self) -> None:
        self._answers.clear()
        self.opened = self.large = self.closed = self._kept = self._over = False
        self.round += 1

    def _keep(self) -> None:
        """The vote is over: keep it, once."""
        if self._answers and self._question is not None and not self._kept and self._about:
            self._kept = True
            words = dict(self._question.choices)
            counts = {words[value]: count for value, count in self.counted().items()}
            answer = self._question.answer if self._question.worked_out else ""
            self.keep(Vote(now(), self._about, self._question.text, self.vote_number, counts, words.get(answer, answer)))

    @property
    def vote_number(self) -> int:
        """1, or 2 once it is asked again."""
        return 1 if self._before is None else 2

    def again(self, prediction: Prediction) -> None:
        """Ask the class again, with the count of the first vote kept. `ValueError` if that cannot be."""
        self.follow(prediction)
        if not prediction.waiting or not self._answers or self._before is not None:
            raise ValueError("A question can be voted on again once, after the class has answered and before the answer is shown.")
        self._keep()
        self._before = self.counted()
        self._begin()

    @property
    def before(self) -> dict[str, int] | None:
        """How the class answered at first, once it is asked again."""
        return self._before

    def open(self, large: bool) -> None:
        """Show how the class answers while the question still waits; `large`: over the picture. `ValueError` where nobody can vote."""
        if self._question is not None and not self._question.choices:
            raise ValueError("A figure is answered at the bench; the class does not vote on it.")
        self.opened, self.large = True, large

    @property
    def answered(self) -> int:
        """How many have answered."""
        return len(self._answers)

    def go_on(self, prediction: Prediction) -> bool:
        """The next step of a vote that was planned: show it large, ask again, show both. False once it is over, or nobody votes."""
        self.follow(prediction)
        coming = self.coming
        if coming == SHOW:
            self.open(large=True)
            self.closed = True
        elif coming == ASK_AGAIN:
            self.again(prediction)
        return bool(coming)

    @property
    def coming(self) -> str:
        """What comes next in a vote that was planned, in words; "" if nothing does."""
        if not self._answers:
            return ""
        return SHOW if not self.opened else ASK_AGAIN if self._before is None else ""

    def take(self, prediction: Prediction, visitor: str | None, address: str, choice) -> None:
        """Take a visitor's newest answer; `ValueError` with the reason if it does not count."""
        self.follow(prediction)
        if not prediction.waiting:
            raise ValueError("No question is waiting for an answer.")
        if self.closed:
            raise ValueError("This vote is over, its answers are shown.")
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

    def shown(self, prediction: Prediction, following: int, about: str = "") -> messages.Tally:
        """The tally as the page shows it; counts stay hidden until the answer is given or the tally is opened."""
        self.follow(prediction, about)
        seen = self._question is not None and (self.opened or not prediction.waiting)
        return {
            "round": self.round,
            "following": following,
            "answered": self.answered,
            "counts": self.counted() if seen else None,
            "before": self._before if seen else None,
            "vote": self.vote_number,
            "large": seen and self.large,
            "closed": self.closed,
        }

    def counted(self) -> dict[str, int]:
        """The answers by choice."""
        given = [choice for choice, _ in self._answers.values()]
        return {value: given.count(value) for value, _ in self._question.choices} if self._question else {}
