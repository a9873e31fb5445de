"""Files and nameplates that are not as they should be: each is read, or one sentence says what is wrong. Random, but the same every
time."""

from __future__ import annotations

import json
import math
import random
import re
from pathlib import Path

import pytest

from physics.nameplate import Nameplate
from physics.nameplate.fit import fit_circuit
from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.kept.writer import Writer
from scenes.lesson import lesson
from scenes.practice.practice import Practice
from scenes.practice.practice_bench import PracticeBench
from scenes.practice.results import Results, as_csv
from tests import hostile
from tests.scenes.bench.soundness import is_a_sentence, is_sound
from visual.host.server import Host

pytestmark = pytest.mark.usefixtures("a_log_of_single_lines")

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
