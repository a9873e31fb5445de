"""How fast the fields are: `python tests/benchmarks/fields.py` prints a table; nothing here passes or fails.

The field of many straight conductors beside magpylib's core function for the same sum, and what one frame of a scene
asks for: the force on a rod between two magnets, its EMF, a swing, needles, flux lines.
"""

import sys
import time
from pathlib import Path

import magpylib
import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from physics.conductors.force_and_emf import force, generate
from physics.conductors.hung_rod import HungRod, Swing  # noqa: E402
from physics.constants import VACUUM_PERMEABILITY  # noqa: E402
from physics.fields import segment_field
from physics.fields.compass import Compass, Needles  # noqa: E402
from physics.fields.currents import gap_field
from physics.fields.flux_lines import flux_lines  # noqa: E402


def seconds(function, repeats):
    """The least time of several, which is the one least disturbed by others on the machine."""
    times = []
    for _ in range(repeats):
        begin = time.perf_counter()
        function()
        times.append(time.perf_counter() - begin)
    return min(times)


def straight_conductors(points=2000, conductors=200):
    generator = np.random.default_rng(1)
    at, start, end = (generator.normal(size=(count, 3)) for count in (points, conductors, conductors))
    current = generator.normal(size=conductors)

    def theirs():
        pairs = magpylib.core.current_polyline_Hfield(
            np.repeat(at, conductors, axis=0), np.tile(start, (points, 1)), np.tile(end, (points, 1)), np.tile(current, points)
        )
        return VACUUM_PERMEABILITY * pairs.reshape(points, conductors, 3).sum(axis=1)

    def ours():
        return segment_field(at, start, end, current)

    error = np.max(np.linalg.norm(ours() - theirs(), axis=1) / np.linalg.norm(theirs(), axis=1))
    mine, other = seconds(ours, 20), seconds(theirs, 5)
    print(
        f"segment_field, {points} points x {conductors} conductors: {mine * 1e3:.1f} ms, magpylib "
        f"{other * 1e3:.1f} ms, {other / mine:.1f} times faster; greatest relative difference {error:.1e}"
    )


def one_frame():
    magnet = gap_field(0.06, [0.05, 0.03, 0.05], 1.2, direction=[0, 1, 0])
    path = np.array([[0, 0, -0.08], [0, 0, 0.08]])
    rod = HungRod(path, [0, 0.2, 0], [0, 0, 1], 0.02, 1e-3)
    curve, compass = rod.torque_curve(magnet), Compass()
    needles, near_a_wire = Needles(np.ones(8), np.zeros(8)), np.tile([5e-4, 0, 0], (8, 1))
    starts = np.column_stack([np.linspace(-0.03, 0.03, 9), np.zeros(9), np.zeros(9)])
    for words, function, repeats in (
        ("force on a rod between two blocks, 32 samples", lambda: force(path, 5.0, magnet, samples=32), 300),
        ("the same, 64 samples (default)", lambda: force(path, 5.0, magnet), 300),
        ("EMF, current, force and power of a moved rod", lambda: generate(path, [0.1, 0, 0], magnet, 1.0), 300),
        ("a frame (1/30 s) of the rod's swing", lambda: rod.swings(Swing(0.1, 1.0), 5.0, curve, 1 / 30), 300),
        ("a frame of 8 needles in 0.5 mT", lambda: compass.swing(needles, near_a_wire, 1 / 30), 300),
        ("once a setting: torque curve of the rod", lambda: rod.torque_curve(magnet), 10),
        ("once a setting: 9 flux lines of 65 points", lambda: flux_lines(magnet, starts, 0.2), 5),
    ):
        print(f"{words}: {seconds(function, repeats) * 1e6:.0f} microseconds")


if __name__ == "__main__":
    straight_conductors()
    one_frame()
