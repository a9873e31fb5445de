"""The hand that shows a mistake before the second try: held as the wrong answer says, marked as wrong, and then the right one.

What a choice says of a hand is read from its words; where fingers point in words, and which hand they fit, is this test's own
(`tests/oracle.py`).
"""

from __future__ import annotations

import itertools
import random
import re

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.practice.practice import Practice
from scenes.practice.results import Results
from scenes.scene.state import NoPage, as_data
from tests import oracle
from tests.scenes.questions.test_directions import FLEMING

SEEDS = range(1, 13)
HELD = re.compile(r"(left|right) hand, first finger (.+), (?:second finger|thumb) (.+)")
GRIPS = re.compile(r"(left|right) hand, thumb (.+)")
PUSHED = re.compile(r"the field there points (.+), so by the (left|right) hand it is pushed (.+)")
CROSS = "\N{BALLOT X} "
DIRECTIONS = [each for each in itertools.product((-1, 0, 1), repeat=3) if any(each)]


def asked(name: str):
    """The scene as drawn, with a question why put to it, for each seed; of those a student who practises."""
    scene = catalogue.scene_class(name)()
    scene.ensure_built(NoPage())
    for seed in SEEDS:
        prediction = Prediction()
        prediction.ask(scene, seed, "why")
        yield scene, prediction, Practice(Results(None), (name,), random.Random(seed))


def shown(scene, prediction) -> dict:
    scene.draw(not prediction.waiting, prediction.mistake)
    return as_data(scene, 0.0, not prediction.waiting)


def words(scene, direction) -> str:
    return oracle.seen(direction, scene.eye.forward, scene.eye.up)


def along(scene, finger, said: str) -> bool:
    """Whether a finger lies along a direction that is told in words: of a current at 45° to the field it takes the part across."""
    (meant,) = [each for each in DIRECTIONS if words(scene, each) == said]
    return oracle.dot(finger, oracle.unit(meant)) > 0.7


def signs(data: dict) -> list[str]:
    return [each["text"] for each in data["letters"] if each["text"].startswith(CROSS)]


@pytest.mark.parametrize("name", FLEMING)
def test_a_hand_is_held_as_the_wrong_answer_says_and_then_rightly(name):
    seen = {}
    for scene, prediction, practice in asked(name):
        assert shown(scene, prediction)["hand"] is None, "it would give the answer away"
        question = prediction.posed
        wrong = {value: names for value, names in question.mistakes if len(names) == 1}
        given = random.Random(len(seen)).choice(sorted(wrong))
        practice.answer(scene, prediction, given)
        data, (which, first, other) = shown(scene, prediction), HELD.fullmatch(given).groups()
        hand = data["hand"]
        if hand is None:
            assert prediction.waiting and "grey hand" not in prediction.note
            continue
        seen[wrong[given][0]] = seen.get(wrong[given][0], 0) + 1
        assert hand["mistake"] == wrong[given][0] and hand["which"] == which
        assert along(scene, hand["first"], first) and along(scene, hand[FLEMING[name]], other)
        assert oracle.fits_hand(which, hand["thumb"], hand["first"], hand["second"]), "no hand can be held so"
        assert CROSS + hand["mistake"] in signs(data) and len(signs(data)) == 2, "the mistake, and what it gives, are crossed out"
        finger = hand["thumb" if FLEMING[name] == "second" else "second"]
        gives = words(scene, finger)
        if name == "cage-rotor":  # along its shaft, which lies along z
            gives = "toward the drive end" if finger[2] > 0 else "away from the drive end"
        assert f"shows it: {which} hand, first finger {words(scene, hand['first'])}" in prediction.note
        assert f"then points {gives}. Try once more." in prediction.note
        practice.answer(scene, prediction, question.answer)
        prediction.uncover(scene)
        data, (which, first, other) = shown(scene, prediction), HELD.fullmatch(question.answer).groups()
        if data["hand"]:  # the moving one is shown only where it can be followed
            assert data["hand"]["mistake"] == "" and data["hand"]["which"] == which and signs(data) == []
            assert along(scene, data["hand"]["first"], first)
            answer = "thumb" if FLEMING[name] == "second" else "second"
            assert oracle.dot(data["hand"][answer], hand[answer]) < -0.9, "the mistake turns it round"
    assert sum(seen.values()) >= 5 and len(seen) >= 2, seen


def test_a_wire_is_gripped_as_the_wrong_answer_says():
    seen = set()
    for scene, prediction, practice in asked("field-round-a-wire"):
        wrong = {value: names[0] for value, names in prediction.posed.mistakes if len(names) == 1}
        given = random.Random(len(seen)).choice(sorted(wrong))
        practice.answer(scene, prediction, given)
        data, (which, thumb) = shown(scene, prediction), GRIPS.fullmatch(given).groups()
        if wrong[given] == "along instead of across":  # no hand can grip the wire so
            assert data["hand"] is None and signs(data) == []
            continue
        seen.add(wrong[given])
        assert (data["hand"]["mistake"], data["hand"]["which"]) == (wrong[given], which)
        assert words(scene, data["hand"]["thumb"]) == thumb and f"The grey hand shows it: {which} hand, thumb {thumb}" in prediction.note
        assert len(signs(data)) == 2
    assert seen == {"other hand", "electron flow"}


def test_of_two_wires_the_other_hand_is_shown_with_the_force_that_was_answered():
    seen = 0
    for scene, prediction, practice in asked("two-wires"):
        given = next(value for value, names in prediction.posed.mistakes if names == ("other hand",))
        practice.answer(scene, prediction, given)
        field, which, pushed = PUSHED.fullmatch(given).groups()
        hand = shown(scene, prediction)["hand"]
        if hand:
            seen += 1
            assert (hand["which"], hand["mistake"], which) == ("right", "other hand", "right")
            assert words(scene, hand["first"]) == field and words(scene, hand["thumb"]) == pushed
    assert seen >= 5


@pytest.mark.parametrize("name", ("pushed-conductor", "moved-conductor", "two-wires", "field-round-a-wire"))
def test_where_several_mistakes_give_the_answer_a_hand_shows_one_of_them_and_points_as_was_answered(name):
    """Of the scene's own question: none is claimed, but whichever it was, its hand points so."""
    scene, seen = catalogue.scene_class(name)(), 0
    scene.ensure_built(NoPage())
    for seed in range(1, 25):
        prediction = Prediction()
        prediction.ask(scene, seed, "forward")
        several = {value: names for value, names in prediction.posed.mistakes if len(names) > 1 and "fingers exchanged" in names}
        for value, names in several.items() if len(prediction.posed.choices) > 2 else ():
            Practice(Results(None), (name,), random.Random(seed)).answer(scene, prediction, value)
            hand = shown(scene, prediction)["hand"]
            if hand is None:
                continue
            seen += 1
            assert hand["mistake"] in names and "The grey hand shows one of them: " in prediction.note
            gives = hand["second" if name == "moved-conductor" else "thumb"]
            assert words(scene, gives) == prediction.posed.words_of(value), (prediction.posed.text, hand)
    assert seen >= (5 if name in ("pushed-conductor", "moved-conductor") else 0)


def test_a_mistake_that_is_not_of_a_hand_or_gives_the_answer_away_is_not_shown():
    """Of a hidden field or current a hand would tell it."""
    scene = catalogue.scene_class("pushed-conductor")()
    scene.ensure_built(NoPage())
    for kind in ("current", "poles", "figure", "compare"):
        practice = Practice(Results(None), (scene.name,), random.Random(1))
        prediction = Prediction()
        prediction.ask(scene, 3, kind)
        question = prediction.posed
        wrong = f"{2 * question.figure.size:.4g} mN" if question.figure else next(v for v, _ in question.choices if v != question.answer)
        practice.answer(scene, prediction, wrong)
        assert not prediction.waiting or shown(scene, prediction)["hand"] is None, kind
        assert "grey hand" not in prediction.note
        if kind == "current":  # hidden until it is answered, however well the mistake is known
            prediction.ask(scene, 3, kind)
            prediction.tried = wrong
            prediction.name_mistake("other hand", scene=scene)
            assert prediction.mistake == "" and shown(scene, prediction)["hand"] is None and "grey hand" not in prediction.note


def test_one_who_makes_it_steadily_is_shown_it_where_a_single_answer_could_not_tell():
    scene = catalogue.scene_class("pushed-conductor")()
    scene.ensure_built(NoPage())
    practice = Practice(Results(None), (scene.name,), random.Random(1))
    hands = []
    for kind, seed in (("why", 1), *(("forward", seed) for seed in SEEDS)):
        prediction = Prediction()
        prediction.ask(scene, seed, kind)
        given = next((value for value, names in prediction.posed.mistakes if "other hand" in names), None)
        if given is None:  # along the field the rod is not pushed, by any hand
            continue
        practice.answer(scene, prediction, given)
        hands.append(shown(scene, prediction)["hand"])
        if len(hands) == 2:
            break
    assert hands[0]["mistake"] == hands[1]["mistake"] == "other hand" and hands[1]["which"] == "right"
    assert "only one fits your earlier answers too: other hand. The grey hand shows it: right hand" in prediction.note
