"""Runs a lesson without a page and records what its pages would be sent, step by step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from scenes import catalogue
from scenes.bench.prediction import TRY_AGAIN, TWO
from scenes.bench.run_loop import FRAMES_PER_READING
from scenes.lesson.lesson import Lesson
from scenes.lesson.lesson_bench import LessonBench
from scenes.lesson.pictures import Picture
from scenes.questions.kinds import with_own_mistakes
from scenes.questions.mistakes import told_against, told_of
from visual.host.recorded.recorder import Recorder, Reel
from visual.host.server import Host

RATE = 12  # pictures a second: the eye takes turning for turning, and the readings change as often
AFTER, LONGEST = 1, 40  # s for which is seen what a step has come to; s of a step that takes long to come to it
FOLLOWER = "class"  # the role whose page shows the film: it sees what a class sees


@dataclass(frozen=True)
class Film:
    """A lesson as recorded: for each of its steps a reel, and by what an answer to its question is judged."""

    lesson: Lesson
    reels: tuple[Reel, ...]
    judged: tuple[dict | None, ...]
    stays: tuple[bool, ...]  # whether it is held when its answer is there

    def steps(self) -> list[dict]:
        """What the page is told of each step before it is unpacked."""
        return [
            {
                "caption": step.heading or catalogue.scene_class(step.scene).title,
                "asks": bool(step.question),
                "holds": step.hold,
                "stays": stays,
                "shapes": bool(reel.shapes),
                "judged": judged,
            }
            for step, reel, judged, stays in zip(self.lesson.steps, self.reels, self.judged, self.stays, strict=True)
        ]


class _Recorded(LessonBench):
    """A lesson whose pictures are in what its pages are told: there is no server to ask for them."""

    def picture_at(self, picture: Picture) -> str:
        return picture.as_address()


def _run(bench: LessonBench, recorder: Recorder, seconds: float) -> None:
    """Record so many seconds, and more until `AFTER` what the step is to show has been seen, but no more than `LONGEST` for that; to a
    picture whose figures are read out, so that the last ones are those of the last picture."""
    pictures = round(seconds * RATE)
    for number in range(1, max(pictures, LONGEST * RATE) + FRAMES_PER_READING):
        bench.frame(1 / RATE)
        recorder.picture()
        if bench.step.scene and not bench.scene.shown_whole(number / RATE / bench.scene.slowness):
            pictures = max(pictures, number + AFTER * RATE)
        if number >= pictures and number % FRAMES_PER_READING == 0:
            return


def record(lesson: Lesson, seconds: float, done: Callable[[int], object] = lambda steps: None) -> Film:
    """Run every step for at least so many seconds of the pages' time; `done(steps)` is called after each.

    A question is recorded as it waits, and with the pictures that follow the answer. A step that is held is recorded running: whoever
    watches it runs it.
    """
    host = Host()
    recorder = Recorder(host, FOLLOWER)
    bench = _Recorded(host, lesson, may_wait=True)
    judged: list[dict | None] = []
    stays: list[bool] = []
    for place, step in enumerate(lesson.steps):
        bench.go_to(place)
        recorder.begin(bench.scene.name)
        judged.append(_judged(bench) if step.question else None)
        stays.append(bool(step.question) and bench.prediction.posed.of_its_start)
        if step.question:
            bench.reveal()
            bench.show_state()
        if stays[-1]:
            recorder.picture()
        bench.running = bool(step.scene)
        _run(bench, recorder, seconds if step.scene else 1 / RATE)
        done(place + 1)
    return Film(lesson, recorder.finish(), tuple(judged), tuple(stays))


def _judged(bench: LessonBench) -> dict:
    """What is told of each wrong answer to the question that waits, as in practice: the usual mistakes that give it.

    again: what is said before a second try; "" where there is none
    told: by a wrong choice, or a list of figures that mistakes give, each with what is told
    figure: what reads and judges a figure; `None` for a question with choices
    """
    prediction = bench.prediction
    question = prediction.posed
    if prediction.drawn is None and prediction.own is None:
        question = with_own_mistakes(bench.scene, question)
    told = {value: told_against(question, value) for value, _ in question.choices if not question.is_right(value)}
    figures = {size: told_of(question.figure.mistakes_of(size)) for size, _ in question.figure.slips} if question.figure else {}
    return {
        "again": "" if len(question.choices) == TWO else question.again or TRY_AGAIN,
        "told": told or list(figures.items()),
        "figure": question.figure.as_data() if question.figure else None,
    }
