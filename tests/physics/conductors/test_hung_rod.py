"""The rod that hangs on two leads: its torque, where it settles, how it swings."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.special import ellipk

from physics.conductors.force_and_emf import force, motional_emf, torque
from physics.conductors.hung_rod import HungRod, Swing
from physics.constants import STANDARD_GRAVITY
from physics.fields.currents import gap_field

# The field runs upward between the poles, so that a rod along z is pushed to the left or the right.
MAGNET = gap_field(0.06, [0.05, 0.03, 0.05], 1.2, direction=[0, 1, 0])
ROD = HungRod(ends=[[0, 0, -0.08], [0, 0, 0.08]], hinge=[0, 0.2, 0], axis=[0, 0, 1], mass=0.02)
NO_FIELD = ROD.torque_curve(np.zeros_like)
CURVE = ROD.torque_curve(MAGNET)


def even(flux_density):
    return lambda points: np.broadcast_to(np.asarray(flux_density, float), points.shape)


class TestGeometry:
    def test_where_it_is(self):
        np.testing.assert_allclose(ROD.path(0.0), ROD.ends, atol=1e-16)
        # A positive angle is counter-clockwise seen from +z: to the right.
        quarter = ROD.path([np.pi / 6, np.pi / 2])
        np.testing.assert_allclose(quarter[0, 0], [0.1, 0.2 - 0.2 * np.cos(np.pi / 6), -0.08], atol=1e-15)
        np.testing.assert_allclose(quarter[1, 1], [0.2, 0.2, 0.08], atol=1e-15)

    def test_inertia(self):
        # m l^2 for a rod along the axis; m L^2 / 12 about its own middle, and the parallel axes (any textbook).
        assert ROD.inertia == pytest.approx(0.02 * 0.2**2, rel=1e-14)
        outward = replace(ROD, ends=[[-0.08, 0, 0], [0.08, 0, 0]])
        assert outward.inertia == pytest.approx(0.02 * (0.2**2 + 0.16**2 / 12), rel=1e-14)

    def test_a_rod_turned_about_the_vertical(self):
        turned = HungRod(ends=[[-0.05, 0, 0.05], [0.05, 0, -0.05]], hinge=[0, 0.2, 0], axis=[1, 0, -1], mass=0.02)
        assert turned.inertia == pytest.approx(0.02 * 0.2**2, rel=1e-14)


class TestTorque:
    def test_even_field(self):
        # Current toward the viewer in a field upward: pushed to the left (F = I l x B); lever 0.2 m times the cosine.
        angles = np.array([-0.5, 0.0, 0.8])
        found = ROD.torque_per_ampere(angles, even([0, 0.3, 0]))
        np.testing.assert_allclose(found, -0.3 * 0.16 * 0.2 * np.cos(angles), rtol=1e-12)
        assert replace(ROD, turns=5).torque_per_ampere(0.0, even([0, 0.3, 0])) == pytest.approx(5 * -0.0096)

    @pytest.mark.parametrize("angle", [-1.0, 0.0, 0.1, 0.6])
    def test_is_that_of_the_force_along_the_conductor(self, angle):
        expected = torque(ROD.path(angle), 3.0, MAGNET, about=[0, 0.2, 0])[2]
        assert 3 * ROD.torque_per_ampere(angle, MAGNET) == pytest.approx(expected, rel=1e-9, abs=1e-12)

    @pytest.mark.parametrize("angle", [-0.7, 0.0, 0.2])
    def test_is_also_the_emf_of_the_swing(self, angle):
        swing = Swing(angle, 2.5)
        emf = motional_emf(ROD.path(angle), ROD.velocity(swing), MAGNET)
        assert emf == pytest.approx(-2.5 * ROD.torque_per_ampere(angle, MAGNET), rel=1e-9, abs=1e-12)

    def test_the_curve_is_what_the_field_gives_between_its_angles_too(self):
        angles = np.random.default_rng(1).uniform(-np.pi / 2, np.pi / 2, 300)
        exact = ROD.torque_per_ampere(angles, MAGNET)
        np.testing.assert_allclose(CURVE(angles), exact, atol=1e-5 * np.abs(exact).max())
        assert float(CURVE(0.3)) == pytest.approx(float(CURVE(np.array([0.3]))[0]), rel=1e-14)
        assert CURVE(9.0) == CURVE(np.pi / 2)


class TestSettling:
    def test_even_field(self):
        # The push is level, so it hangs along the resultant: tan(angle) = B I l / (m g) (by the parallelogram).
        curve = ROD.torque_curve(even([0, -0.3, 0]))
        expected = np.arctan(0.3 * 4 * 0.16 / (0.02 * STANDARD_GRAVITY))
        assert ROD.settles_at(4.0, curve) == pytest.approx(expected, rel=1e-7)
        assert ROD.settles_at(-4.0, curve) == pytest.approx(-expected, rel=1e-7)

    @settings(max_examples=25, deadline=None)
    @given(st.floats(-30, 30))
    def test_there_the_torques_balance_and_the_force_agrees(self, current):
        angle = ROD.settles_at(current, CURVE)
        weight = 0.02 * STANDARD_GRAVITY * 0.2 * np.sin(angle)
        pushed = torque(ROD.path(angle), current, MAGNET, about=[0, 0.2, 0])[2]
        assert pushed == pytest.approx(weight, abs=2e-6 * (1 + abs(current)) * np.abs(CURVE.torque).max())
        if current:
            assert np.sign(angle) == np.sign(force(ROD.ends, current, MAGNET)[0])

    def test_reversals(self):
        backward = ROD.torque_curve(gap_field(0.06, [0.05, 0.03, 0.05], -1.2, direction=[0, 1, 0]))
        there = ROD.settles_at(5.0, CURVE)
        assert there != 0
        assert ROD.settles_at(-5.0, CURVE) == pytest.approx(-there, rel=1e-9)
        assert ROD.settles_at(5.0, backward) == pytest.approx(-there, rel=1e-9)
        assert ROD.settles_at(-5.0, backward) == pytest.approx(there, rel=1e-9)

    def test_no_current_no_field_or_current_along_the_field(self):
        assert ROD.settles_at(0.0, CURVE) == 0.0
        assert ROD.settles_at(5.0, NO_FIELD) == 0.0
        assert ROD.settles_at(5.0, ROD.torque_curve(even([0, 0, 1.0]))) == 0.0

    def test_a_push_too_strong_ends_at_the_stop(self):
        rod = replace(ROD, stop=0.5)
        curve = rod.torque_curve(even([0, -1, 0]))
        assert rod.settles_at(100.0, curve) == pytest.approx(0.5)
        assert rod.swings(Swing(), 100.0, curve, 5.0) == Swing(0.5, 0.0)


class TestSwinging:
    def test_small_swings(self):
        # Simple pendulum, period 2 pi sqrt(l / g) (any textbook).
        period = 2 * np.pi * np.sqrt(0.2 / STANDARD_GRAVITY)
        assert ROD.frequency == pytest.approx(2 * np.pi / period, rel=1e-14)
        swing = ROD.swings(Swing(1e-4, 0.0), 0.0, NO_FIELD, period)
        assert swing.angle == pytest.approx(1e-4, rel=1e-4)

    def test_wide_swings(self):
        # Exact period 4 sqrt(l / g) K(sin^2(amplitude / 2)) (any textbook), with scipy's ellipk.
        period = 4 * np.sqrt(0.2 / STANDARD_GRAVITY) * ellipk(np.sin(0.6) ** 2)
        swing = Swing(1.2, 0.0)
        for _ in range(100):
            swing = ROD.swings(swing, 0.0, NO_FIELD, period / 100)
        assert swing.angle == pytest.approx(1.2, rel=1e-6)

    @pytest.mark.parametrize("current", [-8.0, 3.0, 20.0])
    def test_through_the_edge_of_the_field_as_scipy_has_it(self, current):
        rod = replace(ROD, damping=3e-4)

        def motion(_, state):
            push = current * float(rod.torque_per_ampere(state[0], MAGNET))
            weight = 0.02 * STANDARD_GRAVITY * 0.2 * np.sin(state[0])
            return [state[1], (push - weight - 3e-4 * state[1]) / rod.inertia]

        exact = solve_ivp(motion, (0, 1.0), [0.0, 0.0], rtol=1e-8, atol=1e-10)
        swing = Swing()
        for _ in range(30):
            swing = rod.swings(swing, current, CURVE, 1 / 30)
        assert swing.angle == pytest.approx(exact.y[0, -1], abs=1e-4)
        assert swing.rate == pytest.approx(exact.y[1, -1], abs=1e-3)

    @pytest.mark.parametrize("current", [-6.0, 0.0, 2.0, 6.0])
    def test_damped_it_comes_to_rest_where_it_settles(self, current):
        rod, swing = replace(ROD, damping=2e-3), Swing()
        for _ in range(600):
            swing = rod.swings(swing, current, CURVE, 1 / 30)
        assert swing.angle == pytest.approx(rod.settles_at(current, CURVE), abs=1e-6)
        assert swing.rate == pytest.approx(0, abs=1e-6)

    def test_it_starts_the_way_it_is_pushed(self):
        swing = ROD.swings(Swing(), 5.0, CURVE, 1e-3)
        push = force(ROD.ends, 5.0, MAGNET)
        assert swing.angle * push[0] > 0
        # From rest: x = F t^2 / (2 m) at first.
        assert swing.angle * 0.2 == pytest.approx(push[0] / 0.02 * 1e-6 / 2, rel=1e-4)

    @settings(max_examples=25, deadline=None)
    @given(st.floats(0, 30), st.floats(-200, 200), st.floats(0, 1))
    def test_however_long_the_step_it_stays_between_the_stops(self, seconds, current, damping):
        swing = replace(ROD, damping=damping).swings(Swing(0.4, 3.0), current, CURVE, seconds)
        assert np.isfinite(swing.rate) and abs(swing.angle) <= np.pi / 2


@pytest.mark.parametrize(
    "changed, argument",
    [
        ({"ends": [[0, 0, 0]]}, "ends"),
        ({"ends": [[0, 0, 1], [0, 0, 1]]}, "ends"),
        ({"hinge": [0, -0.2, 0]}, "hinge"),
        ({"hinge": [0.1, 0.2, 0]}, "hinge"),
        ({"axis": [0, 0, 0]}, "axis"),
        ({"axis": [0, 1, 0]}, "hinge"),
        ({"mass": 0}, "mass"),
        ({"damping": -1}, "damping"),
        ({"stop": 0}, "stop"),
        ({"turns": 0}, "turns"),
        ({"down": [0, 0, 0]}, "down"),
    ],
)
def test_a_rod_that_cannot_be_is_named(changed, argument):
    with pytest.raises(ValueError, match=argument):
        replace(ROD, **changed)


@pytest.mark.parametrize(
    "call, argument",
    [
        (lambda: ROD.swings(Swing(), 1.0, CURVE, -1.0), "seconds"),
        (lambda: ROD.swings(Swing(), np.nan, CURVE, 1.0), "current"),
        (lambda: ROD.torque_curve(MAGNET, angles=3), "angles"),
        (lambda: ROD.settles_at(np.inf, CURVE), "current"),
        (lambda: ROD.path(np.nan), "angle"),
    ],
)
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()


class TestLeads:
    """Leads that swing with the rod: bent wires of the same frame, one out to the right and one, heavier for being longer, to the left."""

    SPREAD = HungRod(
        ends=[[0, 0, -0.02], [0, 0, 0.02]],
        hinge=[0, 0.2, 0],
        axis=[0, 0, 1],
        mass=0.02,
        lead_mass=0.03,
        leads=(
            [[0, 0.2, -0.02], [-0.09, 0.2, -0.02], [-0.09, 0, -0.02], [0, 0, -0.02]],
            [[0, 0, 0.02], [0.08, 0, 0.02], [0.08, 0.2, 0.02], [0, 0.2, 0.02]],
        ),
    )

    @pytest.mark.parametrize("angle", [-0.4, 0.0, 0.3])
    def test_the_field_pushes_them_too(self, angle):
        whole = np.vstack([self.SPREAD.leads[0][:-1], self.SPREAD.ends, self.SPREAD.leads[1][1:]])
        c, s = np.cos(angle), np.sin(angle)
        swung = (whole - [0, 0.2, 0]) @ np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]).T + [0, 0.2, 0]
        expected = torque(swung, 2.0, MAGNET, about=[0, 0.2, 0])[2]
        assert 2 * self.SPREAD.torque_per_ampere(angle, MAGNET, samples=64) == pytest.approx(expected, rel=1e-6)
        assert expected != pytest.approx(torque(self.SPREAD.path(angle), 2.0, MAGNET, about=[0, 0.2, 0])[2], rel=0.03)

    def test_they_weigh(self):
        # by small pieces of 1 mm, each with its own lever
        masses, places = [0.02], [[0.0, -0.2]]
        for lead in self.SPREAD.leads:
            for first, last in zip(lead[:-1], lead[1:], strict=True):
                long = np.linalg.norm(last - first)
                count = round(long * 1000)
                places += [(first + (last - first) * (k + 0.5) / count)[:2] - [0, 0.2] for k in range(count)]
                masses += [0.03 * long / count] * count
        masses, places = np.array(masses), np.array(places)
        assert self.SPREAD.inertia == pytest.approx(masses @ (places**2).sum(axis=1), rel=1e-4)
        for angle in (-0.3, 0.0, 0.5):
            sideways = places[:, 0] * np.cos(angle) - places[:, 1] * np.sin(angle)
            assert self.SPREAD.torque(angle, 0.0, NO_FIELD) == pytest.approx(-STANDARD_GRAVITY * masses @ sideways, rel=1e-4)

    def test_it_comes_to_rest_where_it_is_balanced(self):
        rest = self.SPREAD.settles_at(0.0, NO_FIELD)
        assert rest > 0.01  # the heavier lead on the left goes down, and the rod goes to the right
        swing = replace(self.SPREAD, damping=3e-3).swings(Swing(), 0.0, NO_FIELD, 10.0)
        assert swing.angle == pytest.approx(rest, abs=1e-6)

    def test_leads_end_at_the_rod(self):
        with pytest.raises(ValueError, match="^leads must be two"):
            replace(self.SPREAD, leads=self.SPREAD.leads[:1])
        with pytest.raises(ValueError, match="^leads must be two"):
            replace(self.SPREAD, leads=self.SPREAD.leads[::-1])
