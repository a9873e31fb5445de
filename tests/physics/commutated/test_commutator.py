"""Where segments and brushes are: against geometry done by counting points, and against where the coils are."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.commutated.armature import Armature
from physics.commutated.commutator import Commutator, SlipRings, winding_ends
from physics.fields.pole_field import PoleField

quick = settings(max_examples=50, deadline=None)
commutators = st.builds(
    Commutator,
    brush_width=st.floats(0.02, 2.5),
    insulation=st.floats(0.0, 0.2),
    lead=st.floats(-3.0, 3.0),
    brush_shift=st.floats(-1.0, 1.0),
)
coil_numbers = st.integers(1, 12)
angles = st.floats(-20.0, 20.0)


def machine(coils, commutator, axis=0.0):
    return Armature(PoleField(0.3, axis=axis), 10, 0.05, 0.02, 1.0, coils=coils, collector=commutator)


def wrapped(angle):
    return np.remainder(np.asarray(angle) + np.pi, 2 * np.pi) - np.pi


def test_a_closed_winding_has_as_many_segments_as_coils_an_open_one_two_to_each():
    assert [winding_ends(coils) for coils in (1, 2, 3, 12)] == [2, 4, 3, 12]


@quick
@given(commutators, coil_numbers, angles)
def test_segments_and_insulation_fill_the_turn_in_order(commutator, coils, angle):
    edges = commutator.segment_edges(angle, coils)
    segments = winding_ends(coils)
    assert edges.shape == (segments, 2)
    assert edges[:, 1] - edges[:, 0] == pytest.approx(2 * np.pi / segments - commutator.insulation)
    following = np.append(edges[1:, 0], edges[0, 0] + 2 * np.pi)
    assert following - edges[:, 1] == pytest.approx(commutator.insulation, abs=1e-12)


@quick
@given(commutators, coil_numbers, angles)
def test_a_coil_meets_the_brushes_where_the_lead_says(commutator, coils, angle):
    """Closed: the insulation between its segments follows its first side by the lead. Open: its own segment's middle lies a
    quarter turn before there, so that the brush stands in the middle of it while the coil faces the poles."""
    edges = commutator.segment_edges(angle, coils)[:coils]
    insulation_middle = edges.mean(axis=1) + np.pi / 2 if coils < 3 else edges[:, 1] + commutator.insulation / 2
    first_sides = machine(coils, commutator).side_angles(angle)[:, 0]
    assert wrapped(insulation_middle - first_sides - commutator.lead) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("coils", [3, 4, 7, 12])
def test_with_a_quarter_turn_of_lead_each_segment_is_midway_between_the_two_sides_joined_to_it(coils):
    commutator = Commutator(lead=np.pi / 2)
    sides = machine(coils, commutator).side_angles(0.0)
    end_of_previous = np.roll(sides[:, 1], 1)
    to_begin = wrapped(sides[:, 0] - commutator.segment_centres(0.0, coils))
    to_end = wrapped(end_of_previous - commutator.segment_centres(0.0, coils))
    assert to_begin == pytest.approx(-to_end)
    assert np.abs(to_begin) == pytest.approx(np.pi / 2 - np.pi / coils)


def test_brushes_stand_in_the_neutral_axis_and_the_positive_one_a_quarter_turn_before_the_field():
    field = PoleField(0.3, axis=0.4)
    brushes = Commutator().brush_centres(field.axis)
    assert brushes == pytest.approx([0.4 - np.pi / 2, 0.4 + np.pi / 2])
    assert brushes[0] == pytest.approx(field.neutral_axis)
    assert field.at(brushes) == pytest.approx(0.0, abs=1e-15)
    assert Commutator(lead=np.pi / 2).brush_centres(0.4) == pytest.approx([0.4, 0.4 + np.pi])
    assert Commutator(brush_shift=0.1).brush_edges(0.4) == pytest.approx(np.add.outer(brushes + 0.1, np.radians([-10, 10])))


@quick
@given(commutators, coil_numbers, angles, angles)
def test_shares_are_what_counting_points_of_the_brush_gives(commutator, coils, angle, axis):
    points = 4000
    shares = commutator.contact_shares(angle, coils, axis)
    edges = commutator.segment_edges(angle, coils)
    along = (np.arange(points) + 0.5) / points
    for brush, (begin, end) in enumerate(commutator.brush_edges(axis)):
        on_brush = begin + along * (end - begin)
        past_begin = np.remainder(on_brush[:, None] - edges[:, 0], 2 * np.pi)
        counted = (past_begin < edges[:, 1] - edges[:, 0]).mean(axis=0)
        assert shares[brush] == pytest.approx(counted, abs=3.0 / points)


@quick
@given(commutators, coil_numbers, angles)
def test_the_lead_moves_segments_and_brushes_together_and_changes_no_contact(commutator, coils, angle):
    without = Commutator(commutator.brush_width, commutator.insulation, brush_shift=commutator.brush_shift)
    shares = commutator.contact_shares(angle, coils, 0.2)
    assert shares == pytest.approx(without.contact_shares(angle, coils, 0.2), abs=1e-9)


@pytest.mark.parametrize("coils", [3, 4, 9])
def test_each_coil_is_short_circuited_by_each_brush_over_the_commutation_arc_about_the_neutral_axis(coils):
    commutator = Commutator(brush_width=np.radians(24), insulation=np.radians(6))
    armature = machine(coils, commutator)
    turn = 2 * np.pi * (np.arange(7200) + 0.5) / 7200
    touching = commutator.contact_shares(turn, coils, 0.0) > 0
    ends = winding_ends(coils)
    for coil in range(coils):
        bridged = touching[:, :, coil] & touching[:, :, (coil + 1) % ends]
        assert 2 * np.pi * bridged.mean(axis=0) == pytest.approx(commutator.commutation_arc, abs=4e-3)
        first_side = armature.side_angles(turn)[:, coil, 0]
        for brush, neutral in enumerate([-np.pi / 2, np.pi / 2]):
            assert wrapped(first_side[bridged[:, brush]] - neutral).mean() == pytest.approx(0.0, abs=1e-3)


def test_two_coils_at_right_angles_take_turns_at_the_brushes_and_each_brush_finds_both_ends_of_one():
    """A brush of 24 degrees over insulation of 6 lies on two neighbouring segments for 18 degrees, four times a revolution, half
    way between the coils' own places; else both brushes are on the coil whose sides are nearer to the poles."""
    commutator = Commutator(brush_width=np.radians(24), insulation=np.radians(6), lead=np.pi / 2)
    turn = 2 * np.pi * (np.arange(7200) + 0.5) / 7200
    shares = commutator.contact_shares(turn, 2, 0.0)
    touching = shares > 0
    assert 2 * np.pi * (touching.sum(axis=-1) == 2).mean(axis=0) == pytest.approx(4 * np.radians(18), abs=8e-3)
    assert touching[:, 0] == pytest.approx(np.roll(touching[:, 1], 2, axis=-1)), "the other brush is on the other end"
    alone = touching.sum(axis=-1)[:, 0] == 1
    facing = np.abs(np.cos(turn)) > np.abs(np.sin(turn))  # coil 0's sides lie at the turn, coil 1's a quarter turn on
    assert np.array_equal(touching[alone, 0, 0] | touching[alone, 0, 2], facing[alone])


@pytest.mark.parametrize("coils", [1])
def test_with_two_segments_each_brush_bridges_twice_a_turn_and_both_at_once(coils):
    commutator = Commutator(brush_width=np.radians(24), insulation=np.radians(6))
    turn = 2 * np.pi * (np.arange(7200) + 0.5) / 7200
    bridged = (commutator.contact_shares(turn, coils, 0.0) > 0).all(axis=-1)
    assert np.array_equal(bridged[:, 0], bridged[:, 1])
    assert 2 * np.pi * bridged.mean(axis=0) == pytest.approx(2 * commutator.commutation_arc, abs=8e-3)


def test_a_brush_narrower_than_the_insulation_loses_contact_and_never_bridges():
    commutator = Commutator(brush_width=np.radians(8), insulation=np.radians(12))
    assert commutator.commutation_arc == 0.0
    shares = commutator.contact_shares(np.radians(90), 1, 0.0)
    assert np.all(shares == 0.0)


def test_slip_rings_join_the_first_coil_at_every_angle():
    shares = SlipRings().contact_shares(np.linspace(0, 6, 5), 3, 0.0)
    assert shares.shape == (5, 2, 3)
    assert np.all(shares == np.array([[1, 0, 0], [0, 1, 0]]))


@pytest.mark.parametrize(
    "arguments, named",
    [
        ({"brush_width": 0.0}, "brush_width"),
        ({"brush_width": np.pi}, "brush_width"),
        ({"insulation": -0.1}, "insulation"),
        ({"contact_resistance": 0.0}, "contact_resistance"),
        ({"lead": np.nan}, "lead"),
        ({"brush_shift": "far"}, "brush_shift"),
    ],
)
def test_wrong_input_is_named(arguments, named):
    with pytest.raises(ValueError, match=named):
        Commutator(**arguments)


def test_insulation_must_leave_some_copper():
    with pytest.raises(ValueError, match="insulation must be less than the 0.6283 rad"):
        machine(10, Commutator(insulation=0.7))
    with pytest.raises(ValueError, match="contact_resistance"):
        SlipRings(contact_resistance=-1.0)
