"""The moved conductor as it is drawn, read and said, against the right-hand rule and magpylib's field averaged along the rod."""

from __future__ import annotations

import math
import random
import re

import numpy as np
import pytest

from scenes import catalogue
from scenes.bench.prediction import setup_of
from scenes.scene.state import number, reached
from tests.oracle import cross, dot, emf_in, fits_hand, force_on, in_a_loop, loose_ends, seen, size, unit
from tests.scenes.oracle import magnets
from tests.scenes.oracle.conductors.test_pushed_conductor import formula_of, lead_ends, nearly
from tests.scenes.oracle.states import reading, states, view_of

LENGTH, GAP = 0.150, 0.060
WAYS = {"across": (1.0, 0.0, 0.0), "along-field": (0.0, 1.0, 0.0), "along-rod": (0.0, 0.0, 1.0)}
AMPLITUDE = {"across": 0.048, "along-field": 0.0132, "along-rod": 0.024}
REACH = {"across": 0.060, "along-field": 0.022, "along-rod": 0.040}
COPPER = 1 / 58e6  # ohm m, IEC 60028
FULL_DEFLECTION = math.radians(50)


def mean_field(settings, middle):
    sense = 1 if settings["field"] == "up" else -1
    blocks = magnets.facing_blocks(GAP, (0.070, 0.030, int(settings["depth"]) / 1000), sense * settings["strength"])
    half = np.array([0.0, 0.0, LENGTH / 2])
    return magnets.mean(blocks, middle - half, middle + half)


def own_resistance(turns: int) -> float:
    """So many wires in series, each with its share of 50 mm2 of copper in the rod and of 25 mm2 in 0.6 m of cable."""
    return COPPER * turns * (LENGTH / (50e-6 / turns) + 0.6 / (25e-6 / turns))


def assert_drawn(scene, turns: int) -> None:
    """One rod, or as many wires as turns, up to twelve."""
    shown = [number for number, each in scene.drawn.bundles.items() if each.visible]
    assert scene.drawn.rod.visible == (turns == 1) and shown == ([] if turns == 1 else [min(turns, 12)])


def test_what_is_drawn_read_and_said_of_the_moved_conductor_is_true():
    hands = loaded = 0
    for scene, data in states("moved-conductor", 0.6):
        settings, leads, (forward, up) = data["settings"], data["leads"], view_of(scene)
        sense, turns = 1 if settings["field"] == "up" else -1, round(settings["turns"])
        arrows = {arrow["letter"]: arrow for arrow in data["arrows"]}
        middle = np.array(scene.drawn.rod._place[0])  # where the rod is drawn
        field, way = mean_field(settings, middle), WAYS[settings["way"]]
        if settings["motion"] == "to-and-fro":  # displacement and speed of a sine that starts in the middle
            phase = settings["speed"] / AMPLITUDE[settings["way"]] * data["time"]
            assert middle == nearly([AMPLITUDE[settings["way"]] * math.sin(phase) * part for part in way], 1e-6)
            rate = settings["speed"] * math.cos(phase)
        else:
            rate = dot(arrows["v"]["vector"], way) if "v" in arrows else scene.state.speed  # an arrow too short to be drawn
            assert "v" in arrows or abs(rate) < 0.004
            mark = settings["place"] / 100 * REACH[settings["way"]]
            assert abs(dot(middle, way)) <= abs(mark) + 1e-6  # from the far side to where the hand is, without overshoot
            assert rate * mark >= -1e-9
        motion = tuple(rate * part for part in way)
        per_wire = dot(emf_in(motion, field), (0, 0, LENGTH))
        emf = turns * per_wire if settings["way"] == "across" else 0.0
        assert abs(turns * per_wire - emf) < 1e-7  # along the field and along itself nothing is cut

        # arrows
        if size(field) > 2e-3:
            assert arrows["B"]["vector"] == nearly(field, 1e-6) and arrows["B"]["unit"] == "T"
        if abs(rate) > 0.01:
            assert arrows["v"]["vector"] == nearly(motion, 1e-6) and arrows["v"]["unit"] == "m/s"
        if "E" in arrows:
            assert arrows["E"]["vector"] == nearly((0, 0, emf), 1e-6 * turns) and arrows["E"]["unit"] == "V"
            assert math.copysign(1, arrows["E"]["vector"][2]) == math.copysign(1, rate * sense)  # the mean field is never reversed
        else:
            assert abs(emf) < 0.06 * full_scale_of(scene)
        resistance = settings["resistance"] + own_resistance(turns)
        current = emf / resistance if settings["closed"] else 0.0
        force = tuple(turns * part for part in force_on((0, 0, current * LENGTH), field))
        if "F" in arrows:
            loaded += 1
            assert arrows["F"]["vector"] == nearly(force, 1e-6) and dot(force, motion) < 0
        else:
            assert size(force) < 0.004

        # meter: to the right where its + is the higher, on the scale that is written on it
        needle = next(each for each in data["needles"] if each["words"] == "meter V")["vector"]
        voltage = emf - current * own_resistance(turns)
        share = max(-1.08, min(1.08, voltage / full_scale_of(scene)))
        assert math.atan2(needle[0], needle[1]) == pytest.approx(share * FULL_DEFLECTION, abs=1e-3)

        # the right hand, tied to the rod
        if data["hand"]:
            hand, hands = data["hand"], hands + 1
            assert hand["which"] == "right" and fits_hand("right", hand["thumb"], hand["first"], hand["second"])
            assert dot(hand["thumb"], unit(motion)) > 0.9999 and dot(hand["first"], unit(field)) > 0.9999 and hand["second"][2] * emf > 0
            on = np.subtract(hand["on"], middle)
            assert size(cross(on, (0, 0, 1))) < 1e-9 and abs(on[2]) < LENGTH / 2
        elif abs(emf) > 1e-7:  # away near the turning points, and where it would turn round more often than one can follow
            assert (
                abs(rate) < 0.21 * settings["speed"] or math.pi * AMPLITUDE["across"] / settings["speed"] * float(settings["slow"]) < 0.71
            )

        # poles
        for letter in data["letters"]:
            if letter["text"] in ("N", "S"):
                assert letter["at"][1] * sense * (-1 if letter["text"] == "N" else 1) > GAP / 2
        assert scene.drawn.magnet._place[2] == [0.0, sense, 0.0]

        # wiring: the meter always, the resistor with its switch; + at the marked end; the flexible leads end at the rod
        assert in_a_loop(leads, "rod") and in_a_loop(leads, "meter") and in_a_loop(leads, "resistor") == settings["closed"]
        assert loose_ends(leads) <= (set() if settings["closed"] else {"switch hinge", "switch jaw"})
        assert ("rod marked end", "meter +") in {(lead["from"], lead["to"]) for lead in leads}
        first, second = scene.drawn.leads
        assert lead_ends(first)[0] == nearly(middle + [0, 0, LENGTH / 2], 1e-6)
        assert lead_ends(second)[1] == nearly(middle - [0, 0, LENGTH / 2 + 0.006], 1e-6)
        for lead, marking in ((lead_ends(first)[1], "+"), (lead_ends(second)[0], "\N{MINUS SIGN}")):
            sign = next(letter["at"] for letter in data["letters"] if letter["text"] == marking)
            assert math.dist(lead, sign) < 0.02
        assert_drawn(scene, turns)
        assert f"wires drawn side by side: {min(turns, 12)} of {turns}" in {mark["words"] for mark in data["marks"]}
        told = [letter["text"] for letter in data["letters"] if "turns" in letter["text"]]
        assert told == ([] if turns == 1 else [f"{turns} turns" + (", 12 drawn" if turns > 12 else "")])

        # figures
        assert reading(data, "E") == pytest.approx(emf * 1000, abs=(0.0051 if turns < 20 else 0.051) + 1e-4 * abs(emf) * 1000)
        assert reading(data, "B") == pytest.approx(size(field) * 1000, abs=0.051)
        assert reading(data, "l") == 150 and reading(data, "N") == turns and reading(data, "v") == pytest.approx(abs(rate), abs=0.0051)
        assert reading(data, "dΨ/dt") == pytest.approx(emf * 1000, abs=0.006 + 2e-4 * abs(emf) * 1000)
        assert reading(data, "I") == pytest.approx(current * 1000, abs=0.051 + 1e-3 * abs(current) * 1000)
        assert reading(data, "U") == pytest.approx(voltage * 1000, abs=0.006 + 1e-3 * abs(voltage) * 1000)
        assert reading(data, "F") == pytest.approx(size(force) * 1000, abs=0.006 + 1e-3 * size(force) * 1000)
        if settings["way"] == "across":
            inserted = re.search(r"= (−?\d+) × ([\d.]+) T × ([\d.]+) m × ([\d.]+) m/s = (−?[\d.]+) mV", formula_of(data, "E"))
            n, b, length, v, e = (float(x.replace("−", "-")) for x in inserted.groups())
            assert n * b * length * v * 1000 == pytest.approx(e, abs=0.006 + abs(n) * length * (5e-6 * v + 5e-4 * b) * 1000)
        else:
            assert formula_of(data, "E").endswith("cuts no flux: E = 0")
        assert formula_of(data, "B").startswith(f"it points {seen(field, forward, up)};")
        assert formula_of(data, "v") == (f"it moves {seen(motion, forward, up)}" if abs(rate) > 1e-3 else "it is at rest")

        check_sentence(data["says"], settings, motion, field, emf, forward, up)
        check_question(data["question"], settings, sense, rate, middle, forward, up)
    assert hands > 5 and loaded > 5


def full_scale_of(scene) -> float:
    """Volts, from the letters on the meter."""
    text = scene.drawn.meter.scale[2].text
    value, unit_ = text.split()
    assert scene.drawn.meter.scale[0].text == f"\N{MINUS SIGN}{text}"
    return float(value) * {"V": 1.0, "mV": 1e-3}[unit_]


def check_sentence(says, settings, motion, field, emf, forward, up):
    way = WAYS[settings["way"]]
    back = tuple(-part for part in way)
    if settings["motion"] == "to-and-fro":
        if settings["way"] != "across":
            assert (
                says.endswith("cuts no flux and generates nothing.")
                and {"along-field": "along the field", "along-rod": "along its own length"}[settings["way"]] in says
            )
            return
        there, here = (seen(emf_in(each, field), forward, up) for each in (way, back))
        assert says == (
            f"The field points {seen(field, forward, up)}. While the rod moves {seen(way, forward, up)} its EMF drives current {there}, "
            f"while it moves {seen(back, forward, up)} current {here}."
        )
    elif size(motion) < 1e-3:
        assert says == "The rod is at rest and generates nothing."
    elif settings["way"] != "across":
        assert says == f"The rod moves {seen(motion, forward, up)}, cuts no flux and generates nothing."
    else:
        assert says == (
            f"The field points {seen(field, forward, up)} and the rod moves {seen(motion, forward, up)}: its EMF drives current "
            f"{seen((0, 0, emf), forward, up)}."
        )


def check_question(question, settings, sense, rate, middle, forward, up):
    way = WAYS[settings["way"]]
    if abs(rate) > 1e-6 or settings["motion"] == "to-and-fro":
        coming = math.copysign(1, rate) if abs(rate) > 1e-6 else 1
    else:
        ahead = settings["place"] / 100 * REACH[settings["way"]] - dot(middle, way)
        coming = 0 if abs(ahead) < 1e-12 else math.copysign(1, ahead)
    motion = tuple(coming * part for part in way)
    emf = emf_in(motion, (0, sense, 0))[2]
    answer = "nowhere" if not emf else "toward you" if emf > 0 else "away from you"
    assert question["answer"] == answer
    words = {each["value"]: each["words"] for each in question["choices"]}
    assert words["toward you"] == seen((0, 0, 1), forward, up) and words["away from you"] == seen((0, 0, -1), forward, up)
    assert question["text"].startswith(f"The field points {seen((0, sense, 0), forward, up)}, ")
    assert (f"the rod moves {seen(motion, forward, up)} between the poles" if coming else "is at rest") in question["text"]
    if emf:
        assert f"the second finger then points {seen((0, 0, emf), forward, up)} (EMF and its current)" in question["reason"]


def test_what_is_revealed_is_what_was_answered_from_first_to_last():
    """After the answer the rod moves off, and all the way its EMF is that of the answer: for random questions and every place of
    the hand."""
    scene = catalogue.scene_class("moved-conductor")()
    checked = 0
    for seed in range(1, 40):
        scene.set_all(setup_of(scene, seed))
        dice = random.Random(seed)
        if seed % 2:
            scene.set_all({"place": dice.choice((-1, 1)) * dice.randint(1, 100), "depth": dice.choice(("20", "40", "60"))})
        reached(scene, 0.0)
        answer = scene.question().answer
        scene.revealed()
        for _ in range(40):
            scene.step(0.04)
            emf = number(scene.readings()[0].value)
            checked += emf != 0
            assert emf == 0 if answer == "nowhere" else emf * (1 if answer == "toward you" else -1) >= 0, (seed, answer)
    assert checked > 300


@pytest.mark.parametrize("turns", [1, 2, 3, 11, 12, 13, 100])
def test_a_wire_is_drawn_for_each_turn_up_to_twelve(turns):
    scene = catalogue.scene_class("moved-conductor")()
    scene.set_all({"turns": turns})
    reached(scene, 0.0)
    assert_drawn(scene, turns)
