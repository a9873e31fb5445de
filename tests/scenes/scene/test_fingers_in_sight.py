"""A hand's fingers do not hide each other: over time, in every view of every scene as it opens, each fingertip is in sight.

What hides what is worked out here, by lines from points of each finger to the eye and the triangles of the hand.
"""

from __future__ import annotations

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene.state import reached
from tests.scenes.scene.test_hands_can_be_read import LEAST
from visual.hand.hand_on_bench import FlemingHand

STEPS = 40
LAST_BONE = np.linspace(0.01, 0.12, 5)  # in hand lengths from the tip
OWN_LENGTH, OWN_RADIUS = 0.34, 0.09  # in hand lengths: what is nearer to a finger's axis is the finger itself
HIDDEN = 0.5  # of the points of its last bone
HANDS = tuple(name for name in LEAST if name != "field-round-a-wire")  # of that one the hand grips the wire


def crossed(points, toward, triangles) -> np.ndarray:
    """Whether from each of `points`, (n, 3), one meets one of the `triangles`, (m, 3, 3), on the way along `toward`; (n,) bool.
    By the signed volumes of what the way spans with a triangle's sides."""
    a, b, c = (triangles[:, k] for k in range(3))
    across_b, across_c = b - a, c - a
    upright = np.cross(toward, across_c)
    volume = np.einsum("ij,ij->i", across_b, upright)
    sound = np.abs(volume) > 1e-12
    part = np.where(sound, 1 / np.where(sound, volume, 1), 0)
    from_a = points[:, None] - a
    u = np.einsum("nij,ij->ni", from_a, upright) * part
    side = np.cross(from_a, across_b)
    v, far = side @ toward * part, np.einsum("nij,ij->ni", side, across_c) * part
    return np.any(sound & (u >= 0) & (v >= 0) & (u + v <= 1) & (far > 1e-6), axis=1)


def hidden_fingers(drawn: FlemingHand, forward) -> list[str]:
    """Those of its fingers that lie behind another part of the hand where one looks along `forward`."""
    hand, toward = drawn.hand, -(drawn._turn.T @ np.array(forward)) / np.linalg.norm(forward)
    triangles = hand.mesh.points[hand.mesh.triangles]
    found = []
    for name, tip, along in zip(("thumb", "first finger", "second finger"), hand.tips, hand.pointing, strict=True):
        past = triangles.mean(axis=1) - tip
        back = np.clip(-(past @ along), 0, OWN_LENGTH)
        others = triangles[np.linalg.norm(past + back[:, None] * along, axis=1) > OWN_RADIUS]
        if crossed(tip - LAST_BONE[:, None] * along, toward, others).mean() > HIDDEN:
            found.append(name)
    return found


def hands_in(part):
    if not getattr(part, "visible", True):
        return
    if isinstance(part, FlemingHand) and part._held is not None:
        yield part
    for each in getattr(part, "parts", ()):
        yield from hands_in(each)


def test_what_lies_behind_the_palm_is_found():
    class Hand:
        thumb, first_finger, second_finger = np.array([0.0, 1, 0]), np.array([0.0, 0, -1]), np.array([-1.0, 0, 0])

    drawn = FlemingHand("right", 0.1, ("v", "B", "E"), ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    drawn.put((0, 0, 0), Hand)
    assert hidden_fingers(drawn, (-1.0, 0.3, -0.3)) == ["second finger"]  # from the back of the hand
    assert hidden_fingers(drawn, (1.0, -0.3, -0.3)) == []


@pytest.mark.parametrize("name", HANDS)
def test_no_finger_is_hidden(name):
    scene, seen, wrong = catalogue.scene_class(name)(), 0, set()
    for view in scene.views:
        reached(scene, 0.0, view.name)
        for step in range(STEPS):
            for hand in hands_in(scene.drawn):
                seen += 1
                wrong |= {f"{view.name}, step {step}: {finger}" for finger in hidden_fingers(hand, view.forward)}
            scene.one_step()
            scene.draw()
    assert seen and not wrong, sorted(wrong)
