"""The drawn hands, checked on their triangles: the fingers are found by colour, not by asking the code where they are.

What a right hand is comes from outside: the hand rules as cross products (`physics.directions`, themselves checked
against worked cases) and plain anatomy (common knowledge, no source): palm, back and nails, order of the fingers.
"""

import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from physics.directions import emf_direction, field_direction, force_direction, left_hand, right_hand
from visual.hand.hands import CUFF, GRIP_RADIUS, LEATHER, fleming_hand, fleming_rotation, grip_hand, grip_rotation

RED, GREEN, BLUE = (0.8, 0.2, 0.1), (0.1, 0.6, 0.3), (0.1, 0.3, 0.8)
SIDES = ("left", "right")
HANDS = {
    "fleming left": fleming_hand("left", RED, GREEN, BLUE),
    "fleming right": fleming_hand("right", RED, GREEN, BLUE),
    "grip left": grip_hand("left", RED, BLUE),
    "grip right": grip_hand("right", RED, BLUE),
}
MIRROR = np.array([-1.0, 1.0, 1.0])


def in_colour(mesh, colour):
    """The points of `mesh` that have exactly this colour."""
    return mesh.points[np.all(mesh.colours == np.asarray(colour), axis=1)]


def long_axis(points, tip):
    """Direction of the longest extent of a cloud of points, toward `tip`."""
    centred = points - points.mean(axis=0)
    axis = np.linalg.svd(centred)[2][0]
    return axis * np.sign(axis @ (tip - points.mean(axis=0)))


def telling_fingers(hand):
    """Directions of thumb, first and second finger of a Fleming hand as drawn."""
    return [
        long_axis(in_colour(hand.mesh, colour), tip)
        for colour, tip in ((RED, hand.thumb_tip), (GREEN, hand.first_tip), (BLUE, hand.second_tip))
    ]


def nail_side(mesh, colour):
    """From the middle of a coloured fingertip to the middle of its lighter nail."""
    nail = in_colour(mesh, 0.45 * np.asarray(colour) + 0.55)
    assert len(nail) > 0
    return nail.mean(axis=0) - in_colour(mesh, colour).mean(axis=0)


@pytest.mark.parametrize("side", SIDES)
def test_three_fingers_stand_at_right_angles_along_the_stated_axes(side):
    thumb, first, second = telling_fingers(HANDS[f"fleming {side}"])
    degrees = np.degrees(np.arccos([thumb @ first, first @ second, second @ thumb]))
    assert np.max(np.abs(degrees - 90)) < 1e-9
    out_of_palm = -1.0 if side == "right" else 1.0
    assert np.allclose([thumb, first, second], [[0, 1, 0], [0, 0, -1], [out_of_palm, 0, 0]], atol=1e-12)


def test_right_hand_generates_and_left_hand_pushes():
    thumb, first, second = telling_fingers(HANDS["fleming right"])
    assert np.allclose(emf_direction(field=first, motion=thumb), second, atol=1e-12)
    thumb, first, second = telling_fingers(HANDS["fleming left"])
    assert np.allclose(force_direction(field=first, current=second), thumb, atol=1e-12)


@pytest.mark.parametrize("side", SIDES)
def test_it_is_that_hand_by_its_anatomy(side):
    """Held out with the thumb up, the back of the right hand is on the right and its palm on the left."""
    mesh = HANDS[f"fleming {side}"].mesh
    back = np.array([1.0 if side == "right" else -1.0, 0, 0])
    # The nail of the straight finger is on the back; that of the finger bent into the palm's direction looks where
    # the straight finger points; the thumb's looks back at the owner of the hand.
    assert nail_side(mesh, GREEN) @ back > 0.02
    assert nail_side(mesh, BLUE)[2] < -0.02
    assert nail_side(mesh, RED)[2] > 0.02
    # The forearm comes from where the straight finger does not point.
    assert in_colour(mesh, CUFF)[:, 2].min() > 0.4
    # Thumb, first, second, then the folded fingers: those stand out of the palm, below the second finger.
    second = in_colour(mesh, BLUE).mean(axis=0)
    leather = in_colour(mesh, LEATHER)
    folded = leather[(leather @ back < -0.15) & (leather[:, 1] < second[1] - 0.06)]
    assert len(folded) > 20
    assert folded[:, 1].max() < second[1] < in_colour(mesh, GREEN)[:, 1].mean() < in_colour(mesh, RED)[:, 1].mean()
    assert (leather @ back).max() < 0.12


@pytest.mark.parametrize("side", SIDES)
def test_proportions_are_a_mans(side):
    """Hand length 189 mm, hand breadth 85 mm, thumb breadth 23 mm (DIN 33402-2, men, memory); a glove adds some."""
    hand = HANDS[f"fleming {side}"]
    leather = in_colour(hand.mesh, LEATHER)
    wrist = leather[:, 2].max()
    first_length = np.linalg.norm(hand.first_tip)
    second_length = abs(hand.second_tip[0])
    assert first_length < second_length < 1.15 * first_length
    hand_length = wrist + second_length
    assert hand_length == pytest.approx(1.0, abs=0.05)
    across_knuckles = leather[np.abs(leather[:, 2]) < 0.1]
    assert np.ptp(across_knuckles[:, 1]) == pytest.approx(85 / 189 * hand_length, rel=0.12)
    assert np.ptp(in_colour(hand.mesh, RED)[:, 0]) == pytest.approx(23 / 189 * hand_length, rel=0.15)


@pytest.mark.parametrize("pose", ("fleming", "grip"))
def test_left_is_the_exact_mirror_image_of_right(pose):
    left, right = HANDS[f"{pose} left"], HANDS[f"{pose} right"]
    assert np.array_equal(left.mesh.points, right.mesh.points * MIRROR)
    assert np.array_equal(left.mesh.normals, right.mesh.normals * MIRROR)
    assert np.array_equal(left.mesh.colours, right.mesh.colours)
    for name in ("thumb_tip", "first_tip", "second_tip"):
        assert np.array_equal(getattr(left, name), getattr(right, name) * MIRROR)


@pytest.mark.parametrize("name", HANDS)
def test_tips_are_points_of_the_mesh(name):
    hand = HANDS[name]
    for tip in (hand.thumb_tip, hand.first_tip, hand.second_tip):
        assert np.min(np.linalg.norm(hand.mesh.points - tip, axis=1)) < 1e-12


@pytest.mark.parametrize("name", HANDS)
def test_it_is_light_enough_for_a_page_without_a_graphics_card(name):
    mesh = HANDS[name].mesh
    assert len(mesh.points) <= 700
    assert len(mesh.triangles) <= 1300
    assert mesh.points.shape == mesh.normals.shape == mesh.colours.shape
    assert mesh.triangles.min() == 0 and mesh.triangles.max() == len(mesh.points) - 1
    assert mesh.colours.min() >= 0 and mesh.colours.max() <= 1


def turns_round(places, corners):
    """How often closed triangles `corners` (m, 3, 3) surround each of `places`: their solid angle over 4 pi.

    Van Oosterom and Strackee, "The solid angle of a plane triangle", IEEE Trans. Biomed. Eng. 30 (1983) 125.
    """
    a, b, c = np.moveaxis(corners, (1, 2), (0, 1))[:, :, None] - places.T[:, :, None]  # x, y and z first: rows that numpy goes along
    la, lb, lc = (np.sqrt(dot(side, side)) for side in (a, b, c))
    above = dot(a, (b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0]))
    below = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb
    return np.sum(2 * np.arctan2(above, below), axis=1) / (4 * np.pi)


def dot(first, second):
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


@pytest.mark.parametrize("name", HANDS)
def test_every_part_is_closed_and_faces_outward(name):
    mesh = HANDS[name].mesh
    corners = mesh.points[mesh.triangles]
    faces = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    doubled_areas = np.linalg.norm(faces, axis=1)
    longest = np.max(np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2), axis=1)
    assert np.min(doubled_areas / longest**2) > 0.01, "a triangle is a sliver"
    faces /= doubled_areas[:, None]
    # Points in one place are one corner: colours change there, the surface goes on.
    _, place = np.unique(np.round(mesh.points, 9), axis=0, return_inverse=True)
    triangles = place.reshape(-1)[mesh.triangles]
    edges = np.vstack([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    assert len(np.unique(edges, axis=0)) == len(edges)
    assert {tuple(edge) for edge in edges} == {tuple(edge) for edge in edges[:, ::-1]}
    graph = coo_matrix((np.ones(len(edges)), edges.T), shape=(place.max() + 1,) * 2)
    parts, part_of = connected_components(graph, directed=False)
    assert parts >= 7  # palm, cuff, five fingers; nails come on top
    for part in range(parts):
        own = part_of[triangles[:, 0]] == part
        middles = corners[own].mean(axis=1)
        assert np.allclose(turns_round(middles + 1e-5 * faces[own], corners[own]), 0, atol=1e-6)
        assert np.allclose(turns_round(middles - 1e-5 * faces[own], corners[own]), 1, atol=1e-6)


@pytest.mark.parametrize("name", HANDS)
def test_normals_are_unit_and_lean_outward_where_one_sees_them(name):
    mesh = HANDS[name].mesh
    assert np.allclose(np.linalg.norm(mesh.normals, axis=1), 1, atol=1e-12)
    corners = mesh.points[mesh.triangles]
    faces = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    areas = 0.5 * np.linalg.norm(faces, axis=1)
    faces /= 2 * areas[:, None]
    seen = turns_round(corners.mean(axis=1) + 1e-5 * faces, corners) < 0.5
    lean = np.sum(mesh.normals[mesh.triangles].mean(axis=1) * faces, axis=1)
    # Not all of them: where a finger grows out of the palm the normals belong to the skin over both.
    assert np.sum(areas[seen & (lean > 0.5)]) > 0.95 * np.sum(areas[seen])
    assert np.sum(areas[seen & (lean < 0)]) < 0.005 * np.sum(areas[seen])


@pytest.mark.parametrize("side", SIDES)
def test_gripping_fingers_curl_as_the_grip_rule_says(side):
    hand = HANDS[f"grip {side}"]
    thumb = long_axis(in_colour(hand.mesh, RED), hand.thumb_tip)
    assert np.allclose(thumb, [0, 1, 0], atol=1e-12)
    tips = in_colour(hand.mesh, BLUE)
    for tip in (hand.first_tip, hand.second_tip):
        finger = tips[np.linalg.norm(tips - tip, axis=1) < 0.14]
        finger = finger[np.abs(finger[:, 1] - tip[1]) < 0.052]
        middle = finger.mean(axis=0)
        along_field = field_direction(current=thumb, offset=middle * [1, 0, 1])
        sense = 1.0 if side == "right" else -1.0
        assert sense * ((tip - middle) @ along_field) > 0.7 * np.linalg.norm(tip - middle)


@pytest.mark.parametrize("side", SIDES)
def test_the_hand_closes_on_its_rod(side):
    mesh = HANDS[f"grip {side}"].mesh
    shares = np.array([(i, j, 4 - i - j) for i in range(5) for j in range(5 - i)]) / 4
    surface = (shares @ mesh.points[mesh.triangles]).reshape(-1, 3)
    from_axis = np.hypot(surface[:, 0], surface[:, 2])
    assert from_axis.min() > 0.9 * GRIP_RADIUS
    # Near the rod on every side but where thumb and fingertips leave it open.
    near = surface[from_axis < 1.25 * GRIP_RADIUS]
    angles = np.sort(np.degrees(np.arctan2(near[:, 0], near[:, 2])))
    gaps = np.diff(np.append(angles, angles[0] + 360))
    assert 360 - gaps.max() > 200
    assert np.sort(gaps)[-2] < 45
    # Four fingers side by side: the rod is held along a palm's breadth.
    assert np.ptp(near[:, 1]) > 0.3


def random_rotation(seed):
    rotation = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))[0]
    return rotation * np.sign(np.linalg.det(rotation))


@pytest.mark.parametrize("seed", range(5))
def test_turned_hands_show_what_physics_computes(seed):
    field, other = np.random.default_rng(seed).normal(size=(2, 3))
    for rule in (left_hand(field, other), right_hand(field, other)):
        rotation = fleming_rotation(rule.side, rule.thumb, rule.first_finger, rule.second_finger)
        assert np.linalg.det(rotation) == pytest.approx(1, abs=1e-12)
        assert np.allclose(rotation @ rotation.T, np.eye(3), atol=1e-12)
        drawn = np.array(telling_fingers(HANDS[f"fleming {rule.side}"])) @ rotation.T
        assert np.allclose(drawn, [rule.thumb, rule.first_finger, rule.second_finger], atol=1e-9)


@pytest.mark.parametrize("side", SIDES)
def test_a_hand_is_not_drawn_for_directions_only_the_other_has(side):
    other = "left" if side == "right" else "right"
    thumb, first, second = random_rotation(7).T
    second = second if side == "right" else -second
    assert fleming_rotation(side, 3 * thumb, 0.1 * first, second).shape == (3, 3)
    with pytest.raises(ValueError, match=f"side must be {side}"):
        fleming_rotation(other, thumb, first, second)
    with pytest.raises(ValueError, match=f"side must be {other}"):
        fleming_rotation(side, thumb, -first, second)


def test_directions_not_at_right_angles_are_refused():
    thumb, first, second = np.array([0, 1.0, 0]), np.array([0, 0, -1.0]), np.array([-1.0, 0, 0])
    fleming_rotation("right", thumb, first + 9e-7 * thumb, second)
    with pytest.raises(ValueError, match="thumb and first must be at right angles"):
        fleming_rotation("right", thumb, first + 2e-6 * thumb, second)
    with pytest.raises(ValueError, match="first and second must be at right angles"):
        fleming_rotation("right", thumb, first, second + 0.1 * first)
    with pytest.raises(ValueError, match="second and thumb must be at right angles"):
        fleming_rotation("right", thumb, first, second - 0.1 * thumb)
    with pytest.raises(ValueError, match="thumb and first must be at right angles, not at 0"):
        fleming_rotation("right", thumb, thumb, second)


@pytest.mark.parametrize("wrong", ([0, 0, 0], [1, 0], [np.nan, 0, 1], "up", [[1, 0, 0]]))
def test_what_is_no_direction_is_refused_by_name(wrong):
    with pytest.raises(ValueError, match="^first must be three"):
        fleming_rotation("left", [0, 1, 0], wrong, [1, 0, 0])
    with pytest.raises(ValueError, match="^axis must be three"):
        grip_rotation(wrong, [0, 0, 1])
    with pytest.raises(ValueError, match="^wrist must be three"):
        grip_rotation([0, 0, 1], wrong)


@pytest.mark.parametrize("seed", range(5))
def test_grip_rotation_lays_the_thumb_along_the_axis_and_the_wrist_aside(seed):
    axis, wrist = np.random.default_rng(seed).normal(size=(2, 3))
    rotation = grip_rotation(axis, wrist)
    assert np.linalg.det(rotation) == pytest.approx(1, abs=1e-12)
    assert np.allclose(rotation @ [0, 1, 0], axis / np.linalg.norm(axis), atol=1e-12)
    aside = wrist - (wrist @ axis) / (axis @ axis) * axis
    assert np.allclose(rotation @ [0, 0, 1], aside / np.linalg.norm(aside), atol=1e-9)
    cuff = in_colour(HANDS["grip right"].mesh, CUFF).mean(axis=0)
    assert (rotation @ cuff) @ aside > 0


def test_a_wrist_along_the_axis_is_refused():
    with pytest.raises(ValueError, match="^wrist must"):
        grip_rotation([1, 2, 3], [-2, -4, -6])


@pytest.mark.parametrize("side", ("Left", "", None, 1))
def test_there_are_two_sides(side):
    for build in (
        lambda: fleming_hand(side, RED, GREEN, BLUE),
        lambda: grip_hand(side, RED, BLUE),
        lambda: fleming_rotation(side, [0, 1, 0], [0, 0, -1], [-1, 0, 0]),
    ):
        with pytest.raises(ValueError, match="^side must be left or right"):
            build()


@pytest.mark.parametrize("colour", ((1, 0), (0, 0, 1.2), (-0.1, 0, 0), "red", (np.nan, 0, 0)))
def test_odd_colours_are_refused_by_name(colour):
    with pytest.raises(ValueError, match="^second_colour must be red, green and blue"):
        fleming_hand("left", RED, GREEN, colour)
    with pytest.raises(ValueError, match="^finger_colour must be red, green and blue"):
        grip_hand("left", RED, colour)
