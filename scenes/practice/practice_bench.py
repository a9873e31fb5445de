"""Practice on the page: the bench, with the next question chosen from the mistakes so far, and every answer kept."""

from __future__ import annotations

from datetime import UTC, datetime

from scenes.bench.bench import Bench
from scenes.bench.prediction import TRY_AGAIN
from scenes.kept.writer import Writer
from scenes.practice.practice import Practice
from scenes.practice.progress import described, progress
from visual.host.access.doors import ThisMachine
from visual.host.endpoints import Endpoint

PROGRESS_PAGE = Endpoint({"": "progress.html"}, "progress", ThisMachine("/progress"), hears=frozenset({"run", "progress"}))
ENDPOINT = Endpoint(beside=(PROGRESS_PAGE,))


class PracticeBench(Bench):
    """A bench that asks one question after another, from various scenes; `writer` saves the answers."""

    def __init__(self, host, practice: Practice, writer: Writer):
        super().__init__(host, practice.scenes[0])
        self.practice = practice
        self.writer = writer
        self._publish_progress()
        self.ask()
        self.show_state()

    def _publish_progress(self) -> None:
        self.host.publish(progress=described(progress(self.practice.results.all, datetime.now(UTC).date())))

    def ask(self, seed=None, kind: str | None = None) -> None:
        """Put the next question, or the one of that seed and kind in the present scene."""
        if seed is not None:
            super().ask(seed, kind)
            return
        wanted = self.practice.next()
        if wanted.scene != self.scene.name:
            self.show(wanted.scene)
        super().ask(wanted.seed, wanted.kind)
        self.prediction.note = "You got this kind wrong earlier: try again." if wanted.again else ""

    def answer(self, choice) -> None:
        """Take an answer; a wrong one may be tried once more, before the answer is shown."""
        first = self.prediction.tried is None
        self.prediction.answer(choice, tries=2)
        steady = ""
        if first:
            self.practice.take(self.scene, self.prediction)
            self.writer.write()
            steady = self.practice.steady_mistake()
            self._publish_progress()
        if self.prediction.waiting:
            self.prediction.note = f"{steady} {self.prediction.posed.again or TRY_AGAIN}" if steady else self.prediction.note
            return
        self._answered()
        self.prediction.note = f"{steady} {self.practice.when_it_returns()}".strip()

    def frame(self, seconds: float) -> None:
        super().frame(seconds)
        sentences = self.practice.results.sentences()
        if sentences:
            self.tell(" ".join(sentences))
