"""Two parallel wires against the definition of the ampere, Biot and Savart's law integrated, and magpylib."""

from dataclasses import replace

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from physics.conductors.force_and_emf import force
from physics.conductors.hung_rod import Swing
from physics.conductors.parallel_wires import HungPair, field_beside_middle, force_between, force_per_metre
from physics.constants import STANDARD_GRAVITY, VACUUM_PERMEABILITY
from physics.fields import segment_field

quick = settings(max_examples=50, deadline=None)
amperes = st.floats(-500, 500).filter(lambda current: abs(current) > 1e-3)
spacings, lengths = st.floats(0.002, 2.0), st.floats(0.01, 5.0)

PAIR = HungPair(length=0.2, spacing=0.03, leads=0.12, mass_per_metre=0.0134, thickness=0.008, damping=1e-4)


def along_z(x, length):
    return np.array([[x, 0, -length / 2], [x, 0, length / 2]])


class TestForce:
    def test_the_published_value(self):
        # One ampere in each of two long parallel conductors 1 m apart: 2e-7 N on each metre, together when they run
        # the same way (9th CGPM, 1948, in the SI Brochure's notes on the history of the SI). Since 2019 mu0 is
        # measured: CODATA 2022 has 1.25663706127(20)e-6 N/A^2, which is 4 pi e-7 to 2 parts in 10^10.
        assert force_per_metre(1, 1, 1) == pytest.approx(2e-7, rel=2e-10)
        assert force_per_metre(1, -1, 1) == pytest.approx(-2e-7, rel=2e-10)

    def test_a_finite_length_comes_to_the_published_value(self):
        parts = np.array([force_between(1, 1, 1, length) / length for length in (1, 10, 1e2, 1e4, 1e8)])
        assert np.all(np.diff(parts) > 0)
        # short of it by nearly the spacing over the length
        np.testing.assert_allclose(1 - parts[2:4] / 2e-7, [1e-2, 1e-4], rtol=6e-3)
        assert parts[-1] == pytest.approx(2e-7, rel=2e-8)

    def test_as_the_square_of_the_current(self):
        # Fifty kiloamperes in busbars 0.1 m apart: 5 kN a metre (2e-7 * 50000^2 / 0.1).
        assert force_per_metre(5e4, 5e4, 0.1) == pytest.approx(5000, rel=1e-9)
        assert force_per_metre(50, 50, 0.1) == pytest.approx(5e-3, rel=1e-9)

    @quick
    @given(amperes, amperes, spacings, lengths)
    def test_is_that_along_the_one_in_the_field_of_the_other(self, first, second, spacing, length):
        """Our own segment's field, asked along the other wire; the nearer they are, the more pieces it takes."""
        one, other = along_z(0.0, length), along_z(spacing, length)
        pieces = np.linspace(one[0], one[1], 2 + int(length / spacing / 8))
        push = force(pieces, first, lambda points: segment_field(points, other[:1], other[1:], second), samples=48)
        np.testing.assert_allclose(push, [force_between(first, second, spacing, length), 0, 0],
                                   rtol=1e-6, atol=1e-9 * abs(push[0]))

    @pytest.mark.parametrize("spacing, length", [(0.01, 0.2), (0.03, 0.2), (0.3, 0.1)])
    def test_is_what_magpylib_and_scipy_come_to(self, spacing, length):
        """The force from magpylib's field of a straight current, integrated by scipy; the end effects as well."""
        wire = magpylib.current.Polyline(current=40.0, vertices=along_z(spacing, length))

        def push(z):
            return 25.0 * wire.getB((0.0, 0.0, z))[1] * -1  # I (l x B), l along z: along x it is -I By

        found, _ = quad(push, -length / 2, length / 2, epsabs=0, epsrel=1e-9)
        assert force_between(25.0, 40.0, spacing, length) == pytest.approx(found, rel=1e-7)

    def test_takes_arrays(self):
        found = force_between(2.0, np.array([[1.0], [-1.0]]), np.array([0.1, 0.2, 0.4]), 1.0)
        assert found.shape == (2, 3) and np.all(found[0] > 0) and np.all(found[1] == -found[0])


class TestField:
    @quick
    @given(amperes, spacings, lengths)
    def test_beside_the_middle_as_the_segment_has_it(self, current, spacing, length):
        there = segment_field([[spacing, 0, 0]], *along_z(0.0, length)[:, np.newaxis], current)[0]
        np.testing.assert_allclose(there, [0, field_beside_middle(current, spacing, length), 0],
                                   rtol=1e-9, atol=1e-12 * np.abs(there).max())

    def test_of_a_long_wire(self):
        # B = mu0 I / (2 pi d) (any textbook): 0.2 microtesla for each ampere at a metre.
        assert field_beside_middle(1.0, 1.0, 1e6) == pytest.approx(2e-7, rel=1e-9)


class TestHungPair:
    def test_opposite_currents_part_them_to_where_weight_and_push_balance(self):
        def unbalanced(angle):  # written out anew: push times lever against weight times lever
            spacing = 0.03 - 2 * 0.12 * np.sin(angle)
            push = VACUUM_PERMEABILITY * 25 * -40 / (2 * np.pi * spacing) * (np.hypot(0.2, spacing) - spacing)
            return push * np.cos(angle) - 0.0134 * 0.2 * STANDARD_GRAVITY * np.sin(angle)

        settled = PAIR.settles_at(25.0, -40.0)
        assert settled == pytest.approx(brentq(unbalanced, -1.0, 0.0, xtol=1e-13), abs=1e-11)
        assert PAIR.spacing_at(settled) > 0.03

    def test_either_way_round_the_currents_do_the_same(self):
        for first, second in ((20.0, 15.0), (20.0, -30.0)):
            there = PAIR.settles_at(first, second)
            assert np.sign(there) == np.sign(first * second)
            assert PAIR.settles_at(second, first) == pytest.approx(there, rel=1e-9)
            assert PAIR.settles_at(-first, -second) == pytest.approx(there, rel=1e-9)
        assert PAIR.settles_at(0.0, 50.0) == PAIR.settles_at(50.0, 0.0) == 0.0

    def test_beyond_a_certain_current_they_snap_together(self):
        """With long wires a pull of k / d against K x on each, x the way of one: k = K x (d0 - 2 x) is greatest, and
        the last that holds, at x = d0 / 4. Wires much longer than their spacing and swinging little come near it."""
        pair = replace(PAIR, length=20.0, leads=2.0, thickness=0.001)
        weight = 0.0134 * STANDARD_GRAVITY / 2.0  # N/m of displacement, for each metre of wire
        last = np.sqrt(weight * 0.03**2 / 8 / 2e-7)
        held = pair.spacing_at(pair.settles_at(0.995 * last, 0.995 * last))
        assert 0.015 < held < 0.02
        touching = pair.settles_at(1.005 * last, 1.005 * last)
        assert pair.spacing_at(touching) == pytest.approx(0.001, abs=1e-12)

    @pytest.mark.parametrize("second", [-40.0, 15.0])
    def test_swings_as_scipy_has_it(self, second):
        def motion(_, state):
            spacing = 0.03 - 2 * 0.12 * np.sin(state[0])
            push = VACUUM_PERMEABILITY * 25 * second / (2 * np.pi * spacing) * (np.hypot(0.2, spacing) - spacing)
            torque = 0.12 * (push * np.cos(state[0]) - 0.00268 * STANDARD_GRAVITY * np.sin(state[0])) - 1e-4 * state[1]
            return [state[1], torque / (0.00268 * 0.12**2)]

        exact = solve_ivp(motion, (0, 1.0), [0.0, 0.0], rtol=1e-10, atol=1e-12)
        swing = Swing()
        for _ in range(60):
            swing = PAIR.swings(swing, 25.0, second, 1 / 60)
        assert swing.angle == pytest.approx(exact.y[0, -1], abs=1e-5)
        assert swing.rate == pytest.approx(exact.y[1, -1], abs=1e-4)

    @settings(max_examples=25, deadline=None)
    @given(st.floats(0, 10), amperes, amperes)
    def test_however_long_the_step_they_neither_cross_nor_fly_off(self, seconds, first, second):
        swing = PAIR.swings(Swing(0.05, 2.0), first, second, seconds)
        assert np.isfinite(swing.rate)
        assert 0.008 - 1e-12 <= PAIR.spacing_at(swing.angle) <= 0.27 + 1e-12


@pytest.mark.parametrize("call, argument", [
    (lambda: force_per_metre(1, 1, 0), "spacing"), (lambda: force_per_metre("1", 1, 1), "first_current"),
    (lambda: force_per_metre(1, np.nan, 1), "second_current"), (lambda: force_between(1, 1, 1, 0), "length"),
    (lambda: force_between(1, 1, [0.1, -0.1], 1), "spacing"), (lambda: field_beside_middle(1, 1, -1), "length"),
    (lambda: replace(PAIR, spacing=0.008), "spacing"), (lambda: replace(PAIR, leads=0.01), "leads"),
    (lambda: replace(PAIR, mass_per_metre=0), "mass_per_metre"), (lambda: replace(PAIR, damping=-1), "damping"),
    (lambda: PAIR.swings(Swing(), 1, 1, -1), "seconds"), (lambda: PAIR.settles_at(1, np.inf), "second_current"),
    (lambda: PAIR.swings(Swing(), np.nan, 1, 1), "first_current"),
])
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()
