"""Wherever a hand is shown its fingers are told apart in the picture: none is a stump, no two lie along each other.

By the oracle's own projection. Bounds of the project: 25 degrees apart, 40 % of their length.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene.seen import Directions
from scenes.scene.state import hand, reached
from scenes.scene.story import Story
from tests.oracle import told_apart
from tests.scenes.oracle.states import states, view_of
from visual.solid.told import told

# share of the instants at which a hand is to be seen, by scene; the views in which none is are named
LEAST = {
    "field-round-a-wire": (1.0, {"top"}),
    "pushed-conductor": (1.0, set()),
    "moved-conductor": (0.7, set()),  # none near the turning points of its motion
    "two-wires": (1.0, set()),
    "coils-and-commutator": (0.7, {"commutator"}),  # its coil side goes round, and passes behind another finger now and then
    "alternator": (0.7, set()),
    "cage-rotor": (1.0, set()),
}
INSTANTS = 9


def test_every_scene_that_holds_out_a_hand_is_looked_at():
    without = {scene.name for scene in catalogue.LESSON if scene.hand_of is not Story.hand_of} - set(LEAST)
    assert not without, (
        f"LEAST wants {without}: the least share of instants with a hand, the views without; "
        "of one of Fleming's rules FLEMING in questions/test_directions.py too"
    )


@lru_cache(maxsize=8)
def built(name: str):
    return catalogue.scene_class(name)()


def check(shown: dict, forward, up, where) -> None:
    fingers = [shown[name] for name in ("thumb", "first", "second") if shown[name] is not None]
    assert len(fingers) >= 2
    assert told_apart(fingers, forward, up), where


@pytest.mark.parametrize("name", LEAST)
def test_as_it_runs_the_hand_is_there_and_can_be_read(name):
    scene, (least, without) = built(name), LEAST[name]
    for view in scene.views:
        there = 0
        reached(scene, 0.0, view.name)
        for instant in range(INSTANTS):
            if seen := told(scene.drawn).hands:
                check(hand(seen[0]), view.forward, view.up, (name, view.name, instant))
                there += 1
            for _ in range(3):
                scene.step(0.032 / scene.slowness)
            scene.draw()
        assert there == 0 if view.name in without else there >= least * INSTANTS, (name, view.name, there)


@pytest.mark.parametrize("name", LEAST)
def test_in_any_set_up_the_hand_that_is_shown_can_be_read(name):
    seen = 0
    for scene, data in states(name, 0.25, count=25):
        if data["hand"]:
            check(data["hand"], *view_of(scene), (name, scene.view, data["settings"]))
            seen += 1
    assert seen > 2


@pytest.mark.parametrize(("turned", "can_be_read"), [(0.0, False), (20.0, False), (27.0, True), (40.0, True)])
def test_a_finger_that_points_nearly_at_the_eye_is_a_stump(turned, can_be_read):
    """Of three fingers at right angles the third is seen from `turned` degrees beside its own direction: sin(turned) of it shows."""
    aside = np.radians(turned)
    forward = np.array([-np.sin(aside) / np.sqrt(2), -np.sin(aside) / np.sqrt(2), -np.cos(aside)])
    assert Directions(tuple(forward), (0.0, 1.0, 0.0)).can_be_read(np.eye(3)) is can_be_read
