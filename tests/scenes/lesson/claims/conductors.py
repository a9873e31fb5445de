"""What a caption claims of wires, needles, forces and voltages: each a check of what is shown `now`, and what was `before`."""

from __future__ import annotations

import math

import pytest

from tests import oracle


def every_needle_points_north(now, before):
    for instant in range(len(now.data)):
        assert now.compasses(instant) and all(vector[2] < -0.99 for _, vector in now.compasses(instant))


def needles_lie_round_the_wire(now, before):
    """Within 45 degrees of the circle, the sense by the grip rule, for all needles but one that the Earth's field holds."""
    current = now.of("I")
    off = 0
    for at, vector in now.compasses():
        round_it = oracle.cross((0, math.copysign(1, current), 0), (at[0], 0, at[2]))
        off += oracle.dot(oracle.unit(round_it), vector) < math.cos(math.radians(45))
    assert len(now.compasses()) >= 4 and off <= 1


def the_field_goes_round_the_other_way(now, before):
    assert now.of("I") * before.of("I") < 0
    needles_lie_round_the_wire(now, before)


def between_both_fields(now, before):
    for at, vector in now.compasses():
        round_it = oracle.cross((0, math.copysign(1, now.of("I")), 0), (at[0], 0, at[2]))
        assert oracle.dot(vector, oracle.unit(round_it)) > -0.2 or vector[2] < 0  # within the angle of the two


def no_force(now, before):
    for instant in range(len(now.data)):
        assert abs(now.of("F", instant)) < 0.05


def force_at_right_angles(now, before):
    for instant in range(len(now.data)):
        force, field, current = (now.vector(letter, instant) for letter in "FBI")
        assert (
            abs(oracle.dot(oracle.unit(force), oracle.unit(field))) < 0.03
            and abs(oracle.dot(oracle.unit(force), oracle.unit(current))) < 0.03
        )
        assert oracle.dot(oracle.unit(force), oracle.unit(oracle.cross(current, field))) > 0.99


def force_reversed(now, before):
    assert oracle.dot(oracle.unit(now.vector("F")), oracle.unit(before.vector("F"))) < -0.9


def force_as_two_steps_ago(now, before):
    assert oracle.dot(oracle.unit(now.vector("F")), oracle.unit(before.vector("F"))) < -0.9  # the step before had it reversed
    force_at_right_angles(now, before)


def less_force(now, before):
    assert 0 < abs(now.of("F", 0)) < 0.85 * abs(before.of("F", 0))


def wires_attract(now, before):
    for data in now.data:
        for arrow in data["arrows"]:
            if arrow["letter"] == "F":
                assert arrow["vector"][0] * arrow["at"][0] < 0


def wires_repel(now, before):
    for data in now.data:
        for arrow in data["arrows"]:
            if arrow["letter"] == "F":
                assert arrow["vector"][0] * arrow["at"][0] > 0


def it_generates_to_both_sides(now, before):
    assert now.peaks["E"] > 1e-4 and now.peaks["I"] < 1e-9


def emf_times(factor, tolerance=0.08):
    def claim(now, before):
        assert now.peaks["E"] / before.peaks["E"] == pytest.approx(factor, rel=tolerance)

    return claim


def more_emf(now, before):
    assert now.peaks["E"] > 1.2 * before.peaks["E"]


def current_opposes_the_motion(now, before):
    found = 0
    for data in now.data:
        arrows = {arrow["letter"]: arrow["vector"] for arrow in data["arrows"]}
        if "F" in arrows and "v" in arrows:
            found += 1
            assert oracle.dot(arrows["F"], arrows["v"]) < 0
    assert found
