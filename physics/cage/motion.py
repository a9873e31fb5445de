"""A cage rotor in a field that turns evenly: how its bars' forces speed it up against what its shaft carries.

The currents are taken as those of steady running at the speed of each moment (`Cage.steady`), which holds as long as
the speed changes little while a current settles, bar inductance over resistance. Angles and speeds are mechanical,
rad and rad/s, positive counter-clockwise seen from +z.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from physics import arguments
from physics.cage.bars_and_rings import Cage, CageState
from physics.shaft.shafts import DrivenShaft, FreeShaft

LONGEST_STEP = 2.5e-4  # s: short against the time in which a small rotor runs up


@dataclass(frozen=True)
class TurningGapField:
    """Gap field `crest` (T, outward positive) * cos(`pole_pairs` * (theta - angle)), its angle running at `speed`."""

    crest: float
    pole_pairs: int
    speed: float

    def __post_init__(self):
        arguments.number("crest", self.crest)
        arguments.whole("pole_pairs", self.pole_pairs)
        arguments.number("speed", self.speed)


@dataclass(frozen=True)
class RotorMoment:
    """Where the field's crest and bar 0 stand, and how fast the rotor turns."""

    field_angle: float = 0.0
    rotor_angle: float = 0.0
    rotor_speed: float = 0.0


def bars(cage: Cage, field: TurningGapField, moment: RotorMoment) -> CageState:
    """The bars at that moment."""
    return cage.steady(
        field.crest, field.pole_pairs, field.speed, moment.rotor_speed, moment.field_angle - moment.rotor_angle
    )


def move_on(
    cage: Cage, field: TurningGapField, moment: RotorMoment, shaft: FreeShaft | DrivenShaft, seconds: float
) -> RotorMoment:
    """The moment `seconds` later, the torque of the bars acting on `shaft`; steps no longer than `LONGEST_STEP`."""
    seconds = arguments.not_negative("seconds", seconds)
    steps = max(1, math.ceil(seconds / LONGEST_STEP)) if isinstance(shaft, FreeShaft) else 1
    step = seconds / steps
    for _ in range(steps):
        before = moment.rotor_speed
        torque = bars(cage, field, moment).torque if isinstance(shaft, FreeShaft) else 0.0
        after = shaft.through_rest(before, shaft.speed_after(before, step, torque, 0.0))
        turned = after if isinstance(shaft, DrivenShaft) else (before + after) / 2
        moment = RotorMoment(
            math.remainder(moment.field_angle + step * field.speed, 2 * math.pi),
            math.remainder(moment.rotor_angle + step * turned, 2 * math.pi),
            after,
        )
    return moment
