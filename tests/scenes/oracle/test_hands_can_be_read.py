"""Wherever a hand is shown its fingers are told apart in the picture: none is a stump, no two lie along each other.

The test's own projection: across and upward in the picture are what is left of a finger at right angles to the way one looks.
Bounds of the project: 25 degrees apart, 40 % of their length.
"""

from __future__ import annotations

import math
from functools import lru_cache

import pytest

from scenes import catalogue
from scenes.scene.state import as_data, reached
from tests.oracle import cross, dot, unit
from tests.scenes.oracle.states import states, view_of

# share of the instants at which a hand is to be seen, by scene; the views in which none is are named
LEAST = {
    "field-round-a-wire": (1.0, {"top"}),
    "pushed-conductor": (1.0, set()),
    "moved-conductor": (0.7, set()),  # none near the turning points of its motion
    "two-wires": (1.0, set()),
    "coils-and-commutator": (0.5, {"commutator"}),  # its coil side goes round, and passes behind another finger now and then
    "alternator": (0.7, set()),
    "cage-rotor": (0.3, set()),
}
INSTANTS = 9


@lru_cache(maxsize=8)
def built(name: str):
    return catalogue.scene_class(name)()


def in_the_picture(vector, forward, up) -> tuple[float, float]:
    """Across and upward."""
    ahead = unit(forward)
    across = unit(cross(ahead, up))
    return dot(vector, across), dot(vector, cross(across, ahead))


def check(hand: dict, forward, up, where) -> None:
    fingers = [hand[name] for name in ("thumb", "first", "second") if hand[name] is not None]
    assert len(fingers) >= 2
    shown = [in_the_picture(finger, forward, up) for finger in fingers]
    for flat in shown:
        assert math.hypot(*flat) > 0.4 - 1e-6, (where, flat)
    for k, one in enumerate(shown):
        for other in shown[:k]:
            cosine = (one[0] * other[0] + one[1] * other[1]) / math.hypot(*one) / math.hypot(*other)
            assert math.degrees(math.acos(max(-1.0, min(1.0, cosine)))) > 25 - 1e-3, where


@pytest.mark.parametrize("name", LEAST)
def test_as_it_runs_the_hand_is_there_and_can_be_read(name):
    scene, (least, without) = built(name), LEAST[name]
    for view in scene.views:
        there = 0
        for instant in range(INSTANTS):
            seconds = 0.019 * instant / float(scene.slowness) * 5
            data = as_data(reached(scene, seconds, view.name), seconds)
            if data["hand"]:
                check(data["hand"], view.forward, view.up, (name, view.name, seconds))
                there += 1
        assert there == 0 if view.name in without else there >= least * INSTANTS, (name, view.name, there)


@pytest.mark.parametrize("name", LEAST)
def test_in_any_set_up_the_hand_that_is_shown_can_be_read(name):
    seen = 0
    for scene, data in states(name, 0.5, count=25):
        if data["hand"]:
            check(data["hand"], *view_of(scene), (name, scene.view, data["settings"]))
            seen += 1
    assert seen > 2
