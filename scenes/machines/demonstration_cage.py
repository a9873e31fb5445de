"""The cage that is demonstrated: its figures, its torque at any speed, and what there is at one of its bars."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from physics.cage import Cage, CageState
from physics.cage import motion as cage_motion
from physics.cage.motion import RotorMoment, TurningGapField
from physics.directions import Hand, left_hand, right_hand
from scenes.scene.seen_from_an_end import AXIS

BARS, RADIUS, LENGTH = 15, 0.050, 0.060  # m
BAR_RESISTANCE, BAR_INDUCTANCE, RING_RESISTANCE, RING_INDUCTANCE = 80e-6, 0.3e-6, 2e-6, 1e-8
INERTIA = 1e-3  # kg m2: light, so that it runs up while the field turns a few times
RATED_SLIP, RATED_FIELD, RATED_FREQUENCY = 0.05, 0.5, 50.0
MOST_SLIP = 1.5  # at which currents and forces are drawn as large as can be
BROKEN = {"none": (), "one": (0,), "three": (0, 1, 2)}
WITHIN_THE_POLE = np.pi / 3  # electrical rad from its middle: further off its field is weak, or another pole's


def cage(broken: str = "none") -> Cage:
    """The cage with that many bars broken, side by side."""
    return Cage(BARS, BAR_RESISTANCE, BAR_INDUCTANCE, RING_RESISTANCE, RING_INDUCTANCE, RADIUS, LENGTH, BROKEN[broken])


def rated_torque(pole_pairs: int) -> float:
    """N m that the whole cage has at rated slip, field and frequency."""
    speed = 2 * np.pi * RATED_FREQUENCY / pole_pairs
    return cage().steady(RATED_FIELD, pole_pairs, speed, speed * (1 - RATED_SLIP), 0.0).torque


def fullest(field: float, pole_pairs: int, synchronous: float) -> tuple[float, float]:
    """Current, A, and force, N, that are drawn as large as can be: those of the whole cage at a slip of 1.5."""
    speed = MOST_SLIP * abs(synchronous)
    current = field * LENGTH * RADIUS * speed / abs(cage().effective_impedance(pole_pairs, pole_pairs * speed))
    return current, field * LENGTH * current


def torque_curve(broken: str, field: float, pole_pairs: int, synchronous: float) -> tuple[np.ndarray, np.ndarray]:
    """Speeds from -50 to 150 % of synchronous, as shares of it, and the torque with the field at each, N m; with bars
    broken the mean over half a wave of the field."""
    shares = np.linspace(-0.5, 1.5, 81)
    angles = (0.0,) if broken == "none" else np.linspace(0, np.pi / pole_pairs, 4, endpoint=False)
    shown = cage(broken)
    torques = [[shown.steady(field, pole_pairs, synchronous, share * synchronous, angle).torque for angle in angles] for share in shares]
    return shares, np.sign(synchronous) * np.mean(torques, axis=1)


@dataclass(frozen=True)
class AtTheBar:
    """All bars at a moment, and of a chosen one its number, the field there, T, its motion against the field, m/s, and
    its current along the shaft, A, as vectors."""

    moment: RotorMoment
    state: CageState
    number: int
    field: np.ndarray
    motion: np.ndarray
    current: np.ndarray

    @property
    def lags(self) -> bool:
        """Whether the current is so far behind the EMF that at this moment it flows against it."""
        return float(self.state.emf[self.number] * self.state.current[self.number]) < 0

    def hand(self, side: str, seen_from: float = 1.0) -> Hand:
        """The "right" or the "left" hand at the bar; its words hold for the end one looks from, 1 or -1."""
        turn = np.array([seen_from, 1.0, seen_from])
        if side == "right":
            return right_hand(self.field * turn, self.motion * turn)
        return left_hand(self.field * turn, self.current * turn)


def at_the_pole(shown: Cage, field: TurningGapField, moment: RotorMoment, pole: str) -> AtTheBar:
    """The bars at that moment, and the whole one that is nearest to the middle of the "N" or the "S" pole: of the first
    pole of that name, or where broken bars leave none there, of another."""
    state = cage_motion.bars(shown, field, moment)
    middle = moment.field_angle + (np.pi / field.pole_pairs if pole == "N" else 0.0)
    past = shown.bar_angles + moment.rotor_angle - middle
    away, within = np.abs(np.angle(np.exp(1j * past))), np.abs(np.angle(np.exp(1j * field.pole_pairs * past)))
    away[list(shown.missing)] = within[list(shown.missing)] = np.inf
    number = int(np.argmin(away))
    if within[number] > WITHIN_THE_POLE:
        number = int(np.argmin(within))
    angle = float(shown.bar_angles[number]) + moment.rotor_angle
    outward, onward = np.array([np.cos(angle), np.sin(angle), 0.0]), np.array([-np.sin(angle), np.cos(angle), 0.0])
    return AtTheBar(
        moment, state, number, field=field.crest * np.cos(field.pole_pairs * (angle - moment.field_angle)) * outward,
        motion=(moment.rotor_speed - field.speed) * RADIUS * onward, current=state.current[number] * AXIS,
    )
