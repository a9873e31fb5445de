"""Mistakes are named where one alone gives the answer, and a student who makes one steadily is told so."""

from __future__ import annotations

import random

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.practice.practice import Practice
from scenes.practice.results import Results
from scenes.questions import mistakes
from scenes.questions.mistakes import WHAT_IT_IS, mistake_in, steady, told
from scenes.scene.question import Question
from tests.scenes.questions.drawn import drawn

SEVERAL = Question(
    "Which way?",
    (("left", "to the left"), ("right", "to the right"), ("up", "up")),
    "left",
    "So.",
    mistakes=(("right", ("a", "b")), ("up", ("a",))),
)
LEAST = 2  # kinds of a scene in which a mistake shows, from which it matters there
FIVE = 5


def test_what_cannot_be_told_apart_is_not_claimed():
    assert mistake_in(SEVERAL, "up") == "a" and mistake_in(SEVERAL, "right") is None and mistake_in(SEVERAL, "left") is None
    assert SEVERAL.may_be("right") == ("a", "b")


def test_a_series_tells_what_one_answer_cannot():
    assert steady([("a", "b")]) is None and steady([("a", "b"), ("a", "b")]) is None
    assert steady([("a", "b"), ("b", "c")]) == "b" and steady([("a", "b"), (), ("b",)]) == "b"
    assert steady([("a",), ("b",), ("a",)]) is None, "no mistake is behind all of them"


def test_every_mistake_that_a_question_names_has_its_sentence():
    named = {value for name, value in vars(mistakes).items() if name.isupper() and isinstance(value, str) and value != mistakes.OR}
    assert named == set(WHAT_IT_IS)
    for name, sentence in WHAT_IT_IS.items():
        assert sentence[0].isupper() and sentence.endswith(".") and mistakes.OR not in name and told(name) == sentence
    assert mistakes.parted(mistakes.written(("a", "b"))) == ("a", "b") and mistakes.parted("") == ()


def shown_in(name: str) -> dict[str, set[str]]:
    """The kinds of a scene's questions in which each mistake shows."""
    found: dict[str, set[str]] = {}
    for put in drawn(name):
        question = put.question
        for mistake in {each for _, names in question.mistakes for each in names} | (
            {each for _, each in question.figure.slips} if question.figure else set()
        ):
            found.setdefault(mistake, set()).add(put.kind)
    return found


def mistaken(question: Question, mistake: str) -> str:
    """What a student who makes that mistake answers, and otherwise knows everything."""
    if question.figure:
        sizes = [size for size, name in question.figure.slips if name == mistake]
        return f"{sizes[0]:.8g} {question.figure.unit}".strip() if sizes else question.answer
    return next((value for value, names in question.mistakes if mistake in names), question.answer)


@pytest.mark.parametrize("name", [name for name in catalogue.NAMES if name not in ("instruments", "braking", "starting", "one-phase")])
def test_a_student_who_makes_one_mistake_steadily_is_told_so_within_five_questions(name):
    """In a scene where it shows in at least two kinds; the first five questions in which it shows count, in the order of practice."""
    scene = catalogue.scene_class(name)()
    for mistake, kinds in shown_in(name).items():
        if len(kinds) < LEAST or mistake == mistakes.PREFIX:
            continue
        practice = Practice(Results(None), (name,), random.Random(f"{name} {mistake}"))
        practice.kinds = lambda scene, kinds=kinds: tuple(kinds)
        named = []
        for _ in range(FIVE):
            coming, prediction = practice.next(), Prediction()
            prediction.ask(scene, coming.seed, coming.kind)
            given = prediction.posed.taken(mistaken(prediction.posed, mistake))
            prediction.answer(given)
            practice.take(scene, prediction)
            said = mistake_in(prediction.posed, given)
            assert said in (None, mistake), f"another mistake is claimed: {said} for {mistake}"
            named.append(said == mistake or f": {mistake}." in practice.steady_mistake())
            if named[-1]:
                break
        assert named[-1], (mistake, kinds)
