"""Directions: the hand rules as cross products, directions in words, and the direction of rotation of a shaft.

Every rule here is a cross product of two given directions, so that the arrows, the fingers of a drawn hand and the
words of an explanation come from the same vectors. Axes: x right, y up, z toward the viewer. Currents are
conventional. Only the directions of the arguments matter, not their sizes or units: a field of 1e-9 T will do as well
as one of 1 T.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import pi, sqrt, tan
from typing import ClassVar

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import vector

# The sine of the angle between two directions below which they count as parallel: far above rounding error, far
# below anything one could set on a bench.
PARALLEL_SINE = 1e-12

# A part of a direction is worth a word when it is more than tan(22.5 degrees) of the largest part: the circle is then
# shared equally by the eight directions "up", "up and to the right", "to the right", ...
_WORTH_A_WORD = tan(pi / 8)

_ONWARD, _BACK = np.array([1, 2, 0]), np.array([2, 0, 1])


def unit(name: str, value: ArrayLike) -> np.ndarray:
    """`value`, shape (3,), scaled to length 1; zeros when it is zero. `ValueError` naming `name` for anything else."""
    x, y, z = vector(name, value).tolist()
    largest = max(abs(x), abs(y), abs(z))
    if largest == 0.0:
        return np.zeros(3)
    # Dividing by the largest part first keeps the squares from vanishing or overflowing.
    x, y, z = x / largest, y / largest, z / largest
    length = sqrt(x * x + y * y + z * z)
    return np.array((x / length, y / length, z / length))


def cross(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """first x second, vectors of shape (..., 3): what `np.cross` gives, which takes four times as long for a few."""
    return first[..., _ONWARD] * second[..., _BACK] - first[..., _BACK] * second[..., _ONWARD]


def axis_of(name: str, value: ArrayLike) -> np.ndarray:
    """`value`, shape (3,), scaled to length 1; `ValueError` naming `name` when it has no length."""
    direction = unit(name, value)
    if not np.any(direction):
        raise ValueError(f"{name} must have a length greater than 0")
    return direction


def plane_axes(name: str, normal: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
    """Two unit vectors across `normal`, shape (3,), and across each other: first x second is along it.

    Which of the many such pairs does not matter to a caller. `ValueError` naming `name` when it has no length.
    """
    along = axis_of(name, normal)
    # From the axis it is least along, the direction across is well defined.
    first = cross(along, np.eye(3)[np.argmin(np.abs(along))])
    first /= np.sqrt(first @ first)
    return first, cross(along, first)


def force_direction(field: ArrayLike, current: ArrayLike) -> np.ndarray:
    """The direction of the force on a conductor: the left-hand rule, F = I l x B.

    field    direction of the magnetic field, shape (3,), any size
    current  direction of the current along the conductor, shape (3,), any size

    Returns a unit vector, shape (3,); zeros when the current is along the field or either of them is zero.
    Raises `ValueError` naming the argument for a wrong shape or values that are not finite.
    """
    return _perpendicular(unit("current", current), unit("field", field))


def emf_direction(field: ArrayLike, motion: ArrayLike) -> np.ndarray:
    """The direction in which a moving conductor's EMF drives current: the right-hand rule, E = v x B.

    field   direction of the magnetic field, shape (3,), any size
    motion  direction in which the conductor moves through the field, shape (3,), any size

    Returns a unit vector, shape (3,); zeros when the motion is along the field or either of them is zero.
    Raises `ValueError` naming the argument for a wrong shape or values that are not finite.
    """
    return _perpendicular(unit("motion", motion), unit("field", field))


def field_direction(current: ArrayLike, offset: ArrayLike) -> np.ndarray:
    """The direction of the field beside a straight wire: the grip rule (right thumb along the current).

    current  direction of the current, shape (3,), any size
    offset   from any point of the wire to the place asked about, shape (3,), any length

    Returns a unit vector, shape (3,); zeros on the line of the wire or without current.
    Raises `ValueError` naming the argument for a wrong shape or values that are not finite.
    """
    return _perpendicular(unit("current", current), unit("offset", offset))


def turning_sense(axis: ArrayLike, seen_from: ArrayLike) -> str:
    """The direction of rotation as seen: "clockwise", "counter-clockwise" or "none".

    axis       angular-velocity vector, shape (3,): the right thumb, when the fingers curl with the rotation
    seen_from  from the rotating thing to the eye, shape (3,)

    An axis that points at the eye is counter-clockwise. "none" when nothing turns, when there is no line of sight, or
    when the thing is seen edge on. Raises `ValueError` naming the argument for a wrong shape or values not finite.
    """
    toward_the_eye = unit("axis", axis) @ unit("seen_from", seen_from)
    if abs(toward_the_eye) <= PARALLEL_SINE:
        return "none"
    return "counter-clockwise" if toward_the_eye > 0 else "clockwise"


def worth_a_word(direction: ArrayLike) -> np.ndarray:
    """`direction`, shape (3,), scaled to length 1, with zeros for the parts too small to be named beside the largest.

    Raises `ValueError` naming the argument for a wrong shape or values that are not finite.
    """
    parts = unit("direction", direction).tolist()
    least = _WORTH_A_WORD * max(map(abs, parts))
    return np.array([part if abs(part) > least else 0.0 for part in parts])


def direction_words(direction: ArrayLike) -> str:
    """A direction in the words of the bench: "up", "to the left", "down and toward you", "nowhere".

    direction  shape (3,), any size; x right, y up, z toward the viewer

    The words are those of the nearest of the directions along, and midway between, the axes; "nowhere" for zeros.
    Raises `ValueError` naming the argument for a wrong shape or values that are not finite.
    """
    x, y, z = worth_a_word(direction)
    words = [
        positive if part > 0 else negative
        for part, positive, negative in ((y, "up", "down"), (x, "to the right", "to the left"), (z, "toward you", "away from you"))
        if part
    ]
    if not words:
        return "nowhere"
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]


@dataclass(frozen=True, eq=False)
class Hand:
    """A hand held out with thumb, first and second finger at right angles, as Fleming's rules ask.

    side           "left" (a conductor that is pushed) or "right" (a conductor that generates)
    first_finger   along the field, unit vector (3,)
    second_finger  left: the part of the current across the field; right: the direction in which the EMF drives current; (3,)
    thumb          left: the force on the conductor; right: the part of the motion across the field; (3,)

    given          the whole current or motion, unit vector (3,), of which a finger takes the part that is across the field

    When the given current or motion is along the field (or one of them is zero) there is nothing to show: the answer's
    finger is zeros, the given ones stay as given, and `shows_something` is False.
    """

    side: str
    first_finger: np.ndarray
    second_finger: np.ndarray
    thumb: np.ndarray
    given: np.ndarray
    mistake: ClassVar[str] = ""  # by which it is held so: none, it is as the rule asks

    @property
    def rule(self) -> str:
        """The hand that its rule asks for."""
        return self.side

    @property
    def shows_something(self) -> bool:
        """Whether there is a force or an EMF, so that the three fingers stand at right angles."""
        answer = self.thumb if self.side == "left" else self.second_finger
        return bool(np.any(answer))

    def words(self, say: Callable[[np.ndarray], str] = direction_words) -> str:
        """Which finger points where, in a sentence: given fingers first, the answer last. `say` puts a direction in words."""
        field = say(self.first_finger)
        if self.side == "left":
            given, answer = "current", "force"
            given_words, answer_words = say(self.second_finger), say(self.thumb)
            given_finger, answer_finger = "second finger", "thumb"
        else:
            given, answer = "motion", "EMF and its current"
            given_words, answer_words = say(self.thumb), say(self.second_finger)
            given_finger, answer_finger = "thumb", "second finger"
        if not self.shows_something:
            missing = "force" if self.side == "left" else "EMF"
            return f"No {missing}: field {field}, {given} {given_words}, and no part of the {given} is across the field."
        if say(self.given) != given_words:
            given = f"part of the {given} across the field"
        return (
            f"{self.side.capitalize()} hand: first finger {field} (field), {given_finger} {given_words} ({given}); "
            f"the {answer_finger} then points {answer_words} ({answer})."
        )


@dataclass(frozen=True, eq=False)
class Grip:
    """A right hand that grips a wire: `thumb` along the current, unit vector (3,), so that the fingers curl as the field goes round."""

    thumb: np.ndarray
    side: ClassVar[str] = "right"
    mistake: ClassVar[str] = ""


def grip(current: ArrayLike) -> Grip | None:
    """The hand that grips a wire with that current, a direction (3,) of any size; None without a current. `ValueError` naming the
    argument."""
    along = unit("current", current)
    return Grip(along) if np.any(along) else None


def left_hand(field: ArrayLike, current: ArrayLike) -> Hand:
    """The left hand for a conductor carrying current: first finger field, second finger current, thumb force.

    field    direction of the field, shape (3,), any size
    current  direction of the current, shape (3,), any size

    The fingers of a hand are at right angles but field and current need not be: the second finger takes the part of
    the current that is across the field, which is the part that feels a force. Raises `ValueError` naming the argument.
    """
    push = force_direction(field, current)
    along_field, along_current = unit("field", field), unit("current", current)
    across = cross(along_field, push) if np.any(push) else along_current
    return Hand("left", along_field, across, push, along_current)


def right_hand(field: ArrayLike, motion: ArrayLike) -> Hand:
    """The right hand for a moving conductor: first finger field, thumb motion, second finger EMF.

    field   direction of the field, shape (3,), any size
    motion  direction of the motion, shape (3,), any size

    The thumb takes the part of the motion that is across the field, which is the part that generates. A conductor
    that does not lie along the second finger has only its share of this EMF. Raises `ValueError` naming the argument.
    """
    emf = emf_direction(field, motion)
    along_field, along_motion = unit("field", field), unit("motion", motion)
    across = cross(along_field, emf) if np.any(emf) else along_motion
    return Hand("right", along_field, emf, across, along_motion)


def _perpendicular(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """Unit vector along first x second, both of length 1 or zeros; zeros when they are parallel."""
    (a, b, c), (d, e, f) = first.tolist(), second.tolist()
    x, y, z = b * f - c * e, c * d - a * f, a * e - b * d
    size = sqrt(x * x + y * y + z * z)
    return np.array((x / size, y / size, z / size)) if size > PARALLEL_SINE else np.zeros(3)
