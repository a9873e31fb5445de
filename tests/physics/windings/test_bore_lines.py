"""Flux lines of a wave: against scipy's integrator in the bore's field, and against Laplace's equation in the yoke."""

from __future__ import annotations

import magpylib
import numpy as np
import pytest
from scipy.integrate import solve_ivp

from physics.windings import Winding
from physics.windings.bore_lines import field_at_the_wall, wave_lines

BORE, INNER, OUTER = 0.06, 0.08, 0.1


def bore_field(p, x, y):
    """Of the potential -(r / R)^p cos(p theta): outward at the wall under the crest at angle 0."""
    power = p * ((x + 1j * y) / BORE) ** (p - 1)
    return power.real, -power.imag


@pytest.mark.parametrize("p", [1, 2, 3, 4])
def test_lines_in_the_bore_follow_the_field(p):
    for line in wave_lines(p, BORE, INNER, OUTER, 3, 41).bore:
        start, end = line[0], line[-1]
        assert np.hypot(*start) == pytest.approx(BORE) and np.hypot(*end) == pytest.approx(BORE)
        # outward at its end: the radial field there is cos(p theta)
        assert np.cos(p * np.arctan2(end[1], end[0])) > 0 > np.cos(p * np.arctan2(start[1], start[0]))

        def leaves(s, at):
            return np.hypot(*at) - BORE - 1e-12

        leaves.terminal, leaves.direction = True, 1
        traced = solve_ivp(
            lambda s, at: np.array(bore_field(p, *at)) / np.hypot(*bore_field(p, *at)),
            (0, 0.5),
            start * (1 - 1e-9),
            rtol=1e-9,
            atol=1e-12,
            events=leaves,
            max_step=1e-3,
        )
        assert traced.y_events[0][0] == pytest.approx(end, abs=2e-5)


@pytest.mark.parametrize("p", [1, 2, 4])
def test_lines_close_through_the_yoke_along_one_value_of_a_harmonic_function(p):
    # coefficients of r^p and r^-p solved for 1 at the inner and 0 at the outer radius
    a, b = np.linalg.solve([[INNER**p, INNER**-p], [OUTER**p, OUTER**-p]], [1.0, 0.0])
    lines = wave_lines(p, BORE, INNER, OUTER, 4)
    for inside, outside, level in zip(lines.bore, lines.yoke, lines.levels, strict=True):
        r, angle = np.hypot(*outside.T), np.arctan2(outside[:, 1], outside[:, 0])
        assert np.abs((a * r**p + b * r**-p) * np.sin(p * angle)) == pytest.approx(np.full(len(r), level))
        assert np.arctan2(*outside[0][::-1]) == pytest.approx(np.arctan2(*inside[-1][::-1]))  # goes on where it left
        assert np.arctan2(*outside[-1][::-1]) == pytest.approx(np.arctan2(*inside[0][::-1]))


def test_equal_flux_lies_between_the_lines():
    lines = wave_lines(2, BORE, INNER, OUTER, 5)
    ends = np.sort([np.arctan2(y, x) for x, y in (line[-1] for line in lines.bore) if abs(np.arctan2(y, x)) < np.pi / 4])
    between = np.diff(np.sin(2 * ends))  # flux of cos(2 theta) between two angles
    assert between == pytest.approx(np.full(len(between), between[0]))


@pytest.mark.parametrize(("slots", "poles"), [(12, 2), (12, 4), (18, 6), (24, 8)])
def test_field_at_the_wall_is_that_of_wires_and_their_images(slots, poles):
    """Iron of great permeability round a bore doubles the field of wires that lie on its wall (method of images; the image of
    each at the centre adds up to nothing). The wave is picked out of the radial field of magpylib's wires at 0.7 of the radius."""
    winding, currents, p = Winding(slots, poles, 20), np.array([7.0, -2.0, -5.0]), poles // 2
    wires = [
        magpylib.current.Polyline(current=current, vertices=[(BORE * np.cos(a), BORE * np.sin(a), z) for z in (-50, 50)])
        for current, a in zip(winding.slot_currents(currents), winding.slot_angles, strict=True)
        if current
    ]
    around = np.linspace(0, 2 * np.pi, 360, endpoint=False)
    outward = np.column_stack([np.cos(around), np.sin(around), np.zeros(360)])
    radial = 2 * np.sum(magpylib.getB(wires, 0.7 * BORE * outward, sumup=True) * outward, axis=1)
    wave = 2 * np.mean(radial * np.exp(1j * p * around)) / 0.7 ** (p - 1)
    assert field_at_the_wall(winding.fundamental_amplitude(currents), p, BORE) == pytest.approx(abs(wave), rel=1e-4)
    # outward where the MMF says so
    assert np.exp(1j * np.angle(wave)) == pytest.approx(np.exp(1j * winding.field_axis(currents)), abs=1e-4)


@pytest.mark.parametrize(
    "arguments, name",
    [
        ((0, BORE, INNER, OUTER, 3), "pole_pairs"),
        ((1, -BORE, INNER, OUTER, 3), "bore_radius"),
        ((1, BORE, OUTER, INNER, 3), "yoke"),
        ((1, BORE, INNER, OUTER, 0), "count"),
        ((1, BORE, INNER, OUTER, 3, 1), "points"),
    ],
)
def test_what_cannot_be_is_refused(arguments, name):
    with pytest.raises(ValueError, match=name):
        wave_lines(*arguments)
