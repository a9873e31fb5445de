"""The winding that is being laid, against a winder's table, phasors and ampere turns (`winder`), and the figures it tells.

Slots count clockwise looking at the drive end (the scene says so); U-V-W then turns clockwise there (IEC 60034-8).
"""

from __future__ import annotations

import cmath
import math
import random
import re

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene.described import described_plot
from scenes.scene.phases import REGIONS
from scenes.scene.state import NoPage
from tests.oracle import in_a_loop, loose_ends
from tests.scenes.oracle.machines.winder import (
    BELTS,
    coils_of,
    currents,
    emf,
    first_slot_angle,
    in_whole_degrees,
    next_coil,
    paths_of,
    planned,
    slot_turns,
    slot_turns_alone,
    stator,
    waves,
    wrong_of,
)
from tests.scenes.oracle.states import reading, states
from visual.solid.told import told

NAME = "laying-the-winding"
MIDDLE, LEFT, WIDTH = 0.02, 0.165, 0.46  # of the slots on the drawing, m
BORE, MU0 = 0.070, 1.25663706127e-6  # m; CODATA 2022


def check_field(settings, data):
    slots, poles, layers, pitch, turns = stator(settings)
    angle = 2 * math.pi * 50 * data["time"]
    now = currents(settings, angle)
    per_slot = sum(now[p] * slot_turns(settings, p) for p in "UVW")
    # on the drawing an arrow up for current toward the drive end; in the bore a dot there, at the same slot
    heads = {each["words"]: each for each in data["needles"] if each["words"].startswith("current of slot")}
    full = turns * layers * 20 / paths_of(settings)
    for slot, amperes in enumerate(per_slot):
        if data["view"] != "bore":
            head = heads.pop(f"current of slot {slot + 1}", None)
            assert (head is None) == (abs(amperes) <= 0.02 * full)
            if head:
                assert head["vector"][1] * amperes > 0
                assert head["at"][0] == pytest.approx(LEFT + WIDTH * (slot + 0.5) / slots)
    assert not heads
    # MMF on the tooth right of each slot: up by what the slot between two teeth carries toward the drive end, with zero mean
    steps = np.cumsum(per_slot)
    steps = steps - steps.mean()
    if data["view"] != "bore":
        drawn = {round(each["at"][0], 6): each["vector"][1] for each in data["arrows"] if each["letter"] == "Θ"}
        for slot, step in enumerate(steps):
            x = LEFT + WIDTH * (slot + 1 if slot < slots - 1 else slot + 0.75) / slots
            assert drawn.pop(round(x, 6), 0.0) == pytest.approx(step, abs=0.03 * max(1.0, 20 * turns * layers * pitch))
        assert not drawn
    turn = np.exp(1j * math.pi * poles * np.arange(slots) / slots)
    wave = (per_slot @ turn) / (1j * math.pi * poles / 2)
    assert reading(data, "Θ") == pytest.approx(abs(wave), abs=0.51)
    assert reading(data, "B") == pytest.approx(1000 * MU0 * poles / 2 * abs(wave) / BORE, abs=0.051)
    check_peaks(settings, data, per_slot)


def check_peaks(settings, data, per_slot):
    """The marks over the drawing and the arrow in the bore stand where the working wave drives most flux outward."""
    slots, poles, _, _, _ = stator(settings)
    around = (np.arange(7200) + 0.5) / 7200 * slots  # clockwise, in slots from slot 1
    curve = sum(amperes * (((around - slot) % slots) / slots - 0.5) * -1 for slot, amperes in enumerate(per_slot))
    wave = np.mean(curve * np.exp(-1j * math.pi * poles * around / slots))
    expected = sorted((-cmath.phase(wave) / (math.pi * poles) * slots + 2 * slots / poles * k) % slots for k in range(poles // 2))
    marks = [each for each in data["marks"] if each["words"] == "outward peak over the unrolled bore"]
    found = sorted((each["at"][0] - LEFT) / WIDTH * slots - 0.5 for each in marks)
    for one in found:
        assert min(abs((one - other + slots / 2) % slots - slots / 2) for other in expected) < 0.06
    arrows = [each["vector"] for each in data["arrows"] if each["letter"] == "B"]
    if arrows and data["view"] != "unrolled":
        # where the drawn coils enter the slots says where slot 1 stands: U's first coil as planned starts there
        ends = settings | {"laid": "all"}
        start = first_slot_angle(ends)
        for x, y, _ in arrows:
            clockwise = (start - math.degrees(math.atan2(y, x))) / 360 * slots
            assert min(abs((clockwise - other + slots / 2) % slots - slots / 2) for other in expected) < 0.06


def check_figures(settings, data):
    slots, poles, layers, pitch, _ = stator(settings)
    words = {each["words"].split(",")[0]: each["value"] for each in data["readings"]}
    coils = coils_of(settings)
    assert words["coils laid"] == f"{len(coils)} of {slots * layers // 2}"
    assert words["slots per pole and phase"] == slots / 3 / poles and words["coil pitch"] == pitch
    clockwise, other = waves(settings)
    assert (reading(data, "Θ₊"), reading(data, "Θ₋")) == pytest.approx((clockwise, other), abs=0.51)
    turns = {"clockwise": clockwise > other + 1e-6, "counter-clockwise": other > clockwise + 1e-6}
    expected = next((each for each, is_it in turns.items() if is_it), "it does not rotate")
    assert words["rotation of the field"] == expected
    wrong = wrong_of(settings)
    assert words["laid wrong"] == (" and ".join(wrong) or "no phase")
    for order, symbol in ((1, "k_w"), (5, "k_w5"), (7, "k_w7")):
        sides = np.abs(slot_turns_alone(settings, "U"))
        factor = reading(data, symbol)
        assert factor == "no coil yet" if not sides else factor == pytest.approx(abs(emf(settings, "U", order)) / sides, abs=6e-4)
    lags = [each["value"] for each in data["readings"] if each["symbol"] == "θ"]
    for (first, second), lag in zip((("U", "V"), ("V", "W")), lags, strict=True):
        ahead, behind = emf(settings, first), emf(settings, second)
        if abs(ahead) < 1e-6 or abs(behind) < 1e-6:
            assert lag == "none"
        else:
            assert abs((lag - math.degrees(cmath.phase(behind / ahead)) + 180) % 360 - 180) < 0.51
    check_words(settings, data, expected, wrong)
    if paths_of(settings) == 2 and len(coils) == slots * layers // 2:
        check_paths(settings, data)


def check_paths(settings, data):
    """Two paths of a phase: the first and the second half of its coils, in the order of the sides at the bore."""
    slots, poles, layers, pitch, turns = stator(settings)
    turn = np.exp(1j * math.pi * poles * np.arange(slots) / slots)
    whole, most = abs(emf(settings | {"laid": "all", "joined": "series"}, "U")) / 2, 0.0
    for phase in "UVW":
        sides = []
        for each, start, finish in coils_of(settings):
            if each == phase:
                forward = (finish - start) % slots == pitch
                taken = [side for side, *_ in sides]
                first = start if forward and (2 * pitch != slots or start not in taken) else finish
                if layers == 1:  # either slot may be the first: that of a belt of go sides is
                    first = start if BELTS[start // (slots // (3 * poles)) % 6][1] > 0 else finish
                sides.append((first, turns * (turn[start] - turn[finish])))
        sides.sort(key=lambda side: side[0])
        halves = [sum(value for _, value in part) for part in (sides[: len(sides) // 2], sides[len(sides) // 2 :])]
        most = max(most, abs(halves[0] - halves[1]) / whole)
    words = {each["words"]: each["value"] for each in data["readings"]}
    volts = next(value for said, value in words.items() if said.startswith("EMF round the 2 parallel paths"))
    assert volts == pytest.approx(100 * most, abs=0.51)
    # round the loop of two paths of 20 % impedance each
    assert words["current that it drives round them at rated voltage"] == pytest.approx(most / 0.4, abs=0.051)


WRONG = {
    "none": " yet;",
    "reversed": ", one coil of V laid the wrong way round;",
    "ends": ", V laid the wrong way round;",
    "early": ", V and W laid wrong;",
    "exchanged": ", V and W laid in each other's place;",
}


def check_words(settings, data, rotation, wrong):
    slots, poles, layers, _, _ = stator(settings)
    said, count, of = data["says"], len(coils_of(settings)), slots * layers // 2
    many = f"all {of} coils are" if count == of else f"{count} of {of} coils {'is' if count == 1 else 'are'}"
    assert said.startswith(f"In {slots} slots for {poles} poles {many if count else 'no coil is'} laid{WRONG.get(settings['laid'], '')}")
    assert ("wrong" in said or "each other" in said) == bool(wrong)
    coil = next_coil(settings)
    if coil:
        assert data["to_press"] == f"Press slot {coil[1] + 1}, then slot {coil[2] + 1}; or Lay next coil."
    else:
        assert bool(data["to_press"]) == bool(wrong)
    if any(wave > 1e-9 for wave in waves(settings)):
        assert (
            ("it pulsates" in said)
            if rotation == "it does not rotate"
            else (f"looking at the drive end, the field rotates {rotation}" in said)
        )
        assert ("unevenly" in said) == (rotation != "it does not rotate" and min(waves(settings)) > 1e-6 * max(waves(settings)))
    else:
        assert "no field" in said


def check_drawing(scene, settings, data):
    """Every coil lies in the bore and on the drawing in its two slots, and its leads close a loop from terminal to terminal."""
    slots, poles, layers, pitch, _ = stator(settings)
    start = first_slot_angle(settings | {"laid": "all"})
    wanted = sorted((phase, *sorted(((start - 360 * slot / slots) % 360) for slot in (a, b))) for phase, a, b in coils_of(settings))
    marks = [re.fullmatch(r"end winding of (\w) from ([\d.]+)° to ([\d.]+)°", each["words"]) for each in data["marks"]]
    drawn = sorted((found[1], *sorted(float(found[k]) for k in (2, 3))) for found in marks if found)
    if data["view"] != "unrolled":
        assert len(drawn) == len(wanted)
        for one, other in zip(in_whole_degrees(drawn), in_whole_degrees(wanted), strict=True):
            assert one == other
    flat = [re.fullmatch(r"unrolled coil of (\w) in slots (\d+) and (\d+)", each["words"]) for each in data["marks"]]
    flat = sorted((found[1], *sorted(int(found[k]) - 1 for k in (2, 3))) for found in flat if found)
    if data["view"] == "bore":
        return
    assert flat == sorted((phase, *sorted((a, b))) for phase, a, b in coils_of(settings))
    leads, carried = data["leads"], {p for p, _, _ in coils_of(settings)} if settings["current"] else set()
    for number, (phase, _, _) in enumerate(coils_of(settings), 1):
        # parallel paths make a loop of their own, with or without the supply
        assert in_a_loop(leads, f"coil {number}") == (phase in carried) or paths_of(settings) > 1
    if carried:
        assert loose_ends(leads) == set()
    texts = {each["text"] for each in data["letters"]}
    assert {f"{p}{k}" for p in {p for p, _, _ in coils_of(settings)} for k in (1, 2)} <= texts


def check_question(settings, data):
    slots, poles, layers, pitch, _ = stator(settings)
    question, coils = data["question"], coils_of(settings)
    if settings["asked"] == "slot":
        phase, start = re.search(r"A coil of (\w) starts in slot (\d+)\.", question["text"]).groups()
        back = "comes before it" in question["text"]
        expected = (int(start) - 1 + (-pitch if back else pitch)) % slots + 1
        assert (phase, int(start) - 1, expected - 1) in [coil[:3] for coil in planned(settings)]
        assert question["answer"] == str(expected) and f"to slot {expected}." in question["reason"]
    elif settings["asked"] == "start":
        phase = re.search(r"In which slot does (\w) start", question["text"])[1]
        third = 2 * slots // poles // 3
        expected = 1 + third * "UVW".index(phase)
        assert question["answer"] == str(expected)
        # no other choice is as good: a whole pole pair further is the same place
        same = [value for value in question["choices"] if (int(value["value"]) - expected) % (2 * slots // poles) == 0]
        assert len(same) == 1
    elif settings["asked"] == "wrong":
        assert question["answer"] == (" and ".join(wrong_of(settings)) or "none")
    else:
        clockwise, other = waves(settings)
        expected = (
            "none"
            if abs(clockwise - other) < 1e-6 * (clockwise + other + 1e-9)
            else "clockwise"
            if clockwise > other
            else "counter-clockwise"
        )
        assert question["answer"] == expected
    assert len(question["choices"]) >= 3 and coils is not None


def test_what_is_drawn_and_said_of_the_winding_is_true():
    seen = set()
    for scene, data in states(NAME, 0.03, count=16):
        settings = data["settings"]
        check_field(settings, data)
        check_figures(settings, data)
        check_drawing(scene, settings, data)
        check_question(settings, data)
        seen.add((settings["asked"], settings["winding"]))
    assert len(seen) >= 7


def built():
    scene = catalogue.scene_class(NAME)()
    scene.ensure_built(NoPage())
    return scene


def test_while_a_question_waits_nothing_gives_it_away():
    for scene, _ in states(NAME, 0.03, count=6):
        scene.draw(reveals_answer=False)
        seen = told(scene.drawn)
        assert not seen.arrows and not seen.needles and not [words for words, *_ in seen.marks if "pole face" in words or "dot" in words]
        assert not [text for text, *_ in seen.letters if text in ("N", "S", "B")]
        assert not [words for words, *_ in seen.marks if "peak" in words]
        said = f"{scene.says(reveals_answer=False)} {scene.to_press(reveals_answer=False)}"
        assert "rotates" not in said and "wrong" not in said and "each other" not in said and "Press slot" not in said
        assert ("Press the slot where the coil starts, then the one where it ends." in said) == bool(next_coil(scene.settings))


def test_a_bar_stands_over_its_order_and_those_of_several_phases_evenly_round_it():
    scene = built()
    for laid, of in (("phase", "U"), ("two", "UV"), ("all", "UVW")):
        scene.set_all({"stator": "24-2", "winding": "short", "laid": laid})
        curves = described_plot(scene.plot())
        assert [line["name"] for line in curves["lines"]] == list(of)
        feet = []
        for line in curves["lines"]:
            bars = [point for point in line["points"] if point[1]]
            feet.append([x for x, _ in bars])
            for order, (x, height) in zip((1, 3, 5, 7, 9, 11, 13), bars, strict=True):
                factor = abs(emf(scene.settings, line["name"], order)) / slot_turns_alone(scene.settings, line["name"])
                assert height == pytest.approx(factor, abs=6e-4) and abs(x - order) < 0.5
                # it goes up from the axis once and breaks off there: gone over twice, its dashes would fill up
                at = line["points"].index([x, height])
                assert line["points"][at - 1] == [x, 0.0] and line["points"][at + 1][1] is None
        assert np.mean(feet, axis=0) == pytest.approx([1, 3, 5, 7, 9, 11, 13]) and curves["x"]["ticks"] == [1, 3, 5, 7, 9, 11, 13]
        places = [x for line in curves["lines"] for x, _ in line["points"]]
        assert min(places) < np.min(feet) - 0.4 and max(places) > np.max(feet) + 0.4
    assert not scene.plot(reveals_answer=False).lines


def test_colours_are_those_of_the_phases_and_pale_where_another_is_looked_at():
    scene = built()
    for bold in ("all", "V"):
        scene.set_all({"bold": bold, "laid": "all", "colours": "old-british"})
        scene.draw()
        (pair,) = [pair for key, pair in scene.drawn.stators.items() if pair[0].visible and pair[1].visible]
        for part in pair:
            for slot, phase in ((0, "U"), (4, "V"), (8, "W")):
                colour = part.coils[slot].drawn.color
                wanted = REGIONS["old-british"].colours["UVW".index(phase)]
                same = (colour.x, colour.y, colour.z) == pytest.approx(wanted)
                assert same == (bold in ("all", phase))


def test_random_set_ups_ask_all_four_questions_with_more_than_one_answer():
    answers: dict[str, set] = {}
    scene = built()
    for seed in range(60):
        scene.set_all(scene.random_setup(random.Random(seed)))
        answers.setdefault(scene["asked"], set()).add(scene.question().answer)
        assert scene["laid"] in ("none", "first") or "-" in scene["laid"], "its name would say what is wrong"
        check_question(scene.settings, {"question": _as_data(scene.question())})
    assert {asked: len(found) >= 2 for asked, found in answers.items()} == dict.fromkeys(("slot", "start", "wrong", "turns"), True)


def _as_data(question) -> dict:
    return {"text": question.text, "answer": question.answer, "reason": question.reason,
            "choices": [{"value": value, "words": words} for value, words in question.choices]}  # fmt: skip
