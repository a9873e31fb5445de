"""What is coloured as a north pole lies where the field lines leave the magnet: the field itself by magpylib."""

from __future__ import annotations

import magpylib
import numpy as np
import pytest

import visual  # noqa: F401  (before VPython)
from visual import palette
from visual.apparatus import hung_rod_bench, moved_rod
from visual.apparatus.magnets import block_magnet, facing_magnets
from visual.machines.alternator_drawn import _wheel
from visual.machines.commutator import machine
from visual.machines.commutator.machine import CommutatorMachine
from visual.machines.stator import StatorShape


def commutator(gap: float):
    """The magnets as the machine hands them to what draws them, for a field to the right."""
    built = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(machine, "facing_magnets", lambda *how: built.append(facing_magnets(*how)) or built[-1])
        winding = np.array([0.0]), np.array([[-1.3, 1.3], [1.8, 4.4]]), (0.0, np.pi)
        lines = [np.array([[-gap / 2, 0, 0], [0, 0, 0], [gap / 2, 0, 0]])]
        CommutatorMachine(0.04, 0.08, gap, {1: winding}, np.array([[2.9, 3.3], [-0.2, 0.2]]), ("A1", "A2"), lines)
    return built[0]


def coloured(mesh, colour) -> np.ndarray:
    """The points of that colour with the outward normals there."""
    there = np.all(np.isclose(mesh.colours, colour), axis=1)
    assert there.any()
    return mesh.points[there], mesh.normals[there]


@pytest.mark.parametrize("north", [(1.0, 0, 0), (-1.0, 0, 0), (0, 1.0, 0), (0, -1.0, 0), (0, 0, 1.0), (0, 0, -1.0)])
def test_field_lines_leave_a_block_where_it_is_red(north):
    centre, size = np.array([0.02, -0.01, 0.03]), np.array([0.032, 0.05, 0.04])
    mesh = block_magnet(centre, size, north)
    magnet = magpylib.magnet.Cuboid(polarization=np.array(north), dimension=size, position=centre)
    along = np.argmax(np.abs(north))
    for colour, sign in ((palette.NORTH, 1), (palette.SOUTH, -1)):
        points, normals = coloured(mesh, colour)
        face = sign * normals @ north > 0.9  # the end face, not where the halves meet
        assert np.all(sign * (points[face] - centre) @ north == pytest.approx(size[along] / 2))
        outside = centre + 0.8 * (points[face] - centre) + 0.3 * size[along] * normals[face]
        assert np.all(sign * np.sum(magnet.getB(outside) * normals[face], axis=1) > 0)


def test_both_halves_are_as_long_and_the_whole_has_its_size():
    mesh = block_magnet((0, 0, 0), (0.04, 0.02, 0.06), (0, 0, -1.0))
    assert np.allclose(mesh.points.max(axis=0) - mesh.points.min(axis=0), (0.04, 0.02, 0.06))
    red, _ = coloured(mesh, palette.NORTH)
    assert red[:, 2].max() == pytest.approx(0) and red[:, 2].min() == pytest.approx(-0.03)


@pytest.mark.parametrize(
    "mesh, gap, field",
    [
        (lambda: facing_magnets(0.03, (0.02, 0.05, 0.04), (0, 0, -1.0)), 0.03, (0, 0, -1)),
        (
            lambda: hung_rod_bench._magnet(0.05, np.array([0.06, 0.03, 0.05]), [np.array([[0, -0.02, 0], [0, 0, 0], [0, 0.02, 0]])]),
            0.05,
            (0, 1, 0),
        ),
        (lambda: moved_rod._magnet(0.04, (0.06, 0.03)), 0.04, (0, 1, 0)),
        (lambda: commutator(0.1), 0.1, (1, 0, 0)),
    ],
)
def test_the_magnet_that_the_field_comes_from_turns_its_red_end_to_the_gap(mesh, gap, field):
    """Lines leave an N and enter an S, so in a gap with the field along `field` the red faces that way, the blue the other."""
    mesh = mesh()
    for colour, sign in ((palette.NORTH, -1), (palette.SOUTH, 1)):
        points, _ = coloured(mesh, colour)
        along = points @ np.array(field)
        at_the_gap = along[np.isclose(np.abs(along), gap / 2)]
        assert len(at_the_gap) and np.all(sign * at_the_gap > 0)


@pytest.mark.parametrize("poles", [2, 4, 6])
def test_the_wheel_is_red_where_it_sends_flux_into_the_stator(poles):
    """A north pole at angle 0 and every second pitch: flux out of the wheel goes as cos(p angle), p pole pairs."""
    mesh = _wheel(StatorShape(), poles)
    for colour, sign in ((palette.NORTH, 1), (palette.SOUTH, -1)):
        points, _ = coloured(mesh, colour)
        outside = points[np.hypot(points[:, 0], points[:, 1]) > 0.05]
        angles = np.arctan2(outside[:, 1], outside[:, 0])
        assert len(outside) and np.all(sign * np.cos(poles / 2 * angles) > 0.1)
        assert len({round(np.degrees(angle) / (360 / poles)) % poles for angle in angles}) == poles // 2
