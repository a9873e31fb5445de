"""What is built of points: lines without needless ones, coils that lie clear of each other, things put where nobody sees them."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scenes.machines.commutator.machine import COMMUTATORS, LENGTH, RADIUS
from scenes.machines.commutator.picture import winding
from visual.apparatus.moved_rod import ENAMEL, MOST_TURNS, bundle
from visual.machines.commutator import shapes
from visual.machines.commutator.machine import Winding
from visual.machines.commutator.shapes import CHEVRONS, DRUM, PHASES, WIRE, chevrons
from visual.solid import mesh
from visual.solid.mesh import at_right_angles, block, simplified
from visual.solid.solids import Solid

coordinate = st.floats(-1.0, 1.0)
point = st.tuples(coordinate, coordinate, coordinate)


def distance(points, start, end) -> np.ndarray:
    """Of each point from the straight piece between `start` and `end`."""
    way = end - start
    share = np.clip((points - start) @ way / max(way @ way, 1e-30), 0.0, 1.0)
    return np.linalg.norm(points - start - share[:, None] * way, axis=1)


@given(st.lists(point, min_size=2, max_size=20), st.floats(1e-3, 0.3))
def test_a_simplified_line_passes_every_point_that_was_left_out(points, tolerance):
    line = np.array(points)
    found = simplified(line, tolerance)
    assert np.array_equal(found[[0, -1]], line[[0, -1]]) and len(found) <= len(line)
    nearest = np.min([distance(line, start, end) for start, end in zip(found, found[1:], strict=False)], axis=0)
    assert nearest.max() <= tolerance + 1e-12


def test_a_straight_line_is_its_two_ends_and_a_circle_keeps_its_round():
    assert len(simplified(np.linspace([0, 0, 0], [1, 2, 3], 30), 1e-9)) == 2
    angles = np.linspace(0, 2 * np.pi, 400)
    round_line = np.column_stack([np.cos(angles), np.sin(angles), 0 * angles])
    assert 20 < len(simplified(round_line, 0.005)) < 60


@given(point.filter(lambda way: np.linalg.norm(way) > 1e-3))
def test_at_right_angles(way):
    way = np.array(way) / np.linalg.norm(way)
    found = at_right_angles(way.tolist())
    assert np.linalg.norm(found) == pytest.approx(1.0) and found @ way == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("coils", [number for number in COMMUTATORS if number > 1])
def test_the_coils_on_the_spindle_meet_at_their_risers_only(monkeypatch, coils):
    lines = []
    monkeypatch.setattr(
        shapes,
        "cord",
        lambda points, thickness, *more: lines.append(drawn_line(points, thickness)) or block([0, 0, 0], [1, 1, 1], (1, 1, 1)),
    )
    Winding(RADIUS, LENGTH, *winding(coils))
    (coil,) = lines
    free = coil[np.min(np.linalg.norm(coil[:, None] - coil[[0, -1]], axis=2), axis=1) > 2 * WIRE]
    further = 2 * np.pi / (3 if coils == 3 else 4)  # two coils lie at right angles
    turn = np.array([[np.cos(further), -np.sin(further), 0], [np.sin(further), np.cos(further), 0], [0, 0, 1.0]])
    apart = np.linalg.norm(free[:, None] - (free @ turn.T), axis=2)
    assert apart.min() > 1.2 * WIRE
    # of three, where one ends the next begins; of two, each has both ends on segments opposite each other
    assert coil[-1] == pytest.approx((turn if coils == 3 else turn @ turn) @ coil[0], abs=1e-9)
    assert np.hypot(*coil[0, :2]) == pytest.approx(DRUM)


def drawn_line(points, thickness) -> np.ndarray:
    """The middle of the cord as it is drawn, closely dotted."""
    from visual.apparatus.wiring import cord

    taken = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("visual.apparatus.wiring.swept", lambda profile, line, *more: taken.append(line))
        cord(points, thickness)
    line = taken[0]
    return np.vstack([*[np.linspace(a, b, 30, endpoint=False) for a, b in zip(line, line[1:], strict=False)], line[-1:]])


def test_what_is_put_while_hidden_stands_there_when_it_is_shown():
    solid = Solid(mesh.block([0, 0, 0], [1, 1, 1], (1, 1, 1)))
    solid.put((1, 2, 3))
    solid.visible = False
    solid.put((4, 5, 6), stretch=2.0)
    assert solid.drawn._pos.value == [1.0, 2.0, 3.0]
    solid.visible = True
    assert solid.drawn._pos.value == [4.0, 5.0, 6.0] and solid.drawn._size.value == [2.0, 2.0, 2.0]


@pytest.mark.parametrize("turns", range(2, MOST_TURNS + 1))
def test_as_many_wires_are_drawn_in_a_bundle_as_it_has_turns(turns):
    """Counted where the bundle is cut across in its middle: six-sided wires, two triangles to a side."""
    shape = bundle(0.075, turns)
    coloured = np.all(np.isclose(shape.colours, ENAMEL), axis=1)
    whole = shape.triangles[coloured[shape.triangles].all(axis=1)]
    low, high = shape.points[whole, 2].min(axis=1), shape.points[whole, 2].max(axis=1)
    crossing = whole[(low < 0) & (high > 0)]
    assert len(crossing) == 12 * turns


@pytest.mark.parametrize("sense", [1, -1])
def test_the_marks_of_the_flow_point_along_the_current_and_move_on_along_the_coil(sense):
    """On a straight way along z: a cone's tip lies where its points gather on the axis."""
    way = np.array([[0.0, 0, 0], [0, 0, 0.2]])

    def tips_and_middles(step):
        cones = chevrons(way, step, sense)
        on_axis = cones.points[np.hypot(*cones.points[:, :2].T) < 1e-9, 2]
        return np.unique(on_axis.round(9)), np.unique(cones.points[np.hypot(*cones.points[:, :2].T) > 1e-3, 2].round(9))

    before, rims = tips_and_middles(0)
    assert len(before) == len(rims) and np.all(sense * (before - rims) > 0), "the tip lies before the rim, as the current goes"
    assert np.diff(before) == pytest.approx(CHEVRONS)
    for step in range(1, PHASES):
        assert tips_and_middles(step)[0][0] - before[0] == pytest.approx(CHEVRONS * step / PHASES)
