"""A motor on one phase as it is shown and said, against the tests' own phasors, fields, slots and turns.

The motors are worked out in `one_phase_motors`; both have 0.85 T at their rated points. A lamp that flashes nearly with the supply shows
one at half a cycle a second; U's axis is upward, V and W follow clockwise (IEC 60034-8), Z stands a quarter turn counter-clockwise of U.
"""

from __future__ import annotations

import cmath
import math
import re

import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from tests.oracle import cross, dot, in_a_loop, loose_ends, turning
from tests.scenes.oracle.drives.one_phase_motors import (
    FARAD,
    OMEGA,
    STRAIGHT,
    A,
    axis_of,
    capacitor,
    of_one,
    of_three,
    rated,
    signs_of,
    torque_of,
    winding_at,
)
from tests.scenes.oracle.states import reading, states, view_of

PLUS, MINUS = "\N{SUBSCRIPT PLUS SIGN}", "\N{SUBSCRIPT MINUS}"


def plain(settings: dict) -> dict:
    """The settings with the motor's one name."""
    return settings | {"motor": settings["joined" if settings["motor"] == "three" else "auxiliary"]}


def is_along(vector, degrees: float) -> float:
    return vector[0] * math.cos(math.radians(degrees)) + vector[1] * math.sin(math.radians(degrees))


def named(data, words: str):
    return next(each for each in data["readings"] if each["words"].startswith(words))


def test_what_is_drawn_and_said_on_one_phase_is_true():
    met = dict.fromkeys(("hums", "runs", "backward", "open switch", "closed switch", "tripped", "round"), 0)
    for scene, data in states("one-phase", 3.0, fixed=("slow",)):
        settings, state = plain(data["settings"]), scene.state
        side = -1 if view_of(scene)[0][2] > 0 else 1
        speed, torque_rated = state.speed, rated()[settings["motor"]][0]
        assert reading(data, "n") == pytest.approx(3000 * abs(speed), abs=0.51)
        assert reading(data, "s") == pytest.approx(100 - 100 * abs(speed), abs=0.06)
        assert reading(data, "Tₗ") == pytest.approx(settings["load"] / 100 * torque_rated, abs=0.006)
        check_circuit(data, settings, state.starting)
        if state.tripped:
            met["tripped"] += 1
            assert reading(data, "I") == reading(data, "T") == reading(data, "P") == 0 and "has tripped" in data["says"]
            continue
        starting = settings["motor"] == "start" and state.starting
        met["open switch"] += settings["motor"] == "start" and not starting
        met["closed switch"] += starting
        check_fields_and_figures(data, settings, speed, starting, state)
        check_words(data, settings, speed, side, met)
    assert all(met[name] for name in met if name not in ("tripped", "round")), met


def check_fields_and_figures(data, settings, speed, starting, state):
    three = settings["motor"] in ("star", "delta")
    if three:
        currents, lines, torque = of_three(settings["motor"], settings["open"], round(speed, 12))
        letters, line = "UVW", np.abs(lines).max()
    else:
        farad = capacitor(settings["motor"], starting)
        currents, (f, b), (e, e_back) = of_one(speed, farad, *signs_of(settings))
        parts = [2 * (volts * amperes.conjugate()).real / OMEGA for volts, amperes in ((e, f), (e_back, b))]
        torque, letters, line = parts[0] - parts[1], "UZ", abs(currents @ np.array(signs_of(settings)))
        assert reading(data, "T" + PLUS) == pytest.approx(parts[0], abs=0.006)
        assert reading(data, "T" + MINUS) == pytest.approx(-parts[1], abs=0.006)
        swing = 2 * abs(e * b - e_back * f) / OMEGA
        assert float(named(data, "swing")["value"][2:]) == pytest.approx(swing, abs=0.006)
        if data["view"] != "circuit":
            check_field_arrows(data, state, settings, e, e_back)
        if settings["motor"] == "start" and not starting:  # it opened at 0.75, with the current at nothing and the voltage at its peak
            at_opening = of_one(math.copysign(0.75, speed), FARAD["start"], *signs_of(settings))[0][1]
            kept = math.sqrt(2) * abs(at_opening) / (OMEGA * FARAD["start"])
            assert reading(data, "U C") == pytest.approx(kept, rel=0.01)
        if farad and settings["motor"] in FARAD:
            assert reading(data, "U C") == pytest.approx(abs(currents[1]) / (OMEGA * farad), abs=0.51)
            ahead = math.degrees(cmath.phase(currents[1] / currents[0]))
            assert math.cos(math.radians(reading(data, "φ") - ahead)) > 0.99985
        drawn = 230 * (currents @ np.array(signs_of(settings))).real
        assert reading(data, "P") == pytest.approx(drawn / 1000, abs=0.006)
    assert reading(data, "T") == pytest.approx(torque, abs=0.006)
    assert reading(data, "T") == pytest.approx(reading(data, "T" + PLUS) + reading(data, "T" + MINUS), abs=0.011)
    assert reading(data, "I") == pytest.approx(line, abs=0.06)
    for letter, amperes in zip(letters, currents, strict=True):
        assert reading(data, f"I {letter}") == pytest.approx(abs(amperes), abs=0.06)
    told = named(data, "power drawn")
    assert told["value"] == pytest.approx(
        sum(float(word.replace("\N{MINUS SIGN}", "-")) for word in told["formula"].split() if word[-1].isdigit()), abs=0.021
    )
    if data["view"] != "circuit":  # from near, the circuit is alone
        check_slots(data, three, currents, seen_at(settings, state.time))
        check_parts(data)


def seen_at(settings, time: float) -> complex:
    return cmath.rect(1, 2 * math.pi * time * (0.5 if settings["lamp"] == "flashing" else 50))


def check_parts(data):
    """The field is the sum of its two parts, and the path's long axis as long as both."""
    arrows = {arrow["letter"]: arrow["vector"] for arrow in data["arrows"]}
    total = np.sum([arrows.get("B" + sign, (0, 0, 0)) for sign in (PLUS, MINUS)], axis=0)
    assert np.asarray(arrows.get("B", (0, 0, 0))) == pytest.approx(total, abs=1e-6 if "B" in arrows else 2e-3)  # too short to draw
    sizes = [math.hypot(*arrows.get("B" + sign, (0, 0, 0))) for sign in (PLUS, MINUS)]
    path = next(needle for needle in data["needles"] if needle["words"].startswith("long axis"))
    longest, least = (float(word) for word in path["words"].split() if word[0].isdigit())
    assert (longest, least) == pytest.approx((sum(sizes), abs(sizes[0] - sizes[1])), abs=2e-3)
    along, across = is_along(total, angle(path["vector"])), is_along(total, angle(path["vector"]) + 90)
    if least > 0.01:
        longest, least = sum(sizes), abs(sizes[0] - sizes[1])
        assert (along / longest) ** 2 + (across / least) ** 2 == pytest.approx(1, abs=1e-3)
    else:
        assert abs(across) < 0.012


def angle(vector) -> float:
    return math.degrees(math.atan2(vector[1], vector[0]))


def check_field_arrows(data, state, settings, e, e_back):
    """Each field as its EMF has it: a quarter cycle behind that, the one clockwise from U's axis, the other counter-clockwise."""
    seen = seen_at(settings, state.time)
    whole = abs(of_one(1 - 0.034, 25e-6, 1, 1)[2][0])
    arrows = {arrow["letter"]: arrow for arrow in data["arrows"]}
    for sign, volts, way in ((PLUS, e, -1), (MINUS, e_back, 1)):
        vector = volts / 1j * seen * 0.85 / whole
        if abs(vector) < 0.005:
            continue
        arrow = arrows["B" + sign]
        turned = math.pi / 2 + way * cmath.phase(vector)
        assert arrow["unit"] == "T"
        assert arrow["vector"] == pytest.approx((abs(vector) * math.cos(turned), abs(vector) * math.sin(turned), 0), abs=1e-4)


def check_slots(data, three, currents, seen):
    """What the dots and crosses of each winding make in the middle of the bore points along its axis, or against, as its current does;
    they are as many on either side."""
    flows = dict(zip("UVW" if three else "UZ", (np.asarray(currents) * seen).real, strict=True))
    made = dict.fromkeys(flows, 0.0)
    for mark in data["marks"]:
        if "toward the drive end" in mark["words"]:
            assert mark["words"].startswith("dot" if mark["sign"] > 0 else "cross")
            letter = winding_at(mark["at"], three)
            field = cross((0, 0, mark["sign"]), [-part for part in mark["at"]])
            contribution = dot(field, (math.cos(math.radians(axis_of(letter))), math.sin(math.radians(axis_of(letter))), 0))
            assert contribution * flows[letter] > 0, (letter, mark)
            made[letter] += contribution
    largest = max(abs(each) for each in flows.values())
    for letter, flow in flows.items():
        assert bool(made[letter]) == (abs(flow) > 0) or abs(flow) < 0.5 * largest or largest < 2


def check_circuit(data, settings, starting):
    leads, motor = data["leads"], settings["motor"]
    drawn = {frozenset((lead["from"][8:], lead["to"][8:])) for lead in leads if not lead["through"]}
    if motor in ("star", "delta"):
        lost = settings["open"]
        for line, stud in STRAIGHT.items():
            assert (frozenset((line, stud)) in drawn) == (line != lost)
        for phase in "UVW":
            loop = in_a_loop(leads, f"diagram winding {phase}")
            assert loop == (not (lost == "W" and phase == "W" or lost == "L3" and motor == "star" and phase == "W")), (motor, lost, phase)
        return
    main, auxiliary = signs_of(settings)
    assert frozenset(("L", "U1" if main > 0 else "U2")) in drawn and frozenset(("N", "U2" if main > 0 else "U1")) in drawn
    assert frozenset(("N", "Z2" if auxiliary > 0 else "Z1")) in drawn
    assert in_a_loop(leads, "diagram winding U")
    closed = motor == "run" or motor == "start" and starting
    assert in_a_loop(leads, "diagram winding Z") == closed
    through = {lead["through"] for lead in leads}
    assert ("diagram capacitor" in through) == (motor in FARAD) and ("diagram switch" in through) == (motor == "start" and starting)
    assert loose_ends(leads) <= {"diagram switch 1", "diagram switch 2"}


def check_words(data, settings, speed, side, met):
    said = data["says"]
    end = "the drive end" if side > 0 else "the non-drive end"
    assert end in said
    arrows = {arrow["letter"]: arrow["vector"] for arrow in data["arrows"]}
    if speed == 0:
        met["hums"] += 1
        assert "the rotor hums at standstill" in said and "n" not in arrows
    else:
        direction = turning(-speed, side)
        met["runs"] += 1
        met["backward"] += speed < 0
        assert f"the rotor turns {direction}" in said
        if abs(speed) > 0.03 and data["view"] != "circuit":
            assert arrows["n"][2] == pytest.approx(-3000 * speed, rel=1e-3)
        assert named(data, "speed of the rotor")["formula"] == f"{direction}, looking at {end}"
    if "keeps its direction" in said:
        from_rest = torque_of(settings, 0.0, True)
        carries = abs(from_rest) > (settings["load"] / 100 + 0.02) * rated()[settings["motor"]][0]
        assert from_rest * speed < 0 and f" {turning(-from_rest, side)}, " in said.split("keeps its direction")[1]
        assert ("switch off, let it stop, start again" in said) == carries
    if data["view"] == "circuit":
        return
    sizes = {sign: math.hypot(*arrows.get("B" + sign, (0, 0, 0))) for sign in (PLUS, MINUS)}
    share = min(sizes.values()) / max(sizes.values())
    if "two equal fields" in said:
        assert share > 0.99
    elif "one field rotates, round and steady" in said:
        met["round"] += 1
        assert share < 0.03
    else:
        stronger = turning(-1 if sizes[PLUS] > sizes[MINUS] else 1, side)
        assert f"the field that turns {stronger} is the stronger" in said


STEPS = 25


def walked(settings) -> tuple[str, float]:
    """Which way it ends, from where it starts along its own torque curve until torque and load meet; and by how much of rated torque that
    was decided. A centrifugal switch opens at 0.75 and closes at 0.45."""
    motor, three = settings["motor"], settings["motor"] in ("star", "delta")
    full = rated()[motor][0]
    held = (settings["load"] / 100 + 0.02) * full
    start = settings["start"]
    sense = -1 if not three and signs_of(settings)[0] != signs_of(settings)[1] else 1
    speed = {"rest": 0.0, "clockwise": 0.2, "counter-clockwise": -0.2, "running": 0.96 * sense}[start]
    starting, margin = abs(speed) < 0.75, math.inf
    for _ in range(400):
        torque = torque_of(settings, round(speed * 25) / 25, starting)
        way = math.copysign(1, speed) if speed else math.copysign(1, torque)
        net = torque * way - held
        margin = min(margin, abs(net) / full) if abs(speed) < 0.9 else margin
        if not speed and net <= 0:
            return "none", margin
        if abs(speed) >= 0.96 and net > 0 or abs(speed) > 0.9 and net <= 0 and torque_of(settings, 0.9 * way, starting) * way > held:
            return ("clockwise" if speed > 0 else "counter-clockwise"), margin
        speed = round(speed + math.copysign(0.02, net) * way, 4)
        starting = abs(speed) < (0.75 if starting else 0.45)
    return ("clockwise" if speed > 0 else "counter-clockwise"), 0.0


def test_the_answers_are_those_of_the_torque_curves():
    scene = next(iter(states("one-phase", 0.0, count=1)))[0]
    met = {}
    for seed in range(1, 61):
        scene.set_all({control.name: control.default for control in scene.controls} | setup_of(scene, seed))
        question = scene.question()
        settings = plain(scene.settings)
        if scene["asked"] == "trips":
            check_trip(settings, question)
            met["trips"] = met.get("trips", 0) + 1
            continue
        answer, margin = walked(settings)
        if margin < 0.06:
            continue
        assert question.answer == answer, settings
        words = dict(question.choices)
        assert "clockwise" in words["clockwise"] and "counter-clockwise" in words["counter-clockwise"]
        met[answer] = met.get(answer, 0) + 1
    assert min(met.get(each, 0) for each in ("clockwise", "counter-clockwise", "none", "trips")) >= 4, met
    usual = {control.name: control.default for control in scene.controls}
    answers = []
    for load in (20.0, 50.0, 80.0, 140.0):  # borne, borne for minutes, tripped, stalled
        scene.set_all(usual | {"motor": "three", "start": "running", "load": load, "asked": "trips"})
        check_trip(plain(scene.settings), scene.question())
        answers.append(scene.question().answer)
    assert answers == ["never", "later", "later", "soon"]


@pytest.mark.parametrize("load", [50.0, 100.0])
def test_the_current_on_two_lines_is_explained_by_power_and_power_factor(load):
    """I = P / (U cos phi) instead of P / (root 3 U cos phi), at the speeds where the motor carries the load on two lines and on three."""
    scene = next(iter(states("one-phase", 0.0, count=1)))[0]
    scene.set_all({control.name: control.default for control in scene.controls} | {"motor": "three", "start": "running", "load": load})
    scene.restart()
    scene.step(3.0)
    amperes, powers = {}, {}
    for lost in ("nothing", "L3"):
        low, high = 0.9, 1.0
        for _ in range(24):
            middle = (low + high) / 2
            carries = of_three("star", lost, middle)[2] > (load / 100 + 0.02) * rated()["star"][0]
            low, high = (middle, high) if carries else (low, middle)
        windings, lines, torque = of_three("star", lost, low)
        amperes[lost] = np.abs(lines).max()
        # star: what each winding takes of the phase-to-star voltage, or both together of the voltage between two lines
        volts = [400 / math.sqrt(3) * A**-k for k in range(3)] if lost == "nothing" else [400 * cmath.rect(1, math.pi / 6), 0, 0]
        powers[lost] = abs(sum((v * i.conjugate()).real for v, i in zip(volts, windings, strict=True)))
    told = named({"readings": [vars(each) for each in scene.readings()]}, "current compared with three phases")
    assert float(told["value"]) == pytest.approx(amperes["L3"] / amperes["nothing"], abs=0.012)
    assert float(told["value"]) == pytest.approx({50.0: 1.74, 100.0: 2.05}[load], abs=0.011)
    power, factor = (float(word) for word in re.findall(r"× (\d\.\d+) for", told["formula"]))
    assert power == pytest.approx(powers["L3"] / powers["nothing"], abs=0.007)
    assert math.sqrt(3) * power * factor == pytest.approx(float(told["value"]), abs=0.02)
    scene.set("open", "nothing")
    assert not any("compared" in each.words for each in scene.readings())


def check_trip(settings, question):
    """By the currents: where it settles, and 1.05 of the setting with one of three heaters cold, else 1.15 (IEC 60947-4-1, memory)."""
    amperes = float(next(word for word in question.reason.split("draws ")[1].split()))
    share = amperes / rated()[settings["motor"]][1]
    three = settings["motor"] in ("star", "delta")
    lines = np.abs(of_three(settings["motor"], settings["open"], 0.9)[1]) if three else np.ones(3)
    bears = 1.05 if lines.min() < 0.5 * lines.max() else 1.15
    assert (question.answer == "never") == (share <= bears)
    if question.answer != "never":
        longest = 310 * math.log(share**2 / (share**2 - bears**2))
        assert question.answer == "soon" or longest > 28
