"""Practice on the page: the next question is chosen from the mistakes so far, every answer kept, and a mock test held."""

from __future__ import annotations

from datetime import UTC, datetime

from scenes.bench.bench import Bench
from scenes.kept.writer import Writer
from scenes.practice.practice import Practice
from scenes.practice.progress import described, progress
from scenes.practice.student import Student
from visual.host import messages
from visual.host.access.doors import ThisMachine
from visual.host.endpoints import Endpoint

PROGRESS_PAGE = Endpoint({"": "progress.html"}, "progress", ThisMachine("/progress"), hears=frozenset({"run", "progress"}))
WHOLE_BENCH = "bench"  # its path: where a student sets up a demonstration
ENDPOINT = Endpoint({"": "practice.html", WHOLE_BENCH: "index.html"}, beside=(PROGRESS_PAGE,))


class PracticeBench(Bench):
    """A bench that asks one question after another, from various scenes; `writer` saves the answers."""

    def __init__(self, host, practice: Practice, writer: Writer):
        self.practice = practice
        self.writer = writer
        self.student = Student(practice)
        super().__init__(host, practice.scenes[0])
        self.student.prediction = self.prediction
        self.actions[messages.BeginMock] = lambda it: self.begin_mock(it.questions, it.minutes)
        self._publish_progress()
        self.ask()
        self.show_state()

    def _publish_progress(self) -> None:
        self.host.publish(progress=described(progress(self.practice.results.all, datetime.now(UTC).date())))

    def ask(self, seed=None, kind: str | None = None) -> None:
        """Put the next question, or one of that seed or kind in the present scene."""
        if seed is not None or kind is not None:
            self.student.may_be_told()
            super().ask(seed, kind)
            return
        wanted = self.student.wanted()
        if wanted.scene != self.scene.name:
            self.show(wanted.scene)
        self.sheet.choose("", "")
        super().ask(wanted.seed, wanted.kind)
        self.prediction.note = wanted.note

    def ask_present(self) -> None:
        self.student.may_be_told()
        super().ask_present()

    def answer(self, choice) -> None:
        """Take an answer; a wrong one may be tried once more, before the answer is shown. In a mock test the next question follows."""
        before, in_test = len(self.practice.results.all), self.student.sits
        self.student.answer(self.scene, choice)
        self._keep_from(before)
        if self.student.sits:
            self.ask()
        elif in_test:
            self.enough()
        elif not self.prediction.waiting:
            self._answered()

    def reveal(self) -> None:
        """Show the answer, which counts as not known."""
        before = len(self.practice.results.all)
        self.student.reveal(self.scene)
        self._keep_from(before)
        self._answered()

    def _keep_from(self, before: int) -> None:
        """Write the answers that have come since there were so many, if any."""
        if len(self.practice.results.all) > before:
            self.writer.write()
            self._publish_progress()

    def enough(self) -> None:
        """Close the question, and end a mock test."""
        self.student.end_mock()
        super().enough()

    def begin_mock(self, questions: float, minutes: float) -> None:
        """Begin a mock test; `ValueError`, in a sentence, if one goes on or it cannot be so long."""
        self.student.begin_mock(questions, minutes)
        self.ask()

    def frame(self, seconds: float) -> None:
        if self.student.mock and self.student.mock.out_of_time:
            self.enough()
            self.show_state()
        self._publish_mock()
        super().frame(seconds)
        sentences = self.practice.results.sentences()
        if sentences:
            self.tell(" ".join(sentences))

    def show_state(self) -> None:
        super().show_state()
        self._publish_mock()

    def _publish_mock(self) -> None:
        self.host.publish(mock=self.student.mock.described() if self.student.mock else None)
