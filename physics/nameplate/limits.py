"""What no motor can have together, whatever its cages: why a plate is missed.

All in per unit of the rated voltage and current, with the magnetising branch ahead of all leakage (inverse-gamma circuit, a
standard transformation). At rated load the power factor gives the current's reactive part; what leakage does not take of it
is the no-load current I0. At standstill the rotor then carries I_st - I0, both lagging by nearly a right angle.

*Starting torque, at least.* A cage's resistance does not fall as its frequency rises, and torque is I2^2 R2 / s: so
T_st / T is at least s (I2_st / I2)^2, and that is least, s (I_st / I)^2 (handbook rule), without any no-load current.

*Breakdown torque, at most.* Torque and current at standstill give resistance r and leakage x there. At breakdown there is at
least as much leakage: currents are smaller, so that less of it saturates, and a cage's leakage does not rise with frequency.
A cage is a passive network of resistances and inductances, so r and x at slip s are r_0 + sum a_i, x_0 + sum a_i / t_i with
a_i = R_i t_i^2 / (1 + t_i^2) at s = 1; at small slip the leakage is more by sum a_i t_i, and by Cauchy's inequality
sum a_i t_i >= (sum a_i)^2 / (sum a_i / t_i) >= (r - r_0)^2 / x, however many cages there are. A leakage X in series with R1
lets T = 1 / (2 (R1 + sqrt(R1^2 + X^2))) through at most (maximum power).
"""

from __future__ import annotations

import math

from physics.nameplate.plate import Nameplate

LEAST_STATOR_SHARE = 0.2
"""Of the losses at rated load, at least, those in the stator winding are: three to five tenths usually (common practice, no source)."""


def least_starting_torque(plate: Nameplate) -> float:
    """Times rated, of any motor with the plate's slip and starting current; 0 where that is not given."""
    return plate.slip * (plate.starting_current or 0.0) ** 2


def most_breakdown_torque(plate: Nameplate) -> float:
    """Times rated, of any motor with the plate's starting current and starting torque; inf where they are not given."""
    if plate.starting_current is None or plate.starting_torque is None:
        return math.inf
    rated = plate.torque * 2.0 * math.pi * plate.synchronous_speed / plate.apparent_power
    stator = LEAST_STATOR_SHARE * plate.losses / plate.apparent_power
    current = plate.starting_current - _no_load_current(plate)
    rotor = plate.starting_torque * rated / current**2
    leakage = math.sqrt(max(1.0 / current**2 - (stator + rotor) ** 2, 1e-12))
    running = plate.slip * rated
    leakage += max(rotor - running, 0.0) ** 2 / leakage
    return 1.0 / (2.0 * rated * (stator + math.hypot(stator, leakage)))


def reason(plate: Nameplate) -> str:
    """Why no circuit meets the plate, a sentence: by which limit it is farther beyond."""
    least, most = least_starting_torque(plate), most_breakdown_torque(plate)
    beyond_least = least / plate.starting_torque if plate.starting_torque else 0.0
    beyond_most = plate.breakdown_torque / most if plate.breakdown_torque else 0.0
    if max(beyond_least, beyond_most) < 0.97:
        return "No circuit of this kind was found that has all of them."
    if beyond_least > beyond_most:
        return (
            f"These figures do not go together: with a slip of {plate.slip:.1%} and {plate.starting_current:g} times the rated "
            f"current at standstill, a rotor gives at least about {least:.2g} times the rated torque there, not {plate.starting_torque:g}."
        )
    return (
        f"These figures do not go together: a motor that draws {plate.starting_current:g} times its rated current at standstill and "
        f"starts with {plate.starting_torque:g} times its rated torque has leakage that leaves a breakdown torque of about {most:.2g} "
        f"times rated at most, not {plate.breakdown_torque:g}."
    )


def _reactive(plate: Nameplate) -> float:
    return math.sqrt(1.0 - plate.power_factor**2)


def _no_load_current(plate: Nameplate) -> float:
    """Per unit: the reactive current at rated load less that which the leakage takes, I2^2 X with X = 1 / I_st."""
    leakage = 1.0 / plate.starting_current if plate.starting_current else 0.15
    return max(_reactive(plate) - plate.power_factor**2 * leakage, 0.0)
