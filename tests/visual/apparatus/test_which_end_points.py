"""What is told of needles, rings and arrows is what their shapes show: the red end, the heads, the point."""

from __future__ import annotations

import numpy as np

import visual  # noqa: F401  (before VPython)
from visual import palette
from visual.apparatus.compass import CompassDrawn, _needle
from visual.apparatus.flux import FieldMarks, FluxRings, _mark, _ring_with_heads
from visual.solid.solids import Group
from visual.solid.told import told


def test_the_end_that_is_told_is_the_red_one():
    needle = _needle()
    red = np.all(np.isclose(needle.colours, palette.NORTH), axis=1)
    assert needle.points[red][:, 0].max() > 0.8 and needle.points[red][:, 0].min() > -1e-9
    group = Group()
    CompassDrawn(group, 0.01).put((0.1, 0, 0.2), (0, 0, -1.0))
    ((_, at, along),) = told(group).needles
    assert along == (0, 0, -1) and at[::2] == (0.1, 0.2)


def test_heads_on_a_ring_go_the_way_that_is_told():
    thick, radius = 0.001, 0.05
    points = _ring_with_heads(radius, thick).points
    off_the_ring = np.hypot(np.hypot(points[:, 0], points[:, 2]) - radius, points[:, 1]) > 1.2 * thick  # the wide ends of the heads
    tips = [30.0, 150.0, 270.0] + np.degrees(2.5 * thick / radius)
    wide = np.degrees(np.arctan2(-points[off_the_ring, 2], points[off_the_ring, 0])) % 360
    assert len(wide) >= 12
    # counter-clockwise seen from above, where angles grow: the wide end is behind the tip, by the head's length
    behind = np.min((tips[:, np.newaxis] - wide) % 360, axis=0)
    assert np.all(behind < 1.5 * np.degrees(5 * thick / radius))
    for sense in (1, -1):
        group = Group()
        rings = FluxRings(group, 0.01, 0.1, thick)
        rings.put([0.02, 0.05], 0.003, sense)
        assert [along for _, _, along in told(group).needles] == [(0, 0, -sense)] * 2
        assert [round(at[0], 6) for _, at, _ in told(group).needles] == [0.02, 0.05]
        shown = next(ring for ring in rings.rings if ring.visible)
        x_axis, y_axis = (np.array(axis) for axis in shown._place[1:3])
        assert np.cross(x_axis, y_axis) @ (0, 0, 1) * sense > 0.99, "turned over for the other sense"


def test_an_arrow_on_the_field_points_along_its_x():
    points = _mark().points
    tip = points[np.argmax(points[:, 0])]
    assert tip[1] == 0 and abs(points[np.argmin(points[:, 0])][1]) > 0  # a point ahead, a blunt end behind
    group = Group()
    FieldMarks(group, [(0, 0, 0), (0.1, 0, 0)], 0.01).put([[0.0, -2e-5, 5e-6], [0, 0, 0]])
    ((_, at, along),) = told(group).needles
    assert at == (0, 0, 0) and np.allclose(along, (0, -1, 0))


def test_a_compass_that_was_hidden_with_its_group_is_seen_again():
    group = Group()
    compass = CompassDrawn(group, 0.01)
    compass.put((0, 0, 0), (1.0, 0, 0))
    for shown in (False, True, False, True):
        group.visible = shown
        assert compass.case.visible == compass.needle.visible == shown
