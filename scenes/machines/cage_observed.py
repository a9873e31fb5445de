"""Everything physical about the cage at one moment, observed once and read by picture, readings, sentence and question."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from physics.cage import Cage, CageState
from physics.cage import motion as cage_motion
from physics.cage.motion import Field, RotorMoment
from physics.directions import Hand, left_hand, right_hand
from physics.induction.fed_cage import CageOnSupply, StatorPoint
from scenes.machines import demonstration_cage
from scenes.machines.demonstration_cage import RADIUS, Curves
from scenes.scene.seen_from_an_end import AXIS

WITHIN_THE_POLE = np.pi / 3  # electrical rad from its middle: further off its field is weak, or another pole's


@dataclass(frozen=True)
class Observed:
    """The motor at a moment. Angles and speeds mechanical, counter-clockwise positive seen from the drive end.

    `field`, T, `motion` relative to the field, m/s, and `current` along the shaft, A, are vectors at the chosen bar, `number`
    from 0, whose angle is `bar_angle`.
    """

    moment: RotorMoment
    fed: CageOnSupply
    curves: Curves
    cage: Cage
    state: CageState
    held: bool  # whether the field is held constant
    stands: bool  # whether it stands still
    crest: float  # T
    crest_angle: float  # rad
    field_speed: float  # rad/s
    slip: float  # where the field stands, as if it turned past bars at rest with the speed that the bars have
    rotor_field: float  # T, crest of what the rotor's currents would make alone
    stator: StatorPoint | None  # None where the field stands: direct current
    number: int
    bar_angle: float
    field: np.ndarray
    motion: np.ndarray
    current: np.ndarray
    load: float  # N m that the load asks for; 0 where the shaft is held or driven
    free: bool

    @property
    def synchronous(self) -> float:
        """rad/s of the field that the lines as joined make."""
        return self.fed.speed

    @property
    def sense(self) -> float:
        """+1 where that field turns counter-clockwise, -1 where clockwise."""
        return self.fed.sense

    @property
    def lags(self) -> bool:
        """Whether the current of the bar is so far behind the EMF that at this moment it flows against it."""
        return float(self.state.emf[self.number] * self.state.current[self.number]) < 0

    @property
    def stalled(self) -> bool:
        """Whether the rotor is free to turn, but rests because its load asks for more than the bars give."""
        return self.free and self.moment.rotor_speed == 0.0 and abs(self.state.torque) <= self.load and self.load > 0

    def hand(self, side: str) -> Hand:
        """The "right" or the "left" hand at the bar."""
        return right_hand(self.field, self.motion) if side == "right" else left_hand(self.field, self.current)


def observed(
    fed: CageOnSupply, held: float | None, stands: bool, moment: RotorMoment, pole: str, load: float, free: bool
) -> Observed:
    """The motor at that moment, and the whole bar that is nearest to the middle of the "N" or the "S" pole.

    held: T, or None for the field that the supply leaves; stands: whether the field is stopped. See `Observed`.
    """
    field, cage = demonstration_cage.field_of(fed, held, stands), fed.cage
    state = cage_motion.bars(cage, field, moment)
    crest, crest_angle = cage_motion.crest_at(field, moment)
    number = _bar_at(pole, cage, field, crest_angle, moment.rotor_angle)
    angle = float(cage.bar_angles[number]) + moment.rotor_angle
    outward, onward = np.array([np.cos(angle), np.sin(angle), 0.0]), np.array([-np.sin(angle), np.cos(angle), 0.0])
    slip = -moment.rotor_speed / fed.speed if stands else fed.slip(moment.rotor_speed)
    stator = None if stands else fed.running(slip) if held is None else fed.with_field(held, slip)
    return Observed(
        moment, fed, demonstration_cage.curves(fed, crest if stands else held), cage, state, held is not None, stands,
        crest, crest_angle, field.speed, slip, fed.rotor_field(state.reaction_mmf), stator, number, angle,
        field=crest * np.cos(field.pole_pairs * (angle - crest_angle)) * outward,
        motion=(moment.rotor_speed - field.speed) * RADIUS * onward, current=state.current[number] * AXIS, load=load, free=free,
    )


def _bar_at(pole: str, cage: Cage, field: Field, crest_angle: float, rotor_angle: float) -> int:
    """Of the first pole of that name, or where broken bars leave none there, of another."""
    middle = crest_angle + (np.pi / field.pole_pairs if pole == "N" else 0.0)
    past = cage.bar_angles + rotor_angle - middle
    away, within = np.abs(np.angle(np.exp(1j * past))), np.abs(np.angle(np.exp(1j * field.pole_pairs * past)))
    away[list(cage.missing)] = within[list(cage.missing)] = np.inf
    number = int(np.argmin(away))
    return number if within[number] <= WITHIN_THE_POLE else int(np.argmin(within))
