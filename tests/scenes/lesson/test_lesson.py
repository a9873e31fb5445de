"""The lesson as it is given: the built-in one goes through every step, and the speaker sees what comes."""

from __future__ import annotations

import json
import re

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.lesson.lesson_bench import SPEAKERS_PAGE, LessonBench
from tests.scenes.lesson.built_in_lesson import NUMBERS, built_in_lesson
from visual.host.server import Host
from visual.host.viewers import Viewer


@pytest.fixture
def bench():
    return LessonBench(Host(), built_in_lesson())


@pytest.fixture
def steps():
    return built_in_lesson().steps


def test_the_built_in_lesson_covers_every_scene_in_order(steps):
    assert 2 <= len(steps) / len(catalogue.NAMES) <= 4, "steps a scene"
    order = list(dict.fromkeys(step.scene for step in steps))
    without = [name for name in catalogue.NAMES if name not in order]
    assert not without, f"scenes/lesson/built_in.toml wants steps, in the catalogue's order: [[step]] scene = {without}"
    assert order == list(catalogue.NAMES)
    for step in steps:
        assert 8 <= len(step.caption) <= 90 and step.notes
    assert sum(bool(step.question) for step in steps) >= 8


@pytest.mark.parametrize("number", NUMBERS)
def test_every_step_can_be_set_up_and_its_question_answered(steps, number):
    step = steps[number - 1]
    scene = catalogue.scene_class(step.scene)()
    step.set_up(scene)
    if step.question:
        prediction = Prediction()
        step.put_question(prediction, scene)
        assert prediction.answer(prediction.question.answer) is True
    scene.step(0.03)
    assert scene.readings()


def test_the_keys_walk_the_steps_and_the_address_holds_them(bench, steps):
    assert bench.host.published["step"]["number"] == 1 and bench.host.published["address"] == "step=1"
    bench.receive({"do": "previous"})
    assert bench.host.published["step"]["number"] == 1
    for number, step in enumerate(steps, 1):
        told = {"number": number, "count": len(steps), "caption": step.caption, "title": bench.lesson.title, "page": None}
        assert bench.host.published["step"] == told and bench.host.published["address"] == f"step={number}"
        assert bench.scene.name == step.scene and bench.running is not step.hold
        assert bool(bench.prediction.waiting) == bool(step.question)
        assert step.question or bench.answers_shown is step.answers
        assert bench.scene.view == (step.view or bench.scene.views[0].name)
        if step.question in (False, True):
            wanted = {control.name: control.default for control in bench.scene.controls} | step.settings
            assert bench.scene.settings == {name: bench.scene.by_name[name].checked(value) for name, value in wanted.items()}
        if step.question:
            bench.receive({"do": "next"})
            assert bench.host.published["step"]["number"] == number, "the way on leads by the answer"
            assert bench.host.published["question"]["answer"] and bench.host.published["question"]["right"] is None
            assert bench.prediction.asked == 0
        bench.receive({"do": "next"})
    assert bench.host.published["step"]["number"] == len(steps)
    bench.receive({"do": "previous"})
    assert bench.host.published["step"]["number"] == len(steps) - 1


def test_a_page_that_is_opened_at_a_step_brings_it_back(bench, steps):
    bench.receive({"do": "open", "address": "step=7"})
    assert bench.host.published["step"]["number"] == 7
    bench.receive({"do": "set", "name": "current", "value": -3})
    bench.receive({"do": "open", "address": "step=7", "run": bench.run_word})
    bench.receive({"do": "open", "address": "step=7", "run": None})
    assert bench.scene["current"] == -3, "a page that comes back does not set the step up anew"
    for nonsense in ("step=0", "step=999", "step=x", "step=%C2%B2", "step=" + "9" * 50):
        bench.receive({"do": "open", "address": nonsense})
        assert bench.host.published["step"]["number"] == 7
        assert "The lesson has steps from 1 to" in bench.host.published["notice"]["text"]
    bench.receive({"do": "open", "address": "scene=starting"})
    assert bench.scene.name == "starting"
    bench.receive({"do": "scene", "name": "turning-field"})
    assert steps[bench.place].scene == "turning-field" != steps[bench.place - 1].scene
    bench.receive({"do": "scene", "name": "nothing"})
    assert "There is no scene" in bench.host.published["notice"]["text"]


def question_step() -> int:
    return next(place for place, step in enumerate(built_in_lesson().steps) if step.question)


def told_to(bench, role, hears=None) -> dict:
    """Everything that a page of that role is told when it is opened now."""
    sent = []
    viewer = Viewer(sent.append, bench.host.heard_by(role), role, hears=hears)
    viewer.tell(bench.host.stream, bench.host.heard_by(role), bench.host.chart, {})
    return json.loads(sent[0])


def at_caption(bench, words: str) -> None:
    """Walk on to the step whose caption begins so, each step shown for a while."""
    for _ in range(200):
        if bench.lesson.steps[bench.place].caption.startswith(words):
            return
        bench.go_to(bench.place + 1)
    raise AssertionError(words)


def settled(bench, seconds: float) -> dict[str, float]:
    """What is read when the bench has run for `seconds` of its scene's own time."""
    for _ in range(round(seconds / 0.1)):
        bench.frame(0.1 * bench.scene.slowness)
    return {reading.symbol: reading.value for reading in bench.scene.readings()}


def number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-"))


def test_what_turns_goes_on_into_the_step_that_loads_it(bench):
    at_caption(bench, "Feed it from a battery")
    before = settled(bench, 6)
    assert bench.host.chart.points
    bench.walk(1)
    assert bench.lesson.steps[bench.place].caption.startswith("Load it: it slows")
    assert bench.host.chart.points, "the curve before is gone"
    after = settled(bench, 6)
    assert (
        0 < number(after["n"]) < number(before["n"])
        and number(after["E"]) < number(before["E"])
        and number(after["I"]) > number(before["I"])
    )
    bench.go_to(bench.place)  # as a page that is opened there has it: from rest
    assert number(settled(bench, 0)["n"]) == 0


def test_the_cage_never_catches_the_field_and_slips_more_when_it_is_loaded(bench):
    at_caption(bench, "Let it go")
    slips = []
    for _ in range(2):
        for _ in range(300):
            bench.scene.step(0.02)
        slips.append(1 - bench.scene.now.moment.rotor_speed / bench.scene.now.synchronous)
        bench.walk(1)
    assert 0.002 < slips[0] < 0.02 and slips[0] < slips[1] / 5 < 0.1


def test_the_conveyor_starts_direct_but_not_in_star(bench):
    at_caption(bench, "A loaded conveyor")
    scene = bench.scene
    assert scene.starts.at_once(scene.setup.case_by("direct")).start.starts
    assert not scene.starts.at_once(scene.setup.case).start.starts
    bench.receive({"do": "next"})  # the answer
    read = settled(bench, 2)
    assert number(read["n"]) == 0 and number(read["q"]) > 1
    assert max(x for x, _ in bench.scene.plot().lines[0].points) == 5


def test_only_the_speaker_is_told_the_notes_the_next_step_and_the_answer(bench, steps):
    bench.go_to(question_step())
    step, following = steps[bench.place], steps[bench.place + 1]
    question = bench.prediction.question
    prompt = told_to(bench, "speaker", SPEAKERS_PAGE.hears)["prompt"]
    assert prompt["notes"] == step.notes and prompt["next"]["caption"] == following.caption
    assert prompt["answer"] == {"words": dict(question.choices)[question.answer], "accepted": "", "reason": question.reason}
    for role in ("bench", "class", "visitor"):
        told = json.dumps(told_to(bench, role), ensure_ascii=False)
        assert "prompt" not in json.loads(told) and "clock" not in json.loads(told)
        assert question.reason not in told and following.caption not in told
        assert not any(line and line in told for line in step.notes.splitlines())
    assert "stream" not in told_to(bench, "speaker", SPEAKERS_PAGE.hears)


def test_the_answer_for_the_speaker_follows_the_set_up(bench):
    bench.show("pushed-conductor")
    bench.receive({"do": "ask", "present": True})
    first = bench.host.published_to["speaker"]["prompt"]["answer"]["words"]
    bench.receive({"do": "reverse", "what": "current"})
    assert {first, bench.host.published_to["speaker"]["prompt"]["answer"]["words"]} == {"to the left", "to the right"}
    bench.receive({"do": "enough"})
    assert bench.host.published_to["speaker"]["prompt"]["answer"] is None


def test_revealing_shows_the_answer_and_counts_nothing(bench):
    bench.receive({"do": "reveal"})
    assert "No question is waiting" in bench.host.published["notice"]["text"]
    bench.go_to(question_step())
    bench.receive({"do": "reveal"})
    shown = bench.host.published["question"]
    assert shown["answer"] and shown["reason"] and shown["right"] is None
    assert shown["score"] == {"right": 0, "asked": 0} and bench.running and bench.answers_shown
    bench.receive({"do": "ask", "seed": 3})
    bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
    assert bench.host.published["question"]["right"] is True


@pytest.fixture
def timed():
    """A lesson, what its clock says when it is looked at after so many seconds, and what is sent."""
    now = [100.0]
    bench = LessonBench(Host(), built_in_lesson(), clock=lambda: now[0])

    def clock(seconds: float) -> tuple[bool, int, int]:
        now[0] += seconds
        for _ in range(3):
            bench.frame(0.03)
        told = bench.host.published_to["speaker"]["clock"]
        assert (told["lesson_planned"], told["planned_steps"], told["step_planned"]) == (0, 0, 0)
        return told["runs"], told["lesson"], told["step"]

    return clock, lambda do, **fields: bench.receive({"do": do, **fields})


def test_the_clock_begins_when_somebody_goes_on_and_not_with_the_program(timed):
    clock, send = timed
    assert clock(300) == (False, 0, 0), "the class is still coming in"
    send("open", address="step=1")
    send("set", name="current", value=3)
    assert clock(60) == (False, 0, 0), "a page was opened and the bench tried"
    send("next")
    assert clock(65) == (True, 65, 65)
    send("next")
    assert clock(5) == (True, 70, 5)
    send("clock")
    assert clock(2) == (True, 2, 2), "it is started again"


@pytest.mark.parametrize("request_", [{"do": "clock"}, {"do": "previous"}, {"do": "scene", "name": "starting"}])
def test_the_clock_is_started_by_a_press(timed, request_):
    clock, send = timed
    clock(30)
    send(**request_)
    assert clock(7) == (True, 7, 7)


SPOKEN_OF = {  # in a caption, and how the readings call it: our own reading of the words
    r"\bforces?\b": "force",
    r"\bvoltage": "EMF|voltage",
    r"\btorque": "torque",
    r"\bslip\b": "slip",
    r"(?<!drive the )\bcurrents?\b": "current",
    r"\b(speed(?!\.)|slows|faster)\b": "speed",
    r"\bheat\b": "heat",
    r"\bfield\b": "field|direction|force|EMF|flux|speed of the rotor|laps",
}


@pytest.fixture(scope="module")
def walked():
    """One bench for all steps."""
    return LessonBench(Host(), built_in_lesson())


@pytest.mark.parametrize("number", NUMBERS)
def test_a_step_has_in_sight_what_it_speaks_of(walked, steps, number):
    walked.go_to(number - 1)
    readings, named = walked.host.published["readings"], steps[number - 1].readings
    in_sight = [reading for reading in readings if reading["first"]]
    assert in_sight == readings[: len(in_sight)], "one that is folded away stands before one that is not"
    assert 3 <= len(in_sight) <= 5 and len(readings) - len(in_sight) != 1
    assert named, "every step says which figures matter"
    said = [reading["symbol"] or reading["words"] for reading in in_sight]
    for place, name in enumerate(named):  # a subscript as plain letters, by our own table
        plain = said[place].translate(str.maketrans("ₛₗₘᵣₑₜₐₓ₁₂₊₋", "slmretax12+−"))
        assert plain == name or plain.startswith((f"{name},", f"{name}:")), (name, said)
    for word, called in SPOKEN_OF.items():
        if re.search(word, steps[number - 1].caption, re.IGNORECASE):
            assert any(re.search(called, reading["words"]) for reading in in_sight), (steps[number - 1].caption, word, said)


def test_a_scene_shown_beside_the_lesson_has_its_usual_readings_in_sight(walked):
    walked.go_to(20)
    walked.show("cage-rotor")
    walked.show_state()
    shown = walked.host.published["readings"]
    assert [reading["symbol"] for reading in shown if reading["first"]] == ["nₛ", "n", "s", "fᵣ"]
    assert [reading["symbol"] for reading in shown] == [reading.symbol for reading in walked.scene.readings()]
