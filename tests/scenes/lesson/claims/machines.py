"""What a caption claims of commutator, rotating field, cage, slip and poles: each a check of what is shown `now`, and what was `before`."""

from __future__ import annotations

import re

import pytest


def loaded_commutator_motor(now, before):
    assert now.of("n") < before.of("n") and now.of("E") < before.of("E") and now.of("I") > before.of("I")


def cycles_per_revolution(now, before):
    assert now.of("f") / (now.of("n") / 60) == pytest.approx(2 * before.of("f") / (before.of("n") / 60))


def field_rotates(now, before):
    senses = {data["says"].replace("counter-clockwise", "CCW") for data in now.data}
    assert all("clockwise" in said or "CCW" in said for said in senses)


def field_rotates_the_other_way(now, before):
    assert all("counter-clockwise" in data["says"] for data in now.data)  # L1-L2-L3 in order is clockwise (IEC 60034-8)


def field_only_pulsates(now, before):
    assert all("does not turn" in data["says"] or "does not rotate" in data["says"] for data in now.data)


def half_the_field_speed(now, before):
    assert now.of("nₛ") == pytest.approx(120 * 50 / 4) and now.of("nₛ") / 3000 == pytest.approx(0.5)


def cage_held(now, before):
    for instant in range(4):
        assert now.of("n", instant) == 0 and abs(now.of("I", instant)) >= 0 and now.of("s", instant) == pytest.approx(100)


def field_stands_bars_turn(now, before):
    for instant in range(4):
        assert now.of("n", instant) < 0 and now.of("nₛ", instant) == 0


def it_runs_after_the_field(now, before):
    for instant in range(4):
        assert now.of("n", instant) < now.of("nₛ", instant)
    assert now.of("n", 3) > now.of("n", 0)


def it_slows_until_torque_meets_load(now, before):
    assert now.of("n", 3) < now.of("n", 1) < now.of("n", 0)
    assert abs(now.of("Tₗ", 3) - now.of("T", 3)) < 0.15 * now.of("Tₗ", 3) < abs(now.of("Tₗ", 0) - now.of("T", 0))


def exactly_as_fast_and_behind(now, before):
    """From the swing of the first moments it settles at the field's speed, behind it by less than 90 degrees."""
    assert now.of("n") == now.of("nₛ") == 3000 and 0 < now.of("δ") < 90
    assert all(abs(now.of("n", k) - 3000) < 90 for k in range(4))


def laps_count(now, before):
    assert now.of("s") == pytest.approx(100 * (now.of("nₛ") - now.of("n")) / now.of("nₛ"), abs=0.1) and now.of("s") > 1


def about_half_speed(now, before):
    assert now.of("nₛ") == pytest.approx(120 * 25 / 4) and 0.9 * 750 < now.of("n") < 750


def weaker_field_above_rated(now, before):
    assert now.of("U / f") < 0.7 * before.of("U / f") and now.of("Tₘ") < before.of("Tₘ")


def seen_from_the_drive_end(said: str) -> float:
    """+1 counter-clockwise; a sense told from the other end counts the other way about."""
    other = re.search(r"(from|at) the (commutator|non-drive) end", said) is not None
    return (1.0 if "counter-clockwise" in said else -1.0) * (-1.0 if other else 1.0)


def reversed_motor(now, before):
    assert seen_from_the_drive_end(now.data[-1]["says"]) == -seen_from_the_drive_end(before.data[-1]["says"])


def a_rotor_of_bars_and_rings(now, before):
    """Bars and rings go with the rotor's core wherever it is; nothing that leads a current on to it or off it is there."""
    for data in now.data:
        places = {mark["words"].removeprefix("part: "): mark["at"] for mark in data["marks"]}
        assert places["bars"] == places["end-rings"] == places["rotor-core"]
        assert not any("slip" in part or "brush" in part for part in places)
    assert now.of("I") > 100
