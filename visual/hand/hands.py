"""Hands for the hand rules: thumb, first and second finger at right angles, and the hand that grips a wire.

They are leather work gloves with few faces, in hand lengths (wrist to fingertip about 1), as you see your own hand held out in
front of you: forearm toward you, palm inward.

Fleming's hands      thumb +y, first finger -z (away from the viewer), second finger out of the palm: -x for the right
                     hand, +x for the left. So thumb x first = second on the right hand (EMF = motion x field) and
                     second x first = thumb on the left (force = current x field). Origin: the first finger's knuckle.
The gripping hand    thumb +y, round a rod of radius `GRIP_RADIUS` along y through the origin, wrist toward +z; the
                     fingers of the right hand curl counter-clockwise looking at the thumb's tip (field = current x
                     offset), those of the left clockwise.
A left hand is the mirror image of a right hand in the plane x = 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual.hand.hand_shapes import Finger, finger_shape, lofted, nail_shape, skinned
from visual.solid.mesh import Mesh, crossed, joined, rotation_to

# radius of the rod in the gripping hand, in hand lengths
GRIP_RADIUS = 0.09

LEATHER = (0.85, 0.68, 0.45)
CUFF = (0.42, 0.29, 0.20)
INSIDE_OF_CUFF = (0.16, 0.11, 0.08)


@dataclass(frozen=True)
class Glove:
    """The colours of a glove and of its cuff, red-green-blue 0..1."""

    leather: tuple[float, float, float] = LEATHER
    cuff: tuple[float, float, float] = CUFF
    inside: tuple[float, float, float] = INSIDE_OF_CUFF


WORK_GLOVE = Glove()

# A flat right hand has its first knuckle at the origin, +y toward the thumb, -z toward the fingertips, -x out of the
# palm. Each finger: knuckle; lengths of its three bones; radius at the knuckle and at the tip. Proportions of an adult's
# hand in a glove, by eye.
_FINGERS = {
    "first": ((0.0, 0.0, 0.0), (0.215, 0.13, 0.115), (0.064, 0.050)),
    "second": ((0.0, -0.118, -0.02), (0.235, 0.145, 0.12), (0.065, 0.051)),
    "third": ((0.0, -0.232, 0.015), (0.22, 0.14, 0.12), (0.062, 0.049)),
    "little": ((0.0, -0.335, 0.07), (0.175, 0.105, 0.105), (0.055, 0.044)),
}
# The point at the wrist from which the bones in the palm fan out to the knuckles, and the length of them that is drawn.
_FAN_OUT = np.array([0.01, -0.13, 0.5])
_INSIDE_PALM = 0.18


@dataclass(frozen=True)
class Hand:
    """A hand to draw: its `mesh`; the tips of thumb, first and second finger, each (3,), for the labels; and the directions of
    these three, unit vectors (3, 3): from knuckle to tip, or along the last bone of fingers that grip."""

    mesh: Mesh
    thumb_tip: np.ndarray
    first_tip: np.ndarray
    second_tip: np.ndarray
    pointing: np.ndarray

    @property
    def tips(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """The ends of thumb, first and second finger."""
        return self.thumb_tip, self.first_tip, self.second_tip


def fleming_hand(side: str, thumb_colour, first_colour, second_colour, glove: Glove = WORK_GLOVE) -> Hand:
    """A hand with thumb, first and second finger at right angles, their tips in the given colours, and the other two fingers
    folded into the palm.

    side     "left" or "right"
    colours  red-green-blue 0..1, shape (3,)

    Its position is given at the head of this file; turn it with `fleming_rotation`. `ValueError` for any other side or colour.
    """
    _check_side(side)
    thumb = _thumb(np.array([-0.035, 0.08, 0.215]))
    first = _finger("first", (0, 0, 0), tip_from=2)
    second = _finger("second", (90, 0, 0), tip_from=2)
    telling = [
        (thumb, _colour("thumb_colour", thumb_colour)),
        (first, _colour("first_colour", first_colour)),
        (second, _colour("second_colour", second_colour)),
    ]
    folded = [(_finger("third", (84, 100, 62)), glove.leather), (_finger("little", (80, 100, 62)), glove.leather)]
    mesh = _glove(telling + folded, telling, glove)
    return _on_side(side, Hand(mesh, thumb.tip, first.tip, second.tip, _pointing((thumb, first, second), since=1)))


def grip_hand(side: str, thumb_colour, finger_colour, glove: Glove = WORK_GLOVE) -> Hand:
    """A hand closed round a rod, the thumb along it; the tips of thumb and fingers in the given colours.

    side     "left" or "right"
    colours  red-green-blue 0..1, shape (3,)

    Its position is given at the head of this file; turn it with `grip_rotation`. `ValueError` for any other side or colour.
    """
    _check_side(side)
    # the rod lies in the palm, just behind the knuckles, through the middle of the four fingers
    rod = np.array([-0.10 - GRIP_RADIUS, -0.17, 0.06])
    thumb = _thumb(np.array([-0.10, 0.08, 0.20]))
    thumb_colour, finger_colour = _colour("thumb_colour", thumb_colour), _colour("finger_colour", finger_colour)
    fingers = {name: _finger(name, _bends_round(rod, name), tip_from=3) for name in _FINGERS}
    coloured = [(thumb, thumb_colour), *[(finger, finger_colour) for finger in fingers.values()]]
    mesh = _glove(coloured, coloured[:1], glove).moved(-rod)
    pointing = _pointing((thumb, fingers["first"], fingers["second"]), since=2)
    return _on_side(side, Hand(mesh, thumb.tip - rod, fingers["first"].tip - rod, fingers["second"].tip - rod, pointing))


def fleming_rotation(side: str, thumb, first, second) -> np.ndarray:
    """The rotation (3, 3) that turns the fingers of `fleming_hand(side, ...)` along three directions (3,) of any length.

    `ValueError` if a direction is zero or not three finite numbers, if two of them are not at right angles (within 1e-6), or
    if only the other hand can point its fingers that way.
    """
    _check_side(side)
    thumb, first, second = _direction("thumb", thumb), _direction("first", first), _direction("second", second)
    for names, one, other in (("thumb and first", thumb, first), ("first and second", first, second), ("second and thumb", second, thumb)):
        if abs(one @ other) > 1e-6:
            angle = np.degrees(np.arccos(np.clip(one @ other, -1.0, 1.0)))
            raise ValueError(f"{names} must be at right angles, not at {angle:.4f} degrees")
    needed = "right" if crossed(thumb, first) @ second > 0 else "left"
    if side != needed:
        raise ValueError(f"side must be {needed} for these directions of thumb, first and second finger, not {side}")
    return rotation_to(crossed(first, thumb), thumb)


def grip_rotation(axis, wrist) -> np.ndarray:
    """The rotation (3, 3) that turns the thumb of a `grip_hand` along `axis` (3,), with its wrist on the side of the rod toward
    which `wrist` (3,) points; only the part of `wrist` at right angles to the axis counts.

    `ValueError` if either is zero or not three finite numbers, or if they are parallel.
    """
    y, z = _direction("axis", axis), _direction("wrist", wrist)
    across = crossed(y, z)
    if np.linalg.norm(across) < 1e-6:
        raise ValueError("wrist must point away from the axis, not along it")
    return rotation_to(across, y)


def _check_side(side):
    if side not in ("left", "right"):
        raise ValueError(f"side must be left or right, not {side!r}")


def _direction(name, value) -> np.ndarray:
    """`value` scaled to length 1."""
    try:
        vector = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise ValueError(f"{name} must be three numbers, not {value!r}") from None
    if vector.shape != (3,) or not np.all(np.isfinite(vector)) or not np.any(vector):
        raise ValueError(f"{name} must be three finite numbers that are not all 0, not {value!r}")
    vector = vector / np.max(np.abs(vector))
    return vector / np.linalg.norm(vector)


def _colour(name, value) -> np.ndarray:
    try:
        colour = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise ValueError(f"{name} must be red, green and blue from 0 to 1, not {value!r}") from None
    if colour.shape != (3,) or not np.all((colour >= 0) & (colour <= 1)):
        raise ValueError(f"{name} must be red, green and blue from 0 to 1, not {value!r}")
    return colour


def _on_side(side, right: Hand) -> Hand:
    """The right hand itself, or its mirror image for the left."""
    if side == "right":
        return right
    mirror = np.array([-1.0, 1.0, 1.0])
    return Hand(
        right.mesh.mirrored_in_x(), right.thumb_tip * mirror, right.first_tip * mirror, right.second_tip * mirror, right.pointing * mirror
    )


def _pointing(fingers, since: int) -> np.ndarray:
    """Unit vectors (n, 3) from joint `since` to the tip of each finger."""
    along = np.array([finger.joints[-1] - finger.joints[since] for finger in fingers])
    return along / np.linalg.norm(along, axis=1, keepdims=True)


def _thumb(joint) -> Finger:
    """The thumb of a right hand, straight toward +y from its middle `joint` (3,)."""
    joints = np.array([[-0.02, -0.10, 0.40], joint, joint + [0, 0.19, 0], joint + [0, 0.32, 0]])
    return Finger(joints, np.array([0.085, 0.078, 0.066, 0.056]), back=np.array([0.6, 0.0, 0.8]), tip_from=2)


def _finger(name, bends, tip_from=None) -> Finger:
    """The named finger of a right hand, its three joints bent toward the palm by `bends`, degrees."""
    knuckle, lengths, (thick, thin) = _FINGERS[name]
    turn = np.radians(np.cumsum(bends))
    bones = np.array(lengths)[:, None] * np.column_stack([-np.sin(turn), np.zeros(3), -np.cos(turn)])
    to_wrist = _FAN_OUT - knuckle
    inside = knuckle + _INSIDE_PALM * to_wrist / np.linalg.norm(to_wrist)
    joints = np.vstack([inside, knuckle, knuckle + np.cumsum(bones, axis=0)])
    radii = np.concatenate([[thick], np.linspace(thick, thin, 4)])
    back = np.array([np.cos(turn[-1]), 0.0, -np.sin(turn[-1])])
    # straight fingers are what is looked at; bent ones are many, and one face less is enough
    return Finger(joints, radii, back, tip_from, sides=7 if bends[1] else 8)


def _bends_round(rod, name) -> np.ndarray:
    """Bends, degrees, that put the named finger round a rod along y through `rod` (3,): each bone touches it."""
    knuckle, lengths, (thick, _) = _FINGERS[name]
    reach = GRIP_RADIUS + thick
    out_of_palm, toward_tips = -(rod - knuckle)[[0, 2]]
    distance = np.hypot(out_of_palm, toward_tips)
    bends = [np.arctan2(out_of_palm, toward_tips) - np.arcsin(reach / distance)]
    # The two tangents from a point to a circle are equally long: from a joint the next bone touches the rod as far away as
    # the last one did.
    to_touch = np.sqrt(distance**2 - reach**2)
    for length in lengths[:2]:
        to_touch = length - to_touch
        bends.append(2 * np.arctan(to_touch / reach))
    return np.degrees(bends)


def _glove(fingers, with_nails, glove: Glove) -> Mesh:
    """Palm, cuff and `fingers`, with nails on those `with_nails`, as one mesh; both are pairs of finger and colour."""
    palm, shapes = _palm(glove), []
    for finger, colour in fingers:
        shape = finger_shape(finger, glove.leather, colour)
        palm, shape = skinned(palm, shape, finger.root(shape.points), depth=0.05)
        shapes.append(shape)
    nails = [nail_shape(finger, 0.45 * colour + 0.55) for finger, colour in with_nails]
    return joined(palm, _cuff(glove), *shapes, *nails)


def _palm(glove: Glove) -> Mesh:
    """The body of a right hand, from the wrist to the knuckles."""
    rings = _outlines(
        [
            (0.50, 0.00, -0.26, 0.09, -0.08),
            (0.40, 0.05, -0.30, 0.09, -0.10),
            (0.28, 0.09, -0.355, 0.09, -0.105),
            (0.16, 0.09, -0.385, 0.08, -0.10),
            (0.06, 0.06, -0.385, 0.06, -0.085),
            (0.0, 0.04, -0.35, 0.035, -0.06),
            (-0.035, 0.01, -0.25, 0.01, -0.035),
        ]
    )
    return lofted(rings, [glove.leather] * len(rings))


def _cuff(glove: Glove) -> Mesh:
    """The glove's cuff, from the bottom of its opening over the rim to the wrist."""
    rings = _outlines(
        [
            (0.60, 0.045, -0.305, 0.115, -0.11),
            (0.67, 0.055, -0.315, 0.125, -0.12),
            (0.67, 0.055, -0.315, 0.125, -0.12),
            (0.675, 0.085, -0.345, 0.155, -0.15),
            (0.475, 0.015, -0.275, 0.10, -0.09),
        ]
    )
    return lofted(rings, [glove.inside] * 2 + [glove.cuff] * 3)


def _outlines(sections) -> np.ndarray:
    """Rounded sections across a right hand, (n, 12, 3), counter-clockwise seen from the fingers. Each of `sections`: z, and its
    extent there toward the thumb, away from it, to the back and to the palm."""
    z, thumb_side, other_side, back, palm = np.array(sections).T[:, :, None]
    angle = 2 * np.pi * (np.arange(12) + 0.5) / 12
    # between an ellipse and a box
    across, upward = (np.sign(part) * np.abs(part) ** 0.75 for part in (np.cos(angle), np.sin(angle)))
    x = 0.5 * (back + palm) - 0.5 * (back - palm) * across
    y = 0.5 * (thumb_side + other_side) + 0.5 * (thumb_side - other_side) * upward
    return np.stack(np.broadcast_arrays(x, y, z), axis=-1)
