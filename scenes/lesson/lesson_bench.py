"""The bench during a lesson: the next and previous keys step through it, with a caption below the picture, and a second
page for the speaker keeps in step: notes, answer, what comes next, and the clock."""

from __future__ import annotations

import time
from urllib.parse import parse_qsl

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.lesson.lesson import Lesson
from visual.host import messages
from visual.host.doors import ThisMachine
from visual.host.endpoints import Endpoint

SPEAKER = "speaker"
SPEAKERS_PAGE = Endpoint(
    {"": "speaker.html"},
    SPEAKER,
    ThisMachine("/speaker"),
    hears=frozenset({"scene", "bench", "question", "tally", "notice", "run", "step", "view", "prompt", "clock"}),
)
ENDPOINT = Endpoint(beside=(SPEAKERS_PAGE,))


class LessonBench(Bench):
    """A bench stepped through a lesson. Whatever is changed in between, the next step sets the scene up afresh."""

    def __init__(self, host, lesson: Lesson, clock=time.monotonic):
        self.lesson = lesson
        self.place = 0
        self._clock = clock
        self._began: float | None = None  # when the lesson began: with the first picture shown
        self._step_began = clock()
        super().__init__(host, lesson.steps[0].scene)
        self.actions |= {
            messages.ShowScene: lambda it: self.go_to_scene(it.name),
            messages.StartClock: lambda it: self.begin_clock(),
        }
        self.go_to(0)

    def go_to(self, place: int) -> None:
        """Set up the step at `place`, counted from 0; beyond the ends, the first or last one."""
        before, self.place = self.place, max(0, min(len(self.lesson.steps) - 1, place))
        self._step_began = self._clock()
        step = self.lesson.steps[self.place]
        if step.go_on and self.place == before + 1 and self.scene.name == step.scene:
            self.prediction.enough()
            step.change(self.scene)
        else:
            self.show(step.scene)
            step.set_up(self.scene)
            self.host.chart.clear()
        self.answers_shown = step.answers
        self.first_readings = step.readings
        self.running = not step.hold
        if step.question:
            step.put_question(self.prediction, self.scene)
            self._asked()
        self.show_state()

    def walk(self, steps: int) -> None:
        """Go forward or back. From a question that still waits, going forward shows its answer first."""
        if steps > 0 and self.prediction.waiting:
            self.reveal()
        elif 0 <= self.place + steps < len(self.lesson.steps):
            self.go_to(self.place + steps)

    def go_to_scene(self, name: str) -> None:
        """Go to the first step in that scene; if the lesson has none, show the scene alone."""
        catalogue.scene_class(name)
        places = [place for place, step in enumerate(self.lesson.steps) if step.scene == name]
        if places:
            self.go_to(places[0])
        else:
            self.show(name)

    def begin_clock(self) -> None:
        """Start the clock."""
        self._began = self._step_began = self._clock()

    def open(self, query: str, followed: str | None = None) -> None:
        """Handle a page being opened: at a step of the lesson, or at any address as on any bench."""
        if followed == self.run_word:
            return
        step = dict(parse_qsl(query[:100])).get("step", "")
        if not step:
            super().open(query, followed)
        elif not step.isdecimal() or not 1 <= int(step) <= len(self.lesson.steps):
            raise ValueError(f"The lesson has steps from 1 to {len(self.lesson.steps)}, not {quoted(step)}.")
        elif int(step) - 1 != self.place:
            self.go_to(int(step) - 1)

    def frame(self, seconds: float) -> None:
        if self._began is None:
            self.begin_clock()
        super().frame(seconds)

    def show_state(self) -> None:
        super().show_state()
        step = self.lesson.steps[self.place]
        number, count = self.place + 1, len(self.lesson.steps)
        self.host.publish(
            address=f"step={number}",
            step={"number": number, "count": count, "caption": step.caption, "title": self.lesson.title},
        )

    def read_out(self) -> None:
        super().read_out()
        now = self._clock()
        began = now if self._began is None else self._began
        notes = self.lesson.steps[self.place].notes
        self.host.publish_to(
            SPEAKER,
            prompt={"notes": notes, "next": self._next(), "answer": self._answer()},
            clock={"lesson": int(now - began), "step": int(now - self._step_began)},
        )

    def _next(self) -> messages.NextStep | None:
        """The next step, for the speaker."""
        if self.place + 1 == len(self.lesson.steps):
            return None
        step = self.lesson.steps[self.place + 1]
        title = catalogue.scene_class(step.scene).title
        return {"caption": step.caption, "scene": "" if step.scene == self.scene.name else title, "asks": bool(step.question)}

    def _answer(self) -> messages.RightAnswer | None:
        """The answer to the present question, and the reason, for the speaker only; none while it is being worked out."""
        question = self.prediction.question
        if question is None or not question.worked_out:
            return None
        return {"words": question.words_of(question.answer), "reason": question.reason}
