"""Our own least squares, against the normal equations, a known valley and scipy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares as scipy_least_squares

from physics.nameplate.least_squares import least_squares

FIFTY = settings(max_examples=50, deadline=None)


class TestLeastSquares:
    def test_several_beginnings_side_by_side(self):
        """Each row goes its own way: to the one or the other of two valleys, and to where it would go alone."""

        def double_well(at):
            return np.stack([at[..., 0] ** 2 - 1, at[..., 1] - at[..., 0]], axis=-1)

        found = least_squares(double_well, [[2.0, 0.0], [-0.5, 3.0]])
        assert found == pytest.approx(np.array([[1.0, 1.0], [-1.0, -1.0]]), abs=1e-6)
        assert found[1] == pytest.approx(least_squares(double_well, [-0.5, 3.0]), abs=1e-9)

    @FIFTY
    @given(st.lists(st.floats(-2, 2), min_size=3, max_size=3))
    def test_line_through_points(self, coefficients):
        """A linear problem: the solution of the normal equations."""
        rows = np.array([[1.0, x, x * x] for x in np.linspace(-1, 1, 9)])
        measured = rows @ coefficients + np.cos(7 * np.arange(9))
        found = least_squares(lambda tried: tried @ rows.T - measured, np.zeros(3))
        assert found == pytest.approx(np.linalg.lstsq(rows, measured, rcond=None)[0], abs=1e-8)

    def test_rosenbrock_valley(self):
        """H. H. Rosenbrock, Computer J. 3, 1960: the least value, 0, is at (1, 1)."""
        found = least_squares(lambda at: np.stack([10 * (at[..., 1] - at[..., 0] ** 2), 1 - at[..., 0]], axis=-1), [-1.2, 1.0])
        assert found == pytest.approx([1.0, 1.0], abs=1e-6)

    def test_against_scipy(self):
        time = np.linspace(0, 3, 40)
        measured = 2.0 * np.exp(-1.3 * time) + 0.4 + 0.05 * np.sin(9 * time)

        def misses(tried):
            height, rate, rest = np.moveaxis(np.asarray(tried)[..., np.newaxis], -2, 0)
            return height * np.exp(-rate * time) + rest - measured

        assert least_squares(misses, [1.0, 1.0, 0.0]) == pytest.approx(
            scipy_least_squares(misses, [1.0, 1.0, 0.0], xtol=1e-12, ftol=1e-12).x, abs=1e-6
        )
