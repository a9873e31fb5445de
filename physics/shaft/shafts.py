"""A machine's shaft: free to turn as the torques on it let it, or held at a speed from outside."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import copysign

from physics.arguments import not_negative, number, positive

# rad/s over which the steepness of a load is taken
SPEED_DIFFERENCE = 1e-3


def no_load(speed: float) -> float:
    """A shaft end with nothing on it: 0 N m at any speed in rad/s."""
    return 0.0


@dataclass(frozen=True)
class FreeShaft:
    """A shaft that turns as the torques on it let it.

    inertia           kg m2 of rotor and load together, more than 0
    dry_friction      N m against the motion whatever the speed; below this torque the shaft stays at rest
    viscous_friction  N m per rad/s
    load              function of the speed in rad/s: N m that the load takes, positive when it acts clockwise. A
                      falling weight or a hand that drives the shaft counter-clockwise is a negative load. It must be
                      continuous; friction that changes sign with the motion belongs in dry_friction
    """

    inertia: float
    dry_friction: float = 0.0
    viscous_friction: float = 0.0
    load: Callable[[float], float] = no_load

    def __post_init__(self) -> None:
        positive("inertia", self.inertia)
        not_negative("dry_friction", self.dry_friction)
        not_negative("viscous_friction", self.viscous_friction)

    def speed_after(self, speed: float, duration: float, standstill_torque: float, torque_per_speed: float) -> float:
        """Speed in rad/s a `duration` later, the torque then being standstill_torque + torque_per_speed * speed."""
        load = number("load", self.load(speed))
        steeper = max((self.load(speed + SPEED_DIFFERENCE) - load) / SPEED_DIFFERENCE, 0.0)
        impulse = self.inertia * speed + duration * (standstill_torque - load + steeper * speed)
        resistance = self.inertia + duration * (self.viscous_friction + steeper - torque_per_speed)
        return copysign(max(abs(impulse) - duration * self.dry_friction, 0.0), impulse) / resistance

    def through_rest(self, before: float, after: float) -> float:
        """`after`, or 0 where dry friction must first bring the shaft to rest and then decides anew."""
        return 0.0 if self.dry_friction > 0.0 and before * after < 0.0 else after

    def acceleration(self, speed: float, torque: float) -> float:
        """Angular acceleration, rad/s2, under this torque, N m, at this speed, rad/s."""
        driving = torque - self.load(speed) - self.viscous_friction * speed
        against = self.dry_friction if speed == 0.0 else copysign(self.dry_friction, speed * driving)
        return copysign(max(abs(driving) - against, 0.0), driving) / self.inertia


@dataclass(frozen=True)
class DrivenShaft:
    """A shaft held at a speed in rad/s from outside, as by a steady hand on the crank."""

    speed: float

    def __post_init__(self) -> None:
        number("speed", self.speed)

    def speed_after(self, speed: float, duration: float, standstill_torque: float, torque_per_speed: float) -> float:
        """The speed that the shaft is held at."""
        return self.speed

    def through_rest(self, before: float, after: float) -> float:
        """The speed that the shaft is held at."""
        return after

    def acceleration(self, speed: float, torque: float) -> float:
        """Angular acceleration: 0 rad/s2."""
        return 0.0
