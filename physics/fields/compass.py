"""Compass needles: where they settle in a field, and how they swing on the way."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import not_negative, numbers, positive, vectors
from physics.constants import VACUUM_PERMEABILITY
from physics.directions import axis_of

# Within this angle of pointing exactly the wrong way a needle feels the torque it has at that angle: it sits on a
# knife edge, where a real one is always tipped off by some tremor. Radians.
_KNIFE_EDGE = 0.02

# A step turns a freely swinging needle by no more than this part of a radian of its oscillation; a step longer than
# _MOST_STEPS of them is divided into that many, which stays stable and loses only accuracy.
_STEP_PHASE = 0.15
_MOST_STEPS = 200


@dataclass(frozen=True, eq=False)
class Needles:
    """The state of n needles: `angle` (n,) radians from the zero direction, `rate` (n,) radians per second."""

    angle: np.ndarray
    rate: np.ndarray


@dataclass(frozen=True, eq=False)
class Compass:
    """A kind of compass: what its needle is like, and the level it turns in.

    moment   magnetic moment of the needle, A m^2, more than 0
    inertia  of the needle about its pivot, kg m^2, more than 0
    damping  torque per speed of turning, N m s, 0 or more
    normal   of the level the needle turns in, toward the one who looks at it, shape (3,)
    zero     the direction on that level from which angles are counted, shape (3,); its part across `normal` counts

    Angles are counter-clockwise as seen with `normal` pointing at the eye. The values that stand here make a small
    plotting compass: a steel lozenge of 4 mm3 and 20 mm, magnetised to 0.15 T, which swings at 0.7 Hz in 20 microtesla
    (common practice, no source). Raises `ValueError` naming the argument.
    """

    moment: float = 5e-4
    inertia: float = 5e-10
    damping: float = 2e-9
    normal: tuple[float, float, float] = (0.0, 1.0, 0.0)
    zero: tuple[float, float, float] = (0.0, 0.0, -1.0)
    _axes: np.ndarray = field(init=False, repr=False)

    def __post_init__(self) -> None:
        positive("moment", self.moment)
        positive("inertia", self.inertia)
        not_negative("damping", self.damping)
        normal, zero = axis_of("normal", self.normal), axis_of("zero", self.zero)
        level = zero - (zero @ normal) * normal
        if level @ level < 1e-12:
            raise ValueError("zero must have a part across normal")
        first = axis_of("zero", level)
        object.__setattr__(self, "_axes", np.stack([first, np.cross(normal, first)]))

    def settles_at(self, flux_density: ArrayLike) -> np.ndarray:
        """The angle at which a needle comes to rest: along the level part of the field.

        flux_density  at each needle, shape (n, 3), tesla. Returns radians in (-pi, pi], shape (n,); nan where the
        field has no level part, so that a needle stays wherever it is.
        """
        level = self._level(flux_density)
        angle = np.arctan2(level[:, 1], level[:, 0])
        return np.where(np.any(level != 0, axis=1), angle, np.nan)

    def directions(self, angle: ArrayLike) -> np.ndarray:
        """Where the north ends of needles at `angle`, shape (n,), radians, point: unit vectors, shape (n, 3)."""
        angle = np.atleast_1d(numbers("angle", angle))
        return np.stack([np.cos(angle), np.sin(angle)], axis=-1) @ self._axes

    def settled(self, flux_density: ArrayLike) -> Needles:
        """Needles at rest where they settle; at angle 0 where there is no level part of the field."""
        angle = np.nan_to_num(self.settles_at(flux_density))
        return Needles(angle, np.zeros_like(angle))

    def swing(self, needles: Needles, flux_density: ArrayLike, seconds: float) -> Needles:
        """The needles after `seconds` (0 or more) in a field, shape (n, 3) tesla, that holds still meanwhile.

        Equation: J x'' = -m B sin(x) - c x', x the angle from where the needle settles. Each short step is solved
        exactly as a damped oscillator whose stiffness is that of the middle of the step: it cannot grow, however
        long the step. A needle that points exactly the wrong way swings round too.
        Raises `ValueError` naming the argument.
        """
        level = self._level(flux_density)
        angle, rate = _as_rows("needles.angle", needles.angle), _as_rows("needles.rate", needles.rate)
        if not len(angle) == len(rate) == len(level):
            raise ValueError(f"flux_density must have one row for each of the {len(angle)} needles, not {len(level)}")
        seconds = not_negative("seconds", seconds)
        stiffest = self.moment / self.inertia * np.hypot(level[:, 0], level[:, 1])
        fastest = max(np.sqrt(np.max(stiffest, initial=0.0)), self.damping / self.inertia)
        steps = int(np.clip(np.ceil(seconds * fastest / _STEP_PHASE), 1, _MOST_STEPS))
        rest = np.arctan2(level[:, 1], level[:, 0])
        decay, step = self.damping / (2 * self.inertia), seconds / steps
        for _ in range(steps):
            away = _wrapped(angle - rest)
            slowing = _stiffness(stiffest, away) * away + 2 * decay * rate
            middle = _wrapped(away + rate * step / 2 - slowing * step**2 / 8)
            new_away, rate = _damped(away, rate, _stiffness(stiffest, middle), decay, step)
            angle = angle + (new_away - away)
        return Needles(angle, rate)

    def _level(self, flux_density: ArrayLike) -> np.ndarray:
        """The parts of a field along and across the zero direction, shape (n, 2)."""
        return vectors("flux_density", flux_density) @ self._axes.T


def fields_of_the_others(places: ArrayLike, moments: ArrayLike) -> np.ndarray:
    """The field at each of n needles of all the others, tesla, shape (n, 3).

    places   of the pivots, shape (n, 3), metres, no two the same
    moments  of the needles, shape (n, 3), A m^2

    Formula: of dipoles, mu0 / (4 pi) * (3 r (m . r) / r^5 - m / r^3), r from the one to the other: so as if needles
    were short beside what is between them. Raises `ValueError` naming the argument.
    """
    places, moments = vectors("places", places), vectors("moments", moments)
    if len(places) != len(moments):
        raise ValueError(f"moments must have one row for each of the {len(places)} needles, not {len(moments)}")
    between = places[:, np.newaxis] - places
    squares = np.einsum("ijk,ijk->ij", between, between)
    np.fill_diagonal(squares, np.inf)  # a needle does not turn itself
    if np.any(squares == 0):
        raise ValueError("places must all be different")
    along = np.einsum("ijk,jk->ij", between, moments)
    part = 3 * between * (along / squares**2.5)[..., np.newaxis] - moments * (squares**-1.5)[..., np.newaxis]
    return VACUUM_PERMEABILITY / (4 * np.pi) * part.sum(axis=1)


def _as_rows(name: str, value: ArrayLike) -> np.ndarray:
    """`value` as shape (n,)."""
    array = np.atleast_1d(numbers(name, value))
    if array.ndim != 1:
        raise ValueError(f"{name} must be of shape (n,), not {array.shape}")
    return array


def _wrapped(angle: np.ndarray) -> np.ndarray:
    """The same angle in (-pi, pi]."""
    return np.pi - np.mod(np.pi - angle, 2 * np.pi)


def _stiffness(stiffest: np.ndarray, away: np.ndarray) -> np.ndarray:
    """The restoring acceleration per angle, stiffest * sin(away) / away, above 0 on the knife edge too."""
    size = np.abs(away)
    felt = np.sin(np.minimum(size, np.pi - _KNIFE_EDGE))
    return stiffest * np.where(size > 1e-9, felt / np.maximum(size, 1e-9), 1.0)


def _damped(away: np.ndarray, rate: np.ndarray, stiffness: np.ndarray, decay: float, time: float) -> tuple[np.ndarray, np.ndarray]:
    """Exact solution of x'' = -stiffness x - 2 decay x' after `time`: (x, x'); over- and underdamped alike."""
    root = np.sqrt((decay**2 - stiffness).astype(complex))
    slow, fast = np.exp((root - decay) * time), np.exp(-(root + decay) * time)
    near = np.abs(root * time) < 1e-6
    cosine = ((slow + fast) / 2).real
    safe = np.where(near, 1.0, root)
    sine = np.where(near, time * np.exp(-decay * time), ((slow - fast) / (2 * safe)).real)
    return away * cosine + (rate + decay * away) * sine, rate * cosine - (stiffness * away + decay * rate) * sine
