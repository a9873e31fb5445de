"""The frame that all scenes stand on: settings, questions, addresses and the bench, without a page."""

from __future__ import annotations

import contextlib
import json
import random
import re

import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.bench.prediction import LARGEST_SEED, Prediction, setup_of
from scenes.scene import address
from scenes.scene.controls import Choice, Number, Switch
from scenes.scene.described import described
from scenes.scene.scene import minus
from visual.host.server import Host
from visual.host.viewers import Viewer


@pytest.fixture(scope="module")
def bench():
    return Bench(Host())


@pytest.fixture(params=catalogue.NAMES)
def scene(request):
    return catalogue.scene_class(request.param)()


def random_value(control, dice):
    if control.kind == "number":
        return control.low + control.step * dice.randint(0, round((control.high - control.low) / control.step))
    return dice.choice(control.choices)[0] if control.kind == "choice" else dice.random() < 0.5


def put_in(scene, settings: dict) -> None:
    """Give a scene settings each of which it allows. What together contradicts itself (a nameplate) is told, and stands."""
    with contextlib.suppress(ValueError):
        scene.set_all(settings)
    assert scene.settings == pytest.approx(scene.settings | settings)


def test_a_number_takes_what_lies_in_its_range():
    current = Number("current", "Current", 1.0, "A", -5.0, 5.0, 0.5)
    assert current.checked("2.5") == 2.5 and current.checked(-5) == -5
    assert str(current.reversed(0.0)) == "0.0"
    for wrong in ("6", 5.01, "nan", "inf", "", None, "two", True, [1]):
        with pytest.raises(ValueError, match="current takes a number from -5 to 5 A, not"):
            current.checked(wrong)


def test_a_choice_and_a_switch_take_their_own_words():
    way = Choice("way", "Endpoint", "up", (("up", "upward"), ("down", "downward")))
    assert way.checked("down") == "down" and way.reversed("down") == "up"
    with pytest.raises(ValueError, match="way takes one of up, down, not 'left'"):
        way.checked("left")
    closed = Switch("closed", "Closed", False)
    assert closed.checked("on") is True and closed.checked(False) is False
    with pytest.raises(ValueError, match="closed takes on or off, not 'perhaps'"):
        closed.checked("perhaps")


def test_settings_are_all_taken_or_none(scene):
    before = dict(scene.settings)
    first = next(control for control in scene.controls if control.kind == "number")
    with pytest.raises(ValueError, match="has no control 'nonsense'"):
        scene.set_all({first.name: first.high, "nonsense": 1})
    assert scene.settings == before


def test_a_scene_says_all_that_the_page_needs(scene):
    said = json.loads(json.dumps(described(scene)))
    assert said["title"] and said["principle"].endswith(".") and said["narration"].endswith(".")
    assert said["controls"][-1]["name"] == "slow"
    for control in said["controls"]:
        assert control["words"]
        if control["only_with"]:
            other, value = control["only_with"]
            scene.by_name[other].checked(value)
        if control["kind"] == "number":
            assert control["low"] <= control["default"] <= control["high"] and control["step"] > 0
    letters = {arrow["letter"] for arrow in said["arrows"]}
    assert set(scene.scales()) <= letters
    for reading in scene.readings():
        assert reading.words and isinstance(reading.value, str) and "nan" not in reading.value
    assert scene.says()


@pytest.mark.parametrize("seed", range(8))
def test_any_setting_can_be_stepped_read_and_asked(scene, seed):
    dice = random.Random(seed)
    put_in(scene, {control.name: random_value(control, dice) for control in scene.controls})
    scene.restart()
    for _ in range(5):
        scene.step(0.033)
    for reading in scene.readings():
        assert "nan" not in reading.value and "inf" not in reading.value, reading
    question = scene.question()
    assert question.answer in [value for value, _ in question.choices]
    assert question.text.endswith("?") and question.reason.endswith(".")
    assert scene.says().endswith(".")


def test_reversing_twice_is_as_before(scene):
    for role in {control.role for control in scene.controls if control.role}:
        before = dict(scene.settings)
        scene.reverse(role)
        assert scene.settings != before
        scene.reverse(role)
        assert scene.settings == before
    with pytest.raises(ValueError, match="What can be reversed is current or field"):
        scene.reverse("weather")


def test_the_same_seed_asks_the_same_question(scene):
    first, second = Prediction(), Prediction(random.Random(99))
    first.ask(scene, 42)
    settings, question = dict(scene.settings), first.question
    scene.set_all(setup_of(scene, 7))
    second.ask(scene, "42")
    assert dict(scene.settings) == settings and second.question == question


def test_questions_have_every_kind_of_answer(scene):
    given = set()
    for seed in range(1, 120):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        given.add(scene.question().answer)
        if len(given) >= 3:
            break
    assert len(given) >= min(3, len(scene.question().choices))


def test_a_prediction_hides_holds_and_counts(scene):
    prediction = Prediction()
    prediction.ask(scene, 3)
    shown = prediction.shown()
    assert prediction.waiting and shown["answer"] is shown["reason"] is shown["right"] is None
    with pytest.raises(ValueError, match="The answer is one of"):
        prediction.answer("sideways")
    wrong = next(value for value, _ in prediction.question.choices if value != prediction.question.answer)
    assert prediction.answer(wrong) is False and not prediction.waiting
    with pytest.raises(ValueError, match="No question is waiting"):
        prediction.answer(wrong)
    prediction.ask(scene, 4)
    assert prediction.answer(prediction.question.answer) is True
    assert prediction.shown()["score"] == {"right": 1, "asked": 2}


@pytest.mark.parametrize("seed", ["0", "-1", "x", str(LARGEST_SEED + 1), "1e3", "²", None, 1.5])
def test_a_seed_that_is_none_is_refused(scene, seed):
    if seed is None:
        return Prediction().ask(scene, seed)
    with pytest.raises(ValueError, match="A question's number is from 1 to"):
        Prediction().ask(scene, seed)


@pytest.mark.parametrize("seed", range(5))
def test_an_address_brings_back_the_set_up(scene, seed):
    dice = random.Random(seed)
    put_in(scene, {control.name: random_value(control, dice) for control in scene.controls})
    scene.look(dice.choice(scene.views).name)
    name, settings, _ = address.read(address.written(scene, 17))
    again = catalogue.scene_class(name)()
    again.look(settings.pop("view", again.view))
    put_in(again, {key: again.by_name[key].checked(value) for key, value in settings.items()})
    assert again.settings == pytest.approx(scene.settings) and again.view == scene.view


def test_an_unknown_scene_is_told_with_the_nearest_name():
    with pytest.raises(ValueError, match="did you mean pushed-conductor"):
        catalogue.scene_class("pushed-conducter")
    with pytest.raises(ValueError, match="there are field-round-a-wire"):
        catalogue.scene_class("zzz")


@pytest.mark.parametrize("part", ["step", "draw", "readings", "says", "marks"])
def test_an_error_of_ours_holds_the_scene_and_ends_nothing(caplog, monkeypatch, part):
    bench = Bench(Host(), "moved-conductor")

    def broken(*_):
        return 1 / 0

    with monkeypatch.context() as patched:
        patched.setattr(bench.scene, part, broken)
        for _ in range(9):
            bench.frame(0.02)
        assert len([line for line in caplog.records if line.exc_info]) == 1 and "moved-conductor failed" in caplog.text
        assert "internal error" in bench.host.published["notice"]["text"] and bench.host.published["bench"]["running"] is False
        if part != "step":
            bench.receive({"do": "open", "address": "scene=moved-conductor&speed=0.3"})  # a page that comes back, say
            assert "internal error" in bench.host.published["notice"]["text"] and bench.host.published["bench"]["running"] is False
    bench.receive({"do": "restart"})
    bench.receive({"do": "run", "on": True})
    bench.frame(0.02)
    assert bench.host.published["notice"]["text"] == "" and bench.running
    monkeypatch.setattr(bench.scene, part, broken)
    for _ in range(9):
        bench.frame(0.02)
    bench.receive({"do": "next"})
    bench.receive({"do": "run", "on": True})
    bench.frame(0.02)
    assert bench.scene.name != "moved-conductor" and bench.host.published["notice"]["text"] == "" and bench.running


@pytest.mark.parametrize("told", [object(), {1}, 1j])
def test_what_cannot_be_told_to_a_page_holds_the_scene_and_ends_nothing(caplog, monkeypatch, told):
    bench = Bench(Host(), "moved-conductor")
    monkeypatch.setattr(bench.scene, "scales", lambda: {"B": told})
    for _ in range(9):
        bench.frame(0.02)
        bench.host.flush()
    assert len([line for line in caplog.records if line.exc_info]) == 1 and "moved-conductor failed" in caplog.text
    assert bench.host.published["bench"]["running"] is False


def test_a_scene_that_cannot_be_built_leaves_the_one_that_is_shown(caplog, monkeypatch):
    bench = Bench(Host(), "pushed-conductor")
    _, following, sound = catalogue.NAMES[catalogue.NAMES.index("pushed-conductor") :][:3]
    monkeypatch.setattr(catalogue.scene_class(following), "build", lambda scene, host: 1 / 0)
    bench.receive({"do": "next"})
    assert (
        "internal error" in bench.host.published["notice"]["text"]
        and bench.scene.name == bench.host.published["scene"]["name"] == "pushed-conductor"
    )
    bench.receive({"do": "scene", "name": sound})
    assert bench.scene.name == sound and bench.host.published["notice"]["text"] == ""


def test_the_bench_does_what_a_page_asks(bench):
    bench.receive({"do": "scene", "name": "pushed-conductor"})
    bench.receive({"do": "set", "name": "current", "value": 3})
    bench.receive({"do": "reverse", "what": "current"})
    assert bench.host.published["settings"]["current"] == -3
    assert "current=-3" in bench.host.published["address"]
    bench.receive({"do": "next"})
    assert bench.scene.name == catalogue.NAMES[catalogue.NAMES.index("pushed-conductor") + 1]
    bench.receive({"do": "previous"})
    bench.receive({"do": "run", "on": False})
    assert bench.host.published["bench"]["running"] is False
    bench.receive({"do": "ask", "seed": 8})
    assert bench.host.published["bench"]["held"] and bench.host.published["question"]["seed"] == 8
    before = bench.scene.state
    bench.frame(0.05)
    bench.receive({"do": "step"})
    assert bench.scene.state == before, "it moves before the answer is given"
    bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
    assert bench.host.published["question"]["right"] is True
    bench.frame(0.05)
    bench.receive({"do": "enough"})
    assert bench.host.published["question"] is None


@pytest.mark.parametrize(
    "message",
    [
        {"do": "set", "name": "current", "value": 1e9},
        {"do": "set", "name": "nothing", "value": 1},
        {"do": "set"},
        {"do": "set", "name": ["current"], "value": {}},
        {"do": "scene", "name": "nowhere"},
        {"do": "scene"},
        {"do": "reverse", "what": None},
        {"do": "answer", "choice": "up"},
        {"do": "ask", "seed": "many"},
        {"do": "ask", "seed": {"a": 1}},
        {"do": "view", "name": "inside"},
        {"do": "open", "address": "scene=pushed-conductor&current=x"},
        {"do": "open", "address": "scene=nowhere"},
        {"do": "open", "address": "a=1&" * 2000},
    ],
)
def test_what_cannot_be_done_is_told_in_a_sentence_and_changes_nothing(bench, message):
    bench.receive({"do": "scene", "name": "pushed-conductor"})
    before, serial = dict(bench.scene.settings), bench.host.published.get("notice", {"serial": 0})["serial"]
    bench.receive(message)
    notice = bench.host.published["notice"]
    assert notice["serial"] == serial + 1
    assert notice["text"].endswith((".", "?")) and "\n" not in notice["text"] and len(notice["text"]) < 400
    assert bench.scene.name == "pushed-conductor" and bench.scene.settings == before


@pytest.mark.parametrize(
    "message", [{"do": "open", "address": 5}, {"do": "dance"}, {"do": "", "x": 1}, {"do": "run", "on": 1}, {"do": "clock"}]
)
def test_what_no_page_of_ours_sends_changes_nothing_and_is_answered(bench, message):
    before = dict(bench.scene.settings), bench.scene.name, bench.running
    bench.receive(message)
    assert (dict(bench.scene.settings), bench.scene.name, bench.running) == before
    assert re.match(r"The request \w+ takes|There is no|There is nothing", bench.host.published["notice"]["text"])


def test_a_question_that_waits_is_asked_of_what_another_tab_opens(bench):
    bench.receive({"do": "scene", "name": "pushed-conductor"})
    bench.receive({"do": "set", "name": "current", "value": 8})
    bench.receive({"do": "ask", "present": True})
    asked = bench.host.published["question"]["text"]
    bench.receive({"do": "open", "address": "scene=pushed-conductor&current=-6"})
    assert bench.host.published["question"]["text"] != asked
    fresh = catalogue.scene_class("pushed-conductor")()
    fresh.set_all(bench.scene.settings)
    assert bench.prediction.question == fresh.question()


def test_a_question_that_waits_is_asked_of_what_a_wrong_nameplate_leaves(bench):
    bench.receive({"do": "scene", "name": "slip-and-speed"})
    bench.receive({"do": "set", "name": "plate-speed", "value": 1500})  # the synchronous speed: no motor's
    bench.receive({"do": "ask", "present": True})
    bench.receive({"do": "set", "name": "plate", "value": True})
    assert bench.host.published["notice"]["text"]
    assert bench.prediction.question == bench.scene.question()


def test_coming_back_to_the_same_address_does_not_start_the_scene_anew(bench):
    bench.receive({"do": "scene", "name": "pushed-conductor"})
    for name, value in {"switch": True, "current": 9, "tilt": 0}.items():
        bench.receive({"do": "set", "name": name, "value": value})
    bench.receive({"do": "run", "on": True})
    for _ in range(10):
        bench.frame(0.033)
    swing = bench.scene.state
    bench.receive({"do": "open", "address": bench.host.published["address"]})
    assert bench.scene.state == swing and swing.angle != 0


def test_a_held_scene_costs_little_and_what_is_set_is_drawn_at_once(bench, monkeypatch):
    bench.receive({"do": "scene", "name": "alternator"})
    scene, drawn, draw = bench.scene, [], bench.scene.draw
    monkeypatch.setattr(scene, "draw", lambda *given: (drawn.append(scene.settings["speed"]), draw(*given)))

    def pictures(running: bool) -> int:
        bench.receive({"do": "run", "on": running})
        drawn.clear()
        for _ in range(36):
            bench.frame(1 / 36)
        return len(drawn)

    assert pictures(True) == 36
    assert 1 <= pictures(False) <= 5, "what was worked out meanwhile is shown"
    bench.receive({"do": "set", "name": "speed", "value": scene.by_name["speed"].high})
    assert drawn[-1] == scene.by_name["speed"].high


def test_a_scene_is_built_once_however_often_it_is_shown(bench):
    for name in catalogue.NAMES:
        bench.show(name)
    bench.host.flush()
    count = len(bench.host.stream.commands)
    for _ in range(3):
        for name in catalogue.NAMES:
            bench.show(name)
            bench.frame(0.033)
    bench.host.flush()
    assert len(bench.host.stream.commands) == count


def test_all_that_a_page_is_told_at_once_fits_through_a_proxy(bench):
    for name in catalogue.NAMES:
        bench.show(name)
    bench.host.flush()
    told = []
    Viewer(told.append, bench.host.published).tell(bench.host.stream, bench.host.heard_by("bench"), bench.host.chart, {})
    assert len(json.loads(told[0])["stream"]["cmds"]) == len(bench.host.stream.commands) > 800
    assert len(told[0]) < 8 * 2**20  # tornado's client, which jupyter-server-proxy listens with, takes 10 MiB


def test_numbers_in_print():
    assert minus(-1.25, 1) == "\N{MINUS SIGN}1.2" and minus(-0.001, 1) == "0.0" and minus(3.0, 0) == "3"
