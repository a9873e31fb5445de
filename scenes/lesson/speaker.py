"""What the speaker alone is told during a lesson: notes, the answer before the class has it, what comes next, and the clock."""

from __future__ import annotations

from scenes import catalogue
from scenes.bench.tally import Tally
from scenes.lesson.steps import Lesson, Step
from scenes.scene.question import Question
from visual.host import messages
from visual.host.access.doors import ThisMachine
from visual.host.endpoints import Endpoint

SPEAKER = "speaker"
SPEAKERS_PAGE = Endpoint(
    {"": "speaker.html"},
    SPEAKER,
    ThisMachine("/speaker"),
    hears=frozenset({"scene", "bench", "question", "tally", "notice", "run", "step", "view", "prompt", "clock"}),
)


def prompt(step: Step, following: Step | None, scene: str, question: Question | None, tally: Tally, onward: str) -> messages.Prompt:
    """What to say in this step; `scene` is the one on the bench, `question` the one that was put, `tally` how the class has answered it,
    `onward` what going on does."""
    coming = None if following is None else _next(following, scene)
    counts, before = tally.counted(), tally.before
    return {"notes": step.notes, "next": coming, "answer": _answer(question), "counts": counts, "before": before, "onward": onward}


def clock(lesson: Lesson, step: Step, now: float, began: float | None, step_began: float) -> messages.Clock:
    """The seconds taken since the lesson `began`, if it has, and its step, beside the minutes planned."""
    return {
        "runs": began is not None,
        "lesson": 0 if began is None else int(now - began),
        "step": 0 if began is None else int(now - step_began),
        "lesson_planned": round(60 * sum(each.minutes for each in lesson.steps)),
        "planned_steps": sum(each.minutes > 0 for each in lesson.steps),
        "step_planned": round(60 * step.minutes),
    }


def _next(step: Step, scene: str) -> messages.NextStep:
    title = catalogue.scene_class(step.scene).title if step.scene else ""
    return {"caption": step.heading, "scene": "" if step.scene == scene else title, "asks": bool(step.question)}


def _answer(question: Question | None) -> messages.RightAnswer | None:
    """The answer to the present question, and the reason; none while it is being worked out."""
    if question is None or not question.worked_out:
        return None
    accepted = question.figure.accepted if question.figure else ""
    return {"words": question.words_of(question.answer), "accepted": accepted, "reason": question.reason}
