"""Practice on the page: the bench, with the next question chosen from the mistakes so far, and every answer kept."""

from __future__ import annotations

from scenes.bench.bench import Bench
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

    def ask(self, seed=None) -> None:
        """Put the next question, or the one of that seed in the present scene."""
        if seed is not None:
            super().ask(seed)
            return
        wanted = self.practice.next()
        if wanted.scene != self.scene.name:
            self.show(wanted.scene)
        super().ask(wanted.seed)
        self.prediction.note = "You got this wrong earlier: try again." if wanted.again else ""

    def answer(self, choice) -> None:
        super().answer(choice)
        if self.prediction.waiting:  # a second try
            return
        self.practice.take(self.scene, self.prediction)
        self.writer.write()
        self.prediction.note = self.practice.when_it_returns()

    def frame(self, seconds: float) -> None:
        super().frame(seconds)
        told = self.practice.results.told
        if told:
            sentences = list(told)  # the writer may be adding another
            del told[: len(sentences)]
            self.tell(" ".join(sentences))
