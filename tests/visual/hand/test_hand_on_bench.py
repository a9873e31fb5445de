"""A hand on the bench: the line that ties it to its conductor ends where it is told to, and is hidden with the hand."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

import visual  # noqa: F401  (before VPython)
from visual.hand.hand_on_bench import ConductorLine, FlemingHand, GripHand
from visual.solid.told import told

COLOURS = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
RIGHT = SimpleNamespace(thumb=np.array([1.0, 0, 0]), first_finger=np.array([0, 1.0, 0]), second_finger=np.array([0, 0, 1.0]))
NOTHING = SimpleNamespace(thumb=np.zeros(3), first_finger=np.array([0, 1.0, 0]), second_finger=np.zeros(3))


def far_end(line: ConductorLine):
    """Where the drawn shaft ends: its foot and its length along its x, as it was placed."""
    foot, along, _, grow = line.shaft._place
    return np.array(foot) + grow[0] * np.array(along)


def test_the_line_goes_from_the_wrist_to_the_conductor():
    hand, place, conductor = FlemingHand("right", 0.08, ("v", "B", "E"), COLOURS), (-0.1, 0.02, 0.03), (0.012, -0.003, 0.04)
    hand.put(place, RIGHT, conductor)
    assert far_end(hand.line) == pytest.approx(conductor)
    assert hand.line.bead._place[0] == pytest.approx(conductor)
    assert np.linalg.norm(np.array(hand.line.shaft._place[0]) - place) < 0.5 * 0.08  # inside the wrist, so that it comes out of it
    assert told(hand).hands[0].on == pytest.approx(conductor)
    hand.put(place, RIGHT, (0.05, 0.0, 0.0))  # the conductor alone has moved
    assert told(hand).hands[0].on == pytest.approx((0.05, 0.0, 0.0)) and far_end(hand.line) == pytest.approx((0.05, 0.0, 0.0))


def test_without_a_conductor_or_without_a_hand_there_is_no_line():
    hand = FlemingHand("right", 0.08, ("v", "B", "E"), COLOURS)
    hand.put((0, 0, 0), RIGHT)
    assert hand.solid.visible and not hand.line.shaft.visible and told(hand).hands[0].on is None
    hand.put((0, 0, 0), RIGHT, (0.1, 0, 0))
    assert hand.line.shaft.visible
    hand.put((0, 0, 0), NOTHING, (0.1, 0, 0))
    assert not hand.solid.visible and not hand.line.shaft.visible and not hand.line.bead.visible and not told(hand).hands
    hand.put((0, 0, 0), RIGHT, (0.1, 0, 0))
    assert hand.line.shaft.visible and hand.line.bead.visible


def test_a_hand_that_grips_is_on_its_wire():
    grip = GripHand(0.1, ("I", "B"), COLOURS[0], COLOURS[1])
    grip.put((0.02, 0.03, 0.0), (0, 1.0, 0), (0, 0, 1.0))
    assert told(grip).hands[0].on == pytest.approx((0.02, 0.03, 0.0))
