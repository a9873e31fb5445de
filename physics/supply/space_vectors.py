"""Three phase values as one complex number, and the connection of three windings to three lines.

Space vectors: three phase values u, v, w become 2/3 (u + a v + a^2 w), a = exp(j 120 degrees), whose length is the peak
of a balanced phase and whose angle is electrical, from the axis of phase U in the direction in which the sequence U-V-W
rotates (the amplitude-invariant form; P. Vas, Vector Control of AC Machines). The zero sequence has no
part in it: it drives nothing through windings without a neutral.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.supply.supplies import symmetrical_components

Supply = Callable[[float], complex]
"""Time in s to the space vector of the voltages of U, V, W against any common point, V."""

PHASES = ("U", "V", "W")
ONE_THIRD_TURN = cmath.exp(2j * math.pi / 3.0)


def space_vector(values: ArrayLike) -> NumberOrArray:
    """Space vector of three phase values, shape (..., 3) to (...)."""
    values = np.asarray(values)
    return (values[..., 0] + ONE_THIRD_TURN * values[..., 1] + ONE_THIRD_TURN**2 * values[..., 2]) * (2.0 / 3.0)


def phase_values(vector: ArrayLike) -> np.ndarray:
    """Three phase values whose sum is zero, shape (...) to (..., 3): the inverse of `space_vector`."""
    return (np.asarray(vector)[..., np.newaxis] * np.conj(ONE_THIRD_TURN ** np.arange(3))).real


def supply_vector(phasors: ArrayLike, frequency: float) -> Supply:
    """Vector function of time that feeds a transient, from three sinusoidal voltages: `phasors` (3,) complex V r.m.s. of U, V, W against
    any common point, balanced or not (such as `ThreePhaseSupply.phase_phasors`), at `frequency` Hz, 0 or more.

    The positive sequence turns the vector forward, the negative one backward.
    """
    _, forward, backward = symmetrical_components(phasors) * math.sqrt(2.0)
    forward, backward = complex(forward), complex(backward).conjugate()
    turning = 2j * math.pi * arguments.not_negative("frequency", frequency)
    if abs(backward) <= 1e-12 * abs(forward):  # balanced but for rounding; a transient asks thousands of times a second
        return lambda time: forward * cmath.exp(turning * time)

    def voltage(time: float) -> complex:
        turned = cmath.exp(turning * time)
        return forward * turned + backward * turned.conjugate()

    return voltage


@dataclass(frozen=True)
class Connection:
    """How the windings are connected to the lines: `winding` "star" (without neutral) or "delta" (phase U between the terminals
    U and V, V between V and W, W between W and U), and `lines_lost`, the terminals whose line is open.

    One phase lost leaves a single voltage, between the other two; with two or three lost no current flows.
    """

    winding: str
    lines_lost: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.winding not in ("star", "delta"):
            raise ValueError(f'winding must be "star" or "delta", not {self.winding!r}')
        lost = tuple(self.lines_lost)
        if any(line not in PHASES for line in lost):
            raise ValueError(f'lines_lost must hold only "U", "V" and "W", not {lost!r}')
        object.__setattr__(self, "lines_lost", tuple(line for line in PHASES if line in lost))

    @cached_property
    def ratio(self) -> complex:
        """Vector of the winding voltages over that of the terminal voltages: in delta sqrt(3), turned by 30 degrees.

        The vector of the line currents over that of the winding currents is its conjugate.
        """
        return 1.0 + 0j if self.winding == "star" else 1.0 - ONE_THIRD_TURN**2

    @cached_property
    def direction(self) -> complex | None:
        """With one phase lost, the unit vector along which alone winding current can flow; otherwise None."""
        if len(self.lines_lost) != 1:
            return None
        square_to_lost_phase = 1j * ONE_THIRD_TURN ** PHASES.index(self.lines_lost[0])
        return square_to_lost_phase * self.ratio / abs(self.ratio)


STAR = Connection("star")
DELTA = Connection("delta")
