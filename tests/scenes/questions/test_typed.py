"""Figures with their units, as people write them."""

from __future__ import annotations

import random
import re

import pytest

from physics.arguments import quoted
from scenes.scene.question import Question
from scenes.scene.typed import EXAMPLE, UNITS, Figure

HERTZ, MILLIAMPERES = Figure(25.0, "Hz", 0.03, ((50.0, "poles for pole pairs"),)), Figure(1.5, "mA", 0.03)


@pytest.mark.parametrize(("unit", "text", "size"), [
    ("Hz", "25 Hz", 25), ("Hz", "25hz", 25), ("Hz", "25 hertz", 25), ("Hz", "0.025 kHz", 25), ("Hz", "about 25 Hz.", 25),
    ("Hz", "25 cycles per second", 25), ("Hz", "25 per second", 25), ("Hz", "25/s", 25), ("Hz", "25 1/s", 25), ("Hz", "25 s-1", 25),
    ("Hz", "25 a second", 25), ("Hz", "25 cycles a second", 25), ("Hz", "25 cps", 25), ("Hz", "25 times per second", 25),
    ("r/min", "1500 a minute", 1500), ("r/min", "1500 per minute", 1500), ("r/min", "1500/min", 1500), ("A", "20 A", 20), ("A", "20a", 20),
    ("r/min", "750 rpm", 750), ("r/min", "1,500 r/min", 1500), ("r/min", "1 500 rev/min", 1500),
    ("r/min", "1500 revolutions per minute", 1500),
    ("r/min", "1500min-1", 1500), ("mA", "1.5 mA", 1.5), ("mA", "0.0015 A", 1.5), ("mA", "1500 µA", 1.5), ("mA", "1500 uA", 1.5),
    ("A", "1,5 A", 1.5),
    ("A", "2.5e-1 amps", 0.25), ("mN", "98.6 mN", 98.6), ("mN", "0.0986 newtons", 98.6), ("N m", "75 Nm", 75),
    ("N m", "75 N m", 75), ("N m", "75 N·m", 75),
    ("V", "0.4 kV", 400), ("V", "400 volts", 400), ("%", "5 %", 5), ("%", "5 percent", 5), ("°", "30 degrees", 30),
    ("°", "30°", 30), ("Ω", "0.83 ohm", 0.83),
    ("Ω", "830 mΩ", 0.83), ("µT", "50 µT", 50), ("µT", "0.05 millitesla", 50), ("mN/m", "8 mN/m", 8),
    ("mN/m", "0.008 N per metre", 8), ("kJ", "14.8 kJ", 14.8),
    ("kJ", "14800 J", 14.8), ("", "7", 7), ("", "slot 7", 7), ("Hz", "\N{MINUS SIGN}25 Hz", -25),
])  # fmt: skip
def test_a_figure_is_read_in_the_unit_that_is_asked_for(unit, text, size):
    assert Figure(1.0, unit, 0.03).read(text) == pytest.approx(size, rel=1e-9)


@pytest.mark.parametrize(("text", "said"), [
    ("25", "'25' has no unit: write it with its unit, such as"), ("25 V", "has the unit 'V'; what is asked for has another one"),
    ("fast", "'fast' is not a figure"), ("1/2 Hz", "'1/2 Hz' is a fraction; write 0.5 for it"), ("1/2", "is a fraction; write 0.5 for it"),
    ("3 / 4 Hz", "write 0.75 for it"), ("1/0 Hz", "write it as a decimal"),
    ("", "is not a figure"), ("25 Hzz", "has the unit 'Hzz'"), ("twenty-five Hz", "is not a figure"),
    ("25 kr/min", "has another one"), ("1e999 Hz", "too large"),
])  # fmt: skip
def test_what_is_no_figure_of_that_kind_is_refused_in_a_sentence(text, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(")) as refused:
        HERTZ.read(text)
    told = str(refused.value).replace(quoted(text), "").replace(quoted(text.partition(" ")[2]), "")
    assert not re.search(r"\bHz\b|hertz", told), "which unit it takes is a part of the answer"


def test_the_example_is_in_a_unit_that_nothing_is_asked_in():
    for unit in UNITS:
        with pytest.raises(ValueError, match="another one"):
            Figure(1.0, unit, 0.03).read(EXAMPLE)


def test_a_figure_is_judged_with_its_tolerance_and_a_mistake_by_the_same():
    assert HERTZ.holds(25.7) and HERTZ.holds(24.3) and not HERTZ.holds(26.0) and not HERTZ.holds(24.2)
    assert HERTZ.mistakes_of(50.4) == ("poles for pole pairs",) and HERTZ.mistakes_of(60.0) == ()
    assert MILLIAMPERES.written(1.5) == "1.5 mA" and Figure(1500.0, "r/min", 0.01).written(1500.0) == "1500 r/min"


@pytest.mark.parametrize("tolerance", (0.005, 0.03, 0.05))
def test_what_is_printed_as_accepted_is_accepted_and_what_is_outside_refused(tolerance):
    dice = random.Random(2)
    for size in (*(10 ** dice.uniform(-3, 5) for _ in range(300)), 60.0, 98.6, 101.4, 1500.0, 198.9, 999.9):
        figure = Figure(size, "V", tolerance)
        low, high = (float(each) for each in figure.accepted.removesuffix(" V").split(" to "))
        for text in (f"{low:.10g} V", f"{high:.10g} V", f"{size:.4g} V"):
            assert figure.holds(figure.read(text)), (figure.accepted, text)
        for outside in (low * (1 - 1e-5), high * (1 + 1e-5)):
            assert not figure.holds(outside), (figure.accepted, outside)
        share = [(size - low) / size, (high - size) / size]
        assert all(0.7 * tolerance <= each <= 1.0001 * tolerance for each in share), (figure.accepted, share)


def test_where_only_the_figure_itself_is_right_no_other_is():
    slot = Figure(7.0, "", 0.001)
    assert slot.accepted == "7" and slot.holds(7.0) and not slot.holds(7.004)


def test_a_right_answer_is_no_mistake_even_if_one_comes_as_near():
    figure = Figure(25.0, "Hz", 0.03, ((25.5, "poles for pole pairs"), (50.0, "a factor of 2")))
    typed = Question("How fast?", (), "25 Hz", "", figure=figure)
    assert typed.is_right("25.2 Hz") and typed.may_be("25.2 Hz") == ()
    assert typed.may_be("26 Hz") == ("poles for pole pairs",) and typed.may_be("50 Hz") == ("a factor of 2",)
    chosen = Question("Which?", (("up", "up"), ("down", "down")), "up", "", mistakes=(("up", ("other hand",)), ("down", ("other hand",))))
    assert chosen.may_be("up") == () and chosen.may_be("down") == ("other hand",)
