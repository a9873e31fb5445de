"""The gap field of two poles, against plain cosines and scipy's quadrature."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from physics.fields.pole_field import PoleField

quick = settings(max_examples=50, deadline=None)
fields = st.builds(
    PoleField,
    flux_density=st.floats(-2.0, 2.0),
    pole_arc=st.floats(0.0, 3.1),
    axis=st.floats(-7.0, 7.0),
)
angles = st.floats(-20.0, 20.0)


def test_without_a_pole_arc_it_is_an_even_field_across_the_rotor():
    # the radial part of a uniform field along the axis is its cosine
    around = np.linspace(-4.0, 8.0, 101)
    assert PoleField(0.4, axis=0.7).at(around) == pytest.approx(0.4 * np.cos(around - 0.7), abs=1e-14)


def test_under_a_pole_face_the_field_is_full_and_between_the_poles_it_changes_sign():
    field = PoleField(0.6, pole_arc=np.radians(120), axis=0.3)
    assert field.at(0.3 + np.radians([-60, -20, 0, 45, 60])) == pytest.approx(0.6)
    assert field.at(0.3 + np.radians([120.001, 180, 239.999])) == pytest.approx(-0.6)
    assert field.at(field.neutral_axis + np.array([0.0, np.pi])) == pytest.approx(0.0, abs=1e-15)
    # a quarter cosine from the pole tip at 60 degrees to the neutral axis at 90
    assert field.at(0.3 + np.radians([70, 75])) == pytest.approx(0.6 * np.cos(np.radians([30, 45])))


@quick
@given(fields, angles)
def test_the_other_pole_is_the_opposite(field, angle):
    assert field.at(angle + np.pi) == pytest.approx(-field.at(angle), abs=1e-12)
    assert field.reversed().at(angle) == -field.at(angle)


@quick
@given(fields, angles)
def test_the_sum_of_the_field_agrees_with_quadrature(field, angle):
    corners = field.axis + np.array([-np.pi, 0.0, np.pi])[:, None] + field.pole_arc / 2 * np.array([-1.0, 1.0])
    turned = field.axis + np.remainder(angle - field.axis + np.pi, 2 * np.pi) - np.pi
    inside = [corner for corner in corners.ravel() if min(field.axis, turned) < corner < max(field.axis, turned)]
    summed, _ = quad(field.at, field.axis, turned, points=inside or None, epsabs=1e-12, limit=200)
    assert field.summed(angle) == pytest.approx(summed, abs=1e-9)


def test_pole_flux_of_plain_shapes():
    # cosine: the uniform field times the rotor's cross-section; a full pole arc: flux density times half the bore
    assert PoleField(0.5).pole_flux(0.03, 0.1) == pytest.approx(0.5 * 2 * 0.03 * 0.1)
    assert PoleField(0.5, np.pi * (1 - 1e-12)).pole_flux(0.03, 0.1) == pytest.approx(0.5 * np.pi * 0.03 * 0.1)


@pytest.mark.parametrize(
    "arguments, named",
    [
        ({"flux_density": np.nan}, "flux_density"),
        ({"flux_density": "strong"}, "flux_density"),
        ({"flux_density": 0.3, "pole_arc": -0.1}, "pole_arc"),
        ({"flux_density": 0.3, "pole_arc": np.pi}, "pole_arc"),
        ({"flux_density": 0.3, "axis": np.inf}, "axis"),
    ],
)
def test_wrong_input_is_named(arguments, named):
    with pytest.raises(ValueError, match=named):
        PoleField(**arguments)


def test_angles_must_be_numbers():
    with pytest.raises(ValueError, match="angles"):
        PoleField(0.3).at([0.0, np.nan])
