"""The demonstration machine with coils and a commutator: its figures."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from physics.commutated.armature import Armature
from physics.commutated.block_poles import BlockPoles
from physics.commutated.commutator import Commutator, SlipRings
from physics.commutated.filament import Filament
from scenes.scene.drawn_arrow import place_of
from visual.machines.commutator.machine import MOST_COILS
from visual.machines.commutator.shapes import COMMUTATOR, DRUM, POLE, WIRE
from visual.machines.stator import polar

RADIUS, LENGTH, GAP = 0.040, 0.080, 0.100  # m
TURNS, WIRE_DIAMETER, MEAN_TURN = 60, 0.0006, 0.36  # turns of a coil; m of bare wire, and of wire in a turn as it is drawn
COPPER = 1.72e-8  # ohm m at 20 °C (IEC 60028)
COIL_RESISTANCE = COPPER * TURNS * MEAN_TURN / (np.pi * WIRE_DIAMETER**2 / 4)
FILLED = TURNS * (WIRE_DIAMETER / WIRE) ** 2  # share of the drawn coil side that is copper
BATTERY_RESISTANCE = 0.1  # ohm
LAMP = Filament(voltage=1.5, current=0.3)
INERTIA, FRICTION = 0.002, 0.003  # kg m2, as if with a flywheel, so that the run-up can be watched; N m of bearings and brushes
LARGEST_FIELD = 0.25  # T at a coil side before a pole: blocks of the drawn size then have a remanence of 0.92 T
BRUSH = np.radians(24)  # of the circumference
# The gap between two segments. A brush bridges it: two of three segments for a third of the time, and never the supply. One coil's two
# segments would short-circuit the supply, so there the gaps are wider than a brush.
INSULATION = {1: np.radians(28), 2: np.radians(5), 3: np.radians(5)}
# The first brush, A1, stands on the left: with + on it, and the field to the right, the machine turns clockwise looking at the drive
# end (IEC 60034-8, from memory).
COMMUTATORS = {
    coils: Commutator(BRUSH, insulation, contact_resistance=0.03, lead=np.pi / 2, brush_shift=np.pi)
    for coils, insulation in INSULATION.items()
}
AT_FIRST = np.radians(12.0)  # position of the rotor at the start
SIDES = {f"{k + 1}{part}": (k, s) for k in range(MOST_COILS) for s, part in enumerate("ab")}
BRUSHES = ("A1", "A2")  # terminals of an armature winding by IEC 60034-8
BRUSHES_AT = tuple(  # m, the middle of each on the commutator
    place_of(polar(DRUM + 0.01, angle, sum(COMMUTATOR) / 2)) for angle in COMMUTATORS[1].brush_centres(0.0)
)


@lru_cache(maxsize=64)
def armature_of(flux_density: float, collector: str, coils: int) -> Armature:
    """So many coils between the drawn magnets, of `flux_density` T to the right, with a "commutator" or "slip-rings"."""
    on_spindle = COMMUTATORS[coils] if collector == "commutator" else SlipRings(COMMUTATORS[coils].contact_resistance)
    poles = BlockPoles(flux_density, RADIUS, LENGTH, GAP, tuple(POLE.tolist()))
    return Armature(poles, TURNS, LENGTH, RADIUS, COIL_RESISTANCE, coils, collector=on_spindle)
