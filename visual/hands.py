"""Hands for the hand rules: thumb, first and second finger at right angles, and the hand that grips a wire.

They are leather work gloves, low-sided, in lengths of one hand (wrist to fingertip about 1), as a person sees his own
hand held out before him: forearm from the viewer, palm inward.

Fleming's hands      thumb +y, first finger -z (away from the viewer), second finger out of the palm: -x for the right
                     hand, +x for the left. So thumb x first = second on the right hand (EMF = motion x field) and
                     second x first = thumb on the left (force = current x field). Origin: the first finger's knuckle.
The hand that grips  thumb +y, round a rod of radius `GRIP_RADIUS` along y through the origin, wrist toward +z; the
                     fingers of the right hand curl counter-clockwise seen from the thumb's tip (field = current x
                     offset), those of the left clockwise.
Left hands are the mirror image of right hands in the plane x = 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual.hand_shapes import Finger, finger_shape, lofted, nail_shape
from visual.mesh import Mesh, joined, rotation_to

LEATHER = (0.85, 0.68, 0.45)
CUFF = (0.42, 0.29, 0.20)

# Radius of the rod that the gripping hand closes on, in hand lengths.
GRIP_RADIUS = 0.09

# A right hand, flat, its first knuckle at the origin: +y toward the thumb, -z toward the fingertips, -x out of the
# palm. Each finger: knuckle; lengths of its three bones; radius at the knuckle and at the tip. Proportions of a
# grown man's hand in a glove, common anatomy, no source.
_FINGERS = {
    "first": ((0.0, 0.0, 0.0), (0.215, 0.13, 0.115), (0.064, 0.050)),
    "second": ((0.0, -0.118, -0.02), (0.235, 0.145, 0.12), (0.065, 0.051)),
    "third": ((0.0, -0.232, 0.015), (0.22, 0.14, 0.12), (0.062, 0.049)),
    "little": ((0.0, -0.335, 0.07), (0.175, 0.105, 0.105), (0.055, 0.044)),
}
_INSIDE_THE_PALM = 0.2
_NEVER = 9


@dataclass(frozen=True)
class Hand:
    """A hand to draw: its `mesh`, and the ends of thumb, first and second finger, each (3,), where labels belong."""

    mesh: Mesh
    thumb_tip: np.ndarray
    first_tip: np.ndarray
    second_tip: np.ndarray


def fleming_hand(side: str, thumb_colour, first_colour, second_colour) -> Hand:
    """A hand with thumb, first and second finger at right angles, their ends in the given colours (red-green-blue
    0..1), the other two fingers folded into the palm.

    side  "left" or "right"; `ValueError` for anything else

    Lies as the head of this file says; turn it with `fleming_rotation`.
    """
    _check_side(side)
    thumb = Finger(np.array([[-0.02, -0.10, 0.40], [-0.035, 0.08, 0.215], [-0.035, 0.27, 0.215], [-0.035, 0.40, 0.215]]),
                   np.array([0.085, 0.078, 0.066, 0.056]), np.array([0.6, 0.0, 0.8]), tip_from=2)
    first = _finger("first", (0, 0, 0), tip_from=2)
    second = _finger("second", (90, 0, 0), tip_from=2)
    folded = [_finger("third", (84, 100, 62), _NEVER), _finger("little", (80, 100, 62), _NEVER)]
    told = [(thumb, thumb_colour), (first, first_colour), (second, second_colour)]
    mesh = joined(_palm(), _cuff(), *[finger_shape(finger, LEATHER, colour) for finger, colour in told],
                  *[nail_shape(finger, _nail_colour(colour)) for finger, colour in told],
                  *[finger_shape(finger, LEATHER, LEATHER) for finger in folded])
    return _on_side(side, Hand(mesh, thumb.tip, first.tip, second.tip))


def grip_hand(side: str, thumb_colour, finger_colour) -> Hand:
    """A hand closed round a rod, the thumb stretched along it; the ends of thumb and fingers in the given colours.

    side  "left" or "right"; `ValueError` for anything else

    Lies as the head of this file says, the rod's axis along y through the origin; turn it with `grip_rotation`.
    """
    _check_side(side)
    rod = np.array([-0.10 - GRIP_RADIUS, -0.17, 0.06])
    thumb = Finger(np.array([[-0.02, -0.10, 0.40], [-0.10, 0.06, 0.2], [-0.10, 0.24, 0.2], [-0.10, 0.37, 0.2]]),
                   np.array([0.085, 0.078, 0.066, 0.056]), np.array([0.6, 0.0, 0.8]), tip_from=2)
    fingers = [_finger(name, _bends_round(rod, name), tip_from=3, sides=7) for name in _FINGERS]
    mesh = joined(_palm(), _cuff(), finger_shape(thumb, LEATHER, thumb_colour),
                  nail_shape(thumb, _nail_colour(thumb_colour)),
                  *[finger_shape(finger, LEATHER, finger_colour) for finger in fingers])
    return _on_side(side, Hand(mesh.moved(-rod), thumb.tip - rod, fingers[0].tip - rod, fingers[1].tip - rod))


def fleming_rotation(side: str, thumb, first, second) -> np.ndarray:
    """The 3x3 rotation that lays the fingers of `fleming_hand(side, ...)` along three directions (3,), any length.

    `ValueError` when a direction is zero or not three finite numbers, when two of them are not at right angles
    (within 1e-6), or when they would need the other hand.
    """
    _check_side(side)
    y, minus_z, x = (_direction(name, value) for name, value in
                     (("thumb", thumb), ("first", first), ("second", second)))
    for names, cosine in (("thumb and first", y @ minus_z), ("first and second", minus_z @ x), ("second and thumb", x @ y)):
        if abs(cosine) > 1e-6:
            raise ValueError(f"{names} must be at right angles, not at {np.degrees(np.arccos(cosine)):.4f} degrees")
    x = -x if side == "right" else x
    if np.cross(y, -minus_z) @ x < 0:
        other = "left" if side == "right" else "right"
        raise ValueError(f"side must be {other} for these directions of thumb, first and second finger, not {side}")
    return rotation_to(x, y)


def grip_rotation(axis, wrist) -> np.ndarray:
    """The 3x3 rotation that lays the thumb of a `grip_hand` along `axis` (3,), its wrist on the side of the rod
    toward which `wrist` (3,) points; only the part of `wrist` at right angles to the axis counts.

    `ValueError` when either is zero or not three finite numbers, or when they are parallel.
    """
    y, z = _direction("axis", axis), _direction("wrist", wrist)
    across = np.cross(y, z)
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


def _on_side(side, right: Hand) -> Hand:
    if side == "right":
        return right
    mirror = np.array([-1.0, 1.0, 1.0])
    return Hand(right.mesh.mirrored_in_x(), right.thumb_tip * mirror, right.first_tip * mirror,
                right.second_tip * mirror)


def _finger(name, bends, tip_from, sides=8) -> Finger:
    """The named finger of a right hand, each joint bent toward the palm by so many degrees."""
    knuckle, lengths, (thick, thin) = _FINGERS[name]
    turn = np.radians(np.cumsum((0, *bends)))
    lengths = np.array((_INSIDE_THE_PALM, *lengths))
    pieces = lengths[:, None] * np.column_stack([-np.sin(turn), np.zeros(4), -np.cos(turn)])
    joints = np.vstack([np.zeros(3), np.cumsum(pieces, axis=0)]) - pieces[0] + knuckle
    back = np.array([np.cos(turn[-1]), 0.0, -np.sin(turn[-1])])
    return Finger(joints, np.interp([0, 0, 1, 2, 3], [0, 3], [thick, thin]), back, tip_from, sides)


def _bends_round(rod, name):
    """Bends in degrees that lay the named finger on a rod along y: each bone touches it where it can."""
    knuckle, lengths, (thick, _) = _FINGERS[name]
    reach = GRIP_RADIUS + thick
    to_rod = (rod - knuckle)[[0, 2]] * [-1.0, -1.0]  # out of the palm, toward the fingertips
    distance = np.hypot(*to_rod)
    bends = [np.arctan2(to_rod[0], to_rod[1]) - np.arcsin(reach / distance)]
    # From the joint to the place where the bone touches the rod; what is left of the bone leads to the next joint,
    # from which the next bone touches the rod at the same distance.
    touching = np.sqrt(distance**2 - reach**2)
    for length in lengths[:2]:
        touching = length - touching
        bends.append(2 * np.arctan(touching / reach))
    return np.degrees(bends)


def _nail_colour(colour):
    return 0.45 * np.asarray(colour, float) + 0.55


def _outline(z, top, bottom, back, palm) -> np.ndarray:
    """A rounded section of the palm, (12, 3), counter-clockwise seen from the fingers."""
    angle = 2 * np.pi * (np.arange(12) + 0.5) / 12
    across, upward = np.cos(angle), np.sin(angle)
    # Between a circle and a box.
    across, upward = np.sign(across) * np.abs(across) ** 0.75, np.sign(upward) * np.abs(upward) ** 0.75
    return np.column_stack([0.5 * (back + palm) - 0.5 * (back - palm) * across,
                            0.5 * (top + bottom) + 0.5 * (top - bottom) * upward, np.full(12, z)])


def _palm() -> Mesh:
    """The body of a right hand from the wrist to the knuckles: z, thumb side, other side, back and palm there."""
    rings = [_outline(*section) for section in (
        (0.50, 0.01, -0.27, 0.09, -0.08), (0.40, 0.05, -0.31, 0.085, -0.11), (0.28, 0.09, -0.36, 0.08, -0.12),
        (0.16, 0.09, -0.39, 0.08, -0.105), (0.06, 0.06, -0.39, 0.075, -0.085), (0.0, 0.04, -0.36, 0.06, -0.06),
        (-0.035, 0.02, -0.25, 0.04, -0.035))]
    return lofted(rings, np.tile(LEATHER, (len(rings), 1)))


def _cuff() -> Mesh:
    """The glove's cuff, from its open end to the wrist."""
    rings = [_outline(*section) for section in (
        (0.68, 0.05, -0.31, 0.12, -0.115), (0.68, 0.07, -0.33, 0.14, -0.135), (0.66, 0.08, -0.34, 0.145, -0.14),
        (0.52, 0.04, -0.30, 0.115, -0.105), (0.48, 0.02, -0.28, 0.10, -0.09))]
    return lofted(rings, np.tile(CUFF, (len(rings), 1)))
