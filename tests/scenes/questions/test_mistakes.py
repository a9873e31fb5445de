"""Mistakes are named where one alone gives the answer, and a student who makes one steadily is told so."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.practice.practice import TO_TELL_APART, Practice, kinds_in
from scenes.practice.results import Results
from scenes.questions import mistakes
from scenes.questions.mistakes import WHAT_IT_IS, Evidence, evidence, explained, mistake_in, steady, tells_apart, told, told_of
from scenes.scene.question import Question
from tests.scenes.questions.drawn import WORKED_OUT, drawn

SEVERAL = Question(
    "Which way?",
    (("left", "to the left"), ("right", "to the right"), ("up", "up")),
    "left",
    "So.",
    mistakes=(("right", ("a", "b")), ("up", ("a",))),
)
FIVE, LONGEST = 5, 60  # questions
# what trainees usually mistake in each scene (common practice, no source)
MATTERS = {
    "field-round-a-wire": {"other hand", "electron flow", "along instead of across", "the factor 2π left out"},
    "pushed-conductor": {
        "other hand",
        "fingers exchanged",
        "electron flow",
        "the factor sin θ left out",
        "along the field taken for across",
    },
    "two-wires": {"other hand", "wires taken for poles", "the factor 2π left out"},
    "moved-conductor": {"other hand", "fingers exchanged", "the number of turns left out", "along the field taken for across"},
    "coils-and-commutator": {"other hand", "fingers exchanged", "electron flow", "the number of turns left out"},
    "alternator": {"seen from the other end", "phase order left out", "poles for pole pairs", "minutes for seconds"},
    "turning-field": {"seen from the other end", "phase order left out", "poles for pole pairs", "minutes for seconds"},
    "laying-the-winding": {"one slot out", "counted the wrong way", "mechanical for electrical angle", "poles for pole pairs"},
    "inside-a-motor": {"taken for a part beside it"},
    "cage-rotor": {"always with the field", "seen from the other end", "rotor for field", "sum instead of difference", "other hand"},
    "slip-and-speed": {"poles for pole pairs", "rotor for field", "sum instead of difference"},
    "changing-speed": {"poles for pole pairs", "seen from the other end", "phase order left out", "minutes for seconds"},
    "terminal-box": {"star and delta exchanged", "per phase for line", "line for per phase", "seen from the other end"},
    "instruments": {"star and delta exchanged", "one winding for all", "range for deviation"},
    "one-phase": {"seen from the other end", "the other field", "sum instead of difference", "an effect left out"},
    "starting": {
        "in proportion for the square",
        "the motor's current for the line's",
        "an effect left out",
        "the second factor √3 left out",
    },
    "braking": {"field not reversed", "standstill taken for the end", "energy of motion alone", "minutes for seconds"},
    "synchronous-motor": {"slip where there is none", "more and less exchanged", "poles for pole pairs", "minutes for seconds"},
}


def test_what_cannot_be_told_apart_is_not_claimed():
    assert mistake_in(SEVERAL, "up") == "a" and mistake_in(SEVERAL, "right") is None and mistake_in(SEVERAL, "left") is None
    assert SEVERAL.may_be("right") == ("a", "b")


def test_of_several_mistakes_each_is_named_in_a_line_and_none_is_claimed():
    assert told_of(()) == "" and told_of(("electron flow",)) == WHAT_IT_IS["electron flow"]
    three = told_of(("other hand", "fingers exchanged", "electron flow"))
    assert "could" in three and three.endswith(": other hand, fingers exchanged or electron flow.") and len(three) < 120
    two = told_of(("a", "b"))
    assert "could" in two and two.endswith("either of two mistakes: a or b.")
    assert explained(SEVERAL, "right") == f"Why not \u201cto the right\u201d? {two} So."
    assert explained(SEVERAL, None) == "So."
    prediction = Prediction()
    prediction.question = SEVERAL
    prediction.answer("right", tries=2)
    assert prediction.note == f"Wrong: to the right. {two} Try once more."


def series(*answers: str) -> list[Evidence]:
    """Of each answer the letters of the mistakes that may be behind it, and after a dash of those it is without."""
    made = [answer.partition("-")[::2] for answer in answers]
    return [Evidence(frozenset(behind), frozenset(without)) for behind, without in made]


def test_a_series_tells_what_one_answer_cannot():
    assert steady(series("ab")) is None and steady(series("ab", "ab")) is None
    assert steady(series("ab", "bc")) == "b" and steady(series("ab", "", "b")) == "b"
    assert steady(series("a", "b", "a")) is None, "no mistake is behind all of them"


def test_an_answer_without_a_mistake_where_it_would_have_shown_speaks_against_it():
    assert steady(series("ab", "-a", "ab")) == "b" and steady(series("ab", "ab", "-a")) == "b"
    assert steady(series("ab", "ab", "-ab")) is None and steady(series("a", "a", "-a")) is None
    assert steady(series("-a", "a", "a")) == "a", "what was before the first wrong one does not count"


def test_mistakes_are_told_apart_where_they_give_different_answers():
    assert tells_apart(SEVERAL, ("a", "b")) and not tells_apart(SEVERAL, ("a",)) and tells_apart(SEVERAL, ("a", "c"))
    alike = replace(SEVERAL, mistakes=(("right", ("a", "b")),))
    assert not tells_apart(alike, ("a", "b")) and tells_apart(alike, ("b", "c"))


def test_an_answer_tells_which_mistakes_it_is_without():
    assert evidence(SEVERAL, "up") == Evidence(frozenset("a"), frozenset("b"))
    assert evidence(SEVERAL, "left") == Evidence(frozenset(), frozenset("ab"))
    assert evidence(SEVERAL, "right") == Evidence(frozenset("ab"), frozenset())
    otherwise = replace(SEVERAL, choices=(*SEVERAL.choices, ("down", "down")))
    assert evidence(otherwise, "down") == Evidence(frozenset(), frozenset()), "it is wrong in some other way"


def test_every_mistake_that_a_question_names_has_its_sentence():
    named = {value for name, value in vars(mistakes).items() if name.isupper() and isinstance(value, str) and value == value.strip()}
    assert named == set(WHAT_IT_IS)
    for name, sentence in WHAT_IT_IS.items():
        assert sentence[0].isupper() and sentence.endswith(".") and mistakes.OR not in name and told(name) == sentence
    assert mistakes.parted(mistakes.written(("a", "b"))) == ("a", "b") and mistakes.parted("") == ()


def test_what_was_left_out_is_said():
    assert told("the factor sin θ left out") == "The factor sin θ was left out." and told("lost") == told(None) == ""
    assert told("an effect left out") == WHAT_IT_IS["an effect left out"]


def test_the_sentences_do_for_a_trainee_and_for_whoever_reads_of_one():
    assert not [sentence for sentence in WHAT_IT_IS.values() if {"you", "your"} & set(sentence.lower().replace(":", " ").split())]


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


def practised(name: str, kinds: set[str], dice: random.Random) -> Practice:
    """Practice of one scene, of those kinds and of what tells mistakes apart."""
    quick = {kind for kind in kinds if (name, kind) not in WORKED_OUT} or kinds
    practice, asked = Practice(Results(None), (name,), dice), tuple(quick | ({TO_TELL_APART} & set(kinds_in(name))))
    practice.kinds = lambda scene: asked
    return practice


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_student_who_makes_one_mistake_steadily_is_told_so_within_five_questions(name):
    """By name; those count in which it shows, in the order of practice. Of what shows in one kind of question alone too."""
    scene = catalogue.scene_class(name)()
    for mistake, kinds in sorted(shown_in(name).items()):
        practice, shown, named = practised(name, kinds, random.Random(f"{name} {mistake}")), 0, False
        while shown < FIVE and not named:
            coming, prediction = practice.next(), Prediction()
            prediction.ask(scene, coming.seed, coming.kind)
            given = prediction.posed.taken(mistaken(prediction.posed, mistake))
            prediction.answer(given)
            practice.take(scene, prediction)
            said, shows = mistake_in(prediction.posed, given), not prediction.posed.is_right(given)
            assert said in (None, mistake), f"another mistake is claimed: {said} for {mistake}"
            shown += shows
            named = said == mistake or practice.steady_mistake().endswith(f": {mistake}.")
            assert len(practice.results.all) < LONGEST, f"{mistake} hardly ever shows"
        assert named, (mistake, kinds)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_the_mistakes_that_matter_in_a_scene_show_in_its_questions(name):
    shown = set(shown_in(name))
    assert name in MATTERS, f'MATTERS wants "{name}": the usual mistakes that its questions are to tell; they tell {shown}'
    assert MATTERS[name] <= shown
