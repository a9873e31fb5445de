"""A hand on paper: each letter stands at the fingertip it names, however the hand is turned."""

from __future__ import annotations

import xml.etree.ElementTree as xml
from itertools import product

import numpy as np
import pytest

from visual.hand.hands import fleming_hand, fleming_rotation
from visual.paper.hands import SIZE, fleming

GRAPHIC = "{http://www.w3.org/2000/svg}"
LETTERS = ("F", "B", "I")
AXES = [tuple(float(sign * (place == axis)) for place in range(3)) for axis in range(3) for sign in (1, -1)]


def seen(points: np.ndarray) -> np.ndarray:
    """(n, 3) as they lie on the paper, y downward as an SVG has it: toward you is to the lower left."""
    x, y, z = np.asarray(points).T
    return np.column_stack([x - 0.55 * z, -(y - 0.42 * z)]) * SIZE


@pytest.mark.parametrize("side", ["left", "right"])
def test_each_letter_is_much_nearer_to_its_own_fingertip_than_to_any_other(side):
    tried = 0
    for first, second in product(AXES, AXES):
        if np.dot(first, second):
            continue
        # left: F = I x B; right: v = B x E, so that v x B = E
        thumb = np.cross(second, first) if side == "left" else np.cross(first, second)
        svg = xml.fromstring(fleming(side, tuple(thumb), first, second, LETTERS, "a hand").svg())
        places = {"".join(each.itertext()): np.array([float(each.get("x")), float(each.get("y"))]) for each in svg.iter(f"{GRAPHIC}text")}
        drawn = np.array([
            [float(value) for value in point.split(",")] for line in svg.iter(f"{GRAPHIC}polyline") for point in line.get("points").split()
        ])  # fmt: skip
        turn = fleming_rotation(side, thumb, first, second)
        hand = fleming_hand(side, (1, 1, 1), (1, 1, 1), (1, 1, 1))
        whole = seen(hand.mesh.points @ turn.T)
        tips = seen(np.array(hand.tips) @ turn.T) + drawn.min(axis=0) - whole.min(axis=0)  # its outline is as far out as it is
        for n, letter in enumerate(LETTERS):
            own, *others = sorted(np.linalg.norm(tips - places[letter], axis=1))
            assert own == np.linalg.norm(tips[n] - places[letter]) and own < 0.65 * others[0], (first, second, letter)
            assert own > 2
            assert all(np.linalg.norm(places[letter] - places[other]) > 4 for other in LETTERS if other != letter)
        tried += 1
    assert tried == 24
