"""What the page that prepares a lesson is told of its steps."""

from __future__ import annotations

from scenes import catalogue
from scenes.lesson.document import Document
from scenes.lesson.own_question import ASIDE, written
from scenes.lesson.steps import Lesson, OfKind, Step
from scenes.questions.kinds import kind_of
from scenes.scene.question import TYPED, Question
from visual.host import messages


def listed(lesson: Lesson, document: Document) -> list[messages.PreparedStep]:
    """The steps in their order."""
    return [
        {
            "number": part.number,
            "words": step.heading,
            "scene": catalogue.scene_class(step.scene).title if step.scene else "",
            "asks": _what_is_asked(step),
            "minutes": step.minutes,
        }
        for step, part in zip(lesson.steps, document.parts, strict=True)
    ]


def fields(number: int, step: Step, picture: str, put: str, refused: str) -> messages.PreparedFields:
    """What can be changed of a step; `picture` is the address of its picture, `put` the question of its demonstration in words, and
    `refused` why the one chosen last is not put."""
    return {
        "number": number,
        "page": not step.scene,
        "caption": step.caption,
        "notes": step.notes.strip("\n"),
        "minutes": step.minutes,
        "hold": step.hold,
        "go_on": step.go_on,
        "answers": step.answers,
        "asks": _asks(step.question),
        "kinds": _kinds(step),
        "kind": step.question.kind if isinstance(step.question, OfKind) else "",
        "numbered": step.numbered is not None,
        "number_asked": step.numbered or 1,
        "vote": step.vote,
        "own": _own(step),
        "put": put,
        "begun": ("aside" if step.begun.get(ASIDE) else "written") if step.begun else "",
        "refused": refused,
        "title": step.title,
        "text": step.text.strip("\n"),
        "picture": picture,
        "shows": step.shows,
    }


def _what_is_asked(step: Step) -> str:
    """Which question a step puts, in a few words; "" if none."""
    if not step.question:
        return "a question of your own, not whole yet" if step.begun and not step.begun.get(ASIDE) else ""
    if isinstance(step.question, Question):
        return "a question of your own"
    kinds = catalogue.scene_class(step.scene).kinds
    return kind_of(catalogue.scene_class(step.scene), step.question.kind).words if isinstance(step.question, OfKind) else kinds[0].words


def _kinds(step: Step) -> list[messages.PreparedKind]:
    """What the step's scene can be asked, its own question first."""
    kinds = catalogue.scene_class(step.scene).kinds if step.scene else ()
    return [{"name": kind.name, "words": kind.words, "choices": kind.answered != TYPED} for kind in kinds]


def _asks(question: bool | int | OfKind | Question) -> str:
    if isinstance(question, Question):
        return "own"
    if isinstance(question, OfKind):
        return "kind"
    return "scene" if question else "none"


def _own(step: Step) -> messages.PreparedQuestion | None:
    """One's own question as it was written last."""
    table = written(step.begun, step.question)
    if not table:
        return None
    return {
        "text": table.get("text", ""),
        "choices": "\n".join(table.get("choices", [])),
        "right": table.get("right", 0),
        "reason": table.get("reason", "").strip("\n"),
    }
