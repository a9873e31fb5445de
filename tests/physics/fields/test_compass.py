"""Compass needles: where they settle and how they swing."""

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from physics.fields.compass import Compass, Needles, fields_of_the_others
from physics.fields.currents import earth_field, long_wire_field

quick = settings(max_examples=50, deadline=None)
EARTH = earth_field(2e-5, np.radians(65))


def energy(compass, needles, flux_density):
    """Of each needle, J: kinetic and magnetic."""
    pull = np.einsum("ni,ni->n", compass.directions(needles.angle), flux_density)
    return compass.inertia * needles.rate**2 / 2 - compass.moment * pull


class TestSettling:
    def test_in_the_earths_field_it_points_north_whatever_the_dip(self):
        assert Compass().settles_at(EARTH) == pytest.approx([0.0], abs=1e-15)
        np.testing.assert_allclose(Compass().directions(0.0), [[0, 0, -1]], atol=1e-15)

    def test_counter_clockwise_from_above(self):
        # North is away from the viewer; a quarter turn counter-clockwise, seen from above, is to the left.
        fields = [[-1, 0, 0], [1, 5, 0], [0, -3, 1], [-1, 0, -1]]
        np.testing.assert_allclose(Compass().settles_at(fields), np.array([0.5, -0.5, 1.0, 0.25]) * np.pi)

    def test_over_a_wire_the_tangent_law(self):
        # A wire due north under the compass: tan(angle) = mu0 I / (2 pi r) / B_h (the tangent galvanometer's law).
        wire = long_wire_field([[0, 0.05, 0]], [0, 0, 0], [0, 0, -1], 3.0)
        angle = Compass().settles_at(EARTH + wire)
        # By the grip rule: current north, needle above: its north end is driven to the right, clockwise.
        assert np.tan(-angle) == pytest.approx(3.0 * 2e-7 / 0.05 / 2e-5, rel=1e-9)

    @quick
    @given(st.integers(0, 2**32 - 1))
    def test_points_along_the_level_part(self, seed):
        generator = np.random.default_rng(seed)
        normal, zero = generator.normal(size=(2, 3))
        compass, fields = Compass(normal=normal, zero=zero), generator.normal(size=(6, 3))
        pointing = compass.directions(compass.settles_at(fields))
        unit = normal / np.linalg.norm(normal)
        level = fields - np.outer(fields @ unit, unit)
        np.testing.assert_allclose(pointing, level / np.linalg.norm(level, axis=1)[:, np.newaxis], atol=1e-9)

    def test_without_a_level_field_it_has_no_angle(self):
        angle = Compass().settles_at([[0, 1, 0], [0, 0, 0], [0, 0, 1]])
        assert np.isnan(angle[:2]).all() and angle[2] == np.pi
        np.testing.assert_array_equal(Compass().settled([[0, 1, 0]]).angle, [0.0])


class TestSwing:
    def test_small_swings_are_those_of_a_damped_oscillator(self):
        # Period 2 pi sqrt(J / (m B)) (any textbook), with damping: the closed form of the damped oscillator.
        compass = Compass(moment=0.01, inertia=1e-8, damping=1e-8)
        decay, stiffness = 0.5, 0.01 * 3e-5 / 1e-8
        turn = np.sqrt(stiffness - decay**2)
        needles = compass.swing(Needles(np.array([1e-4]), np.array([0.0])), [[0, 0, -3e-5]], 2.0)
        expected = 1e-4 * np.exp(-decay * 2) * (np.cos(turn * 2) + decay / turn * np.sin(turn * 2))
        assert needles.angle[0] == pytest.approx(expected, rel=1e-5)

    @pytest.mark.parametrize("damping", [0.0, 5e-8, 1.8e-7, 1e-6])
    def test_wide_swings_agree_with_scipy(self, damping):
        compass = Compass(moment=0.01, inertia=2e-8, damping=damping)
        start, flux = np.array([2.8, -1.5, 0.3]), np.array([[0, 0, -2e-5], [1e-5, 0, -3e-5], [-2e-4, 4e-5, 0]])
        rest = compass.settles_at(flux)
        strength = 0.01 * np.hypot(flux[:, 0], flux[:, 2])
        seconds, needles = 1.5, Needles(start, np.array([0.0, 2.0, -1.0]))

        def motion(_, state):
            return np.concatenate([state[3:], (-strength * np.sin(state[:3] - rest) - damping * state[3:]) / 2e-8])

        exact = solve_ivp(motion, (0, seconds), np.concatenate([needles.angle, needles.rate]), rtol=1e-10, atol=1e-12)
        for _ in range(45):
            needles = compass.swing(needles, flux, seconds / 45)
        np.testing.assert_allclose(needles.angle, exact.y[:3, -1], atol=1e-2)
        finer = Needles(start, np.array([0.0, 2.0, -1.0]))
        for _ in range(2000):
            finer = compass.swing(finer, flux, seconds / 2000)
        np.testing.assert_allclose(finer.angle, exact.y[:3, -1], atol=1e-4)

    def test_it_comes_to_rest_where_it_settles(self):
        compass, generator = Compass(), np.random.default_rng(1)
        fields = EARTH + generator.normal(size=(20, 3)) * 1e-4
        needles = Needles(generator.uniform(-3, 3, 20), generator.uniform(-20, 20, 20))
        for _ in range(600):
            needles = compass.swing(needles, fields, 1 / 30)
        np.testing.assert_allclose(compass.directions(needles.angle), compass.directions(compass.settles_at(fields)), atol=1e-6)

    @pytest.mark.parametrize("flux", [[0, 0, -2e-5], [1e-5, 0, 2e-5], [-3e-4, 0, 0]])
    def test_a_field_reversed_exactly_swings_it_round(self, flux):
        compass, flux = Compass(), np.array([flux])
        needles = compass.settled(flux)
        middle = None
        for frame in range(600):
            needles = compass.swing(needles, -flux, 1 / 30)
            if middle is None and abs(needles.angle[0] - compass.settles_at(flux)[0]) > np.pi / 2:
                middle = frame
        np.testing.assert_allclose(compass.directions(needles.angle), -flux / np.linalg.norm(flux), atol=1e-6)
        # Within a few seconds, as a real one does, not when rounding errors have grown enough.
        assert middle < 120

    @settings(max_examples=15, deadline=None)
    @given(st.integers(0, 2**32 - 1), st.floats(1e-3, 100), st.floats(1e-6, 10))
    def test_however_long_the_step_and_strong_the_field_it_does_not_grow(self, seed, seconds, strength):
        generator = np.random.default_rng(seed)
        compass, fields = Compass(), generator.normal(size=(5, 3)) * strength
        needles = Needles(generator.uniform(-3, 3, 5), np.zeros(5))
        for _ in range(5):
            needles = compass.swing(needles, fields, seconds)
        assert np.all(np.isfinite(needles.angle))
        top = compass.moment / compass.inertia * np.linalg.norm(fields, axis=1)
        # No faster than after a fall from the top, sqrt(4 m B / J), but for the error of a step too long.
        assert np.all(needles.rate**2 <= 10 * top)

    def test_energy_is_lost_never_gained(self):
        compass, flux = Compass(), np.tile(EARTH, (9, 1))
        needles = Needles(np.linspace(-3, 3, 9), np.linspace(5, -5, 9))
        before = energy(compass, needles, flux)
        for _ in range(200):
            needles = compass.swing(needles, flux, 1 / 30)
            after = energy(compass, needles, flux)
            assert np.all(after <= before + 1e-3 * compass.moment * 2e-5)
            before = after

    def test_without_a_field_it_coasts_and_no_time_changes_nothing(self):
        compass = Compass(damping=0.0)
        needles = Needles(np.array([1.0, 2.0]), np.array([0.5, -0.25]))
        later = compass.swing(needles, np.zeros((2, 3)), 4.0)
        np.testing.assert_allclose(later.angle, [3.0, 1.0], rtol=1e-12)
        same = compass.swing(needles, [EARTH, EARTH], 0.0)
        np.testing.assert_allclose(same.angle, needles.angle, rtol=1e-15)
        np.testing.assert_allclose(same.rate, needles.rate, rtol=1e-15)


class TestNeedlesOnEachOther:
    def test_end_on_and_broadside(self):
        # Gauss's two positions (any textbook of magnetism): mu0 / (4 pi) 2 m / r^3 end on, and half of it, reversed, broadside.
        for beside, along in (([0, 0, -0.05], 2.0), ([0.05, 0, 0], -1.0)):
            there = fields_of_the_others([[0, 0, 0], beside], [[0, 0, -3e-4], [0, 0, 0]])
            np.testing.assert_allclose(there, [[0, 0, 0], [0, 0, -along * 1e-7 * 3e-4 / 0.05**3]], rtol=1e-9, atol=1e-18)

    @quick
    @given(st.integers(0, 2**32 - 1))
    def test_as_magpylib_has_dipoles(self, seed):
        generator = np.random.default_rng(seed)
        places, moments = generator.normal(size=(2, 5, 3))
        found = fields_of_the_others(places, moments)
        for k in range(5):
            others = magpylib.Collection(*[magpylib.misc.Dipole(moment=moments[j], position=places[j]) for j in range(5) if j != k])
            np.testing.assert_allclose(found[k], others.getB(places[k]), rtol=1e-8, atol=1e-16)


NEEDLES = Needles(np.zeros(2), np.zeros(2))


@pytest.mark.parametrize(
    "call, argument",
    [
        (lambda: Compass(moment=0), "moment"),
        (lambda: Compass(inertia=-1), "inertia"),
        (lambda: Compass(damping=-1), "damping"),
        (lambda: Compass(normal=(0, 0, 0)), "normal"),
        (lambda: Compass(zero=(0, 2, 0)), "zero"),
        (lambda: Compass(zero=(0, 0, 0)), "zero"),
        (lambda: Compass().settles_at([1.0, 2.0]), "flux_density"),
        (lambda: Compass().directions(np.nan), "angle"),
        (lambda: fields_of_the_others(np.zeros((2, 3)), np.zeros((2, 3))), "places"),
        (lambda: fields_of_the_others(np.eye(3), np.zeros((2, 3))), "moments"),
        (lambda: Compass().swing(NEEDLES, np.zeros((3, 3)), 1.0), "flux_density"),
        (lambda: Compass().swing(NEEDLES, np.zeros((2, 3)), -1.0), "seconds"),
        (lambda: Compass().swing(Needles(np.zeros((2, 2)), np.zeros(2)), np.zeros((2, 3)), 1.0), "needles.angle"),
    ],
)
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()
