"""Workings as lines for the board, and the inputs that the scenes give them: against handbook figures, against the readings of the
same instant, and with inputs that cannot be."""

from __future__ import annotations

import random

import pytest

from scenes import catalogue
from scenes.bench.workings import WorkingSheet
from scenes.scene.scene import Scene
from scenes.workings.board_lines import board_working
from scenes.workings.topics import TOPICS
from tests.printed_sums import value
from tests.scenes.workings.examples import EXAMPLES

CASE, PLATE = ({name: str(value) for name, value in EXAMPLES[topic].items()} for topic in ("run-up-of-circuit", "nameplate"))


def test_a_line_has_symbols_numbers_and_result():
    # four poles on 60 Hz run in a field of 1800 r/min; at 1746 r/min the slip is 3 % (the arithmetic is done here)
    working = board_working(TOPICS["slip"], {"frequency": "60", "poles": "4", "speed": "1746"})
    given, speed, slip, rotor = working.lines
    assert not working.wrong and given.numbers == "f = 60 Hz, poles = 4, n = 1746 r/min"
    assert (speed.symbols, speed.numbers, speed.result) == ("n_s = 120 f / poles", "= 120 × 60 Hz / 4", "n_s = 1800 r/min")
    assert (slip.symbols, slip.numbers) == ("s = (n_s − n) / n_s", "= (1800 − 1746) r/min / 1800 r/min")
    assert slip.result == "s = 0.03 = 3 %" and rotor.result == "f_r = 1.8 Hz"
    assert slip.hidden.result == "?" and not slip.hidden.numbers and not slip.hidden.symbols


@pytest.mark.parametrize("topic", EXAMPLES)
def test_every_step_and_every_row_is_a_line(topic):
    said, working = (
        board_working(TOPICS[topic], {name: str(value) for name, value in EXAMPLES[topic].items()}),
        TOPICS[topic].work(**EXAMPLES[topic]),
    )
    rows = [row for table in working.tables for row in table.rows]
    assert len(said.lines) == 1 + len(working.steps) + len(rows)
    for line, row in zip(said.lines[1 + len(working.steps) :], rows, strict=True):
        assert str(row[0]) in line.words and line.result


@pytest.mark.parametrize(("topic", "texts", "said"), [
    ("slip", {"frequency": "50"}, "Still to be entered: number of poles, speed of the rotor."),
    ("slip", {"frequency": "50", "poles": "4", "speed": "abc"}, "Speed of the rotor must be a number, such as 2.5, not 'abc'."),
    ("slip", {"frequency": "50", "poles": "3", "speed": "1440"}, "Number of poles must be an even whole number"),
    ("slip", {"frequency": "50", "poles": "4", "speed": "nan"}, "Speed of the rotor must be finite"),
    ("rotor-frequency", {"frequency": "50"}, "Slip must be given, or poles and speed instead."),
    ("conductor-force", {"field": "1e200", "current": "1e200", "length": "1"}, "These numbers give results too large or too small"),
    ("nameplate", PLATE | {"speed": "1500"}, "Speed at rated load must be below"),
    ("run-up-of-circuit", CASE | {"breakaway_torque": "50"}, "Torque that moves a conveyor from rest must be left out for a fan"),
    ("run-up-of-circuit", CASE | {"load": "conveyor", "breakaway_torque": "1"}, "Torque that moves a conveyor from rest must be at least"),
])  # fmt: skip
def test_what_cannot_be_is_one_clear_sentence(topic, texts, said):
    working = board_working(TOPICS[topic], texts)
    assert working.wrong.startswith(said) and working.wrong.endswith(".") and working.wrong.count(". ") == 0, working.wrong
    assert not working.lines and "_" not in working.wrong


def test_a_conveyor_that_takes_more_to_be_moved_than_the_motor_has_in_star_stays_at_rest():
    texts = CASE | {"load": "conveyor", "load_torque": "20"}
    moved, stuck = (board_working(TOPICS["run-up-of-circuit"], texts | {"breakaway_torque": each}) for each in ("21", "60"))
    star = {row.words.split(": ")[1]: row.result for row in moved.lines if "side by side" in row.words}
    left = {row.words.split(": ")[1]: row.result for row in stuck.lines if "side by side" in row.words}
    torque = float(star["star-delta"].split()[2])
    assert 21 < torque < 60  # else neither case shows anything
    assert "time" in star["star-delta"] and "time" not in left["star-delta"] and left["star-delta"].endswith("speed 0 r/min")


# from the scenes

RESULT = {  # the reading that a scene has of the same thing: topic and symbol, scene's symbol, units of one in units of the other
    ("pushed-conductor", "conductor-force", "F"): ("F", 1e3),
    ("two-wires", "wires-force", "F / l"): ("F / l", 1e3),
    ("moved-conductor", "conductor-emf", "E"): ("E", 1e3),
    ("coils-and-commutator", "conductor-emf", "E"): ("e", 1.0),
    ("alternator", "coil-emf", "E"): ("E", 1.0),
    ("turning-field", "synchronous-speed", "n_s"): ("nₛ", 1.0),
    ("cage-rotor", "slip", "s"): ("s", 1.0),
    ("cage-rotor", "rotor-frequency", "f_r"): ("fᵣ", 1.0),
    ("cage-rotor", "equivalent-circuit", "I1"): ("I₁", 1.0),
    ("slip-and-speed", "slip", "s"): ("s", 1.0),
    ("slip-and-speed", "equivalent-circuit", "T"): ("T", 1.0),
    ("slip-and-speed", "equivalent-circuit", "I1"): ("I", 1.0),
    ("changing-speed", "equivalent-circuit", "T"): ("T", 1.0),
    ("terminal-box", "synchronous-speed", "n_s"): ("nₛ", 1.0),
}
# whose readings are of something else than their workings
OTHERWISE = {
    "field-round-a-wire", "laying-the-winding", "inside-a-motor", "synchronous-motor", "instruments", "one-phase", "starting", "braking",
}  # fmt: skip


def test_of_every_scene_a_reading_is_worked_out_again():
    without = set(catalogue.NAMES) - {name for name, *_ in RESULT} - OTHERWISE
    assert not without, f"RESULT wants {without}: the reading of what a topic of its workings ends in; or OTHERWISE, if there is none"


def number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-"))


def told(scene: Scene, symbol: str) -> tuple[float, float]:
    """A reading's figure, and half of its last digit."""
    value = next(reading.value for reading in scene.readings() if reading.symbol == symbol)
    decimals = len(value.partition(".")[2])
    return number(value), 0.51 * 10**-decimals


@pytest.mark.parametrize("case", RESULT, ids=" ".join)
def test_a_scene_gives_its_workings_what_its_readings_rest_on(case):
    name, topic, symbol = case
    of_scene, times = RESULT[case]
    scene, dice, sheet = catalogue.scene_class(name)(), random.Random(4), WorkingSheet(may_wait=True)
    sheet.choose(topic, "")
    seen = 0
    for _ in range(8):
        scene.set_all(scene.random_setup(dice))
        scene.restart()
        for _ in range(3):
            scene.step(0.02)
        if topic not in scene.workings() or of_scene not in {reading.symbol for reading in scene.readings()}:
            continue
        working = sheet.shown(scene, True)
        assert not working["wrong"], working["wrong"]
        line = next(line for line in working["lines"] if line["result"].startswith(f"{symbol} = "))
        worked = value(line["result"].split(" = ")[-1].split()[0]) if " × 10" not in line["result"] else None
        if worked is None:
            continue
        shown, rounding = told(scene, of_scene)
        assert abs(times * worked) == pytest.approx(abs(shown), rel=2e-3, abs=rounding), (working["inputs"], line)
        seen += abs(shown) > rounding
    assert seen >= 2


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_every_scene_has_workings_of_its_own_and_they_can_be_worked(name):
    scene = catalogue.scene_class(name)()
    scene.step(0.05)
    assert scene.workings(), f"its readings.py wants workings(now): {{topic: inputs}}, with topics of {list(TOPICS)} or a new one"
    for topic, inputs in scene.workings().items():
        assert set(inputs) <= {ask.name for ask in TOPICS[topic].asks}
        sheet = WorkingSheet(may_wait=True)
        sheet.choose(topic, "")
        assert len(sheet.shown(scene, True)["lines"]) > 1
