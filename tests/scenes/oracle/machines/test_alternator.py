"""The alternator as it is shown and said, against the tests' own flux rule and hand."""

from __future__ import annotations

import math

import pytest

from tests.oracle import cross, dot, emf_in, fits_hand, in_a_loop, loose_ends, size, told_apart, turning, unit
from tests.scenes.oracle.states import reading, states, view_of

BORE = 0.060  # m
SHORTEST = 0.0032  # T: an arrow shorter than 0.31 mm, 50 mm standing for 0.5 T, is not drawn
LAMP = 64.0  # ohm: 40 V, 25 W
TURNS, LENGTH, RESISTANCE = 48, 0.06, 1.0


def angle_at(letter) -> float:
    return math.atan2(letter["at"][1], letter["at"][0])


def angles_of(settings, first):
    """Of each coil side with its sign and phase, counted from a side +U at the angle `first`, by the rule of a machine marked
    after IEC 60034-8: U, V, W one after the other clockwise seen from the drive end, a third of a pole pair apart, the return
    side half a pole pair further."""
    pairs = int(settings["poles"]) // 2
    for k, phase in enumerate("UVW"[: int(settings["coils"])]):
        for pair in range(pairs):
            start = first - (2 * math.pi * pair + 2 * math.pi * k / 3) / pairs
            yield phase, 1, start
            yield phase, -1, start - math.pi / pairs


def test_what_is_drawn_and_said_of_the_alternator_is_true():
    seen_hands = 0
    for scene, data in states("alternator", 0.2):
        settings, time = data["settings"], data["time"]
        pairs, rate = int(settings["poles"]) // 2, -settings["speed"] / 60 * 2 * math.pi
        north = math.radians(40) + rate * time
        forward, up = view_of(scene)
        side = -1 if forward[2] > 0 else 1
        end = "the drive end" if side > 0 else "the non-drive end"

        def flux(angle, settings=settings, pairs=pairs, north=north):
            return settings["field"] / 1000 * math.cos(pairs * (angle - north))

        at_u = next(angle_at(letter) for letter in data["letters"] if letter["text"] == "+U")
        # marks: at every side the sign of (v x B) there, the wire moving backward past the magnet
        peak = abs(rate) * BORE * abs(settings["field"]) / 1000
        expected = {}
        for phase, _, angle in angles_of(settings, at_u):
            outward, onward = (math.cos(angle), math.sin(angle), 0), (-math.sin(angle), math.cos(angle), 0)
            field = tuple(flux(angle) * part for part in outward)
            motion = tuple(-rate * BORE * part for part in onward)
            expected[round(math.cos(angle), 3) + 0.0, round(math.sin(angle), 3) + 0.0] = emf_in(motion, field)[2], phase
        found = {}
        for mark in data["marks"]:
            x, y, _ = mark["at"]
            radius = math.hypot(x, y)
            found[round(x / radius, 3) + 0.0, round(y / radius, 3) + 0.0] = mark["sign"]
        for place, (emf, _) in expected.items():
            near = [sign for at, sign in found.items() if math.dist(at, place) < 0.01]
            if peak and abs(emf) > 0.03 * peak:
                assert near == [1 if emf > 0 else -1], (settings, time, place)
        assert len(found) <= len(expected)

        # arrows and hand at +U
        arrows = {arrow["letter"]: arrow for arrow in data["arrows"]}
        arrow_at = arrows["B"]["at"] if "B" in arrows else None
        at_u = min(
            (a for p, s, a in angles_of(settings, at_u) if (p, s) == ("U", 1)),
            key=lambda a: math.dist(arrow_at[:2], (BORE * math.cos(a), BORE * math.sin(a))) if arrow_at else 0,
        )
        field = tuple(flux(at_u) * part for part in (math.cos(at_u), math.sin(at_u), 0.0))
        motion = tuple(-rate * BORE * part for part in (-math.sin(at_u), math.cos(at_u), 0.0))
        if size(field) > max(0.02 * abs(settings["field"]) / 1000, SHORTEST):
            assert arrows["B"]["vector"] == pytest.approx(field, abs=1e-4) and arrows["B"]["unit"] == "T"
            if rate:
                assert arrows["v"]["vector"] == pytest.approx(motion, rel=1e-4, abs=1e-3)
        if data["hand"]:
            seen_hands += 1
            hand = data["hand"]
            assert hand["which"] == "right" and fits_hand("right", hand["thumb"], hand["first"], hand["second"])
            assert dot(unit(hand["thumb"]), unit(motion)) > 0.99 and dot(unit(hand["first"]), unit(field)) > 0.99
            assert dot(unit(hand["second"]), unit(cross(motion, field))) > 0.99
            assert math.dist(hand["on"][:2], (BORE * math.cos(at_u), BORE * math.sin(at_u))) < 0.002  # the wire it speaks of
        elif peak and abs(flux(at_u)) > 0.031 * abs(settings["field"]) / 1000:
            fingers = [unit(motion), unit(field), unit(cross(motion, field))]
            assert not told_apart(fingers, *view_of(scene)), "a hand is left out only where it could not be read"

        # poles: an N where flux goes out into the stator
        for letter in data["letters"]:
            if letter["text"] in "NS" and settings["field"]:
                angle = angle_at(letter)
                assert flux(angle) * (1 if letter["text"] == "N" else -1) > 0.99 * abs(settings["field"]) / 1000
                assert letter["at"][2] * side > 0
            if letter["text"][0] in "+\N{MINUS SIGN}" and len(letter["text"]) == 2:
                phase, sign = letter["text"][1], 1 if letter["text"][0] == "+" else -1
                angle = angle_at(letter)
                assert any(
                    p == phase and s == sign and abs(math.remainder(angle - a, 2 * math.pi)) < 0.01 for p, s, a in angles_of(settings, at_u)
                )
        assert [x for x in data["letters"] if x["text"] in "NS"] if settings["field"] else True

        # figures: E = 4.44 f N Phi, Phi = 2 B r l / p; the waves are minus the flux's rate, 3 phases a third of a cycle apart
        f = abs(rate) / 2 / math.pi * pairs
        rms = math.pi * math.sqrt(2) * f * TURNS * 2 * abs(settings["field"]) / 1000 * BORE * LENGTH / pairs
        assert reading(data, "E") == pytest.approx(rms, abs=0.06) and reading(data, "f") == pytest.approx(f, rel=1e-3)
        for k, phase in enumerate("UVW"[: int(settings["coils"])]):
            angle = at_u - 2 * math.pi * k / 3 / pairs
            emf = 2 * TURNS * flux(angle) * LENGTH * -rate * BORE * -1  # (v x B).z of motion clockwise past, both sides of every coil
            assert reading(data, f"e {phase}") == pytest.approx(emf, abs=0.06)
        current = rms / (RESISTANCE + LAMP) if settings["load"] == "lamp" else 0.0
        assert reading(data, "I") == pytest.approx(current, abs=0.006)
        if settings["load"] == "lamp":
            assert reading(data, "P") == pytest.approx(current**2 * LAMP, abs=0.06) and reading(data, "P") <= 25

        # words
        seen = turning(rate, side)
        speed_words = next(each["words"] for each in data["readings"] if each["symbol"] == "n")
        assert (seen in speed_words and end in speed_words) if rate else "standstill" in speed_words
        if rate and settings["field"]:
            assert f"Looking at {end}, the magnet" in data["says"] and f"turns {seen} " in data["says"]
            order = next(each["value"] for each in data["readings"] if "peak" in each["words"])
            assert order == {1: "U", 2: "U-V"}.get(int(settings["coils"]), "U-V-W" if settings["speed"] > 0 else "U-W-V")
        question = data["question"]
        if settings["coils"] == "3":
            right = "none" if not peak else "V" if settings["speed"] > 0 else "W"
            assert question["answer"] == right
            assert f"follow each other {turning(-1, side)}" in question["text"]
            if peak:
                assert f"the magnet turns {seen}" in question["reason"] and f"coil {right}" in question["reason"]
        else:
            assert question["answer"] == (f"{f:.4g}" if peak else "none")

        # wiring
        for phase in "UVW"[: int(settings["coils"])]:
            closed = in_a_loop(data["leads"], f"lamp {phase}") and in_a_loop(data["leads"], f"coil {phase}")
            assert closed == (settings["load"] == "lamp")
        assert not loose_ends(data["leads"])
    assert seen_hands > 10
