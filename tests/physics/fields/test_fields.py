"""Fields against reference libraries, closed forms and Maxwell's equations."""

import magpylib
import numpy as np
import pytest
import scipy.constants
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from scipy.special import ellipe, ellipk

from physics.constants import VACUUM_PERMEABILITY
from physics.fields import block_magnet_field, loop_field, segment_field
from physics.fields.currents import earth_field, gap_field, long_wire_field

quick = settings(max_examples=50, deadline=None)
seeds = st.integers(0, 2**32 - 1)


def relative_error(found, expected):
    """The greatest error over the rows, each relative to that row's length."""
    return np.max(np.linalg.norm(found - expected, axis=1) / np.linalg.norm(expected, axis=1))


def direction(generator):
    vector = generator.normal(size=3)
    return vector / np.linalg.norm(vector)


def test_permeability_of_vacuum():
    # CODATA 2022, 1.25663706127e-6 N/A^2; older editions, as scipy may carry, differ from the tenth figure on.
    assert VACUUM_PERMEABILITY == 1.25663706127e-6
    assert VACUUM_PERMEABILITY == pytest.approx(scipy.constants.mu_0, rel=2e-9)


class TestSegments:
    @quick
    @given(seeds)
    def test_agrees_with_magpylib(self, seed):
        generator = np.random.default_rng(seed)
        points, start, end = (generator.uniform(-1, 1, (count, 3)) for count in (40, 7, 7))
        current = generator.uniform(-100, 100, 7)
        pairs = magpylib.core.current_polyline_Hfield(
            np.repeat(points, 7, axis=0), np.tile(start, (40, 1)), np.tile(end, (40, 1)), np.tile(current, 40)
        )
        expected = VACUUM_PERMEABILITY * pairs.reshape(40, 7, 3).sum(axis=1)
        found = segment_field(points, start, end, current)
        # Where the conductors' fields nearly cancel, their sizes are what rounding is relative to.
        size = VACUUM_PERMEABILITY * np.linalg.norm(pairs.reshape(40, 7, 3), axis=2).sum(axis=1)
        assert np.max(np.linalg.norm(found - expected, axis=1) / size) < 1e-9

    @pytest.mark.parametrize("offset", [0.0, 1000.0])
    @pytest.mark.parametrize("distance", [1e-1, 1e-4, 1e-7])
    def test_close_beside_a_conductor(self, distance, offset):
        # Closed form in every textbook: mu0 I / (4 pi d) (cos of the angle at one end + cos at the other).
        along = np.array([0.1, 0.5, 0.9, 0.999])
        points = np.column_stack([np.full(4, distance), np.zeros(4), along + offset])
        field = segment_field(points, [[0, 0, offset]], [[0, 0, 1 + offset]], 3.0)
        from_end = points[:, 2] - (1 + offset)
        from_start = points[:, 2] - offset
        cosines = from_start / np.hypot(from_start, distance) - from_end / np.hypot(from_end, distance)
        np.testing.assert_allclose(field[:, 1], VACUUM_PERMEABILITY * 3 / (4 * np.pi * distance) * cosines, rtol=1e-11)
        np.testing.assert_allclose(field[:, [0, 2]], 0, atol=1e-20)

    def test_long_conductor(self):
        # Long straight wire: B = mu0 I / (2 pi r) (any textbook). 1 m off a wire 20 km long, to 1e-8.
        field = segment_field([[0, 1, 0]], [[-1e4, 0, 0]], [[1e4, 0, 0]], 1.0)
        np.testing.assert_allclose(field, [[0, 0, VACUUM_PERMEABILITY / (2 * np.pi)]], rtol=1e-8, atol=1e-20)

    def test_middle_of_a_square(self):
        # Square of side a: 2 sqrt(2) mu0 I / (pi a) at its middle (standard textbook result, memory; it follows from
        # the closed form above with both angles 45 degrees and d = a / 2, four times).
        corners = np.array([[1, 1, 0], [-1, 1, 0], [-1, -1, 0], [1, -1, 0]]) * 0.25
        field = segment_field([[0, 0, 0]], corners, np.roll(corners, -1, axis=0), 2.0)
        expected = 2 * np.sqrt(2) * VACUUM_PERMEABILITY * 2.0 / (np.pi * 0.5)
        np.testing.assert_allclose(field, [[0, 0, expected]], rtol=1e-14, atol=1e-20)

    def test_zeros_on_its_own_line(self):
        start, end = np.array([[0.1, 0.2, 0.3]]), np.array([[0.4, -0.5, 0.9]])
        shares = np.array([-1.0, 0.0, 0.25, 0.5, 1.0, 3.0])[:, np.newaxis]
        field = segment_field(start + shares * (end - start), start, end, 1e3)
        np.testing.assert_allclose(field, 0, atol=1e-18)

    def test_conductors_of_no_length_have_no_field(self):
        points = np.array([[0, 0, 0], [1, 2, 3.0]])
        ends = np.array([[0, 0, 0], [0, 0, 1.0]])
        assert not np.any(segment_field(points, ends, ends, 5.0))
        with_one = segment_field(points, [[0, 0, 0], [1, 1, 1]], [[0, 0, 1], [1, 1, 1]], 5.0)
        np.testing.assert_array_equal(with_one, segment_field(points, [[0, 0, 0]], [[0, 0, 1]], 5.0))

    def test_many_conductors_and_points_are_worked_on_in_parts(self):
        generator = np.random.default_rng(5)
        points, start, end = (generator.normal(size=(count, 3)) for count in (3, 9001, 9001))
        current = generator.normal(size=9001)
        whole = segment_field(points, start, end, current)
        halves = sum(segment_field(points, start[half], end[half], current[half]) for half in (slice(0, 4000), slice(4000, None)))
        np.testing.assert_allclose(whole, halves, rtol=1e-9)
        assert segment_field(np.empty((0, 3)), start, end, current).shape == (0, 3)
        assert not np.any(segment_field(points, np.empty((0, 3)), np.empty((0, 3)), []))

    @pytest.mark.parametrize(
        "argument, changed",
        [
            ("points", [[1.0, 2.0]]),
            ("points", [[np.nan, 0, 0]]),
            ("start", [[0, 0, np.inf]]),
            ("end", np.zeros((2, 3))),
            ("current", [1.0, 2.0]),
            ("current", [np.nan]),
            ("current", "ten"),
        ],
    )
    def test_wrong_input_is_named(self, argument, changed):
        given = {"points": [[1, 0, 0]], "start": [[0, 0, 0]], "end": [[0, 0, 1]], "current": [1.0]}
        with pytest.raises(ValueError, match=argument):
            segment_field(**{**given, argument: changed})


class TestLongWire:
    def test_outside_and_inside(self):
        # Outside mu0 I / (2 pi r), inside mu0 I r / (2 pi R^2): Ampere's law (any textbook).
        r = np.array([0.0, 0.001, 0.002, 0.004, 0.1])
        field = long_wire_field(np.outer(r, [1, 0, 0]), [0, 0, 7], [0, 0, 2], 50.0, radius=0.002)
        expected = VACUUM_PERMEABILITY * 50 / (2 * np.pi) * np.array([0, 0.001 / 0.002**2, 500, 250, 10])
        np.testing.assert_allclose(field[:, 1], expected, rtol=1e-13)
        assert not np.any(field[:, [0, 2]])

    def test_a_filament_has_zeros_on_its_axis(self):
        assert not np.any(long_wire_field([[0, 0, 3]], [0, 0, 0], [0, 0, 1], 50.0))

    @quick
    @given(seeds)
    def test_is_the_limit_of_a_long_conductor(self, seed):
        generator = np.random.default_rng(seed)
        along, middle = direction(generator), generator.uniform(-1, 1, 3)
        points = generator.uniform(-1, 1, (20, 3))
        ends = middle + 1e5 * np.array([[-1], [1]]) * along
        np.testing.assert_allclose(
            long_wire_field(points, middle, along, 3.0), segment_field(points, ends[:1], ends[1:], 3.0), rtol=1e-6, atol=1e-12
        )

    @pytest.mark.parametrize(
        "argument, changed",
        [
            ("points", [1.0]),
            ("point_on_axis", [[0, 0, 0]]),
            ("direction", [0, 0, 0]),
            ("current", [1.0, 2.0]),
            ("radius", -1.0),
        ],
    )
    def test_wrong_input_is_named(self, argument, changed):
        given = {"points": [[1, 0, 0]], "point_on_axis": [0, 0, 0], "direction": [0, 0, 1], "current": 1.0, "radius": 0.1}
        with pytest.raises(ValueError, match=argument):
            long_wire_field(**{**given, argument: changed})


class TestLoop:
    @quick
    @given(seeds)
    def test_agrees_with_magpylib(self, seed):
        generator = np.random.default_rng(seed)
        normal, centre, radius = direction(generator), generator.uniform(-1, 1, 3), generator.uniform(0.1, 2)
        points = generator.uniform(-3, 3, (40, 3))
        circle = magpylib.current.Circle(
            diameter=2 * radius, current=3.0, position=centre, orientation=Rotation.align_vectors([normal], [[0, 0, 1]])[0]
        )
        expected = VACUUM_PERMEABILITY * circle.getH(points)
        assert relative_error(loop_field(points, centre, 5 * normal, radius, 3.0), expected) < 1e-9

    def test_on_its_axis(self):
        # mu0 I R^2 / (2 (R^2 + z^2)^1.5), any textbook.
        z, radius = np.array([-20.0, -0.3, 0.0, 0.1, 1.0, 50.0]), 0.25
        field = loop_field(np.outer(z, [0, 1, 0]) + 1, [1, 1, 1], [0, 1, 0], radius, -4.0)
        expected = -VACUUM_PERMEABILITY * 4 * radius**2 / (2 * (radius**2 + z**2) ** 1.5)
        np.testing.assert_allclose(field[:, 1], expected, rtol=1e-13)
        assert not np.any(field[:, [0, 2]])

    def test_helmholtz_pair(self):
        # Two loops a radius apart: (4/5)^1.5 mu0 I / R midway, and no second derivative there (standard result, memory;
        # it follows from the formula on the axis).
        def pair(z):
            points = np.outer(z, [0, 0, 1])
            return sum(loop_field(points, [0, 0, side], [0, 0, 1], 0.2, 5.0) for side in (-0.1, 0.1))[:, 2]

        middle, near = pair([0.0, 0.002])
        assert middle == pytest.approx(0.8**1.5 * VACUUM_PERMEABILITY * 5 / 0.2, rel=1e-13)
        # The next term falls as the fourth power: 144/125 (z / R)^4.
        assert 1 - near / middle == pytest.approx(144 / 125 * 0.01**4, rel=1e-2)

    def test_off_its_axis_with_elliptic_integrals(self):
        # The usual closed form (Smythe, Static and Dynamic Electricity, section 7.10, memory), with scipy's ellipk and
        # ellipe, at places where it does not lose figures.
        generator = np.random.default_rng(11)
        radius, r, z = 0.3, generator.uniform(0.05, 0.8, 200), generator.uniform(-0.6, 0.6, 200)
        far, near = (radius + r) ** 2 + z**2, (radius - r) ** 2 + z**2
        first, second = ellipk(4 * radius * r / far), ellipe(4 * radius * r / far)
        scale = VACUUM_PERMEABILITY * 7.0 / (2 * np.pi * np.sqrt(far))
        axial = scale * (first + (radius**2 - r**2 - z**2) / near * second)
        radial = scale * z / r * (-first + (radius**2 + r**2 + z**2) / near * second)
        field = loop_field(np.column_stack([r, 0 * r, z]), [0, 0, 0], [0, 0, 1], radius, 7.0)
        assert relative_error(field, np.column_stack([radial, 0 * r, axial])) < 1e-11

    def test_close_to_its_wire_it_is_a_straight_wire(self):
        # Within 1e-6 of the radius the field is that of a long wire, but for terms of order 1e-6 ln(1e6).
        field = loop_field([[1 + 1e-6, 0, 0]], [0, 0, 0], [0, 0, 1], 1.0, 1.0)
        np.testing.assert_allclose(field, [[0, 0, -VACUUM_PERMEABILITY / (2 * np.pi * 1e-6)]], rtol=2e-5, atol=1e-12)

    def test_close_to_its_axis_the_radial_field_keeps_its_figures(self):
        # div B = 0: near the axis B_r = -r / 2 * dB_z/dz, with the axis formula differentiated by hand.
        radius, z, r = 0.5, 0.3, 1e-9
        field = loop_field([[r, 0, z]], [0, 0, 0], [0, 0, 1], radius, 1.0)
        slope = -1.5 * VACUUM_PERMEABILITY * radius**2 * z / (radius**2 + z**2) ** 2.5
        assert field[0, 0] == pytest.approx(-r / 2 * slope, rel=1e-12)

    def test_zeros_on_the_wire(self):
        np.testing.assert_array_equal(loop_field([[3, 0, 0], [0, 3, 0]], [0, 0, 0], [0, 0, 1], 3.0, 9.0), 0)

    @pytest.mark.parametrize(
        "argument, changed",
        [
            ("points", np.zeros((2, 2))),
            ("centre", [0, 0]),
            ("normal", [0, 0, 0]),
            ("radius", 0.0),
            ("radius", -1.0),
            ("current", np.inf),
        ],
    )
    def test_wrong_input_is_named(self, argument, changed):
        given = {"points": [[1, 0, 0]], "centre": [0, 0, 0], "normal": [0, 0, 1], "radius": 0.1, "current": 1.0}
        with pytest.raises(ValueError, match=argument):
            loop_field(**{**given, argument: changed})


class TestEarth:
    def test_size_and_dip(self):
        # A dip of 60 degrees: the vertical part is tan 60 times the level part, downward in the north (definition).
        field = earth_field(2e-5, np.radians(60))
        np.testing.assert_allclose(field, [0, -2e-5 * np.sqrt(3), -2e-5], rtol=1e-13)
        # Tens of microtesla at mid latitudes (common practice, no source).
        assert 1e-5 < np.linalg.norm(field) < 1e-4

    def test_only_the_level_part_of_north_counts(self):
        np.testing.assert_allclose(earth_field(2e-5, -0.3, north=[1, 5, 0], up=[0, 3, 0]), [2e-5, 2e-5 * np.tan(0.3), 0], rtol=1e-13)

    @pytest.mark.parametrize(
        "argument, changed",
        [
            ("horizontal", -1e-5),
            ("dip", np.pi / 2),
            ("dip", np.nan),
            ("north", [0, 1, 0]),
            ("north", [0, 0, 0]),
            ("up", [0, 0, 0]),
        ],
    )
    def test_wrong_input_is_named(self, argument, changed):
        with pytest.raises(ValueError, match=argument):
            earth_field(**{"horizontal": 2e-5, "dip": 1.0, "north": [0, 0, -1], "up": [0, 1, 0], argument: changed})


# Maxwell's equations, by central differences.


def jacobian(field, point, step):
    offsets = step * np.vstack([np.eye(3), -np.eye(3)])
    values = field(point + offsets)
    return ((values[:3] - values[3:]) / (2 * step)).T  # row: part of B, column: direction of the step


def circle_of_conductors():
    turn = np.linspace(0, 2 * np.pi, 13)
    corners = 0.4 * np.column_stack([np.cos(turn), np.sin(turn), 0.3 * np.sin(2 * turn)])
    return lambda points: segment_field(points, corners[:-1], corners[1:], 1e6)


SOURCES = {
    "closed path of conductors": circle_of_conductors(),
    "loop": lambda points: loop_field(points, [0.1, 0, 0], [1, 2, 3], 0.4, 1e6),
    "block": lambda points: block_magnet_field(points, [0, 0.1, 0], [0.4, 0.3, 0.5], [1, -0.5, 0.7]),
    "gap": gap_field(0.3, [0.3, 0.2, 0.4], 1.2),
    "long wire": lambda points: long_wire_field(points, [0, 0, 0], [1, 1, 0], 1e6),
}


@pytest.mark.parametrize("name", SOURCES)
def test_in_air_a_field_has_neither_source_nor_curl(name):
    field = SOURCES[name]
    generator = np.random.default_rng(2)
    for point in generator.uniform(-1, 1, (60, 3)):
        if np.linalg.norm(point) < 0.75:
            continue
        slopes = jacobian(field, point, 1e-4)
        scale = np.linalg.norm(slopes)
        assert abs(np.trace(slopes)) < 1e-5 * scale
        assert np.linalg.norm(slopes - slopes.T) < 1e-5 * scale


def test_inside_a_wire_the_curl_is_the_current_density():
    # curl B = mu0 J, J = I / (pi R^2) along the wire.
    slopes = jacobian(lambda points: long_wire_field(points, [0, 0, 0], [0, 0, 1], 10.0, 0.01), np.array([0.003, -0.004, 0.1]), 1e-5)
    curl = slopes[1, 0] - slopes[0, 1]
    assert curl == pytest.approx(VACUUM_PERMEABILITY * 10 / (np.pi * 0.01**2), rel=1e-8)
    assert np.trace(slopes) == pytest.approx(0, abs=1e-8)


@quick
@given(seeds)
def test_round_a_closed_path_of_conductors_ampere_counts_the_current(seed):
    # The integral of B.dl round a ring is mu0 times the current through it, for any closed path (Ampere's law).
    generator = np.random.default_rng(seed)
    corners = np.array([[0, 0, 0], [0, 0, 1], [3, 0, 1], [3, 0, 0]]) + generator.uniform(-0.1, 0.1, (4, 3))
    middle = (corners[0] + corners[1]) / 2
    turn = np.linspace(0, 2 * np.pi, 200, endpoint=False)
    ring = middle + 0.35 * np.column_stack([np.cos(turn), np.sin(turn), 0.1 * np.cos(3 * turn)])
    tangent = 0.35 * np.column_stack([-np.sin(turn), np.cos(turn), -0.3 * np.sin(3 * turn)])
    field = segment_field(ring, corners, np.roll(corners, -1, axis=0), 20.0)
    assert np.sum(field * tangent) * 2 * np.pi / 200 == pytest.approx(VACUUM_PERMEABILITY * 20.0, rel=1e-9)
