"""A cage rotor in a field that turns evenly: how its bars' forces speed it up against what its shaft carries.

The currents are taken as those of steady running at the speed of each moment (`Cage.steady`), which holds as long as
the speed changes little while a current settles, bar inductance over resistance. Angles and speeds are mechanical,
rad and rad/s, positive counter-clockwise seen from +z.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import Protocol

from physics import arguments
from physics.cage.bars_and_rings import Cage, CageState
from physics.shaft.shafts import DrivenShaft, FreeShaft

LONGEST_STEP = 2.5e-4  # s: short against the time in which a small rotor runs up


class Field(Protocol):
    """A gap field B cos(`pole_pairs` * (theta - angle)), T, outward positive, its angle running at `speed`."""

    @property
    def pole_pairs(self) -> int: ...

    @property
    def speed(self) -> float: ...

    def at(self, rotor_speed: float) -> complex:
        """The field B at that speed of the rotor, turned by the electrical angle by which it stands ahead, counter-clockwise, of the
        angle that is counted."""


@dataclass(frozen=True)
class TurningGapField:
    """A gap field whose `peak`, T, is held constant whatever the rotor takes; what a supply leaves of it under load is in
    `physics.induction.fed_cage`."""

    peak: float
    pole_pairs: int
    speed: float

    def __post_init__(self) -> None:
        arguments.number("peak", self.peak)
        arguments.whole("pole_pairs", self.pole_pairs)
        arguments.number("speed", self.speed)

    def at(self, rotor_speed: float) -> complex:
        """The peak, T, the same at any speed."""
        return complex(self.peak)


@dataclass(frozen=True)
class RotorMoment:
    """One instant: `supply_angle` through which the supply has turned the field and `rotor_angle` of bar 0, rad, and `rotor_speed`,
    rad/s; counter-clockwise positive."""

    supply_angle: float = 0.0
    rotor_angle: float = 0.0
    rotor_speed: float = 0.0


def peak_at(field: Field, moment: RotorMoment) -> tuple[float, float]:
    """The gap field at that moment: its peak, T, and the mechanical angle of that peak, rad."""
    here = field.at(moment.rotor_speed)
    return abs(here), moment.supply_angle + cmath.phase(here) / field.pole_pairs


def bars(cage: Cage, field: Field, moment: RotorMoment) -> CageState:
    """The state of the bars at that instant."""
    return cage.steady(*_seen_from_the_bars(field, moment))


def _seen_from_the_bars(field: Field, moment: RotorMoment) -> tuple[float, int, float, float, float]:
    """The arguments of `Cage.steady`."""
    peak, angle = peak_at(field, moment)
    return peak, field.pole_pairs, field.speed, moment.rotor_speed, angle - moment.rotor_angle


def advance(cage: Cage, field: Field, moment: RotorMoment, shaft: FreeShaft | DrivenShaft, seconds: float) -> RotorMoment:
    """The moment `seconds` later, the torque of the bars acting on `shaft`; steps no longer than `LONGEST_STEP`."""
    seconds = arguments.not_negative("seconds", seconds)
    steps = max(1, math.ceil(seconds / LONGEST_STEP)) if isinstance(shaft, FreeShaft) else 1
    step = seconds / steps
    for _ in range(steps):
        before = moment.rotor_speed
        torque = cage.steady_torque(*_seen_from_the_bars(field, moment)) if isinstance(shaft, FreeShaft) else 0.0
        after = shaft.through_rest(before, shaft.speed_after(before, step, torque, 0.0))
        turned = after if isinstance(shaft, DrivenShaft) else (before + after) / 2
        moment = RotorMoment(
            math.remainder(moment.supply_angle + step * field.speed, 2 * math.pi),
            math.remainder(moment.rotor_angle + step * turned, 2 * math.pi),
            after,
        )
    return moment
