"""Runs a lesson without a page and records what its pages would be sent, step by step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from scenes import catalogue
from scenes.lesson.lesson import Lesson
from scenes.lesson.lesson_bench import LessonBench
from scenes.lesson.pictures import Picture
from visual.host.recorded.recorder import Recorder, Reel
from visual.host.server import Host

RATE = 12  # pictures a second: the eye takes turning for turning, and the readings change as often
FOLLOWER = "class"  # the role whose page shows the film: it sees what a class sees


@dataclass(frozen=True)
class Film:
    """A lesson as recorded: one reel for each of its steps."""

    lesson: Lesson
    reels: tuple[Reel, ...]

    def steps(self) -> list[dict]:
        """What the page is told of each step before it is unpacked."""
        return [
            {
                "caption": step.heading or catalogue.scene_class(step.scene).title,
                "asks": bool(step.question),
                "holds": step.hold,
                "shapes": bool(reel.shapes),
            }
            for step, reel in zip(self.lesson.steps, self.reels, strict=True)
        ]


class _Recorded(LessonBench):
    """A lesson whose pictures are in what its pages are told: there is no server to ask for them."""

    def picture_at(self, picture: Picture) -> str:
        return picture.as_address()


def record(lesson: Lesson, seconds: float, done: Callable[[int], object] = lambda steps: None) -> Film:
    """Run every step for so many seconds of the pages' time; `done(steps)` is called after each.

    A question is recorded as it waits, and with the pictures that follow the answer. A step that is held is recorded running: whoever
    watches it runs it.
    """
    host = Host()
    recorder = Recorder(host, FOLLOWER)
    bench = _Recorded(host, lesson, may_wait=True)
    for place, step in enumerate(lesson.steps):
        bench.go_to(place)
        recorder.begin(bench.scene.name)
        if step.question:
            bench.reveal()
            bench.show_state()
        bench.running = bool(step.scene)
        for _ in range(round(seconds * RATE) if step.scene else 1):
            bench.frame(1 / RATE)
            recorder.picture()
        done(place + 1)
    return Film(lesson, recorder.finish())
