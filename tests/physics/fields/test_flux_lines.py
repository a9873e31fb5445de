"""Flux lines traced through fields, and rings spaced by the flux between them."""

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.constants import VACUUM_PERMEABILITY
from physics.fields import block_magnet_field, loop_field
from physics.fields.currents import gap_field, long_wire_field
from physics.fields.flux_lines import between_faces, flux_line, flux_lines, ring, ring_radii, up_to_plane


def wire(points):
    return long_wire_field(points, [0, 0, 0], [0, 0, 1], 10.0, 0.002)


class TestLines:
    def test_round_a_wire_they_are_circles(self):
        radii = np.array([0.001, 0.01, 0.05])
        for radius in radii:
            line = flux_line(wire, [radius, 0, 0.3], 2 * np.pi * radius, points=33, tolerance=1e-6)
            turn = np.linspace(0, 2 * np.pi, 33)
            circle = np.column_stack([radius * np.cos(turn), radius * np.sin(turn), np.full(33, 0.3)])
            np.testing.assert_allclose(line, circle, atol=1e-5 * radius)

    def test_of_a_dipole(self):
        # Far from a magnet r = L sin^2(polar angle) along a line (any textbook on the dipole).
        def dipole(points):
            return block_magnet_field(points, [0, 0, 0], [0.01] * 3, [0, 0, 1.2])

        line = flux_line(dipole, [0.3, 0, 0], 0.3, tolerance=1e-6)
        distance = np.linalg.norm(line, axis=1)
        np.testing.assert_allclose(distance, 0.3 * (line[:, 0] / distance) ** 2, rtol=1e-4)
        assert line[-1, 2] < -0.05  # beside a magnet the field runs against its polarisation

    @settings(max_examples=10, deadline=None)
    @given(st.integers(0, 2**32 - 1))
    def test_the_flux_through_a_turn_round_a_loops_axis_is_constant_along_a_line(self, seed):
        # About an axis of symmetry the flux within a line's circle does not change along it (div B = 0). It is found
        # by integrating B_z over discs.
        def loop(points):
            return loop_field(points, [0, 0, 0], [0, 0, 1], 0.1, 5.0)

        start = np.random.default_rng(seed).uniform(0.01, 0.06)
        line = flux_line(loop, [start, 0, 0], 0.12, points=9, tolerance=1e-5)
        where, weight = np.polynomial.legendre.leggauss(40)
        fluxes = []
        for x, _, z in line:
            r = x * (where + 1) / 2
            axial = loop(np.column_stack([r, 0 * r, np.full_like(r, z)]))[:, 2]
            fluxes.append(np.sum(weight * axial * r) * np.pi * x)
        np.testing.assert_allclose(fluxes, fluxes[0], rtol=1e-4)

    def test_many_at_once_are_the_same_as_one_by_one_and_evenly_spaced(self):
        field = gap_field(0.06, [0.05, 0.03, 0.05], 1.2)
        starts = np.array([[0.0, 0.004, 0.0], [0.0, 0.012, 0.01], [0.0, 0.03, 0.0]])
        together = flux_lines(field, starts, 0.1, points=41, tolerance=1e-4)
        assert together.shape == (3, 41, 3)
        for start, line in zip(starts, together, strict=True):
            np.testing.assert_allclose(flux_line(field, start, 0.1, points=41, tolerance=1e-4), line, atol=3e-5)
            chords = np.linalg.norm(np.diff(line, axis=0), axis=1)
            assert np.all(chords <= 0.1 / 40 * (1 + 1e-4)) and np.all(chords > 0.9 * 0.1 / 40)
        np.testing.assert_array_equal(together[:, 0], starts)

    def test_below_zero_they_run_against_the_field_and_lead_back(self):
        field = gap_field(0.06, [0.05, 0.03, 0.05], 1.2)
        ahead = flux_line(field, [0.0, 0.01, 0.0], 0.05, tolerance=1e-6)
        back = flux_line(field, ahead[-1], -0.05, tolerance=1e-6)
        assert ahead[-1, 0] > 0.02
        np.testing.assert_allclose(back[::-1], ahead, atol=1e-5)

    def test_where_there_is_no_field_they_stay(self):
        line = flux_line(lambda points: np.zeros_like(points), [1, 2, 3], 5.0, points=4)
        np.testing.assert_array_equal(line, [[1, 2, 3]] * 4)


class TestRings:
    @settings(max_examples=50, deadline=None)
    @given(st.floats(-50, 50).filter(lambda current: abs(current) > 0.1), st.floats(2e-6, 1e-5))
    def test_equal_flux_lies_between_neighbours(self, current, flux):
        radii = ring_radii(current, 0.002, 0.2, flux)
        assert radii[0] == 0.002 and radii[-1] <= 0.2 * (1 + 1e-9)
        where, weight = np.polynomial.legendre.leggauss(60)
        for inner, outer in zip(radii[:-1], radii[1:], strict=True):
            # In the logarithm of the radius, so that a wide ring needs no more points than a narrow one.
            r = inner * (outer / inner) ** ((where + 1) / 2)
            across = long_wire_field(np.column_stack([r, 0 * r, 0 * r]), [0, 0, 0], [0, 0, 1], current)[:, 1]
            between = np.sum(weight * across * r) * np.log(outer / inner) / 2
            assert abs(between) == pytest.approx(flux, rel=1e-9)
        # One more ring would lie beyond the outermost.
        assert radii[-1] * np.exp(2 * np.pi * flux / (VACUUM_PERMEABILITY * abs(current))) > 0.2 * (1 - 1e-9)

    def test_geometric_progression(self):
        # mu0 I / (2 pi) ln(r2 / r1) per metre: with 10 A, 2e-6 ln 2 Wb/m doubles the radius each time.
        flux = VACUUM_PERMEABILITY * 10 / (2 * np.pi) * np.log(2)
        np.testing.assert_allclose(ring_radii(-10.0, 0.01, 0.08, flux), [0.01, 0.02, 0.04, 0.08], rtol=1e-12)

    def test_more_with_more_current_none_without(self):
        few, many = ring_radii(5.0, 0.002, 0.2, 1e-6), ring_radii(50.0, 0.002, 0.2, 1e-6)
        assert len(many) > 5 * len(few)
        assert ring_radii(0.0, 0.002, 0.2, 1e-6).shape == (0,)

    @settings(max_examples=30, deadline=None)
    @given(st.integers(0, 2**32 - 1))
    def test_a_ring_follows_the_field_of_its_wire(self, seed):
        centre, normal = np.random.default_rng(seed).normal(size=(2, 3))
        points = ring(centre, normal, 0.3, points=181)
        np.testing.assert_allclose(points[0], points[-1], atol=1e-12)
        field = long_wire_field((points[1:] + points[:-1]) / 2, centre, normal, 1.0)
        along = np.diff(points, axis=0)
        cosine = np.einsum("ni,ni->n", field, along) / np.linalg.norm(field, axis=1) / np.linalg.norm(along, axis=1)
        np.testing.assert_allclose(cosine, 1.0, rtol=1e-9)
        np.testing.assert_allclose(np.linalg.norm(points - centre, axis=1), 0.3, rtol=1e-12)


@pytest.mark.parametrize(
    "call, argument",
    [
        (lambda: flux_lines(wire, [[1, 2]], 1.0), "starts"),
        (lambda: flux_line(wire, [[1, 2, 3]], 1.0), "start"),
        (lambda: flux_line(wire, [1, 2, 3], 0.0), "length"),
        (lambda: flux_line(wire, [1, 2, 3], np.inf), "length"),
        (lambda: flux_line(wire, [1, 2, 3], 1.0, points=1), "points"),
        (lambda: flux_line(wire, [1, 2, 3], 1.0, tolerance=0.0), "tolerance"),
        (lambda: ring_radii(np.nan, 1, 2, 1), "current"),
        (lambda: ring_radii(1, 0, 2, 1), "innermost"),
        (lambda: ring_radii(1, 2, 2, 1), "outermost"),
        (lambda: ring_radii(1, 1, 2, 0), "flux_per_metre"),
        (lambda: ring([0, 0], [0, 0, 1], 1), "centre"),
        (lambda: ring([0, 0, 0], [0, 0, 0], 1), "normal"),
        (lambda: ring([0, 0, 0], [0, 0, 1], -1), "radius"),
        (lambda: ring([0, 0, 0], [0, 0, 1], 1, points=2), "points"),
    ],
)
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()


def test_lines_between_two_faces_begin_and_end_on_them_and_follow_the_field_between_blocks():
    """Two blocks magnetised upward, by magpylib; the faces at half the gap above and below the middle."""
    half = 0.02
    blocks = magpylib.Collection(
        [
            magpylib.magnet.Cuboid(polarization=(0, 1.0, 0), dimension=(0.06, 0.03, 0.04), position=(0, s * (half + 0.015), 0))
            for s in (-1, 1)
        ]
    )
    midway = [(x, 0.0, z) for x in (-0.025, 0.0, 0.02) for z in (-0.012, 0.015)]
    lines = between_faces(lambda points: np.atleast_2d(blocks.getB(points)), midway, 1, half)
    assert len(lines) == len(midway)
    for line, middle in zip(lines, midway, strict=True):
        assert line[0, 1] == pytest.approx(-half, abs=1e-12) and line[-1, 1] == pytest.approx(half, abs=1e-12)
        assert np.all(np.diff(line[:, 1]) > 0), "up, from the lower face to the upper"
        assert np.linalg.norm(line - middle, axis=1).min() < 1e-12
        steps = np.diff(line, axis=0)
        field = blocks.getB((line[1:] + line[:-1]) / 2)
        cosines = np.sum(steps * field, axis=1) / np.linalg.norm(steps, axis=1) / np.linalg.norm(field, axis=1)
        assert cosines.min() > 0.999


def test_a_line_that_never_comes_to_the_plane_stays_whole():
    line = np.column_stack([np.linspace(0, 1, 5), np.zeros(5), np.zeros(5)])
    (whole,) = up_to_plane([line], axis=1, at=0.5)
    (cut,) = up_to_plane([line], axis=0, at=0.6)
    assert np.array_equal(whole, line) and cut[-1] == pytest.approx([0.6, 0, 0]) and len(cut) == 4
