"""The synchronous motor as it is shown and said, against the tests' own phasors, field axes and turns.

The bench's own motor: 15 kW, 400 V, 50 Hz, star; of 400 V squared over 15 kW: 3 % resistance, 90 % synchronous reactance; 0.85 T on rated
voltage; an inverter comes to 50 Hz in 2 s.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from tests.oracle import turning
from tests.scenes.oracle.on_lines import check_leads, turns_with
from tests.scenes.oracle.states import reading, states, view_of

VOLTS = 400 / math.sqrt(3)
BASE = 400**2 / 15000
R, X = 0.03 * BASE, 0.9 * BASE
B_R = "B\N{LATIN SUBSCRIPT SMALL LETTER R}"


def phasors(emf, angle):
    """Current A of a phase, the voltage at angle 0, and torque N m times rad/s, the EMF, line value V, `angle` rad behind; arrays too."""
    behind = emf / math.sqrt(3) * np.exp(-1j * angle)
    current = (VOLTS - behind) / complex(R, X)
    return current, 3 * (behind * current.conjugate()).real


def carrying(emf, power):
    """Current and angle in steady running on the stable side, by bisection; None beyond the pull-out."""
    low, high = -math.pi / 2, math.atan2(X, R)
    if phasors(emf, high)[1] < power:
        return None
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if phasors(emf, middle)[1] < power else (low, middle)
    return phasors(emf, low)[0]


def angle_of(place) -> float:
    return math.atan2(place[1], place[0])


def apart(one: float, other: float) -> float:
    return abs(math.remainder(one - other, 2 * math.pi))


def only(found):
    (one,) = found
    return one


def test_what_is_drawn_and_said_of_a_synchronous_motor_is_true():
    met = {"settled": 0, "slips": 0, "rest": 0, "leading": 0, "lagging": 0, "flashing": 0}
    for scene, data in states("synchronous-motor", 2.5, fixed=("slow", "curves")):
        settings, time = data["settings"], data["time"]
        forward, _ = view_of(scene)
        side = -1 if forward[2] > 0 else 1
        end = "the drive end" if side > 0 else "the non-drive end"
        sense, pairs = turns_with(settings["lines"]), int(settings["poles"]) // 2
        inverter = settings["start"] == "inverter"
        check_leads(data["leads"], settings["lines"], inverter)
        hertz = min(25 * time, 50.0) if inverter else 50.0
        assert reading(data, "f") == pytest.approx(hertz, abs=0.06)
        assert reading(data, "nₛ") == pytest.approx(60 * hertz / pairs, abs=0.51)
        rated = 15000 / (2 * math.pi * 50 / pairs)
        assert reading(data, "Tₗ") == pytest.approx(settings["load"] / 100 * rated, abs=0.051)

        field, own, back = _drawn(data, sense, pairs)
        _poles(data, field, own, pairs)
        # torque and current: of the flux linkages that are drawn, exact without a damper's own currents
        torque, current, emf = reading(data, "T"), reading(data, "I"), reading(data, "E")
        linkage, excitation = (math.hypot(*vector) / 0.85 * VOLTS * math.sqrt(2) / (100 * math.pi) for vector in (field, own))
        assert emf == pytest.approx(400 * math.hypot(*own) / 0.85, abs=0.51)
        if not settings["damper"] and back is not None:
            inductance = X / (100 * math.pi)
            assert torque == pytest.approx(1.5 * pairs * linkage * excitation * math.sin(back) / inductance, abs=0.06)
            across = abs(linkage * cmath.exp(1j * back) - excitation)
            assert current == pytest.approx(across / inductance / math.sqrt(2), abs=0.06)
        arrows = {arrow["letter"]: arrow for arrow in data["arrows"]}
        if "T" in arrows:
            assert arrows["T"]["vector"][2] == pytest.approx(sense * torque, abs=0.06)
        if "n" in arrows:
            assert arrows["n"]["vector"][2] == pytest.approx(sense * reading(data, "n"), abs=0.6)
        most = phasors(settings["excitation"] * 4, np.linspace(0, math.pi, 2001))[1].max() / (2 * math.pi * 50 / pairs)
        assert reading(data, "Tₘ") == pytest.approx(most if settings["excitation"] else 0, abs=0.06)
        _words(data, sense, side, end, back)
        _answer(settings, data["question"]["answer"], most / rated)
        met["rest"] += " standstill" in data["says"]
        met["slips"] += "out of step" in data["says"]
        settled = (
            not inverter
            and abs(reading(data, "n") - reading(data, "nₛ")) < 0.5
            and abs(torque - reading(data, "Tₗ")) < 0.1
            and abs(emf - settings["excitation"] * 4) < 1
        )
        if settled and emf:
            _settled(data, settings, sense, pairs, torque, field, met)
        met["leading"] += factor_of(data)[1] == "leading"
        met["lagging"] += factor_of(data)[1] == "lagging"
    assert all(met.values()), met


def factor_of(data) -> tuple[float, str]:
    """The power factor, and in words how the current stands."""
    said = only(each["value"] for each in data["readings"] if each["words"].startswith("power factor"))
    number, words = said.split(" ", 1)
    return float(number.replace("\N{MINUS SIGN}", "-")), words


def test_the_answers_are_those_of_theory_where_that_leaves_no_doubt():
    scene = next(iter(states("synchronous-motor", 0.0, count=1)))[0]
    sides = []
    for seed in range(1, 61):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        most = phasors(scene["excitation"] * 4, np.linspace(0, math.pi, 501))[1].max() / 15000
        sides.append(_answer(scene.settings, scene.question().answer, most))
    assert sides.count("leading") >= 3 and sides.count("lagging") >= 3 and sides.count("out") >= 3


def _drawn(data, sense, pairs):
    """The vectors of the stator's and the rotor's field, and the electrical angle by which the one lags the other; all that is drawn
    between them."""
    fields, owns = ([arrow for arrow in data["arrows"] if arrow["letter"] == letter] for letter in ("B", B_R))
    for each in (fields, owns):
        assert len(each) in (0, pairs) and all(arrow["unit"] == "T" for arrow in each)
    field = fields[0]["vector"] if fields else (0.0, 0.0, 0.0)
    own = owns[0]["vector"] if owns else (0.0, 0.0, 0.0)
    assert reading(data, "B") == pytest.approx(math.hypot(*field), abs=6e-4) or reading(data, "B") < 0.01
    if not owns:
        assert reading(data, "δ") == "none" and not any(letter["text"].startswith("δ") for letter in data["letters"])
        return field, own, None
    if not fields:
        return field, own, None
    back = math.remainder(sense * pairs * (angle_of(field) - angle_of(own)), 2 * math.pi)
    assert apart(back, math.radians(reading(data, "δ"))) < math.radians(0.06)
    text = only(letter["text"] for letter in data["letters"] if letter["text"].startswith("δ"))
    assert float(text[2:-1].replace("\N{MINUS SIGN}", "-")) == pytest.approx(reading(data, "δ"), abs=0.56)
    arcs = [arrow for arrow in data["arrows"] if arrow["letter"] == "δ"]
    assert bool(arcs) or abs(back) / pairs < 0.021
    for arc in arcs:
        tip = next(needle for needle in data["needles"] if needle["words"] == "curved arrow: δ")["at"]
        assert min(apart(angle_of(arc["at"]), angle_of(each["vector"])) for each in fields) < 1e-6
        assert apart(pairs * angle_of(tip), pairs * angle_of(own)) < 1e-6
        assert arc["vector"][2] == pytest.approx(-sense * math.degrees(back), abs=1e-4) and arc["unit"] == "°"
    return field, own, back


def _poles(data, field, own, pairs):
    """A rotor's N pole where its field goes outward; the stator's S pole where the field goes outward into it."""
    for letter in data["letters"]:
        if letter["text"] not in ("N", "S"):
            continue
        on_rotor = math.hypot(*letter["at"][:2]) < 0.06
        axis = own if on_rotor else field
        out = math.cos(pairs * (angle_of(letter["at"]) - angle_of(axis)))
        assert abs(out) > 0.999 and (out > 0) == (letter["text"] == ("N" if on_rotor else "S"))
        assert (letter["colour"] == "#b4443c") == (letter["text"] == "N")
    for mark in data["marks"]:
        if mark["words"].startswith("pole face"):
            out = math.cos(pairs * (angle_of(mark["at"]) - angle_of(field)))
            assert mark["words"].endswith(" S" if out > 0 else " N")


def _words(data, sense, side, end, back):
    assert f"Looking at {end}, the field turns {turning(sense, side)}" in data["says"]
    speed, pace = reading(data, "n"), reading(data, "nₛ")
    power, (factor, stands) = reading(data, "P"), factor_of(data)
    if " standstill" in data["says"]:
        assert abs(speed) < 0.061 * 3000
    elif "out of step" in data["says"]:
        assert f"the rotor turns {turning(sense * speed, side)}" in data["says"]
    else:
        assert abs(speed - pace) < 150 and back is not None
        assert (
            f"{abs(reading(data, 'δ')):.0f}° {'behind it' if back > 0 else 'ahead of it'}" in data["says"]
            or abs(abs(reading(data, "δ")) % 1 - 0.5) < 0.06
            or abs(back) < 0.01
        )
        assert f"the current is {stands}" in data["says"]
    if abs(power) > 0.1:
        assert (factor > 0) == (power > 0)


def _settled(data, settings, sense, pairs, torque, field, met):
    met["settled"] += 1
    current = carrying(settings["excitation"] * 4, torque * 2 * math.pi * 50 / pairs)
    if current is None or abs(current) < 0.5:
        return
    assert reading(data, "I") == pytest.approx(abs(current), rel=0.01, abs=0.1)
    factor, stands = factor_of(data)
    assert factor == pytest.approx(math.cos(cmath.phase(current)), abs=0.02)
    if abs(factor) < 0.985:
        assert stands == ("leading" if current.imag > 0 else "lagging")
    assert reading(data, "P") == pytest.approx(3 * VOLTS * current.real / 1000, abs=0.06)
    # the field is a quarter of a wave behind the voltage, within what the resistance makes of it
    if settings["lamp"] == "flashing":
        met["flashing"] += 1
        assert apart(pairs * angle_of(field), pairs * math.pi / 2) < 0.1
    else:
        assert apart(pairs * angle_of(field), sense * (2 * math.pi * 50 * data["time"] - math.pi / 2)) < 0.1


def _answer(settings, answer, most) -> str:
    """Where theory leaves no doubt: it is held against that, and returned."""
    load, emf = settings["load"] / 100, settings["excitation"] * 4
    if not settings["damper"] and settings["start"] == "mains":
        assert answer == "stays"
        return "out"
    if settings["start"] == "in-step" and (load > most or not emf):
        assert answer not in ("leading", "lagging")
        return "out"
    if (
        settings["damper"]
        and emf
        and (
            (settings["start"] == "in-step" and load < 0.6 * most)
            or (settings["start"] == "mains" and settings["excited"] == "near" and load <= 0.4 < 0.6 * most)
        )
    ):
        current = carrying(emf, load * 15000)
        if abs(current.imag) > 0.3:
            assert answer == ("leading" if current.imag > 0 else "lagging"), settings
            return answer
    return ""
