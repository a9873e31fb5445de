"""Block magnets, alone and facing each other, against a reference library and known limits."""

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.fields import block_magnet_field
from physics.fields.currents import gap_field

quick = settings(max_examples=50, deadline=None)
seeds = st.integers(0, 2**32 - 1)


class TestBlockMagnet:
    @quick
    @given(seeds)
    def test_agrees_with_magpylib_inside_and_outside(self, seed):
        generator = np.random.default_rng(seed)
        size, centre = generator.uniform(0.2, 2, 3), generator.uniform(-1, 1, 3)
        polarisation = generator.uniform(-1.5, 1.5, 3)
        points = centre + np.vstack([generator.uniform(-3, 3, (40, 3)), size * generator.uniform(-0.5, 0.5, (20, 3))])
        expected = magpylib.core.magnet_cuboid_Bfield(points - centre, np.tile(size, (60, 1)), np.tile(polarisation, (60, 1)))
        found = block_magnet_field(points, centre, size, polarisation)
        # Where the parts of the sum cancel, rounding is relative to the polarisation, not to what is left.
        error = np.linalg.norm(found - expected, axis=1)
        assert np.max(error / (np.linalg.norm(expected, axis=1) + 1e-4 * np.linalg.norm(polarisation))) < 1e-9

    def test_middle_of_a_cube(self):
        # The demagnetising factor of a cube is 1/3 (symmetry; trace 1), so B = J - J / 3 in its middle.
        np.testing.assert_allclose(
            block_magnet_field([[1, 2, 3]], [1, 2, 3], [2, 2, 2], [0, 0, 1.2]), [[0, 0, 0.8]], rtol=1e-14, atol=1e-16
        )

    def test_far_away_it_is_a_dipole(self):
        # B = (3 (m.u) u - m) mu0 / (4 pi r^3), mu0 m = J V (any textbook); a cube has no next term (quadrupole or
        # octupole of this kind vanish by symmetry down to order (size / r)^4).
        volume, distance = 0.1**3, 5.0
        field = block_magnet_field([[distance, 0, 0], [0, 0, distance]], [0, 0, 0], [0.1] * 3, [0, 0, 1.0])
        unit = volume / (4 * np.pi * distance**3)
        np.testing.assert_allclose(field, [[0, 0, -unit], [0, 0, 2 * unit]], rtol=1e-5, atol=1e-15)

    def test_a_thin_plate_and_a_long_bar(self):
        # Demagnetising factor 1 across a thin plate (B = 0 inside), 0 along a long bar (B = J inside): standard limits.
        plate = block_magnet_field([[0, 0, 0]], [0, 0, 0], [1, 1, 1e-5], [0, 0, 1])
        bar = block_magnet_field([[0, 0, 0]], [0, 0, 0], [1e-5, 1e-5, 1], [0, 0, 1])
        np.testing.assert_allclose(plate, 0, atol=1e-4)
        np.testing.assert_allclose(bar, [[0, 0, 1]], atol=1e-4)

    def test_through_a_face_the_normal_part_is_continuous(self):
        z = 0.5 + np.array([-1e-9, 0.0, 1e-9])
        points = np.column_stack([np.full(3, 0.1), np.full(3, -0.2), z])
        field = block_magnet_field(points, [0, 0, 0], [1, 1, 1], [0.3, 0, 1.0])
        np.testing.assert_allclose(field[:, 2], field[1, 2], rtol=1e-7)
        # The tangential part jumps by J; the face itself counts as inside.
        assert field[0, 0] == pytest.approx(field[1, 0], rel=1e-6)
        assert field[1, 0] - field[2, 0] == pytest.approx(0.3, rel=1e-6)

    def test_on_faces_edges_corners_and_their_extensions_all_is_finite(self):
        places = np.array([-1.0, -0.5, 0.0, 0.5, 1.0])
        points = np.array(np.meshgrid(places, places, places)).reshape(3, -1).T
        field = block_magnet_field(points, [0, 0, 0], [1, 1, 1], [0.5, -1, 2])
        assert np.all(np.isfinite(field))
        # On the extension of an edge, away from the block, the field is smooth: the same as just beside that line.
        beside = block_magnet_field([[0.5 + 1e-9, 0.5 + 1e-9, 1.0]], [0, 0, 0], [1, 1, 1], [0.5, -1, 2])
        on_it = block_magnet_field([[0.5, 0.5, 1.0]], [0, 0, 0], [1, 1, 1], [0.5, -1, 2])
        np.testing.assert_allclose(on_it, beside, rtol=1e-6)

    @pytest.mark.parametrize(
        "argument, changed",
        [
            ("points", [[0.0]]),
            ("centre", [0, 0, np.nan]),
            ("size", [1, 1, 0]),
            ("size", [1, -1, 1]),
            ("size", [1, 1]),
            ("polarisation", 1.0),
            ("polarisation", [np.inf, 0, 0]),
        ],
    )
    def test_wrong_input_is_named(self, argument, changed):
        given = {"points": [[1, 0, 0]], "centre": [0, 0, 0], "size": [1, 1, 1], "polarisation": [0, 0, 1]}
        with pytest.raises(ValueError, match=argument):
            block_magnet_field(**{**given, argument: changed})


class TestGap:
    @pytest.mark.parametrize("direction", [[1, 0, 0], [0, 2, 0], [0, 0, -3]])
    def test_is_two_blocks(self, direction):
        points = np.random.default_rng(3).uniform(-0.1, 0.1, (30, 3))
        size, centre, way = np.array([0.03, 0.05, 0.07]), np.array([0.01, 0.02, 0.0]), np.sign(direction)
        offset = (0.02 + np.abs(way) @ size / 2) * way
        expected = sum(block_magnet_field(points, centre + side * offset, size, 1.1 * way) for side in (-1, 1))
        field = gap_field(0.04, size, 1.1, centre, direction)
        np.testing.assert_allclose(field(points), expected, rtol=1e-12, atol=1e-15)

    def test_runs_along_the_direction_and_reverses_with_the_polarisation(self):
        there, back = gap_field(0.04, [0.03] * 3, 1.2), gap_field(0.04, [0.03] * 3, -1.2)
        middle = there([0, 0, 0])
        assert middle.shape == (1, 3) and middle[0, 0] > 0.1
        np.testing.assert_allclose(middle[0, 1:], 0, atol=1e-16)
        np.testing.assert_array_equal(back([[0.01, 0.02, 0.03]]), -there([[0.01, 0.02, 0.03]]))

    def test_a_narrow_gap_between_wide_faces_has_the_polarisation(self):
        # B is continuous through the faces, and long magnets with a narrow gap have B = J inside (standard limit).
        field = gap_field(0.001, [40, 1, 1], 1.2)([[0, 0, 0]])
        np.testing.assert_allclose(field, [[1.2, 0, 0]], rtol=2e-3, atol=1e-12)

    @pytest.mark.parametrize(
        "argument, changed",
        [
            ("gap", 0.0),
            ("size", [0, 1, 1]),
            ("polarisation", [1, 0, 0]),
            ("centre", [0, 0]),
            ("direction", [1, 1, 0]),
            ("direction", [0, 0, 0]),
        ],
    )
    def test_wrong_input_is_named(self, argument, changed):
        given = {"gap": 0.1, "size": [1, 1, 1], "polarisation": 1.0, "centre": [0, 0, 0], "direction": [1, 0, 0]}
        with pytest.raises(ValueError, match=argument):
            gap_field(**{**given, argument: changed})
        with pytest.raises(ValueError, match="points"):
            gap_field(**given)([[1, 2]])
