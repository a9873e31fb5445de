"""The bench while a lesson is given: the keys that go on walk its steps, and a caption stands at the picture's foot."""

from __future__ import annotations

from urllib.parse import parse_qsl

from scenes.bench import Bench
from scenes.lesson import Lesson


class LessonBench(Bench):
    """A bench that is led through the steps of a lesson. Whatever is changed in between, the next step sets up anew."""

    def __init__(self, host, lesson: Lesson):
        super().__init__(host, lesson.steps[0].scene)
        self.lesson = lesson
        self.place = 0
        self.go_to(0)

    def go_to(self, place: int) -> None:
        """Set the step at `place` up, counted from 0; the first or the last one beyond the ends."""
        self.place = max(0, min(len(self.lesson.steps) - 1, place))
        step = self.lesson.steps[self.place]
        self.show(step.scene)
        step.set_up(self.scene)
        self.answers_shown = step.answers
        self.running = not step.hold
        if step.ask is True:
            self.ask_present()
        elif step.ask:
            self.ask(step.ask)
        self.show_state()

    def walk(self, way: int) -> None:
        self.go_to(self.place + way)

    def open(self, query, followed=None) -> None:
        """A page was opened: at a step of the lesson, or anywhere as on any bench."""
        if isinstance(query, str) and followed != self.run_word:
            step = dict(parse_qsl(query)).get("step", "")
            if step.isdecimal() and 1 <= int(step) <= len(self.lesson.steps):
                self.go_to(int(step) - 1)
                return
        super().open(query, followed)

    def show_state(self) -> None:
        super().show_state()
        if not hasattr(self, "lesson"):
            return
        step = self.lesson.steps[self.place]
        self.host.say("address", f"step={self.place + 1}")
        self.host.say(
            "step", {"number": self.place + 1, "count": len(self.lesson.steps), "caption": step.caption, "title": self.lesson.title}
        )
