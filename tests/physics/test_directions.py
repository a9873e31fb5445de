"""The hand rules, directions in words and the turning sense."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from physics.directions import (
    direction_words,
    emf_direction,
    field_direction,
    force_direction,
    left_hand,
    right_hand,
    turning_sense,
)

RIGHT, UP, TOWARD = np.eye(3)
NOWHERE = np.zeros(3)

parts = st.floats(-1.0, 1.0, allow_nan=False)
directions = st.tuples(parts, parts, parts).map(np.array).filter(lambda v: np.linalg.norm(v) > 1e-3)
scales = st.floats(-250.0, 250.0).map(lambda power: 10.0**power)
quick = settings(max_examples=50, deadline=None)


# Fleming's left-hand rule as F = I l x B, his right-hand rule as E = v x B, and the right-hand grip rule: standard
# results in every textbook (memory). Field from left to right, current toward you: pushed up. Field from left to
# right, moved up: current is driven away from you. Current toward you: field counter-clockwise round the wire.
@pytest.mark.parametrize(
    "field, current, push",
    [
        (RIGHT, TOWARD, UP),
        (-RIGHT, TOWARD, -UP),
        (RIGHT, -TOWARD, -UP),
        (-RIGHT, -TOWARD, UP),
        (UP, RIGHT, TOWARD),
        (TOWARD, UP, RIGHT),
        (RIGHT, RIGHT, NOWHERE),
        (RIGHT, -RIGHT, NOWHERE),
        (NOWHERE, UP, NOWHERE),
        (UP, NOWHERE, NOWHERE),
    ],
)
def test_left_hand_rule(field, current, push):
    np.testing.assert_array_equal(force_direction(field, current), push)


@pytest.mark.parametrize(
    "field, motion, emf",
    [
        (RIGHT, UP, -TOWARD),
        (RIGHT, -UP, TOWARD),
        (-RIGHT, UP, TOWARD),
        (UP, RIGHT, TOWARD),
        (TOWARD, UP, RIGHT),
        (UP, UP, NOWHERE),
        (UP, -UP, NOWHERE),
        (UP, NOWHERE, NOWHERE),
    ],
)
def test_right_hand_rule(field, motion, emf):
    np.testing.assert_array_equal(emf_direction(field, motion), emf)


@pytest.mark.parametrize(
    "current, offset, field",
    [
        (TOWARD, RIGHT, UP),
        (TOWARD, UP, -RIGHT),
        (TOWARD, -RIGHT, -UP),
        (-TOWARD, RIGHT, -UP),
        (UP, TOWARD, RIGHT),
        (TOWARD, TOWARD, NOWHERE),
        (NOWHERE, RIGHT, NOWHERE),
    ],
)
def test_grip_rule(current, offset, field):
    np.testing.assert_array_equal(field_direction(current, offset), field)


# IEC 60034-8 names the sense as seen facing the drive end; which vector that is: the right-hand convention of
# angular velocity (ISO 80000-3). A clock's hands seen from its front turn about an axis into the dial.
@pytest.mark.parametrize(
    "axis, seen_from, sense",
    [
        (TOWARD, TOWARD, "counter-clockwise"),
        (-TOWARD, TOWARD, "clockwise"),
        (TOWARD, -TOWARD, "clockwise"),
        (-3e-9 * UP, 2 * UP + RIGHT, "clockwise"),
        (RIGHT, UP, "none"),
        (NOWHERE, UP, "none"),
        (UP, NOWHERE, "none"),
    ],
)
def test_turning_sense(axis, seen_from, sense):
    assert turning_sense(axis, seen_from) == sense


@pytest.mark.parametrize(
    "direction, words",
    [
        (RIGHT, "to the right"),
        (-RIGHT, "to the left"),
        (UP, "up"),
        (-UP, "down"),
        (TOWARD, "toward you"),
        (-TOWARD, "away from you"),
        (NOWHERE, "nowhere"),
        (UP + RIGHT, "up and to the right"),
        (-UP - TOWARD, "down and away from you"),
        (TOWARD - RIGHT, "to the left and toward you"),
        (UP - RIGHT + TOWARD, "up, to the left and toward you"),
        (1e-200 * UP, "up"),
        (1e200 * UP, "up"),
        (UP + 0.41 * RIGHT, "up"),
        (UP + 0.42 * RIGHT, "up and to the right"),
    ],
)
def test_direction_words(direction, words):
    assert direction_words(direction) == words


@quick
@given(directions, directions, scales, scales)
def test_only_directions_count_and_reversals_reverse(field, current, field_scale, current_scale):
    assume(np.linalg.norm(np.cross(field, current)) > 1e-6)
    push = force_direction(field, current)
    np.testing.assert_allclose(force_direction(field * field_scale, current * current_scale), push, atol=1e-8)
    np.testing.assert_array_equal(force_direction(-field, current), -push)
    np.testing.assert_array_equal(force_direction(field, -current), -push)
    np.testing.assert_array_equal(force_direction(-field, -current), push)
    np.testing.assert_array_equal(emf_direction(field, current), push)


@quick
@given(directions, directions)
def test_fingers_stand_at_right_angles_and_are_the_right_hands(field, given_direction):
    assume(np.linalg.norm(np.cross(field, given_direction)) > 1e-6)
    left, right = left_hand(field, given_direction), right_hand(field, given_direction)
    for hand, handedness in ((left, -1.0), (right, 1.0)):
        fingers = np.array([hand.thumb, hand.first_finger, hand.second_finger])
        np.testing.assert_allclose(fingers @ fingers.T, np.eye(3), atol=1e-9)
        # Thumb, first, second finger of a right hand are a right-handed set of axes, of a left hand a left-handed one.
        assert np.linalg.det(fingers) == pytest.approx(handedness)
        assert hand.first_finger @ field == pytest.approx(np.linalg.norm(field))
        assert hand.shows_something
    assert left.second_finger @ given_direction > 0
    assert right.thumb @ given_direction > 0
    np.testing.assert_allclose(left.thumb, force_direction(field, given_direction))
    np.testing.assert_allclose(right.second_finger, emf_direction(field, given_direction))


def test_a_hand_in_words():
    assert left_hand(RIGHT, TOWARD).words() == (
        "Left hand: first finger to the right (field), second finger toward you (current); the thumb then points up (force)."
    )
    assert right_hand(RIGHT, UP).words() == (
        "Right hand: first finger to the right (field), thumb up (motion); "
        "the second finger then points away from you (EMF and its current)."
    )


def test_a_hand_says_where_its_finger_has_only_a_part_of_what_is_given():
    assert "second finger toward you (part of the current across the field)" in left_hand(UP, UP + TOWARD).words()
    assert "thumb up (part of the motion across the field)" in right_hand(RIGHT, UP + RIGHT).words()
    assert "(current)" in left_hand(UP, 0.2 * UP + TOWARD).words(), "the current has the same words as the finger"


def test_a_hand_with_nothing_to_show():
    left, right = left_hand(RIGHT, -2 * RIGHT), right_hand(UP, UP)
    assert not left.shows_something and not right.shows_something
    np.testing.assert_array_equal(left.thumb, NOWHERE)
    np.testing.assert_array_equal(left.second_finger, -RIGHT)
    np.testing.assert_array_equal(right.second_finger, NOWHERE)
    np.testing.assert_array_equal(right.thumb, UP)
    assert left.words() == "No force: field to the right, current to the left, and no part of the current is across the field."


@pytest.mark.parametrize(
    "function, names",
    [
        (force_direction, ("field", "current")),
        (emf_direction, ("field", "motion")),
        (field_direction, ("current", "offset")),
        (turning_sense, ("axis", "seen_from")),
        (left_hand, ("field", "current")),
        (right_hand, ("field", "motion")),
    ],
)
@pytest.mark.parametrize("wrong", [[1.0, 2.0], np.zeros((2, 3)), [0.0, np.nan, 1.0], [np.inf, 0, 0], "up", None])
def test_wrong_vectors_are_named(function, names, wrong):
    with pytest.raises(ValueError, match=names[0]):
        function(wrong, UP)
    with pytest.raises(ValueError, match=names[1]):
        function(UP, wrong)
    with pytest.raises(ValueError, match="direction"):
        direction_words(wrong)
