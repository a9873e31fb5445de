"""Practice on the page: the bench, with the next question chosen from the mistakes so far, and every answer kept."""

from __future__ import annotations

from scenes.bench.bench import Bench
from scenes.bench.prediction import TRY_AGAIN
from scenes.practice.practice import Practice
from scenes.practice.results_writer import Writer


class PracticeBench(Bench):
    """A bench that asks one question after another, from various scenes; `writer` saves the answers."""

    def __init__(self, host, practice: Practice, writer: Writer):
        super().__init__(host, practice.scenes[0])
        self.practice = practice
        self.writer = writer
        self.ask()
        self.show_state()

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
        if self.prediction.waiting:
            self.prediction.note = f"{steady} {self.prediction.posed.again or TRY_AGAIN}" if steady else self.prediction.note
            return
        self._answered()
        self.prediction.note = f"{steady} {self.practice.when_it_returns()}".strip()

    def frame(self, seconds: float) -> None:
        super().frame(seconds)
        told = self.practice.results.told
        if told:
            sentences = list(told)  # the writer may be adding another
            del told[: len(sentences)]
            self.tell(" ".join(sentences))
