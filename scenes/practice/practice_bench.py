"""Practice on the page: the next question is chosen from the mistakes so far, every answer kept, and a mock test held."""

from __future__ import annotations

from datetime import UTC, datetime

from scenes.bench.bench import Bench
from scenes.kept.writer import Writer
from scenes.practice.mock import MockTest, begun
from scenes.practice.practice import Practice
from scenes.practice.progress import described, progress
from visual.host import messages
from visual.host.doors import ThisMachine
from visual.host.endpoints import Endpoint

PROGRESS_PAGE = Endpoint({"": "progress.html"}, "progress", ThisMachine("/progress"), hears=frozenset({"run", "progress"}))
WHOLE_BENCH = "bench"  # its path: where a student sets up a demonstration
ENDPOINT = Endpoint({"": "practice.html", WHOLE_BENCH: "index.html"}, beside=(PROGRESS_PAGE,))
NOTHING_TOLD = "In a mock test nothing is told before its end."


class PracticeBench(Bench):
    """A bench that asks one question after another, from various scenes; `writer` saves the answers."""

    mock: MockTest | None = None

    def __init__(self, host, practice: Practice, writer: Writer):
        super().__init__(host, practice.scenes[0])
        self.practice = practice
        self.writer = writer
        self.actions[messages.BeginMock] = lambda it: self.begin_mock(it.questions, it.minutes)
        self._publish_progress()
        self.ask()
        self.show_state()

    def _publish_progress(self) -> None:
        self.host.publish(progress=described(progress(self.practice.results.all, datetime.now(UTC).date())))

    @property
    def sits(self) -> bool:
        """Whether a mock test is going on."""
        return self.mock is not None and not self.mock.over

    def ask(self, seed=None, kind: str | None = None) -> None:
        """Put the next question, or the one of that seed and kind in the present scene."""
        if self.sits and self.prediction.waiting:
            raise ValueError("In a mock test the next question comes with the answer to this one.")
        if seed is not None:
            super().ask(seed, kind)
            return
        if self.mock and self.mock.over:
            self.mock = None
        wanted = self.practice.unlike(self.mock.sat) if self.mock else self.practice.next()
        if wanted.scene != self.scene.name:
            self.show(wanted.scene)
        self.sheet.choose("", "")
        super().ask(wanted.seed, wanted.kind)
        self.prediction.note = "You got this kind wrong earlier: try again." if wanted.again else ""

    def answer(self, choice) -> None:
        """Take an answer; a wrong one may be tried once more, before the answer is shown. In a mock test the next question follows."""
        before = len(self.practice.results.all)
        if self.mock and self.sits:
            self.practice.sit(self.scene, self.prediction, choice, self.mock)
        else:
            self.practice.answer(self.scene, self.prediction, choice)
        if len(self.practice.results.all) > before:
            self.writer.write()
            self._publish_progress()
        if self.mock and not self.mock.over:
            self.prediction.enough()
            self.ask()
        elif self.mock:
            self._end_mock()
        elif not self.prediction.waiting:
            self._answered()

    def reveal(self) -> None:
        if self.sits:
            raise ValueError(NOTHING_TOLD)
        super().reveal()

    def enough(self) -> None:
        """Close the question, or end a mock test."""
        if self.mock and self.sits:
            self._end_mock()
        else:
            super().enough()

    def begin_mock(self, questions: float, minutes: float) -> None:
        """Begin a mock test; `ValueError`, in a sentence, if one goes on or it cannot be so long."""
        if self.sits:
            raise ValueError("A mock test is going on.")
        self.mock = begun(questions, minutes)
        self.prediction.enough()
        self.ask()

    def _end_mock(self) -> None:
        assert self.mock is not None
        self.mock.over = True
        super().enough()

    def frame(self, seconds: float) -> None:
        if self.mock and self.mock.ends_now():
            self._end_mock()
            self.show_state()
        self.host.publish(mock=self.mock.described() if self.mock else None)
        super().frame(seconds)
        sentences = self.practice.results.sentences()
        if sentences:
            self.tell(" ".join(sentences))

    def show_state(self) -> None:
        super().show_state()
        self.host.publish(mock=self.mock.described() if self.mock else None)
