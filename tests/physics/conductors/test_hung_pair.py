"""Two hung wires against magpylib's fields summed up along them, scipy's solutions and balances written out anew."""

from dataclasses import replace

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from physics.conductors.hung_pair import HungPair, PairSwing
from physics.constants import STANDARD_GRAVITY, VACUUM_PERMEABILITY

LONG, SPACING, LEADS, MASS, DAMPING = 0.2, 0.05, 0.12, 0.0134, 1e-4
EARTH = (3e-6, -45e-6, -20e-6)
RAIL = [[[SPACING / 2, LEADS, LONG / 2], [SPACING / 2, LEADS, -LONG / 2]]]
ASIDE = [[[SPACING / 2 + 0.05, -0.05, 0.1], [SPACING / 2 + 0.08, -0.05, -0.1]]]
PAIR = HungPair(LONG, SPACING, LEADS, MASS, thickness=0.008, damping=DAMPING)
WITH_LEADS = replace(PAIR, fixed=np.array(RAIL + ASIDE), outside=EARTH)


def path(pair, side, angle):
    """The wire with its leads as it hangs at an angle, and its fixed leads, as lists of points."""
    hinge = side * pair.spacing / 2
    x, y = hinge + pair.leads * np.sin(angle), pair.leads * (1 - np.cos(angle))
    half = pair.length / 2
    swinging = np.array([[hinge, pair.leads, -half], [x, y, -half], [x, y, half], [hinge, pair.leads, half]])
    return swinging, pair.fixed * [side, 1, 1]


def magnets(points, pieces, current):
    parts = [magpylib.current.Polyline(current=current, vertices=list(piece)) for piece in pieces]
    return sum(part.getB(points) for part in parts) if parts else np.zeros_like(points)


def summed(path_points, field, current, about, spots=200):
    """Force on the wire alone and torque about z on lead, wire and lead, by the midpoint rule."""
    torque, force = 0.0, None
    for k, (start, end) in enumerate(zip(path_points[:-1], path_points[1:], strict=True)):
        at = start + (np.arange(spots) + 0.5)[:, np.newaxis] / spots * (end - start)
        forces = current * np.cross((end - start) / spots, field(at))
        arms = at - about
        torque += np.sum(arms[:, 0] * forces[:, 1] - arms[:, 1] * forces[:, 0])
        force = forces.sum(axis=0) if k == 1 else force
    return force, torque


@pytest.mark.parametrize("angles", [(0.0, 0.0), (0.08, -0.05), (-0.2, 0.3), (0.12, 0.12)])
@pytest.mark.parametrize("currents", [(25.0, 40.0), (30.0, -20.0), (-10.0, -50.0), (30.0, 0.0)])
def test_all_torques_are_those_of_magpylibs_fields(angles, currents):
    left, right = path(WITH_LEADS, -1, angles[0]), path(WITH_LEADS, 1, angles[1])
    found = WITH_LEADS.lead_torques(angles, currents)
    between, outside = WITH_LEADS.between(angles, currents), WITH_LEADS.of_outside(currents)
    for k, (own, other, sign) in enumerate(((left, right, 1), (right, left, -1))):
        mine, yours = currents[k], currents[1 - k]
        hinge = np.array([(-1, 1)[k] * SPACING / 2, LEADS, 0])

        def field(at, own=own, other=other, mine=mine, yours=yours):
            return magnets(at, [*zip(other[0][:-1], other[0][1:], strict=True), *other[1]], yours) + magnets(at, own[1][1:], mine)

        _, torque = summed(own[0], field, mine, hinge)  # the own rail lies in the plane of what swings: no torque from it
        middle = own[0][1:3].mean(axis=0) - hinge
        force = sign * between
        by_wires = middle[0] * force[1] - middle[1] * force[0]
        assert found[k] + by_wires == pytest.approx(torque, rel=2e-3, abs=2e-8)
        np.testing.assert_allclose(outside[k], mine * np.cross([0, 0, LONG], EARTH), rtol=1e-12, atol=1e-18)


def test_the_field_of_all_is_magpylibs():
    points = np.array([[0.1, 0.04, 0], [-0.02, -0.04, 0.03], [0.0, 0.0, 0.0]])
    angles, currents = (0.1, -0.03), (30.0, -45.0)
    expected = sum(
        magnets(points, [*zip(swinging[:-1], swinging[1:], strict=True), *still], current)
        for (swinging, still), current in zip((path(WITH_LEADS, -1, angles[0]), path(WITH_LEADS, 1, angles[1])), currents, strict=True)
    )
    np.testing.assert_allclose(WITH_LEADS.of_currents(points, angles, currents), expected, rtol=1e-6, atol=1e-12)


def settled(pair, currents, seconds=20.0):
    swing = PairSwing()
    for _ in range(round(seconds * 36)):
        swing = pair.swings(swing, currents, 1 / 36)
    return swing.angles


def test_opposite_currents_part_them_to_where_weight_and_push_balance():
    bare = replace(PAIR, leads=0.12)

    def unbalanced(angle):  # as mirror images; written out anew, leads' torque added
        spacing = SPACING - 2 * LEADS * np.sin(angle)
        push = VACUUM_PERMEABILITY * 25 * -40 / (2 * np.pi * spacing) * (np.hypot(LONG, spacing) - spacing)
        by_leads = bare.lead_torques((angle, -angle), (25.0, -40.0))[0]
        return LEADS * push * np.cos(angle) + by_leads - MASS * LONG * STANDARD_GRAVITY * LEADS * np.sin(angle)

    left, right = settled(bare, (25.0, -40.0))
    assert left == pytest.approx(brentq(unbalanced, -1.0, 0.0, xtol=1e-13), abs=1e-4)
    assert right == pytest.approx(-left, abs=1e-6)


def test_the_earth_alone_pushes_a_single_current():
    """tan(angle) = B I l / (m g): both proportional to the length. 45 microtesla downward, current toward the viewer: by the
    left hand to the right."""
    alone = replace(PAIR, outside=(0.0, -45e-6, 0.0))
    left, right = settled(alone, (40.0, 0.0))
    assert np.tan(left) == pytest.approx(45e-6 * 40 / (MASS * STANDARD_GRAVITY), rel=1e-4) and left > 0
    assert right == pytest.approx(0.0, abs=1e-6)


def test_drawn_together_they_touch_and_stay():
    angles = settled(replace(PAIR, spacing=0.03), (50.0, 50.0), 6.0)
    first, second = replace(PAIR, spacing=0.03).middles(angles)
    assert second[0] - first[0] == pytest.approx(0.008, abs=1e-9)


@pytest.mark.parametrize("currents", [(25.0, -40.0), (25.0, 15.0)])
def test_swings_as_scipy_has_it(currents):
    def motion(_, state):
        angles, rates = state[:2], state[2:]
        middles = [np.array([s * SPACING / 2 + LEADS * np.sin(a), LEADS * (1 - np.cos(a))]) for s, a in zip((-1, 1), angles, strict=True)]
        away = middles[1] - middles[0]
        spacing = np.linalg.norm(away)
        push = VACUUM_PERMEABILITY * np.prod(currents) / (2 * np.pi * spacing) * (np.hypot(LONG, spacing) - spacing) * away / spacing
        forces = np.array([push, -push]) + np.outer(currents, [-EARTH[1] * LONG, EARTH[0] * LONG])
        along = np.column_stack([np.cos(angles), np.sin(angles)])
        torque = LEADS * (np.einsum("ij,ij->i", forces, along) - MASS * LONG * STANDARD_GRAVITY * np.sin(angles)) - DAMPING * rates
        return [*rates, *((torque + pair.lead_torques(angles, currents)) / (MASS * LONG * LEADS**2))]

    pair = replace(PAIR, outside=EARTH)
    exact = solve_ivp(motion, (0, 1.0), [0.0] * 4, rtol=1e-8, atol=1e-10)
    swing = PairSwing()
    for _ in range(60):
        swing = pair.swings(swing, currents, 1 / 60)
    np.testing.assert_allclose(swing.angles, exact.y[:2, -1], atol=3e-4)


@settings(max_examples=25, deadline=None)
@given(st.floats(0, 10), st.floats(-500, 500), st.floats(-500, 500))
def test_however_long_the_step_they_neither_cross_nor_fly_off(seconds, first, second):
    swing = PAIR.swings(PairSwing((0.05, 0.0), (2.0, -1.0)), (first, second), seconds)
    left, right = PAIR.middles(swing.angles)
    assert np.all(np.isfinite(swing.rates)) and right[0] - left[0] >= 0.008 - 1e-9


@pytest.mark.parametrize(
    "call, argument",
    [
        (lambda: replace(PAIR, spacing=0.008), "spacing"),
        (lambda: replace(PAIR, leads=0.01), "leads"),
        (lambda: replace(PAIR, mass_per_metre=0), "mass_per_metre"),
        (lambda: replace(PAIR, damping=-1), "damping"),
        (lambda: replace(PAIR, fixed=np.zeros((2, 3))), "fixed"),
        (lambda: replace(PAIR, outside=(1, 2)), "outside"),
        (lambda: PAIR.swings(PairSwing(), (1, 1), -1), "seconds"),
        (lambda: PAIR.swings(PairSwing(), (1, 1, 1), 1), "currents"),
        (lambda: PAIR.swings(PairSwing(), (np.nan, 1), 1), "currents"),
    ],
)
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()
