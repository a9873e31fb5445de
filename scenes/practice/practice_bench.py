"""Practice on the page: the bench, with the next question chosen from what went wrong, and every answer kept."""

from __future__ import annotations

from scenes.bench.bench import Bench
from scenes.practice.practice import Practice
from scenes.practice.results import NotKept


class PracticeBench(Bench):
    """A bench that asks one question after the other, of this scene and that."""

    def __init__(self, host, practice: Practice):
        super().__init__(host, practice.scenes[0])
        self.practice = practice
        self.ask()
        self.show_state()

    def ask(self, seed=None) -> None:
        """The question that comes next, or the one of that seed in the present scene."""
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
        told = self.practice.results.told
        try:
            self.practice.keep(self.scene, self.prediction)
        except NotKept as wrong:
            told.append(str(wrong))
        self.prediction.note = self.practice.what_becomes_of_it()
        if told:
            sentences = " ".join(told)
            told.clear()
            raise ValueError(sentences)
