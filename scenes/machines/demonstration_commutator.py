"""The machine with coils and a commutator that is demonstrated: its figures."""

from __future__ import annotations

import numpy as np

from physics.commutated.armature import Armature
from physics.commutated.commutator import Commutator, SlipRings
from physics.fields.pole_field import PoleField
from visual.machines.commutator_machine import COILS

RADIUS, LENGTH, GAP = 0.040, 0.080, 0.100  # m
TURNS = 100
COIL_RESISTANCE, BATTERY_RESISTANCE, LAMP_RESISTANCE = 1.8, 0.1, 5.0  # ohm
LAMP_POWER = 0.6  # W at which the lamp shines fully
INERTIA, FRICTION = 0.002, 0.003  # kg m2, as if with a flywheel, so that the run-up takes its time; N m of bearings and brushes
# A brush bridges two of the three segments for a third of the time, and never the supply. The first brush, A1, stands on the
# left: with + on it, and the field to the right, the machine turns clockwise seen from the drive end (IEC 60034-8).
COMMUTATOR = Commutator(np.radians(24), np.radians(5), contact_resistance=0.03, lead=np.pi / 2, brush_shift=np.pi)
AT_FIRST = np.radians(12.0)  # where the rotor stands at the start
SIDES = {f"{k + 1}{part}": (k, s) for k in range(COILS) for s, part in enumerate("ab")}
BRUSHES = ("A1", "A2")  # terminals of an armature winding by IEC 60034-8


def armature_of(flux_density: float, collector: str) -> Armature:
    """The coils in an even field, T, to the right, with a "commutator" or with "slip-rings"."""
    on_spindle = COMMUTATOR if collector == "commutator" else SlipRings(COMMUTATOR.contact_resistance)
    return Armature(PoleField(flux_density), TURNS, LENGTH, RADIUS, COIL_RESISTANCE, COILS, collector=on_spindle)
