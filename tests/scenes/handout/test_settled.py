"""A machine is printed as it runs, not as it starts, however slowly it is shown; nothing of that is told before its question's answer."""

from __future__ import annotations

import asyncio
import re

import pytest

from scenes.commands.lesson import read_lesson
from scenes.handout.handout import PrintedStep, printed_steps

LESSON = """
title = "At work"
[[step]]
scene = "terminal-box"
settings = { load = 50 }
readings = ["U U", "I", "n"]
[[step]]
scene = "terminal-box"
settings = { load = 50 }
readings = ["U U"]
[[step]]
scene = "cage-rotor"
settings = { load = 100, slow = "1000" }
readings = ["n", "T", "Tl"]
[[step]]
scene = "cage-rotor"
settings = { load = 200, slow = "1000" }
go_on = true
readings = ["n", "T", "Tl"]
[[step]]
scene = "one-phase"
settings = { slow = "200" }
readings = ["n"]
[[step]]
scene = "cage-rotor"
settings = { load = 100 }
hold = true
readings = ["n"]
[[step]]
scene = "cage-rotor"
settings = { rotor = "held" }
readings = ["n"]
[[step]]
scene = "terminal-box"
settings = { by = "starter", plate = "400/690", timer = 2, slow = "20" }
readings = ["contactors closed", "I"]
[[step]]
scene = "cage-rotor"
settings = { load = 100 }
readings = ["ns", "n", "T", "Tl"]
[step.question]
text = "Why is the rotor always slower than the field?"
choices = ["without slip there is no torque", "its load is too large"]
right = 1
[[step]]
scene = "cage-rotor"
settings = { load = 300 }
readings = ["n", "Tl"]
[step.question]
text = "Does it start?"
choices = ["yes", "no"]
right = 2
[[step]]
scene = "cage-rotor"
readings = ["n", "ns"]
question = true
[[step]]
scene = "cage-rotor"
settings = { load = 100 }
[step.question]
text = "The motor runs at its rated load. Why is its rotor a little slower than the field?"
choices = ["without slip there is no torque", "its bearings brake it"]
right = 1
"""
SYNCHRONOUS = 120 * 50 / 2  # r/min, of the two poles that the cage and the single-phase motor have


@pytest.fixture(scope="module")
def steps(tmp_path_factory) -> tuple[PrintedStep, ...]:
    file = tmp_path_factory.mktemp("settled") / "lesson.toml"
    file.write_text(LESSON)
    return asyncio.run(printed_steps(read_lesson(str(file)), None))


def figures(readings) -> dict[str, float]:
    found = {one["symbol"]: re.match(r"[-−]?[\d.]+", one["value"]) for one in readings}
    return {symbol: float(figure[0].replace("−", "-")) for symbol, figure in found.items() if figure}


def test_a_motor_in_its_terminal_box_draws_what_its_plate_allows(steps):
    box, voltage = figures(steps[0].readings), 400 / 3**0.5
    plate = float(re.search(r"rated ([\d.]+) A", next(one["formula"] for one in steps[0].readings if one["symbol"] == "I"))[1])
    assert 0 < box["I"] < 0.8 * plate, "half of its load"
    assert box["U U"] == pytest.approx(voltage, rel=0.01) and 0.9 * 1500 < abs(box["n"]) < 1500


def test_it_runs_though_the_figures_in_sight_have_long_been_there(steps):
    """The voltage is that of the first instant; what is told in words is of the same motor at its speed."""
    assert 0.9 * 1500 < float(re.search(r"at (\d+) r/min", steps[1].says)[1]) < 1500


def test_a_cage_runs_as_fast_as_its_load_lets_it(steps):
    for step in steps[2:4]:
        printed = figures(step.readings)
        assert 0.8 * SYNCHRONOUS < printed["n"] < SYNCHRONOUS
        assert printed["T"] == pytest.approx(printed["Tₗ"], rel=0.01), "it speeds up or slows down no more"
    assert 0.9 * SYNCHRONOUS < figures(steps[2].readings)["n"], "the rated load"
    assert figures(steps[3].readings)["n"] < figures(steps[2].readings)["n"] - 50, "more load, less speed"
    assert 0.9 * SYNCHRONOUS < abs(figures(steps[4].readings)["n"]) < SYNCHRONOUS


def test_a_start_that_is_meant_is_printed_as_a_start(steps):
    assert figures(steps[5].readings)["n"] == 0 and figures(steps[6].readings)["n"] == 0
    closed, current = steps[7].readings[:2]
    assert "star" in closed["value"] and figures([current])["I"] > 21.2, "in star it draws more than the plate says, while it is slow"


def test_what_a_question_of_ones_own_brings_is_told_with_its_answer(steps):
    why, starts = steps[8], steps[9]
    assert why.readings == starts.readings == (), "one that stays at standstill looks no different from one that starts"
    after, stalled = figures(why.after), figures(starts.after)
    assert 0.9 * SYNCHRONOUS < after["n"] < SYNCHRONOUS and after["T"] == pytest.approx(after["Tₗ"], rel=0.01)
    assert stalled["n"] == 0 and stalled["Tₗ"] == pytest.approx(3 * after["Tₗ"], rel=0.01)


def test_before_the_scenes_own_question_is_answered_it_has_not_moved(steps):
    assert figures(steps[10].readings) == {"n": 0.0, "nₛ": SYNCHRONOUS}


def test_with_an_own_question_the_figures_stand_with_its_answer_also_where_the_step_names_none(steps):
    asked = steps[11]
    assert not asked.readings and asked.question.text.startswith("The motor runs")
    told = figures(asked.after)
    assert len(told) >= 3 and 0.9 * SYNCHRONOUS < told["n"] < SYNCHRONOUS == told["nₛ"]
