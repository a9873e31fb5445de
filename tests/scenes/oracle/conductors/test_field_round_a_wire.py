"""The field round a wire as it is shown and said, against the tests' own grip rule, circuit and needles."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from tests.oracle import cross, dot, in_a_loop, loose_ends, seen, size, turning, unit
from tests.scenes.oracle.states import reading, states, view_of

# east, south, west, north of the wire; magnetic north lies along -z
BESIDE = {"right": (1, 0, 0), "front": (0, 0, 1), "left": (-1, 0, 0), "back": (0, 0, -1)}
QUARTER = {"right": "east of", "front": "south of", "left": "west of", "back": "north of"}
EARTH = 20e-6  # T, its level part
BATTERY_TERMINALS = {"back": -0.053, "front": -0.023}  # z of its two terminals, m
UPRIGHT = (0.0, 1.0, 0.0)


def long_wire(current, radius):
    """B = mu0 I / (2 pi r), 0.2 microtesla for each ampere at a metre (any textbook)."""
    return 2e-7 * current / radius


def test_what_is_drawn_and_said_round_the_wire_is_true():
    hands = nothing = 0
    for scene, data in states("field-round-a-wire", 2.0):
        settings, (forward, up) = data["settings"], view_of(scene)
        current = settings["current"] if settings["switch"] else 0.0
        upward, radius, place = (0.0, current, 0.0), settings["distance"] / 1000, settings["compass"]
        offset = BESIDE[place]
        round_it = cross(upward, offset)  # the way the field of an upward current goes, at every place beside the wire
        field = tuple(long_wire(1.0, radius) * part for part in round_it)
        arrows = {arrow["letter"]: arrow for arrow in data["arrows"]}

        # arrows: the current's own, the field's along the grip rule and within a fifth of a long wire's, the Earth's northward;
        # looking along the wire, a dot on its end for a current toward the eye and a cross for one away from it
        along = data["view"] == "top"
        marks = [(each["words"].split()[0], each["sign"]) for each in data["marks"]]
        assert marks == ([("dot", 1) if dot(upward, forward) < 0 else ("cross", -1)] if along and current else [])
        assert ("I" in arrows) == (bool(current) and not along)
        if current and not along:
            assert arrows["I"]["vector"] == pytest.approx(upward) and arrows["I"]["unit"] == "A"
        if current and data["view"] != "whole":
            shown = arrows["B"]["vector"]
            assert dot(unit(shown), unit(field)) > 0.97 and abs(size(shown) / size(field) - 1) < 0.21
            assert arrows["B"]["at"][::2] == pytest.approx([radius * offset[0], radius * offset[2]])
        assert ("Bₑ" in arrows) == (settings["earth"] and data["view"] != "whole")
        if "Bₑ" in arrows:
            assert arrows["Bₑ"]["vector"] == pytest.approx((0, 0, -EARTH), abs=1e-12)

        # needles: eight at their distance, and every head on a ring goes round as the grip rule has it
        needles = [each for each in data["needles"] if "compass" in each["words"]]
        assert len(needles) == 8 and all(math.hypot(each["at"][0], each["at"][2]) == pytest.approx(radius) for each in needles)
        assert all(size(each["vector"]) == pytest.approx(1) and each["vector"][1] == 0 for each in needles)
        rings = [each for each in data["needles"] if "ring" in each["words"]]
        assert bool(rings) == bool(current)
        for head in rings:
            assert dot(unit(head["vector"]), unit(cross(upward, head["at"]))) > 0.999

        # the hand on the wire: thumb with the current, finger tips along the field where they are
        if current and not along:
            hands += 1
            hand = data["hand"]
            assert hand["which"] == "right" and hand["on"][::2] == (0, 0) and dot(hand["thumb"], unit(upward)) > 0.99
        else:
            nothing += not current
            assert data["hand"] is None

        # letters
        letters = {each["text"]: each["at"] for each in data["letters"]}
        if data["view"] != "whole":
            for name, way in (("North", (0, 0, -1)), ("South", (0, 0, 1)), ("East", (1, 0, 0)), ("West", (-1, 0, 0))):
                assert dot(letters[name], way) > 0.12
        plus, minus = letters["+"][2], letters["\N{MINUS SIGN}"][2]
        # an upward current leaves the battery at the terminal from which switch and lead go to the wire's lower end
        assert (plus > minus) == (settings["current"] >= 0)
        for sign in ("+", "\N{MINUS SIGN}"):
            assert min(abs(letters[sign][2] - z) for z in BATTERY_TERMINALS.values()) < 0.002

        # wiring
        leads = data["leads"]
        ends = {frozenset((lead["from"], lead["to"])) for lead in leads if not lead["through"]}
        out, back = ("+", "\N{MINUS SIGN}") if settings["current"] >= 0 else ("\N{MINUS SIGN}", "+")
        assert ends == {
            frozenset(pair)
            for pair in ((f"battery {out}", "switch hinge"), ("switch jaw", "wire lower end"), ("wire upper end", f"battery {back}"))
        }
        assert in_a_loop(leads, "battery") == in_a_loop(leads, "wire") == settings["switch"]
        if settings["switch"]:
            assert not loose_ends(leads)

        # words and figures
        flows, points = seen(upward, forward, up), seen(field, forward, up)
        question = data["question"]
        assert question["answer"] == ("nowhere" if not current else seen(field, (0, 0, -1)))
        said_of = {choice["value"]: choice["words"] for choice in question["choices"]}
        assert said_of == {seen(way, (0, 0, -1)): seen(way, forward, up) for way in (*BESIDE.values(), (0, 0, 0))}
        assert f"{QUARTER[place]} the wire?" in question["text"]
        its_direction = next(each["value"] for each in data["readings"] if each["words"] == "its direction there")
        if current:
            sense = turning(current, 1)  # of an upward current, seen from above: counter-clockwise
            assert f"flows {flows} through the table; seen from above the field goes round the wire {sense}." in data["says"]
            assert f"flows {flows} through the table." in question["text"] and f"fingers curl {sense}," in question["reason"]
            assert f"thumb along the current, {flows}:" in question["reason"]
            assert question["reason"].endswith(f"{QUARTER[place]} the wire they point {points}.")
            assert its_direction == points
        else:
            assert "No current flows" in data["says"] and its_direction == "none"
        assert reading(data, "I") == pytest.approx(current)
        total = reading(data, "Bₜ")
        of_two = size(tuple(1e6 * (a + b) for a, b in zip(field, (0, 0, -EARTH * settings["earth"]), strict=True)))
        assert abs(total - of_two) < 0.21 * size(field) * 1e6 + 6  # leads and other needles
        formula = next(each["formula"] for each in data["readings"] if each["symbol"] == "B")
        assert f" {abs(long_wire(current, radius)) * 1e6:.1f} µT" in formula
        mine = min(needles, key=lambda each: math.dist(each["at"][::2], (radius * offset[0], radius * offset[2])))
        west = math.degrees(math.atan2(-mine["vector"][0], -mine["vector"][2]))  # of its red end, from north
        assert abs(math.remainder(reading(data, "α") - west, 360)) < 0.51
    assert hands > 3 and nothing > 0


def segment(point, start, end):
    """Biot and Savart along a straight conductor, T for each ampere, by the angles to its two ends (any textbook)."""
    along = unit(tuple(b - a for a, b in zip(start, end, strict=True)))
    from_start, from_end = (tuple(p - q for p, q in zip(point, other, strict=True)) for other in (start, end))
    across = cross(along, from_start)
    distance = size(across)
    if distance < 1e-12:
        return np.zeros(3)
    sines = dot(from_start, along) / size(from_start) - dot(from_end, along) / size(from_end)
    return 1e-7 / distance**2 * sines * np.array(across)


def test_needles_come_to_rest_in_all_that_turns_them():
    """Wire, leads as they are drawn, the Earth and the seven other needles; each needle lies along their sum, level."""
    from scenes.conductors.field_round_a_wire.scene import FieldRoundAWire
    from scenes.conductors.field_round_a_wire.snapshot import CIRCUIT
    from scenes.scene.state import as_data, reached

    scene = FieldRoundAWire()
    for settings in ({"current": 20}, {"current": -7, "distance": 45}, {"switch": False, "distance": 45}, {"current": 35, "distance": 120}):
        scene.set_all({"switch": True, "distance": 60} | settings)
        data = as_data(reached(scene, 12.0), 12.0)
        needles = [(np.array(each["at"]) * [1, 0, 1], np.array(each["vector"])) for each in data["needles"] if "compass" in each["words"]]
        current = scene["current"] * scene["switch"]
        for at, pointing in needles:
            field = current * sum(segment(tuple(at), tuple(a), tuple(b)) for a, b in zip(CIRCUIT[:-1], CIRCUIT[1:], strict=True)) + [
                0,
                0,
                -EARTH,
            ]
            for other, along in needles:
                r = at - other
                d = np.linalg.norm(r)
                if d:
                    field = field + 1e-7 * 5e-4 * (3 * r * (along @ r) / d**5 - along / d**3)
            level = field * [1, 0, 1]
            assert pointing @ level / np.linalg.norm(level) > math.cos(math.radians(1.0)), settings
        resting = re.search(r"it comes to rest at (\S+)°", next(x["formula"] for x in data["readings"] if x["symbol"] == "α"))
        along = next(along for at, along in needles if at[0] > 0 and abs(at[2]) < 1e-9)  # of the one that is read, east of the wire
        west = math.degrees(math.atan2(-along[0], -along[2]))
        assert abs(math.remainder(float(resting[1].replace("\N{MINUS SIGN}", "-")) - west, 360)) < 1.5, settings
        others = float(re.search(r"other needles' ([\d.]+) µT", next(x["formula"] for x in data["readings"] if x["symbol"] == "Bₜ"))[1])
        assert others < 0.3 * EARTH * 1e6, "they disturb each other little beside the Earth"


def test_before_the_answer_nothing_gives_it_away():
    """The picture with the question waiting is the same for both directions of the current but for what was given."""
    from scenes.conductors.field_round_a_wire.scene import FieldRoundAWire
    from scenes.scene.state import as_data, reached

    scene, seen_while_asked = FieldRoundAWire(), []
    for current in (30, -30):
        scene.set_all({"current": current})
        data = as_data(reached(scene, 3.0, reveals_answer=False), 3.0, reveals_answer=False)
        seen_while_asked.append((data["needles"], data["hand"], [each for each in data["arrows"] if each["letter"] != "I"]))
    assert seen_while_asked[0] == seen_while_asked[1] and seen_while_asked[0][1] is None
    assert [each["letter"] for each in seen_while_asked[0][2]] == ["Bₑ"]


def test_a_scene_that_was_put_away_comes_back_whole():
    """What was in sight is in sight again: compasses too, which hide case and needle together."""
    from scenes.conductors.field_round_a_wire.scene import FieldRoundAWire
    from scenes.scene.state import as_data, reached

    scene = FieldRoundAWire()
    before = as_data(reached(scene, 1.0), 1.0)
    scene.drawn.visible = False
    assert as_data(scene, 1.0)["needles"] == []
    scene.drawn.visible = True
    assert as_data(scene, 1.0) == before and len(before["needles"]) > 8
