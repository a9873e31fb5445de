"""The pushed conductor as it is drawn, read and said, against the left-hand rule, magpylib's field and statics worked out here."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from scenes import catalogue
from scenes.scene.state import as_data, reached
from tests.oracle import cross, dot, fits_hand, force_on, in_a_loop, loose_ends, seen, size, told_apart, unit
from tests.scenes.oracle import magnets
from tests.scenes.oracle.states import reading, states, view_of
from visual import palette
from visual.apparatus.magnets import block_magnet

HINGE, LENGTH, GAP, POLE = 0.120, 0.046, 0.070, (0.110, 0.024, 0.110)
UPWARD = magnets.facing_blocks(GAP, POLE, 1.3)  # as the scene says: blocks of 1.3 T


def swung(vector, angle):
    x, y, z = vector
    return (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle), z)


def nearly(vector, tolerance):
    return pytest.approx(list(vector), abs=tolerance)


def joined_to(leads, start, without):
    """All terminals that leads and things join to `start`, none of the things `without`."""
    reached_, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        for lead in leads:
            if lead["through"] not in without and here in (lead["from"], lead["to"]):
                other = lead["to"] if here == lead["from"] else lead["from"]
                if other not in reached_:
                    reached_.add(other)
                    waiting.append(other)
    return reached_


def lead_ends(lead):
    """Where the first piece of a lead that moves begins and its last ends, as they are placed."""
    ends = []
    for piece, far in ((lead.pieces[0], 0.0), (lead.pieces[-1], 1.0)):
        foot, ahead, _, grow = piece._place
        overlap = 0.4 * lead.thickness
        ends.append([a + (overlap if not far else grow[0] - overlap) * b for a, b in zip(foot, ahead, strict=True)])
    return ends


def test_what_is_drawn_read_and_said_of_the_pushed_conductor_is_true():
    hands = pushes = 0
    for scene, data in states("pushed-conductor", 3.0):
        settings, leads, (forward, up) = data["settings"], data["leads"], view_of(scene)
        sense = 1 if settings["field"] == "up" else -1
        amperes = settings["current"] if settings["switch"] else 0.0
        tilt = math.radians(settings["tilt"])
        arrows = {arrow["letter"]: arrow for arrow in data["arrows"]}
        middle = arrows["B"]["at"]
        angle = math.atan2(middle[0], HINGE - middle[1])
        assert math.hypot(middle[0], HINGE - middle[1]) == pytest.approx(HINGE, rel=1e-6)
        along = swung((0.0, math.sin(tilt), math.cos(tilt)), angle)
        plain, marked = (tuple(m + end * LENGTH / 2 * a for m, a in zip(middle, along, strict=True)) for end in (-1, 1))
        field = sense * magnets.mean(UPWARD, plain, marked)
        current = tuple(amperes * part for part in along)
        force = tuple(LENGTH * part for part in force_on(current, field))
        across = size(cross(along, unit(field)))
        pushed = bool(amperes) and across > 1e-6

        # arrows
        assert arrows["B"]["vector"] == nearly(field, 1e-5) and arrows["B"]["unit"] == "T"
        assert ("I" in arrows) == bool(amperes) and ("F" in arrows) == pushed
        if amperes:
            assert arrows["I"]["vector"] == nearly(current, 1e-9)
            beside = np.subtract(arrows["I"]["at"], middle)
            assert size(beside) == pytest.approx(0.013, rel=1e-6) and abs(dot(beside, along)) < 1e-9
        if pushed:
            pushes += 1
            assert arrows["F"]["vector"] == nearly(force, 1e-6) and arrows["F"]["at"] == middle

        # the left hand, tied to the rod
        readable = pushed and told_apart([unit(force), unit(field), unit(cross(field, force))], *view_of(scene))
        assert (data["hand"] is not None) == readable
        if readable:
            hand, hands = data["hand"], hands + 1
            assert hand["which"] == "left" and fits_hand("left", hand["thumb"], hand["first"], hand["second"])
            assert (
                dot(hand["thumb"], unit(force)) > 0.9999 and dot(hand["first"], unit(field)) > 0.9999 and dot(hand["second"], current) > 0
            )
            on = np.subtract(hand["on"], middle)
            assert size(cross(on, along)) < 1e-9 and abs(dot(on, along)) < LENGTH / 2

        # poles: the field leaves N and enters S
        for letter in data["letters"]:
            if letter["text"] in ("N", "S"):
                assert letter["at"][1] * sense * (-1 if letter["text"] == "N" else 1) > GAP / 2
        assert scene.drawn.magnet._place[2] == [0.0, sense, 0.0]  # its y: the N faces of the two blocks look along it

        # battery, switch, leads
        assert in_a_loop(leads, "rod") == in_a_loop(leads, "battery") == settings["switch"]
        assert loose_ends(leads) <= (set() if settings["switch"] else {"switch hinge", "switch jaw"})
        signs = {letter["text"]: letter["at"] for letter in data["letters"] if letter["text"] in "+\N{MINUS SIGN}"}
        assert len(signs) == 2
        if amperes:  # out of +, into the end from which the current flows
            first = "rod plain end" if amperes > 0 else "rod marked end"
            assert first in joined_to(leads, "battery +", {"rod", "battery"})
            assert signs["+"][0] < signs["\N{MINUS SIGN}"][0] if amperes > 0 else signs["+"][0] > signs["\N{MINUS SIGN}"][0]
        first, second = scene.drawn.leads
        assert lead_ends(first)[1] == nearly(plain, 1e-6) and lead_ends(second)[0] == nearly(marked, 1e-6)
        for hanger, side in ((lead_ends(first)[0], -1), (lead_ends(second)[1], 1)):
            assert hanger[0] * side > 0 and math.hypot(hanger[0], hanger[1] - HINGE) == pytest.approx(0.009, abs=1e-6)

        # figures
        assert reading(data, "F") == pytest.approx(size(force) * 1000 if pushed else 0.0, abs=0.051)
        assert reading(data, "α") == pytest.approx(math.degrees(angle), abs=0.051)
        assert reading(data, "B") == pytest.approx(size(field) * 1000, abs=0.51)
        assert reading(data, "I") == pytest.approx(amperes, abs=0.051) and reading(data, "l") == 46
        to_field = math.degrees(math.acos(max(-1, min(1, dot(unit(field), along) * (-1 if amperes < 0 else 1)))))
        assert reading(data, "θ") == pytest.approx(to_field, abs=0.51)
        if abs(math.degrees(angle)) > 0.1:
            assert f"out {seen((angle, 0, 0), forward, up)}; " in formula_of(data, "α")

        # words
        says = data["says"]
        if not amperes:
            assert says == "No current flows and nothing pushes the rod."
        else:
            said = f"pushed {seen(force, forward, up)}" if pushed else "not pushed"
            flows = f"The current flows {seen(current, forward, up)}{level(tilt)}"
            assert says == f"{flows}, the field points {seen(field, forward, up)}: the rod is {said}."
        check_question(data["question"], amperes, tilt, sense, forward, up)
    assert pushes > 10 and hands > 0.7 * pushes, "a rod turned toward the eye leaves it out now and then"


def level(tilt: float) -> str:
    """How the rod lies, in words, where one of the eight directions in words does not say it."""
    degrees = abs(math.degrees(tilt))
    marked = f", the rod's marked end {degrees:g}° {'above' if tilt > 0 else 'below'} level"
    return "" if any(abs(degrees - each) < 1e-9 for each in (0, 45, 90)) else marked


def formula_of(data, symbol):
    return next(each["formula"] for each in data["readings"] if each["symbol"] == symbol)


def check_question(question, amperes, tilt, sense, forward, up):
    """Asked at rest in the middle, where the field is straight up or down."""
    current = (0.0, round(amperes * math.sin(tilt), 9), round(amperes * math.cos(tilt), 9))
    push = force_on(current, (0.0, sense, 0.0))
    answer = "nowhere" if abs(push[0]) < 1e-6 else "to the right" if push[0] > 0 else "to the left"
    assert question["answer"] == answer
    words = {each["value"]: each["words"] for each in question["choices"]}
    for value, way in (("to the right", (1, 0, 0)), ("to the left", (-1, 0, 0)), ("up", (0, 1, 0)), ("down", (0, -1, 0))):
        assert words[value] == seen(way, forward, up)
    assert f"the field points {seen((0, sense, 0), forward, up)}" in question["text"]
    assert (f"The current flows {seen(current, forward, up)}{level(tilt)}" if amperes else "No current flows") in question["text"]
    if answer != "nowhere":
        assert f"the thumb then points {seen(push, forward, up)} (force)" in question["reason"] and question["reason"].startswith(
            "Left hand"
        )
    elif amperes:
        assert question["reason"].startswith("No force")


@pytest.mark.parametrize(("current", "tilt", "field"), [(8, 0, "up"), (-14, 45, "down"), (20, 0, "down"), (12, -60, "up"), (16, 90, "up")])
def test_it_comes_to_rest_where_field_and_weight_balance(current, tilt, field):
    """Statics by hand: copper (8.89 g/cm3, IEC 60028) of the drawn rod and leads, magpylib's field along all of it."""
    scene = catalogue.scene_class("pushed-conductor")()
    scene.set_all({"current": current, "tilt": tilt, "field": field})
    data = as_data(reached(scene, 25.0), 25.0)
    radius = 0.007  # m, of the rod, as it is drawn
    assert scene.drawn.length == LENGTH
    t, sense = math.radians(tilt), 1 if field == "up" else -1
    end = LENGTH / 2 * np.array([0.0, math.sin(t), math.cos(t)])
    wire = 0.00075  # m, radius of a lead, as it is drawn
    assert scene.drawn.leads[0].thickness == 2 * wire
    out = 0.087

    def lead(side, at):
        return [np.array(p) for p in ((side * 0.009, HINGE, at[2]), (side * out, HINGE, at[2]), (side * out, 0.0, at[2]), tuple(at))]

    path = [*lead(-1, -end), *lead(1, end)[::-1]]
    radii = [wire] * 3 + [radius] + [wire] * 3

    def torque(angle):
        total, place = 0.0, [np.array(swung(p - [0, HINGE, 0], angle)) + [0, HINGE, 0] for p in path]
        for first, last, r in zip(place[:-1], place[1:], radii, strict=True):
            points, there, share = magnets.along(UPWARD, first, last)
            arm = points - [0, HINGE, 0]
            pull = current * sense * np.cross((last - first) * share[:, None], there)
            weight = -8890 * math.pi * r * r * np.linalg.norm(last - first) * 9.80665 * share
            total += float(np.sum(arm[:, 0] * (pull[:, 1] + weight) - arm[:, 1] * pull[:, 0]))
        return total

    stop = math.radians(20)
    rest = brentq(torque, -stop, stop) if torque(-stop) * torque(stop) < 0 else math.copysign(stop, torque(0.0))
    assert reading(data, "α") == pytest.approx(math.degrees(rest), abs=0.06)
    if tilt == 90:
        assert rest == pytest.approx(0.0, abs=1e-6)


def test_a_block_is_red_on_the_side_of_its_north_face():
    mesh = block_magnet((0.0, 0.0, 0.0), (1.0, 2.0, 1.0), (0, 1.0, 0))
    red = np.all(np.isclose(mesh.colours, palette.NORTH), axis=1)
    assert mesh.points[red][:, 1].min() >= 0 and mesh.points[~red][:, 1].max() <= 0 and red.any() and not red.all()
