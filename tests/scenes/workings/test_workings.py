"""Workings against published values, against the arithmetic that they show, and as text and JSON.

What is shown is read back: the numbers put in, taken for arithmetic, must give the result, to the rounding shown.
"""

from __future__ import annotations

import json
import math
import random
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scenes.__main__ import main
from scenes.workings import writing as workings
from scenes.workings.topics import TOPICS
from tests import printed_sums
from tests.scenes.workings.arithmetic import check_arithmetic
from tests.scenes.workings.examples import CHAPMAN, EXAMPLES, options, result, worked


@pytest.mark.parametrize("topic", EXAMPLES)
def test_the_numbers_put_in_give_the_result(topic):
    check_arithmetic(worked(topic))


def test_every_topic_has_an_example():
    assert set(EXAMPLES) == set(TOPICS)


@settings(max_examples=50, deadline=None)
@given(frequency=st.floats(5, 400), pole_pairs=st.integers(1, 24), share=st.floats(-1.5, 2.5))
def test_any_slip_is_shown_as_it_comes_out(frequency, pole_pairs, share):
    working = worked("slip", frequency=frequency, poles=2 * pole_pairs, speed=share * 60 * frequency / pole_pairs)
    check_arithmetic(working)
    # the other way to the rotor's frequency: the flux that passes a bar, p (n_s - n)
    assert result(working, "f_r") == pytest.approx(abs(frequency * (1 - share)), rel=1e-9, abs=1e-9)
    given_as_slip = worked("rotor-frequency", frequency=frequency, slip=result(working, "s", "%"))
    assert result(given_as_slip, "f_r") == pytest.approx(result(working, "f_r"), rel=1e-12)


@settings(max_examples=50, deadline=None)
@given(st.data())
def test_any_circuit_is_shown_as_it_comes_out(data):
    ohms = st.floats(0.05, 20)
    values = {name: data.draw(ohms) for name in CHAPMAN if name.endswith(("resistance", "reactance"))}
    slip = data.draw(st.sampled_from((-100, -30, -2, 0, 0.5, 3, 20, 100, 180)))
    values["magnetising_reactance"] = data.draw(st.floats(20, 200))
    check_arithmetic(worked("equivalent-circuit", **values, slip=slip))


# as text and as data


@pytest.mark.parametrize("topic", EXAMPLES)
def test_on_the_command_line_as_text_and_as_json(topic, capsys):
    assert main(["workings", topic, *options(EXAMPLES[topic])]) == 0
    text = capsys.readouterr().out
    assert main(["workings", topic, *options(EXAMPLES[topic]), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["title"] == text.splitlines()[0]
    assert " ".join(said["remark"].split()) in " ".join(text.split())
    for known in said["given"]:
        shown = " +".join(map(re.escape, (known["symbol"], known["words"], known["text"])))
        assert re.search(f"^  {shown}$", text, re.MULTILINE)
    for table in said["tables"]:
        assert f"  {table['title']}\n" in text
        for row in table["rows"]:
            assert len(row) == len(table["columns"])
            shown = [cell if isinstance(cell, str) else workings.figure(cell) for cell in row if cell is not None]
            assert re.search(r"^  " + " +".join(map(re.escape, shown)) + "$", text, re.MULTILINE), row
    for step in said["steps"]:
        results = " = ".join(each["text"] for each in step["results"])
        assert f"= {step['formula']}\n" in text and f"= {step['numbers']} = {results}\n" in text
        assert set(step) == {"words", "symbol", "formula", "numbers", "results"}
    # the signs of equality stand below each other
    assert len({line.index("=") for line in text.splitlines() if line.startswith("    ") and " = " in line}) <= 1
    assert max(map(len, text.splitlines())) <= 100


@pytest.mark.parametrize(("value", "digits", "shown"), [
    (50 / 3, 4, "16.67"), (25.0, 4, "25"), (2.99999, 4, "3.000"), (0.0, 4, "0"), (-0.0, 4, "0"), (-2.5, 4, "−2.5"),
    (12345.6, 4, "12346"), (1234567.0, 4, "1.235 × 10⁶"), (6.667e-5, 4, "6.667 × 10⁻⁵"), (1e-5, 4, "1 × 10⁻⁵"),
    (9.99999e-5, 4, "1.000 × 10⁻⁴"), (5e-324, 4, "4.941 × 10⁻³²⁴"), (1e308, 4, "1 × 10³⁰⁸"), (math.nan, 4, "–"),
    (100 / 30, 3, "3.33"), (3 - 4j, 4, "3 − j4"), (1450.25, 10, "1450.25"),
])  # fmt: skip
def test_figures_as_they_stand_on_a_board(value, digits, shown):
    assert workings.figure(value, digits) == shown


def test_random_figures_are_right_to_their_last_digit():
    draw = random.Random(3)
    for _ in range(300):
        value = draw.choice((-1, 1)) * 10 ** draw.uniform(-12, 12)
        assert printed_sums.value(workings.figure(value)) == pytest.approx(value, rel=5.1e-4)


# what cannot be


@pytest.mark.parametrize(("topic", "values", "said"), [
    ("synchronous-speed", dict(poles=3), "poles must be an even whole number"),
    ("synchronous-speed", dict(frequency=0), "frequency must be greater than 0"),
    ("slip", dict(speed=math.nan), "speed must be finite"),
    ("rotor-frequency", dict(slip=None), "slip must be given, or poles and speed instead"),
    ("rotor-frequency", dict(slip=None, poles=4), "slip must be given"),
    ("rotor-frequency", dict(poles=4, speed=1450), "slip must be given"),
    ("equivalent-circuit", dict(rotor_resistance=0), "rotor_resistance must be greater than 0"),
    ("equivalent-circuit", dict(stator_reactance=-1), "stator_reactance must be 0 or more"),
    ("equivalent-circuit", dict(voltage=-400), "voltage must be greater than 0"),
    ("equivalent-circuit", dict(slip=math.inf), "slip must be finite"),
    ("nameplate", dict(speed=1500), "speed must be below the synchronous speed of 25 rev/s"),
    ("nameplate", dict(speed=1100), "speed must be within 20% of a synchronous speed"),
    ("nameplate", dict(power=7500), "power must be less than what is drawn"),
    ("nameplate", dict(power=0.0075), "power must be at least 10% of what is drawn"),
    ("nameplate", dict(power_factor=1), "power_factor must be below 1"),
    ("nameplate", dict(voltage=0), "voltage must be greater than 0"),
    ("nameplate", dict(starting_torque=3), "starting_torque must not be above the"),
    ("run-up", dict(current=0), "current must be greater than 0"),
    ("run-up", dict(rotor_inertia=0), "rotor_inertia must be greater than 0"),
    ("run-up", dict(load_inertia=-1), "load_inertia must be 0 or more"),
    ("run-up-of-circuit", dict(load_torque=-1), "load_torque must be 0 or more"),
    ("run-up-of-circuit", dict(load="flywheel"), "load_torque must be 0 or left out for a flywheel"),
    ("run-up-of-circuit", dict(magnetising_reactance=0), "magnetising_reactance must be greater than 0"),
    ("wire-field", dict(distance=0), "distance must be greater than 0"),
    ("wire-field", dict(current=math.nan), "current must be finite"),
    ("wires-force", dict(distance=-1), "distance must be greater than 0"),
    ("wires-force", dict(other_current=math.inf), "other_current must be finite"),
    ("wires-force", dict(length=0), "length must be greater than 0"),
    ("conductor-force", dict(field=-1), "field must be 0 or more"),
    ("conductor-force", dict(angle=200), "angle must be from 0 to 180 degrees"),
    ("conductor-force", dict(length=0), "length must be greater than 0"),
    ("conductor-emf", dict(turns=1.5), "turns must be a whole number"),
    ("coil-emf", dict(winding_factor=1.1), "winding_factor must be at most 1"),
    ("coil-emf", dict(frequency=50), "frequency must be given, or poles and speed instead"),
    ("coil-emf", dict(flux=0), "flux must be greater than 0"),
])  # fmt: skip
def test_what_cannot_be_is_told_of_the_argument_and_of_the_option(topic, values, said, capsys):
    with pytest.raises(ValueError, match=f"^{re.escape(said)}"):
        worked(topic, **values)
    assert main(["workings", topic, *options(EXAMPLES[topic] | values)]) == 2
    name = said.split()[0]
    assert capsys.readouterr().err.startswith(f"thumbwise: --{name.replace('_', '-')}{said.removeprefix(name)}")


def test_a_plate_in_the_wrong_units_is_answered_in_both(capsys):
    with pytest.raises(ValueError, match=r"\(1500 r/min is 25 rev/s\)"):
        worked("nameplate", speed=1500)
    with pytest.raises(ValueError, match=r"\(0.0075 kW is 7.5 W\)"):
        worked("nameplate", power=0.0075)
    assert main(["workings", "nameplate", *options(EXAMPLES["nameplate"] | {"starting_torque": 3})]) == 2
    assert "--starting-torque must not be above the --breakdown-torque of 2.8" in capsys.readouterr().err


@pytest.mark.parametrize(("topic", "name"), [("run-up", "load"), ("nameplate", "connection")])
def test_a_word_that_is_no_choice_is_answered_with_the_choices(topic, name, capsys):
    assert main(["workings", topic, *options(EXAMPLES[topic] | {name: "triangle"})]) == 2
    said = capsys.readouterr().err
    choices = next(ask.choices for ask in TOPICS[topic].asks if ask.name == name)
    assert said.startswith(f"thumbwise: Argument --{name}: ") and all(choice in said for choice in choices)
    with pytest.raises(ValueError, match=f"^{name} must be"):
        worked(topic, **{name: "triangle"})


def test_numbers_beyond_all_numbers_are_told_in_a_sentence(capsys):
    assert main(["workings", "conductor-force", "--field", "1e200", "--current", "1e200", "--length", "1"]) == 2
    assert capsys.readouterr().err.startswith("thumbwise: These numbers give results too large or too small")


def test_leakage_that_saturates_is_worked_out():
    """By the test's own trial: the leakage that is left at the current which it lets through."""
    motor, slip = CHAPMAN, 1.0
    running = motor["rotor_resistance"] / slip + 1j * motor["rotor_reactance"]
    gap = 1 / (1 / running + 1 / (1j * motor["magnetising_reactance"]))
    current = 30.0
    for _ in range(200):
        leakage = motor["stator_reactance"] + 0.8 / (1 + current / 25.0)
        current = 460 / 3**0.5 / abs(motor["stator_resistance"] + 1j * leakage + gap)
    saturating = dict(saturable_reactance=0.8, saturation_current=25.0)
    working = worked("equivalent-circuit", slip=100, **saturating)
    assert result(working, "X1′", "Ω") == pytest.approx(leakage) and result(working, "I1", "A") == pytest.approx(current)
    assert "R1 + jX1′ + Zg" in workings.as_text(working) and "I_sat" in workings.as_text(working)
    plain = worked("run-up-of-circuit", load_inertia=0.1)
    softer = worked("run-up-of-circuit", load_inertia=0.1, **saturating)
    assert result(softer, "I_d", "A") == pytest.approx(current) and result(plain, "I_d", "A") > current


@pytest.mark.parametrize(
    "values, said",
    [
        (dict(saturable_reactance=0.8), "saturable_reactance and saturation_current must be given together"),
        (dict(saturation_current=25), "saturable_reactance and saturation_current must be given together"),
        (dict(saturable_reactance=-0.8, saturation_current=25), "saturable_reactance must be 0 or more"),
        (dict(saturable_reactance=0.8, saturation_current=0), "saturation_current must be greater than 0"),
    ],
)
def test_saturation_is_given_whole(values, said, capsys):
    with pytest.raises(ValueError, match=said) as refusal:
        worked("equivalent-circuit", **values)
    assert "\n" not in str(refusal.value)
    assert main(["workings", "equivalent-circuit", *options(EXAMPLES["equivalent-circuit"] | values)]) == 2
    assert "--saturation-current" in (shown := capsys.readouterr().err) or "--saturable-reactance must be 0 or more" in shown


def test_a_plate_that_no_motor_can_have_is_said():
    """75 kW with too much breakdown torque for its starting current (see the tests of the fit)."""
    plate = dict(power=75, speed=1482, current=131, power_factor=0.87, starting_current=5.4, starting_torque=2.1, breakdown_torque=3.1)
    for topic in ("nameplate", "run-up"):
        assert "These figures do not go together" in worked(topic, **plate).remark
