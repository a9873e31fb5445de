"""An induction motor told by its circuit, on a shaft that it speeds up or that slows it: field, rotor and slip over time.

At every speed the motor is taken to be as it would be if it turned at that speed for good (`EquivalentCircuit.at`); so
the working point always lies on the curve of torque against speed. Turns and speeds are mechanical, rev and rev/s,
positive counter-clockwise seen from +z; `sense` is +1 where the field turns that way and -1 where it turns the other.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments, speeds
from physics.induction.circuit import EquivalentCircuit
from physics.shaft.shafts import FreeShaft

LONGEST_STEP = 5e-4  # s: short against the time in which a small rotor changes its speed
_SLIP_DIFFERENCE = 1e-5  # over which the steepness of the torque is taken


@dataclass(frozen=True)
class SlipMoment:
    """How far field and rotor have turned since the count began, and how fast the rotor turns."""

    field_turns: float = 0.0
    rotor_turns: float = 0.0
    speed: float = 0.0

    @property
    def laps_of_slip(self) -> float:
        """Turns by which the rotor has fallen behind the field, with the sign of the field's: the integral of slip
        times synchronous speed."""
        return self.field_turns - self.rotor_turns


def slip_of(circuit: EquivalentCircuit, sense: float, speed: float) -> float:
    """Slip at `speed`, rev/s."""
    return float(speeds.slip(circuit.synchronous_speed, sense * speed))


def advance(circuit: EquivalentCircuit, sense: float, shaft: FreeShaft, moment: SlipMoment, seconds: float) -> SlipMoment:
    """The moment `seconds` later, in steps no longer than `LONGEST_STEP`."""
    seconds = arguments.not_negative("seconds", seconds)
    steps = max(1, math.ceil(seconds / LONGEST_STEP))
    step = seconds / steps
    field = sense * circuit.synchronous_speed
    to_radians = 2.0 * math.pi
    field_turns, rotor_turns, speed = moment.field_turns, moment.rotor_turns, moment.speed
    for _ in range(steps):
        slip = (field - speed) / field
        here, beyond = circuit.torque_at(slip), circuit.torque_at(slip + _SLIP_DIFFERENCE)
        # slip falls as the speed rises with the field
        steepness = -(beyond - here) / _SLIP_DIFFERENCE / (to_radians * abs(field))
        omega = to_radians * speed
        after = shaft.speed_after(omega, step, sense * here - steepness * omega, steepness)
        after = shaft.through_rest(omega, after) / to_radians
        field_turns += step * field
        rotor_turns += step * (speed + after) / 2.0
        speed = after
    return SlipMoment(field_turns, rotor_turns, speed)


def settled_slip(circuit: EquivalentCircuit, braking: float, viscous: float = 0.0) -> float:
    """Slip at which the motor carries a load that holds it back with `braking` N m and `viscous` N m per rev/s, come to
    it from near synchronous speed; 1 where the load is more than it can carry at any speed, so that it stalls."""
    braking = arguments.not_negative("braking", braking)
    viscous = arguments.not_negative("viscous", viscous)
    slips = np.linspace(0.0, 1.0, 4001)
    for _ in range(3):
        point = circuit.at(slips)
        enough = np.flatnonzero(point.torque - viscous * point.speed >= braking)
        if not enough.size:
            return 1.0
        first = int(enough[0])
        if first == 0:
            return float(slips[0])
        slips = np.linspace(slips[first - 1], slips[first], 101)
    return float(slips[-1])


def bar_currents(circuit: EquivalentCircuit, slip: float, sense: float, angles: ArrayLike) -> np.ndarray:
    """How the rotor current is spread over the bars of a cage: the current of a bar at each of the mechanical `angles`,
    rad from a peak of the gap field, as a share of the largest bar's, toward +z positive.

    A bar's EMF is largest at the peak and its current lags by the angle of the rotor's impedance R2 + j s X2, which is a
    lag in time; and an observer on the bar sees the field go by the way it slips. Of a rotor with two cages, or deep bars, R2
    and X2 are those that both have together at that slip, and the current of a bar is that of both.
    """
    slip = arguments.number("slip", slip)
    angles = circuit.pole_pairs * arguments.numbers("angles", angles)
    if slip == 0.0:
        return np.zeros_like(angles)
    point = circuit.at(slip)
    lag = abs(cmath.phase(slip * complex(point.gap_voltage) / complex(point.rotor_current)))
    slipping = sense * math.copysign(1.0, slip)
    # seen from a bar the peak arrives later by the lag: it stands that much ahead, the way the field slips
    return slipping * np.cos(angles + slipping * lag)
