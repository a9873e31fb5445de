"""Practice: what is asked next, and which answer is meant."""

from __future__ import annotations

import json
import os
import random
import re
from collections import Counter
from dataclasses import replace

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.bench import Bench
from scenes.bench.own_words import choice_meant
from scenes.bench.prediction import Prediction
from scenes.practice.practice import AGAIN, TELLS_APART, Practice, next_question, waiting
from scenes.practice.results import Results
from scenes.practice.topics import scenes_of
from scenes.scene.scene import Question
from tests.scenes.practice.answers import answered
from visual.host.server import Host


def test_a_wrong_answer_comes_back_after_3_then_8_then_20_others_and_is_let_go():
    """Played through as a student would, against the places counted by hand: 1, 5, 14, 35."""
    dice, given, asked_at = random.Random(5), [answered("pushed-conductor", 77, False)], [1]
    for place in range(2, 80):
        coming = next_question(given, catalogue.NAMES, dice)
        if coming.again:
            assert (coming.scene, coming.kind) == ("pushed-conductor", "forward") and coming.seed not in [one.seed for one in given]
            asked_at.append(place)
        given.append(answered(coming.scene, coming.seed, True, coming.kind))
    assert asked_at == [1, 5, 14, 35]
    assert waiting(given) == {}


def test_wrong_again_begins_anew():
    given = [answered("a", 1, False)] + [answered("b", n, True) for n in range(3)] + [answered("a", 1, True)]
    assert waiting(given)["a", "forward"].due == 5 + 8
    given.append(answered("a", 2, False))
    key = ("a", "forward")
    assert waiting(given) == {key: waiting([answered("b", 9, True)] * 5 + [answered("a", 1, False)])[key]}
    assert waiting(given)[key].due == 6 + 3


def test_a_right_answer_before_it_is_due_does_not_count():
    given = [answered("a", 1, False), answered("a", 2, True)]
    assert waiting(given)["a", "forward"] == waiting(given[:1])["a", "forward"]


def test_what_comes_back_is_the_kind_and_its_mistake():
    given = [answered("alternator", 1, False, "figure", "poles for pole pairs")] + [answered("b", n, True) for n in range(1, 4)]
    coming = next_question(given, ("alternator",), random.Random(3))
    assert (coming.kind, coming.again, coming.mistakes) == ("figure", True, ("poles for pole pairs",)) and coming.seed != 1
    assert coming.note == AGAIN and next_question([], ("alternator",), random.Random(3)).note == ""


def test_where_two_mistakes_give_the_same_answer_the_question_why_tells_them_apart():
    given = [answered("pushed-conductor", 1, False, "forward", "other hand or electron flow"), answered("b", 2, True)]
    coming = next_question(given, ("pushed-conductor",), random.Random(3))
    assert (coming.scene, coming.kind, coming.again) == ("pushed-conductor", "why", True)
    assert coming.note == TELLS_APART, "it was not answered wrongly itself"
    assert re.search(r"wrong answer you gave .*mistake.* this question shows which", coming.note.lower()), "what is meant stands there"
    given.append(answered("pushed-conductor", coming.seed, True, "why"))
    assert ("pushed-conductor", "why") not in waiting(given) and ("pushed-conductor", "forward") in waiting(given)


def test_a_question_that_does_not_tell_them_apart_is_not_said_to():
    for mistake, note in (("other hand or electron flow", TELLS_APART), ("other hand or no such mistake", "")):
        practice = Practice(Results(None), ("pushed-conductor",), random.Random(3))
        practice.results.add(answered("pushed-conductor", 1, False, "forward", mistake))
        practice.results.add(answered("two-wires", 2, True))
        if not note:
            practice._put = lambda wanted: ASKED
        coming = practice.next()
        assert coming.kind == "why" and coming.note == note


def test_what_a_right_answer_is_without_is_not_looked_for_again():
    given = [answered("a", 1, False, "forward", "x or y")] + [answered("b", n, True) for n in range(3)]
    assert waiting(given)["a", "forward"].mistakes == ("x", "y")
    assert waiting([*given, answered("a", 2, True, avoided="y or z")])["a", "forward"].mistakes == ("x",)
    assert waiting([*given, answered("a", 2, True, avoided="x or y")])["a", "forward"].mistakes == ("x", "y"), "one of them it was"


def test_a_question_that_comes_back_tells_mistakes_apart_if_that_can_be_had():
    """Which way the field of a tapped winding turns: as marked, leaving out the phase order gives the right answer."""
    practice = Practice(Results(None), ("changing-speed",), random.Random(2))
    practice.kinds = lambda scene: ("forward",)
    practice.results.add(answered("changing-speed", 1, False, "forward", "seen from the other end or phase order left out"))
    for seed in range(2, 5):
        practice.results.add(answered("pushed-conductor", seed, True))
    scene = catalogue.scene_class("changing-speed")()
    for _ in range(3):
        prediction = Prediction()
        prediction.ask(scene, practice.next().seed, "forward")
        names = [set(each) for _, each in prediction.posed.mistakes]
        assert {"seen from the other end"} in names and {"seen from the other end", "phase order left out"} not in names


def test_what_only_tells_mistakes_apart_is_not_said_to_be_known_after_one_right_answer():
    practice = Practice(Results(None), ("pushed-conductor",), random.Random(3))
    for right, kind, mistake in ((False, "forward", "other hand or electron flow"), (True, "poles", ""), (True, "why", "")):
        practice.results.add(answered("pushed-conductor", 1, right, kind, mistake))
    assert practice.when_it_returns() == ""


def test_the_plain_question_of_a_scene_is_among_the_first_six():
    """Once in so many rounds it is not, by chance: it is twice as likely as each of five others."""
    late = 0
    for seed in range(100):
        practice, asked = Practice(Results(None), ("pushed-conductor",), random.Random(seed)), []
        for place in range(6):
            coming = next_question(practice.results.all, practice.scenes, random.Random(f"{seed} {place}"))
            practice.results.add(answered(coming.scene, coming.seed, True, coming.kind))
            asked.append(coming.kind)
        late += "forward" not in asked
    assert late <= 15


def test_in_a_mock_test_no_question_has_the_figures_of_another():
    """Of an alternator with so many poles at that speed one question may tell the frequency for which another asks."""
    alternator = catalogue.scene_class("alternator")()
    for seed in range(6):
        practice, sat = Practice(Results(None), ("alternator",), random.Random(seed)), []
        for _ in range(5):
            coming, prediction = practice.unlike(sat), Prediction()
            prediction.ask(alternator, coming.seed, coming.kind)
            question = prediction.posed
            sat.append(replace(answered(coming.scene, coming.seed, True, coming.kind), question=question.text, answer=question.answer))
        figures = [set(re.findall(r"[0-9.]*[0-9]", each.question)) for each in sat]
        of_one, of_all = {each.kind for each in sat}, [f"{each.question} {each.answer}" for each in sat]
        assert len(of_one) == 5
        for place, own in enumerate(figures):
            for other in of_all[:place]:
                assert len(own & set(re.findall(r"[0-9.]*[0-9]", other))) < 2, (of_all, place)


def test_what_was_never_wrong_and_what_has_no_number_do_not_come_back():
    assert waiting([answered("a", 1, True), answered("a", None, False)]) == {}


def test_the_longest_due_comes_first_and_only_of_the_topic():
    given = [answered("a", 1, False), answered("b", 2, False)] + [answered("c", n, True) for n in range(9)]
    assert next_question(given, ("a", "b", "c"), random.Random(1)).scene == "a"
    assert next_question(given, ("b", "c"), random.Random(1)).scene == "b"
    assert not next_question(given, ("c",), random.Random(1)).again


def test_new_questions_are_drawn_more_where_more_went_wrong(monkeypatch):
    monkeypatch.setattr("scenes.practice.practice.NUMBERS", range(1, 20))  # which of a scene's questions it is, is not what is counted here
    given = [answered("good", n, True) for n in range(6)] + [answered("bad", n, False) for n in range(6)]
    given += [answered("bad", n, True) for n in range(6) for _ in range(3)]  # so that none of them comes back,
    given += [answered("bad", None, False)] * 6  # and six mistakes lately nevertheless
    drawn = Counter(next_question(given, ("good", "bad", "never"), random.Random(n)).scene for n in range(3000))
    # weights 1, 1 + 6 and 4 of 12; four standard deviations of a binomial count are below 110
    assert [drawn[name] for name in ("good", "bad", "never")] == pytest.approx([250, 1750, 1000], abs=110)


def test_a_new_question_is_one_not_asked_before():
    given = [answered("a", seed, True) for seed in range(1, 9999) if seed != 4711]
    assert next_question(given, ("a",), random.Random(3)).seed in (4711, 9999)
    # in another kind every number is new
    assert next_question(given, ("alternator",), random.Random(3)).kind in [kind.name for kind in catalogue.scene_class("alternator").kinds]


def test_topics():
    assert scenes_of(None) == catalogue.NAMES
    assert scenes_of("moved-conductor") == ("moved-conductor",)
    assert "pushed-conductor" in scenes_of("push") and "moved-conductor" not in scenes_of("push")
    assert "pushed-conductor" in scenes_of("left-hand")
    assert scenes_of("slip") == ("slip-and-speed",), "not the motor with slip rings"
    assert set(scenes_of("Speed")) == {"slip-and-speed", "changing-speed"} and scenes_of("laying winding") == ("laying-the-winding",)
    assert set(scenes_of("Conductor")) >= {"pushed-conductor", "moved-conductor"}
    for wrong, nearest in (("pushd", "pushed-conductor"), ("moved-conducter", "moved-conductor")):
        with pytest.raises(ValueError, match=f"no topic '{wrong}'; did you mean {nearest}"):
            scenes_of(wrong)
    for wrong in ("qqqq", "", "a", "-"):
        with pytest.raises(ValueError, match="there are field-round-a-wire"):
            scenes_of(wrong)


# saying which choice is meant

ASKED = Question(
    "Which way?",
    (("to the left", "to the left"), ("up", "up"), ("nowhere", "it is not pushed up or down")),
    "up",
    "So.",
)


@pytest.mark.parametrize(("text", "meant"), [
    ("up", "up"), (" UP ", "up"), ("left", "to the left"), ("to the  left", "to the left"), ("nowhere", "nowhere"),
    ("not pushed", "nowhere"),
])  # fmt: skip
def test_a_choice_is_meant_by_its_value_its_words_or_enough_of_them(text, meant):
    assert choice_meant(ASKED, text) == meant


@pytest.mark.parametrize("text", ["", "sideways", "1"])
def test_what_is_no_choice_is_answered_with_the_choices(text):
    with pytest.raises(ValueError, match=r"is none of the answers: to the left \| up \| it is not pushed up or down"):
        choice_meant(ASKED, text)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_ask_tells_a_prediction_right_or_wrong(name, capsys):
    question = catalogue.scene_class(name)().question()
    for value, words in question.choices:
        for given in (value, words.upper()):
            assert main(["ask", name, "--predict", given, "--json"]) == 0
            said = json.loads(capsys.readouterr().out)
            assert said["predicted"] == value and said["right"] is (value == said["answer"]), given
        main(["ask", name, "--predict", value])
        said = capsys.readouterr().out
        assert f"\n{'Right' if value == question.answer else 'Wrong'}: {words}." in said and question.reason in said
    assert main(["ask", name, "--predict", "sideways and back"]) == 2
    out, err = capsys.readouterr()
    assert "is none of the answers" in err and question.text in out and question.reason not in out


def test_a_usual_mistake_is_named_beside_the_answer_that_it_gave_and_not_beside_the_right_one(capsys):
    """Away from you and down: the left hand points left, the right hand right; both along the rod, so up is nothing usual."""
    main(["ask", "pushed-conductor", "--set", "current=-6", "--set", "field=down", "--predict", "right"])
    wrong, right = capsys.readouterr().out.splitlines()[-2:]
    assert wrong.startswith("Wrong: to the right.") and ": other hand, fingers exchanged or electron flow." in wrong
    assert right.startswith("To the left.") and "other hand" not in right
    main(["ask", "pushed-conductor", "--set", "current=-6", "--set", "field=down", "--predict", "up"])
    assert "Wrong: up.\n" in capsys.readouterr().out


def test_a_prediction_about_the_present_set_up_leaves_it_as_it_is():
    for name in catalogue.NAMES:
        scene, prediction = catalogue.scene_class(name)(), Prediction()
        for _ in range(5):
            scene.step(0.03)
        before = dict(scene.settings)
        prediction.ask_present(scene)
        assert scene.settings == before and prediction.waiting and prediction.seed is None
        assert prediction.question == scene.question()


def test_the_bench_asks_of_what_is_there():
    bench = Bench(Host(), "pushed-conductor")
    for message in ({"do": "set", "name": "current", "value": -5}, {"do": "ask", "present": True}):
        bench.receive(message)
    said = bench.host.published["question"]
    # current away from the viewer, field up: I x B = (0, 0, -1) x (0, 1, 0) = (1, 0, 0)
    assert said["seed"] is None and "away from you" in said["text"]
    assert bench.host.published["bench"]["held"] and bench.host.published["settings"]["current"] == -5
    bench.receive({"do": "answer", "choice": "to the right"})
    assert bench.host.published["question"]["right"] is True


def test_a_pipe_or_a_device_is_neither_read_without_end_nor_replaced(tmp_path, capsys):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert main(["worksheet", "--out", str(pipe)]) == 2
    assert main(["practice", "--text", "--results", str(pipe)]) in (0, 2)
    assert "it is not a regular file" in capsys.readouterr().err and pipe.is_fifo()
