"""Two wires as they are shown and said, against the tests' own Biot and Savart, hands and circuits."""

from __future__ import annotations

import math

import pytest

from tests.oracle import cross, dot, fits_hand, force_on, in_a_loop, loose_ends, seen, size, told_apart, unit
from tests.scenes.oracle.states import reading, states, view_of

SIDE = {"left": -1, "right": 1}
DOWNWARD = 20e-6 * math.tan(math.radians(66))  # T, of the Earth's field; its level part lies along the wires
HANG = 0.120  # m, from the rails down to the wires
HEAD_ON = (0.0, 0.0, -1.0)
MINUS = "\N{MINUS SIGN}"


def at_middle(current, length, offset):
    """The field of a straight wire along z beside its middle, T: mu0 I / (4 pi d) * 2 sin of the angle to its end (any textbook)."""
    d = math.hypot(offset[0], offset[1])
    way = cross((0, 0, 1), (offset[0] / d, offset[1] / d, 0))
    return tuple(1e-7 * current / d * 2 * (length / 2) / math.hypot(length / 2, d) * part for part in way)


def straight(point, start, end):
    """Biot and Savart along a straight conductor, T for each ampere, by the angles to its two ends (any textbook)."""
    along = unit(tuple(b - a for a, b in zip(start, end, strict=True)))
    from_start, from_end = (tuple(p - q for p, q in zip(point, other, strict=True)) for other in (start, end))
    across = cross(along, from_start)
    distance = size(across)
    if distance < 1e-12:
        return 0.0, 0.0, 0.0
    sines = dot(from_start, along) / size(from_start) - dot(from_end, along) / size(from_end)
    return tuple(1e-7 / distance**2 * sines * part for part in across)


def between(first, second, length, d):
    """N, positive together: mu0 I1 I2 / (2 pi d) (sqrt(l^2 + d^2) - d)."""
    return 2e-7 * first * second / d * (math.hypot(length, d) - d)


def test_what_is_drawn_and_said_of_the_two_wires_is_true():
    hands = nothing = 0
    for scene, data in states("two-wires", 2.0):
        settings, (forward, up) = data["settings"], view_of(scene)
        on = settings["switch"]
        currents = {"left": settings["current"] * on, "right": settings["other"] * on}
        length, wire = settings["length"] / 1000, settings["wire"]
        other = "right" if wire == "left" else "left"
        letters = data["letters"]

        # where the wires are: end P of each carries its letter, half a wire nearer than the middle
        ends = sorted((each["at"] for each in letters if each["text"] == "P"), key=lambda at: at[0])
        assert len(ends) == 2 and all(at[2] == pytest.approx(length / 2 + 0.004, abs=1e-4) for at in ends)
        middles = {name: (at[0], at[1] + 0.012, 0.0) for name, at in zip(("left", "right"), ends, strict=True)}
        away = tuple(a - b for a, b in zip(middles[other], middles[wire], strict=True))
        d = size(away)
        assert d > 0.0119 and reading(data, "d") == pytest.approx(d * 1000, abs=0.07)

        # arrows: of each wire its current, the field there of the other, the force between them and the Earth's
        arrows = {}
        for arrow in data["arrows"]:
            side = min(SIDE, key=lambda name: abs(arrow["at"][0] - middles[name][0]))
            arrows[arrow["letter"], side] = arrow
        for name in SIDE:
            there = "right" if name == "left" else "left"
            offset = tuple(a - b for a, b in zip(middles[name], middles[there], strict=True))
            field, current = at_middle(currents[there], length, offset), (0, 0, currents[name])
            assert (("I", name) in arrows, ("B", name) in arrows) == (bool(currents[name]), size(field) * 100 > 0.0002)
            if currents[name]:
                assert arrows["I", name]["vector"] == pytest.approx(current)
            if ("B", name) in arrows:
                assert arrows["B", name]["vector"] == pytest.approx(field, rel=3e-3, abs=1e-7) and arrows["B", name]["unit"] == "T"
            push = between(currents[name], currents[there], length, d)
            if ("F", name) in arrows:
                shown = arrows["F", name]["vector"]
                assert dot(unit(shown), unit(force_on(current, field))) > 0.999
                assert size(shown) == pytest.approx(abs(push), rel=4e-3) and arrows["F", name]["unit"] == "N"
            else:
                assert abs(push) * 10 < 0.0003

        # the arrows on the field: of both wires, the leads they hang from, the way back along the rail, and the Earth
        for mark in data["needles"]:
            total = (0.0, -DOWNWARD, 0.0)
            for name in SIDE:
                hinge, (x, y, _), half = SIDE[name] * settings["spacing"] / 2000, middles[name], length / 2
                path = ((hinge, HANG, -half), (x, y, -half), (x, y, half), (hinge, HANG, half), (hinge, HANG, -half))
                for start, end in zip(path[:-1], path[1:], strict=True):
                    total = tuple(a + currents[name] * b for a, b in zip(total, straight(mark["at"], start, end), strict=True))
            level = (total[0], total[1], 0.0)
            if size(level) > 100e-6:  # where the leads on the base are little beside it
                assert dot(unit(mark["vector"]), unit(level)) > 0.8

        # hand
        here, there = currents[wire], currents[other]
        field = at_middle(there, length, tuple(-part for part in away))
        push = force_on((0, 0, here), field)
        readable = bool(here and there) and told_apart([unit(push), unit(field), (0, 0, math.copysign(1, here))], forward, up)
        assert (data["hand"] is not None) == readable
        if readable:
            hands += 1
            hand = data["hand"]
            assert hand["which"] == "left" and fits_hand("left", hand["thumb"], hand["first"], hand["second"])
            assert dot(hand["first"], unit(field)) > 0.999 and dot(hand["thumb"], unit(push)) > 0.999
            assert hand["second"][2] * here > 0.999 * abs(here)
            assert hand["on"] == pytest.approx(middles[wire], abs=2e-4)
        nothing += not (here and there)

        # wiring: each wire has its own battery and switch; a current toward end P leaves the wire there, comes back by the switch
        # and goes in at the battery's negative terminal
        leads = data["leads"]
        for name, value in (("left", settings["current"]), ("right", settings["other"])):
            drawn = {frozenset((lead["from"], lead["to"])) for lead in leads if not lead["through"] and lead["from"].startswith(name)}
            to_switch, to_q = (MINUS, "+") if value >= 0 else ("+", MINUS)
            assert drawn == {
                frozenset((f"{name} {a}", f"{name} {b}"))
                for a, b in (
                    ("wire P", "rail P"),
                    ("rail P", "post P"),
                    ("post P", "switch jaw"),
                    ("switch hinge", f"battery {to_switch}"),
                    (f"battery {to_q}", "post Q"),
                    ("post Q", "rail Q"),
                    ("rail Q", "wire Q"),
                )
            }
            for through in ("wire", "battery"):
                assert in_a_loop(leads, f"{name} {through}") == bool(currents[name])
            # the battery's front terminal, nearer to the viewer, is joined to the switch: the sign there says which way it is turned
            signs = {each["text"]: each["at"] for each in letters if each["text"] in ("+", MINUS) and each["at"][0] * SIDE[name] > 0}
            front = max(signs, key=lambda text: signs[text][2])
            assert front == to_switch
        if all(currents.values()):
            assert not loose_ends(leads)

        # words and figures
        question = data["question"]
        said_of = {choice["value"]: choice["words"] for choice in question["choices"]}
        for way in ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)):
            assert said_of[seen(way, HEAD_ON)] == seen(way, forward, up)
        sideways = (1 if push[0] > 0 else -1, 0, 0) if here and there else (0, 0, 0)
        assert question["answer"] == seen(sideways, HEAD_ON)
        assert f"the field of the {other} wire push the {wire} wire?" in question["text"]
        flows = {name: seen((0, 0, currents[name]), forward, up) for name in SIDE}
        if currents["left"] and currents["right"]:
            together = "attract" if currents["left"] * currents["right"] > 0 else "repel"
            beginning = (
                f"Both currents flow {flows['left']}"
                if together == "attract"
                else f"The current in the left wire flows {flows['left']}, that in the right wire {flows['right']}"
            )
            assert data["says"] == f"{beginning}: the wires {together} each other." and question["text"].startswith(f"{beginning}. ")
            across = (0, field_sign(there, wire), 0)
            points = seen(across, forward, up)
            assert (
                f"Right hand round the {other} wire, thumb {flows[other]}: at the {wire} wire its field points {points}."
                in question["reason"]
            )
            assert f"first finger {points} (field), second finger {flows[wire]} (current)" in question["reason"]
            assert f"the thumb then points {seen(sideways, forward, up)} (force)" in question["reason"]
            assert question["reason"].endswith(f"The wires {together} each other.")
        else:
            assert "exert no force on each other" in data["says"]
        if there:
            direction = next(each["value"] for each in data["readings"] if each["words"] == "its direction there")
            assert direction == seen(field, forward, up)
        assert (reading(data, "I₁"), reading(data, "I₂")) == (currents["left"], currents["right"])
        assert reading(data, "F") == pytest.approx(abs(between(here, there, length, d)) * 1000, rel=5e-3, abs=0.006)
        assert reading(data, "F / l") == pytest.approx(abs(2e-7 * here * there / d) * 1000, rel=5e-3, abs=0.006)
        assert reading(data, "B") == pytest.approx(size(field) * 1e6, rel=4e-3, abs=0.6)
        toward = DOWNWARD * here * length * -SIDE[wire] * 1000  # to the right for a current toward the viewer, by the left hand
        assert reading(data, "Fₑ") == pytest.approx(toward, abs=0.006)
    assert hands > 3 and nothing > 3


def field_sign(there, wire):
    """Up or down: the field beside a current toward the viewer goes counter-clockwise, so up to its right."""
    return (1 if there > 0 else -1) * SIDE[wire]


def test_before_the_answer_nothing_gives_it_away():
    """With the question waiting, what is drawn and not given is the same whichever way the push goes."""
    from scenes.conductors.two_wires.scene import TwoWires
    from scenes.scene.state import as_data, reached

    scene, seen_while_asked = TwoWires(), []
    for other in (40, -40):
        scene.set_all({"other": other})
        data = as_data(reached(scene, 0.0, reveals_answer=False), 0.0, reveals_answer=False)
        told = [each for each in data["arrows"] if each["letter"] != "I"]
        seen_while_asked.append((data["needles"], data["hand"], told))
    assert seen_while_asked == [([], None, [])] * 2
    assert {each.symbol for each in scene.readings() if each.tells} >= {"F", "F / l", "Fₗ", "d"}
