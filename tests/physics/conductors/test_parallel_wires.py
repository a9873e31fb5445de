"""Two parallel wires against the definition of the ampere, Biot and Savart's law integrated, and magpylib."""

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from physics.conductors.force_and_emf import force
from physics.conductors.parallel_wires import field_beside_middle, force_between, force_per_metre
from physics.fields import segment_field

quick = settings(max_examples=50, deadline=None)
amperes = st.floats(-500, 500).filter(lambda current: abs(current) > 1e-3)
spacings, lengths = st.floats(0.002, 2.0), st.floats(0.01, 5.0)


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
        np.testing.assert_allclose(push, [force_between(first, second, spacing, length), 0, 0], rtol=1e-6, atol=1e-9 * abs(push[0]))

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
        np.testing.assert_allclose(
            there, [0, field_beside_middle(current, spacing, length), 0], rtol=1e-9, atol=1e-12 * np.abs(there).max()
        )

    def test_of_a_long_wire(self):
        # B = mu0 I / (2 pi d) (any textbook): 0.2 microtesla for each ampere at a metre.
        assert field_beside_middle(1.0, 1.0, 1e6) == pytest.approx(2e-7, rel=1e-9)


@pytest.mark.parametrize(
    "call, argument",
    [
        (lambda: force_per_metre(1, 1, 0), "spacing"),
        (lambda: force_per_metre("1", 1, 1), "first_current"),
        (lambda: force_per_metre(1, np.nan, 1), "second_current"),
        (lambda: force_between(1, 1, 1, 0), "length"),
        (lambda: force_between(1, 1, [0.1, -0.1], 1), "spacing"),
        (lambda: field_beside_middle(1, 1, -1), "length"),
    ],
)
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()
