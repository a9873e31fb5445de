"""What comes from outside and is not as it should be: nothing breaks, one sentence says what is wrong, and who may only
look changes nothing. Random, but the same every time; tests/benchmarks/abuse.py does the same at length."""

from __future__ import annotations

import json
import logging
import math
import os
import random
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from physics.nameplate import Nameplate
from physics.nameplate.fit import fit_circuit
from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.bench import Bench
from scenes.bench.tally import MOST
from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from scenes.kept.writer import Writer
from scenes.lesson import lesson
from scenes.lesson.draft import Draft
from scenes.lesson.lesson_bench import SPEAKER, LessonBench
from scenes.lesson.lesson_file import LessonFile
from scenes.lesson.prepare_bench import PrepareBench
from scenes.practice.practice import Practice
from scenes.practice.practice_bench import PracticeBench
from scenes.practice.results import Results, as_csv
from scenes.scene import address
from tests import hostile
from tests.scenes.lesson.built_in_lesson import built_in_lesson
from visual.host.server import Host
from visual.host.viewers import Viewer

OURS = re.compile(r"Traceback|NoneType|<class|object at|set_int|codec|recursion|datetime\.")
LONGEST_SENTENCE = 500  # characters: a scene's controls are all named where one of them is not known


def is_a_sentence(text: str) -> None:
    assert len(text) <= LONGEST_SENTENCE and len(text.splitlines()) == 1 and text[-1] in ".?", text[:600]
    assert not OURS.search(re.sub(r"'[^']*'|\"[^\"]*\"", "", text)), text  # in quotes stands what was sent


def is_sound(bench: Bench) -> None:
    """What the pages are told is whole, every figure is finite or words, and the scene is set as it can be."""
    said = bench.host.published
    json.dumps([said, bench.host.published_to, list(bench.host.chart.points)], allow_nan=False)
    for reading in said["readings"]:
        assert not re.search(r"\b(nan|inf)\b", f"{reading['value']} {reading['formula']}"), reading
    scene = bench.scene
    assert {name: control.checked(scene[name]) for name, control in scene.by_name.items()} == scene.settings
    assert scene.view in [view.name for view in scene.views]
    if text := said.get("notice", {}).get("text"):
        is_a_sentence(text)


def state(bench: Bench) -> tuple:
    """All that a page could have changed, but for the class's own count."""
    said = {key: value for key, value in bench.host.published.items() if key != "tally"}
    scenes = {name: (scene.view, scene.settings, repr(vars(scene))) for name, scene in bench.scenes.items()}
    held = (bench.running, bench.answers_shown, bench.scene.name, repr(vars(bench.prediction)), bench.prediction._seeds.getstate())
    return json.dumps(said), scenes, held, len(bench.host.stream.commands), dict(bench.host.stream.attributes)


def page(bench: Bench, role: str) -> Viewer:
    viewer = Viewer(lambda text: None, bench.host.heard_by(role), role)
    bench.host.viewers.add(viewer)
    return viewer


@pytest.fixture(autouse=True)
def a_log_of_single_lines(caplog):
    caplog.set_level(logging.WARNING)
    yield
    for record in caplog.records:
        assert record.levelno < logging.ERROR and not record.exc_info
        assert len(record.getMessage().splitlines()) == 1 and len(record.getMessage()) < 300


def besieged(bench: Bench, viewers: list[Viewer], count: int, seed: int, scenes: tuple[str, ...] = catalogue.NAMES) -> None:
    """So many messages from those pages through the door that the socket uses, and pictures in between."""
    dice = random.Random(seed)
    sender = hostile.Sender(dice, scenes)
    for number in range(count):
        bench.host.receive(dice.choice(viewers), sender.text(bench))
        if number % 4 == 0:
            bench.frame(dice.choice((0.001, 0.03, 0.1)))
            bench.host.flush()
            for viewer in viewers:
                viewer.ready = True
        is_sound(bench)


def test_whatever_a_page_sends_the_bench_stays_sound_and_does_not_grow():
    bench = Bench(Host())
    for name in catalogue.NAMES:
        bench.show(name)
    bench.host.flush()
    made, names = len(bench.host.stream.commands), len(bench.host.stream.names)
    besieged(bench, [page(bench, "bench")], 400, 1)
    assert (len(bench.host.stream.commands), len(bench.host.stream.names)) == (made, names), "nothing is made by what is sent"
    assert len(bench.scenes) == len(catalogue.NAMES) and len(bench.host.chart.points) <= bench.host.chart.points.maxlen
    bench.host.receive(None, '{"do": "scene", "name": "pushed-conductor"}')
    bench.host.receive(None, '{"do": "set", "name": "current", "value": 5}')
    assert bench.host.published["settings"]["current"] == 5, "and it goes on"


def test_whatever_the_class_sends_nothing_changes_but_its_count():
    bench = Bench(Host())
    viewer = page(bench, "class")
    dice = random.Random(2)
    sender = hostile.Sender(dice, catalogue.NAMES)
    for name in catalogue.NAMES:
        bench.receive({"do": "scene", "name": name})
        bench.receive({"do": "ask", "seed": dice.randint(1, 9999)})
        bench.host.flush()
        before = state(bench)
        for _ in range(150):
            bench.host.receive(viewer, sender.text(bench))
        bench.host.flush()
        assert state(bench) == before
        assert bench.host.published["tally"]["answered"] <= MOST and bench.host.published["tally"]["counts"] is None


def test_a_crowd_that_answers_without_end_is_counted_up_to_a_bound():
    bench = Bench(Host(), "pushed-conductor")
    bench.receive({"do": "ask", "seed": 7})
    choice = bench.prediction.question.choices[0][0]
    for number in range(MOST + 200):
        one = page(bench, "class")
        one.visitor, one.address = f"visitor {number}", f"192.0.2.{number % 9}"
        bench.host.receive(one, json.dumps({"do": "answer", "choice": choice}))
    assert bench.host.published["tally"]["answered"] == MOST


def test_whatever_a_visitor_sends_the_exhibit_goes_on_and_forgets_it():
    bench = ExhibitBench(Host(), replace(tour_file.read(tour_file.built_in(), ""), quiet=5.0))
    besieged(bench, [page(bench, "visitor"), page(bench, "status")], 250, 3)
    for word in sorted(set(hostile.FIELDS) - {kind.do for kind in bench.actions} - {"ready", "alive"}):
        before = state(bench)
        bench.receive({"do": word, "name": catalogue.NAMES[0], "value": 1, "on": False, "address": "scene=starting", "shown": False})
        assert state(bench) == before, word
    while bench.use.on:
        bench.frame(0.1)
    assert bench.running and bench.prediction.question is None and bench.failures == 0
    assert bench.scene.settings == bench.scene.defaults | bench.stop.settings


def test_whatever_page_and_speaker_send_in_a_lesson_it_can_go_on():
    bench = LessonBench(Host(), built_in_lesson())
    besieged(bench, [page(bench, "bench"), page(bench, SPEAKER)], 200, 4)
    bench.receive({"do": "open", "address": "step=3"})
    assert bench.host.published["step"]["number"] == 3


def test_whatever_is_sent_while_a_lesson_is_made_its_file_can_be_opened(tmp_path):
    mine = tmp_path / "mine.toml"
    mine.write_text('# mine\n\n[[step]]\nscene = "pushed-conductor"\n\n[[step]]\ntitle = "A page"\n')
    with LessonFile(mine) as file:
        bench = PrepareBench(Host(), Draft(file.read(), "mine.toml", file.pictures), file, opened=True)
        besieged(bench, [page(bench, "bench"), page(bench, SPEAKER)], 400, 6, ("pushed-conductor", "moved-conductor"))
        assert bench.draft.can_undo
        bench.receive({"do": "prepare", "on": True})
        bench.receive({"do": "title", "title": "It goes on"})
    kept = lesson.read(mine.read_text("utf-8"), "mine.toml", file.pictures)
    assert kept == bench.lesson and kept.title == "It goes on" and mine.read_text("utf-8").startswith("# mine\n")
    assert os.listdir(tmp_path) == ["mine.toml"]


def test_whatever_a_student_sends_his_answers_are_kept_as_answers(tmp_path):
    results = Results(tmp_path / "practice.jsonl")
    results.open()
    writer = Writer(results)
    bench = PracticeBench(Host(), Practice(results, catalogue.NAMES, random.Random(5)), writer)
    with writer:
        besieged(bench, [page(bench, "bench")], 150, 5)
    again = Results(tmp_path / "practice.jsonl")
    again.open()
    assert again.answers == results.answers and not again.told
    assert not (tmp_path / "practice.damaged-1.jsonl").exists()


def test_what_is_no_role_is_nothing_to_reverse():
    for name in catalogue.NAMES:
        scene = catalogue.scene_class(name)()
        for role in ("", "speed", "Current", "current ", "x" * 5000, "\n"):
            before = dict(scene.settings)
            with pytest.raises(ValueError) as wrong:
                scene.reverse(role)
            is_a_sentence(str(wrong.value))
            assert scene.settings == before


# addresses and settings

ODD = [
    "", "nan", "inf", "-inf", "1e400", "1e-400", "0x10", "1_0", "٣", "5" * 1000, "five", "None", "[]", "{}", "%", "%zz", "%00", "%ff%fe",
    "%F0%9F%92%A1", "+", "&", "=", ";", "#", "<b>", "on on", " 5 ", "-", "--help", "\n", "ü", "\U0001f4a1",
]  # fmt: skip


def set_up(bench: Bench) -> tuple:
    return bench.scene.name, dict(bench.scene.settings), bench.scene.view, bench.prediction.shown()


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_an_address_that_cannot_be_changes_nothing_and_is_told(name):
    bench = Bench(Host(), name)
    dice = random.Random(name)
    for odd in ODD:
        for key in (dice.choice(("view", "ask", "scene")), dice.choice(list(bench.scene.by_name))):
            before = set_up(bench)
            bench.receive({"do": "open", "address": f"scene={name}&{key}={odd}"})
            is_sound(bench)
            if bench.host.published.get("notice", {}).get("text"):
                assert set_up(bench) == before, (key, odd)


@pytest.mark.parametrize("wrong", ["view=nowhere", "ask=0", "ask=99999", "current=99", "current=nan", "scene=nothing"])
def test_of_an_address_with_one_thing_wrong_nothing_is_done(wrong):
    bench = Bench(Host(), "moved-conductor")
    before = set_up(bench)
    bench.receive({"do": "open", "address": f"scene=pushed-conductor&tilt=30&current=3&{wrong}"})
    is_a_sentence(bench.host.published["notice"]["text"])
    assert set_up(bench) == before


@settings(max_examples=100, deadline=None, derandomize=True)
@example("scene=" + "s" * 3000)
@example("&=;%+" * 600)
@given(st.one_of(st.text(max_size=100), st.text(alphabet="scenasktilt=&%+;0123456789", max_size=300)))
def test_an_address_is_read_or_told_what_is_wrong(query):
    try:
        scene, values, seed = address.read(query)
    except ValueError as wrong:
        is_a_sentence(str(wrong))
        return
    assert all(isinstance(text, str) for text in (scene or "", seed or "", *values, *values.values()))


def test_the_last_of_a_key_that_stands_twice_counts():
    assert address.read("scene=a&scene=b&x=1&x=2&ask=3&ask=4") == ("b", {"x": "2"}, "4")


def test_settings_from_the_command_line_are_taken_or_told(capsys):
    dice = random.Random(6)
    for _ in range(160):
        name = dice.choice(catalogue.NAMES)
        control = dice.choice(catalogue.scene_class(name).controls)
        value = dice.choice([dice.choice(ODD), str(hostile.value_of(dice, control)), hostile.mutated(dice, str(control.default))])
        pair = hostile.mutated(dice, f"{control.name}={value}") if dice.random() < 0.3 else f"{control.name}={value}"
        status = main(["ask", name, f"--set={pair}"])
        told = capsys.readouterr()
        assert status in (0, 2) and bool(told.err) == bool(status)
        if status:
            is_a_sentence(told.err.removesuffix("\n"))


# files

STEPS = lesson.built_in().split("\n[[step]]\n")
UNHEARD_OF = (
    "question = 0x" + "f" * 5000, "question = " + "9" * 5000, "settings = { tilt = 0x" + "f" * 400 + " }", "settings = { current = inf }",
    "settings = { current = 2026-01-01 }", "settings = { field = 2026-01-01T00:00:00Z }", "settings.a" + ".a" * 3000 + " = 1",
    "settings.current = " + "[" * 950 + "]" * 950, "notes = " + "[" * 5000, "view = ''", "settings = { '' = 1 }", "caption = 'a' 'b'",
    "caption = '''\n'''", 'caption = "\\u0000"', "scene = 'starting'\nscene = 'starting'", "[step]", "[[step.settings]]", "[[title]]",
    "settings.tilt.deep = 1", "settings = { tilt = 1, tilt = 2 }", "x" * 20_000 + " = 1", "\x00", "question = 1e9", "hold = 1",
)  # fmt: skip


def test_a_lesson_file_with_anything_in_it_is_read_or_told_with_its_line():
    dice = random.Random(7)
    read = 0
    for _ in range(300):
        steps = [STEPS[0], *dice.sample(STEPS[1:], dice.randint(1, 3))]
        text = "\n[[step]]\n".join(steps) + (f"\n{dice.choice(UNHEARD_OF)}\n" if dice.random() < 0.4 else "")
        text = hostile.mutated(dice, text) if dice.random() < 0.7 else text
        try:
            read += bool(lesson.read(text, "mine.toml").steps)
        except lesson.LessonError as wrong:
            is_a_sentence(str(wrong))
            assert re.match(r"mine\.toml, line \d+: ", str(wrong))
    assert read > 30


@pytest.mark.parametrize("text", ["a" + ".a" * 400_000 + " = 1", "x = 1\n" * 200_000, "[" * 900_000, "# " + "x" * 2_000_000])
def test_a_lesson_file_that_would_take_minutes_is_told_at_once(text):
    with pytest.raises(lesson.LessonError) as wrong:
        lesson.read(text, "mine.toml")
    is_a_sentence(str(wrong.value))


LINE = {
    "version": 1, "when": "2026-03-09T14:05:30Z", "scene": "pushed-conductor", "seed": 12, "address": "", "question": "Which way?",
    "given": "up", "answer": "down", "right": False,
}  # fmt: skip


def test_a_results_file_with_anything_in_it_is_read_and_practice_goes_on(tmp_path):
    dice = random.Random(8)
    for number in range(60):
        file = tmp_path / f"{number}.jsonl"
        lines = []
        for _ in range(dice.randint(0, 8)):
            fields = LINE | {dice.choice(list(LINE)): hostile.nasty(dice) for _ in range(dice.randint(0, 2))}
            line = json.dumps(fields)
            lines.append(hostile.mutated(dice, line) if dice.random() < 0.4 else line)
        file.write_bytes("\n".join(lines).encode("utf-8", "surrogatepass") + dice.choice([b"", b"\n", b"\xff\n", b"\x00" * 50]))
        results = Results(file)
        results.open()
        for told in results.told:
            is_a_sentence(told.replace(str(file), "FILE"))
        Path(tmp_path / "out.csv").write_text(as_csv(results.answers), "utf-8")
        wanted = Practice(results, catalogue.NAMES, dice).next()
        assert wanted.scene in catalogue.NAMES and 1 <= wanted.seed <= 9999


@pytest.mark.parametrize("seed", [0, -5, 10_000, 10**30])
def test_a_question_that_there_never_was_does_not_come_back(tmp_path, seed):
    file = tmp_path / "practice.jsonl"
    file.write_text(json.dumps(LINE | {"seed": seed}) + "\n")
    results = Results(file)
    results.open()
    bench = PracticeBench(Host(), Practice(results, ("pushed-conductor",), random.Random(9)), Writer(results))
    for _ in range(6):
        bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
        bench.receive({"do": "ask"})
    assert bench.prediction.seed != seed and len(results.all) == 7


def test_a_spreadsheet_works_nothing_out_that_stands_in_a_results_file(tmp_path):
    file = tmp_path / "practice.jsonl"
    file.write_text(json.dumps(LINE | {"given": " =1+1", "question": "\N{FULLWIDTH COMMERCIAL AT}x", "answer": "-1"}) + "\n")
    results = Results(file)
    results.open()
    row = as_csv(results.answers).splitlines()[1]
    assert row == "2026-03-09T14:05:30Z,pushed-conductor,forward,12,'\N{FULLWIDTH COMMERCIAL AT}x,' =1+1,'-1,no,"


# nameplates

BEYOND = (0, -1, 5e-324, 1e-320, 1e-300, 1e-9, 1e9, 1e300, 1.7e308, math.nan, math.inf, -math.inf, None, "5", True, [1], 10**400, 1j)


def test_a_nameplate_of_any_numbers_is_a_motor_or_told_why_it_is_none():
    dice = random.Random(10)
    motors = fitted = 0
    for _ in range(3000):
        efficiency, power_factor, slip = dice.uniform(0.05, 1.05), dice.uniform(0.01, 1.02), 10 ** dice.uniform(-7, -0.5)
        power, voltage, frequency = 10 ** dice.uniform(-3, 9), 10 ** dice.uniform(-3, 7), 10 ** dice.uniform(-3, 5)
        plate = {
            "power": power, "line_voltage": voltage, "frequency": frequency,
            "speed": frequency / dice.choice((1, 2, 4, 50, 5000)) * (1 - slip),
            "current": power / efficiency / power_factor / voltage / math.sqrt(3), "power_factor": power_factor,
        }  # fmt: skip
        for multiple in ("starting_current", "starting_torque", "breakdown_torque"):
            if dice.random() < 0.5:
                plate[multiple] = 10 ** dice.uniform(-3, 3)
        for name in dice.sample(list(plate), dice.choice((0, 0, 0, 1, 2))):
            plate[name] = dice.choice(BEYOND)
        try:
            motor = Nameplate(**plate)
        except ValueError as wrong:
            is_a_sentence(f"{wrong}.")
            continue
        motors += 1
        assert all(math.isfinite(value) for value in (motor.torque, motor.slip, motor.efficiency, motor.losses)) and motor.poles <= 1000
        if motors % 100 == 0:
            fit = fit_circuit(motor)
            fitted += 1
            assert all(math.isfinite(each.fitted) for each in fit.comparisons) and math.isfinite(fit.loss_torque)
            is_a_sentence(fit.sentence)
    assert motors > 200 and fitted >= 2


def test_a_plate_of_any_figures_on_the_bench_leaves_a_motor_there():
    bench = Bench(Host(), "slip-and-speed")
    bench.receive({"do": "set", "name": "plate", "value": True})
    dice = random.Random(11)
    plates = [control for control in bench.scene.controls if control.name.startswith("plate-")]
    for _ in range(12):
        control = dice.choice(plates)
        bench.receive({"do": "set", "name": control.name, "value": hostile.value_of(dice, control)})
        bench.frame(0.03)
        is_sound(bench)
