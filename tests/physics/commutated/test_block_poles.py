"""The field of two block magnets round a rotor without iron, against magpylib."""

from __future__ import annotations

import magpylib
import numpy as np
import pytest
from scipy.integrate import quad

from physics.commutated.block_poles import BlockPoles

RADIUS, LENGTH, GAP, SIZE = 0.04, 0.08, 0.10, (0.032, 0.09, 0.10)
POLES = BlockPoles(0.2, RADIUS, LENGTH, GAP, SIZE)


def by_magpylib(angle: float, remanence: float) -> tuple[float, float]:
    """T outward and counter-clockwise at a conductor, averaged along it."""
    blocks = magpylib.Collection(
        [
            magpylib.magnet.Cuboid(position=(side * (GAP + SIZE[0]) / 2, 0, 0), dimension=SIZE, polarization=(remanence, 0, 0))
            for side in (-1, 1)
        ]
    )
    x, y = RADIUS * np.cos(angle), RADIUS * np.sin(angle)
    bx, by, _ = blocks.getB([(x, y, z) for z in np.linspace(-LENGTH / 2, LENGTH / 2, 201)]).mean(axis=0)
    return bx * np.cos(angle) + by * np.sin(angle), by * np.cos(angle) - bx * np.sin(angle)


@pytest.mark.parametrize("angle", np.radians([0, 7, 23, 45, 61, 80, 90, 133, 180, 222, 301]))
def test_is_the_field_of_the_two_blocks(angle):
    radial, tangential = by_magpylib(angle, POLES.remanence)
    assert POLES.at(angle) == pytest.approx(radial, abs=5e-4)
    assert POLES.tangential(angle) == pytest.approx(tangential, abs=5e-4)


def test_is_what_was_asked_for_before_a_face_and_turns_over_with_its_sign():
    assert POLES.at(0.0) == pytest.approx(0.2, rel=1e-9)
    assert POLES.at(np.pi) == pytest.approx(-0.2, rel=1e-9)  # there it goes inward
    assert BlockPoles(-0.2, RADIUS, LENGTH, GAP, SIZE).at(0.3) == pytest.approx(-POLES.at(0.3))
    assert BlockPoles(-0.2, RADIUS, LENGTH, GAP, SIZE).remanence == pytest.approx(-POLES.remanence) and POLES.remanence > 0


@pytest.mark.parametrize("to", [0.4, 1.5, 2.9, -2.0])
def test_the_summed_field_is_its_integral(to):
    assert POLES.summed(to) == pytest.approx(quad(POLES.at, 0.0, to)[0], abs=1e-9)


@pytest.mark.parametrize(
    "name, changes",
    [
        ("flux_density", {"flux_density": np.nan}),
        ("radius", {"radius": 0}),
        ("length", {"length": -1}),
        ("gap", {"gap": 0.08}),
        ("size", {"size": (0, 1, 1)}),
    ],
)
def test_what_is_out_of_range_is_named(name, changes):
    given = {"flux_density": 0.2, "radius": RADIUS, "length": LENGTH, "gap": GAP, "size": SIZE} | changes
    with pytest.raises(ValueError, match=name):
        BlockPoles(**given)
