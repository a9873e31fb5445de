"""Typed figures against a second calculation, made of nothing but the figures in the question's own words; mistakes by their own formulae.

Formulae: textbook knowledge (memory): B = mu0 I / 2 pi r; F = B I l sin theta; F / l = mu0 I1 I2 / 2 pi d; E = N B l v; f = p n / 60;
s = (ns - n) / ns; star: U / sqrt 3, between two terminals 2 R; delta 2/3 R;
unbalance: the largest deviation from the mean over the mean; W = J omega^2 / 2; T = P / omega;
star-delta and transformer: torque by the square of the voltage.
"""

from __future__ import annotations

import math
import re

import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.questions.mistakes import mistake_in, told
from tests import printed_sums
from tests.scenes.questions.drawn import Put, by_hand, drawn, of_kind
from visual.host.server import Host

PI, ROOT3 = math.pi, math.sqrt(3)


def pushed(put: Put) -> tuple[float, dict[str, float]]:
    """mN"""
    length, *rest = put.numbers
    across = "across the field" in put.question.text
    angle = 90.0 if across else rest.pop(0)
    field, current = rest
    whole = length / 1000 * field / 1000 * current * 1000
    wrong = {} if across else {"the factor sin θ left out": whole, "cosine for sine": whole * math.cos(math.radians(angle))}
    return whole * math.sin(math.radians(angle)), wrong


def field_speed(frequency: float, poles: float) -> tuple[float, dict[str, float]]:
    pairs = poles / 2
    return 60 * frequency / pairs, {
        "poles for pole pairs": 60 * frequency / poles, "minutes for seconds": frequency / pairs,
        "the number of poles left out": 60 * frequency,
    }  # fmt: skip


def slip_of(field: float, rotor: float) -> tuple[float, dict[str, float]]:
    """%"""
    return 100 * (field - rotor) / field, {
        "sum instead of difference": 100 * (field + rotor) / field,
        "rotor for field": 100 * (field - rotor) / rotor,
    }


def wires(put: Put) -> tuple[float, dict[str, float]]:
    apart, one, other = put.numbers[:3]
    right = put.numbers[3] * one * other / (2 * PI * apart)  # mN/m
    return right, {"the factor 2π left out": 2 * PI * right}


def frequency(put: Put) -> tuple[float, dict[str, float]]:
    poles, rpm = put.numbers[:2]
    return poles / 2 * rpm / 60, {
        "poles for pole pairs": poles * rpm / 60,
        "minutes for seconds": poles / 2 * rpm,
        "the number of poles left out": rpm / 60,
    }


def of_rotor(frequency_: float, slip: float) -> tuple[float, dict[str, float]]:
    return slip * frequency_, {"rotor for field": (1 - slip) * frequency_, "sum instead of difference": (1 + slip) * frequency_}


def under_load(put: Put) -> tuple[float, float, float]:
    """Synchronous speed, speed, frequency."""
    poles, hertz, rpm = put.numbers
    return 120 * hertz / poles, rpm, hertz


def slots(put: Put) -> tuple[float, dict[str, float]]:
    many, poles = put.numbers
    return 180 * poles / many, {"mechanical for electrical angle": 360 / many, "poles for pole pairs": 360 * poles / many}


def starts(put: Put) -> tuple[float, dict[str, float]]:
    """A third of a pole pair on for V, two thirds for W."""
    many, poles = put.numbers[:2]
    thirds = {"V": 1, "W": 2}[put.question.text.split("does ")[1][0]]
    right = 1 + thirds * many / (poles / 2) / 3
    return right, {"one slot out": right - 1}


def winding(put: Put) -> tuple[float, dict[str, float]]:
    (volts,) = put.numbers
    wrong = {"line for per phase": volts, "per phase for line": volts / ROOT3}
    return (volts / ROOT3 if "star" in put.question.text else volts), wrong


def ohms(put: Put) -> tuple[float, dict[str, float]]:
    one = put.numbers[0]
    star, delta = 2 * one, 2 / 3 * one
    own, other = (star, delta) if "star" in put.question.text else (delta, star)
    return own, {"one winding for all": one, "star and delta exchanged": other}


def unbalance(put: Put) -> tuple[float, dict[str, float]]:
    three = [number for number in put.numbers if number > 3]
    mean = sum(three) / 3
    return 100 * max(abs(each - mean) for each in three) / mean, {"range for deviation": 100 * (max(three) - min(three)) / mean}


def line_current(put: Put) -> tuple[float, dict[str, float]]:
    direct, *tap = put.numbers
    if not tap:
        return direct / 3, {"the second factor √3 left out": direct / ROOT3, "an effect left out": direct}
    share = tap[0] / 100
    return direct * share**2, {"the motor's current for the line's": direct * share, "an effect left out": direct}


def torque_left(put: Put) -> tuple[float, dict[str, float]]:
    direct, *tap = put.numbers
    share = tap[0] / 100 if tap else 1 / ROOT3
    return direct * share**2, {"in proportion for the square": direct * share, "an effect left out": direct}


def plugged(put: Put) -> tuple[float, dict[str, float]]:
    field, rpm = put.numbers
    right = 100 * (field + rpm) / field
    return right, {"field not reversed": 100 * (field - rpm) / field, "sum instead of difference": right + 100}


def motion(put: Put) -> tuple[float, dict[str, float]]:
    inertia, rpm = put.numbers
    right = inertia * (2 * PI * rpm / 60) ** 2 / 2 / 1000
    return right, {"the factor ½ left out": 2 * right, "minutes for seconds": inertia * (2 * PI * rpm) ** 2 / 2 / 1000}


def rated(put: Put) -> tuple[float, dict[str, float]]:
    poles, hertz, kilowatts = put.numbers
    turns = hertz / (poles / 2)
    right = kilowatts * 1000 / (2 * PI * turns)
    return right, {"minutes for seconds": kilowatts * 1000 / (2 * PI * turns * 60), "the factor 2π left out": kilowatts * 1000 / turns}


def counter(put: Put) -> tuple[float, dict[str, float]]:
    poles, hertz, rpm = put.numbers
    field = 120 * hertz / poles
    own = 100 * (field - rpm) / field
    return 100 * (field + rpm) / field, {"the other field": own, "sum instead of difference": 200 + own}


def emf(wires_: float, millimetres: float, speed: float, millitesla: float) -> tuple[float, dict[str, float]]:
    """mV"""
    one = millimetres / 1000 * speed * millitesla
    return wires_ * one, {"the number of turns left out": one}


def in_volts(of: tuple[float, dict[str, float]]) -> tuple[float, dict[str, float]]:
    return of[0] / 1000, {name: size / 1000 for name, size in of[1].items()}


def inverter(put: Put) -> tuple[float, dict[str, float]]:
    poles, rpm = put.numbers
    return poles / 2 * rpm / 60, {"poles for pole pairs": poles * rpm / 60}


def slip_and_poles(put: Put) -> tuple[float, dict[str, float]]:
    field, rpm, _ = under_load(put)
    right, wrong = slip_of(field, rpm)
    return right, wrong | {"poles for pole pairs": 100 * (field / 2 - rpm) / (field / 2)}


FROM_ITS_WORDS = {
    ("field-round-a-wire", "figure"): lambda put: (
        1000 * put.numbers[2] * put.numbers[0] / put.numbers[1] / (2 * PI),
        {"the factor 2π left out": 1000 * put.numbers[2] * put.numbers[0] / put.numbers[1]},
    ),
    ("pushed-conductor", "figure"): pushed,
    ("two-wires", "figure"): wires,
    ("moved-conductor", "figure"): lambda put: emf(*put.numbers),
    ("coils-and-commutator", "figure"): lambda put: in_volts(emf(*put.numbers)),
    ("alternator", "figure"): frequency,
    ("turning-field", "figure"): lambda put: field_speed(put.numbers[1], put.numbers[0]),
    ("laying-the-winding", "figure"): slots,
    ("laying-the-winding", "start"): starts,
    ("cage-rotor", "slip"): lambda put: slip_of(*put.numbers),
    ("cage-rotor", "figure"): lambda put: of_rotor(put.numbers[0], put.numbers[1] / 100),
    ("slip-and-speed", "slip"): slip_and_poles,
    ("slip-and-speed", "figure"): lambda put: of_rotor(under_load(put)[2], 1 - under_load(put)[1] / under_load(put)[0]),
    ("changing-speed", "figure"): lambda put: field_speed(put.numbers[1], put.numbers[0]),
    ("changing-speed", "frequency"): inverter,
    ("synchronous-motor", "figure"): lambda put: field_speed(put.numbers[1], put.numbers[0]),
    ("synchronous-motor", "torque"): rated,
    ("terminal-box", "figure"): winding,
    ("instruments", "figure"): ohms,
    ("instruments", "unbalance"): unbalance,
    ("one-phase", "figure"): counter,
    ("starting", "figure"): line_current,
    ("starting", "torque"): torque_left,
    ("braking", "figure"): plugged,
    ("braking", "energy"): motion,
}


@pytest.mark.parametrize(("scene", "kind"), FROM_ITS_WORDS)
def test_a_figure_is_what_its_own_words_give_and_each_mistake_what_it_gives(scene, kind):
    for put in of_kind(scene, kind):
        right, wrong = FROM_ITS_WORDS[scene, kind](put)
        question = put.question
        # what is told is all there is to work with: it gives just what is held to be right
        assert question.figure.size == pytest.approx(right, rel=1e-9), question.text
        named = {name for _, name in question.figure.slips} - {"unit prefix"}
        told_apart = {name for name, size in wrong.items() if size > 0 and abs(size - right) > 1.2 * question.figure.tolerance * right}
        assert told_apart <= named <= set(wrong), question.text
        for name in told_apart:
            given = question.taken(f"{wrong[name]:.6g} {question.figure.unit}")
            others = [
                each
                for each, size in wrong.items()
                if each != name and abs(size - wrong[name]) <= 2 * question.figure.tolerance * abs(size)
            ]
            assert not question.is_right(given) and name in question.may_be(given)
            assert others or mistake_in(question, given) == name and told(name), (question.text, given)


@pytest.mark.parametrize(("scene", "kind"), FROM_ITS_WORDS)
def test_a_pocket_calculator_gives_what_the_reason_prints(scene, kind):
    """From the figures as they stand there, to the last place; and its last result is the answer."""
    for put in of_kind(scene, kind):
        reason, answer = put.question.reason, put.question.answer
        found = list(printed_sums.sums(reason))
        assert all(each.off <= 0.5 + 1e-6 for each in found), (reason, found)
        last = re.split(" = " if " = " in reason else ": ", reason)[-1]
        assert re.match(rf"{re.escape(answer.replace(' °', '°'))}(?!\w|\.\d)", last), (reason, answer)


@pytest.mark.parametrize("scene", catalogue.NAMES)
def test_so_does_every_other_reason(scene):
    for put in (*drawn(scene), *by_hand(scene)):
        for each in printed_sums.sums(put.question.reason):
            assert each.off <= printed_sums.HALF, (put.question.text, each)


def test_every_typed_kind_has_such_a_calculation():
    typed = {(scene.name, kind.name) for scene in catalogue.LESSON for kind in scene.kinds if kind.answered == "typed"}
    without = typed - set(FROM_ITS_WORDS)
    assert not without, (
        f"FROM_ITS_WORDS wants {without}: from put.numbers, those of the words, the figure and what each mistake makes of it"
    )
    assert typed == set(FROM_ITS_WORDS)


# whose figure is read only after a while, or is no reading of the scene
LATER = {
    "laying-the-winding", "slip-and-speed", "changing-speed", "synchronous-motor", "terminal-box", "instruments", "one-phase", "starting",
    "braking",
}  # fmt: skip
AT_ONCE = [each.name for each in catalogue.LESSON if each.name not in LATER and any(kind.name == "figure" for kind in each.kinds)]


@pytest.mark.parametrize("name", AT_ONCE)
def test_the_scene_is_held_at_the_instant_of_the_figure_that_was_asked_for(name):
    """Its reading stands beside the answer, and is the same."""
    bench = Bench(Host(), name)
    bench.receive({"do": "ask", "kind": "figure", "seed": 3})
    bench.receive({"do": "reveal"})
    for _ in range(24):
        bench.frame(1 / 12)
    answer = float(bench.host.published["question"]["answer"].split()[0])
    shown = [re.match(r"[-\N{MINUS SIGN}]?[\d.]+", each["value"]) for each in bench.host.published["readings"]]
    sizes = [abs(float(each[0].replace("\N{MINUS SIGN}", "-"))) for each in shown if each]
    assert any(size == pytest.approx(answer, rel=0.006) for size in sizes), f"none is {answer}: {shown}; or LATER wants {name!r}"
    assert bench.host.published["bench"]["running"] is False
    bench.receive({"do": "run", "on": True})
    assert bench.running


def test_what_shows_itself_only_later_runs_on_to_it():
    bench = Bench(Host(), "slip-and-speed")
    bench.receive({"do": "ask", "kind": "slip", "seed": 3})
    bench.receive({"do": "reveal"})
    assert bench.running
