"""The motors that are started, one with a cage and one with slip rings, and what is known of both before any start."""

from __future__ import annotations

from physics.induction import EquivalentCircuit
from physics.windings import Winding

# A motor of our own of 11 kW with a deep-bar cage, fitted to an ordinary plate (400 V, 1465 r/min, 21.2 A, cos phi 0.84) with
# 6.3 times starting current, 2.1 times starting and 2.8 times breakdown torque; ohms a phase of the star that draws the same (its
# windings run in delta), volts, hertz, poles. And one with the same stator and a wound rotor that, its slip rings shorted, runs at
# the same slip.
MOTOR = EquivalentCircuit(0.415, 0.721, 0.5926, 0.721, 24.54, 400.0, 50.0, 4, 0.5011, 2.836)
WOUND = EquivalentCircuit(0.415, 0.721, 0.2715, 1.43, 24.54, 400.0, 50.0, 4)
ROTOR_WINDING = Winding(24, 4)  # of the wound rotor, as it is drawn
RATED = MOTOR.at(35 / 1500)
RATED_TORQUE, RATED_CURRENT = float(RATED.torque), float(abs(RATED.stator_current))
SYNCHRONOUS = float(MOTOR.synchronous_speed)
ROTOR_INERTIA = 0.05  # kg m2
BREAKAWAY = 1.3  # of a conveyor's running torque, that it takes to move it from rest


def motor_for(method: str) -> EquivalentCircuit:
    """The motor that is started by that method: resistors need a wound rotor."""
    return WOUND if method == "wound-rotor" else MOTOR
