"""Two parallel wires: the force between them, and how they swing when they hang side by side.

The wires are straight, side by side and equally long. Currents are positive one way along both; a force is positive
when it draws the wires together: currents the same way attract, opposite ones repel. Spacing is from the middle of one
wire to the middle of the other. A round wire acts outside itself as a filament does.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from physics.arguments import not_negative, number, numbers, positive
from physics.conductors.hung_rod import HungRod, Swing
from physics.constants import VACUUM_PERMEABILITY


def force_per_metre(first_current, second_current, spacing) -> np.ndarray:
    """The force on each metre of two wires so long that their ends do not matter, N/m, positive together.

    first_current, second_current  amperes;  spacing  metres, more than 0; all of any shapes that go together

    Formula: mu0 I1 I2 / (2 pi d). One ampere in each at one metre: 2e-7 N/m, by which the ampere was defined from 1948
    to 2019. Raises `ValueError` naming the argument.
    """
    first, second = numbers("first_current", first_current), numbers("second_current", second_current)
    return VACUUM_PERMEABILITY / (2 * np.pi) * first * second / _spacing(spacing)


def force_between(first_current, second_current, spacing, length) -> np.ndarray:
    """The force on each of two wires of finite length, newtons, positive together.

    length  of each wire, metres, more than 0; the rest as for `force_per_metre`

    Formula: the field of one wire by Biot and Savart, and F = I l x B integrated along the other:
    mu0 I1 I2 / (2 pi d) * (sqrt(l^2 + d^2) - d). For a length many times the spacing that is `force_per_metre` times
    the length. The leads are not part of it. Raises `ValueError` naming the argument.
    """
    spacing, length = _spacing(spacing), positive("length", length)
    # sqrt(l^2 + d^2) - d, which loses its figures for wires far apart
    effective = length**2 / (np.sqrt(length**2 + spacing**2) + spacing)
    return force_per_metre(first_current, second_current, spacing) * effective


def field_beside_middle(current, spacing, length) -> np.ndarray:
    """The size of the field of a wire of finite length beside its middle, tesla, with the sign of its current.

    current  amperes, of any shape; spacing and length as for `force_between`

    Formula: mu0 I / (2 pi d) * l / sqrt(l^2 + 4 d^2). Raises `ValueError` naming the argument.
    """
    spacing, length = _spacing(spacing), positive("length", length)
    return force_per_metre(1.0, current, spacing) * length / np.sqrt(length**2 + 4 * spacing**2)


@dataclass(frozen=True)
class HungPair:
    """Two equal wires that hang level and side by side on light leads, and so can swing together and apart.

    length          of each wire, metres, more than 0
    spacing         at which they hang without current, metres, more than `thickness`
    leads           from the line each wire swings about down to the wire, metres: more than half of what is between
    mass_per_metre  of the wires, kg/m, more than 0
    thickness       of the wires with what insulates them, metres, more than 0: so near they touch
    damping         torque on each wire per speed of turning, N m s, 0 or more

    What one wire feels the other feels reversed, and their masses are equal: they move as mirror images. So one angle
    says where both are, radians, positive when they have swung together. Raises `ValueError` naming the argument.
    """

    length: float
    spacing: float
    leads: float
    mass_per_metre: float
    thickness: float
    damping: float = 0.0

    def __post_init__(self):
        for name in ("length", "spacing", "leads", "mass_per_metre", "thickness"):
            positive(name, getattr(self, name))
        not_negative("damping", self.damping)
        if self.spacing <= self.thickness:
            raise ValueError(f"spacing must be greater than thickness, {self.thickness:g}, not {self.spacing:g}")
        if self.spacing - self.thickness >= 2 * self.leads:
            raise ValueError(f"leads must be more than half of what is between the wires, not {self.leads:g}")

    @cached_property
    def wire(self) -> HungRod:
        """One of the two, by itself, caught where it touches the other."""
        touching = float(np.arcsin((self.spacing - self.thickness) / (2 * self.leads)))
        return HungRod(
            ends=self.length / 2 * np.array([[0, 0, -1.0], [0, 0, 1.0]]), hinge=(0, self.leads, 0), axis=(0, 0, 1),
            mass=self.mass_per_metre * self.length, damping=self.damping, stop=touching, back_stop=np.pi / 2,
        )

    def spacing_at(self, angle) -> np.ndarray:
        """Metres from wire to wire when both have swung by `angle`, radians, of any shape."""
        return self.spacing - 2 * self.leads * np.sin(numbers("angle", angle))

    def settles_at(self, first_current, second_current) -> float:
        """The angle at which the wires come to rest when they are let out slowly from hanging straight down, radians.

        Where the attraction grows faster than the weight draws back, that is where they touch.
        """
        first, second = number("first_current", first_current), number("second_current", second_current)
        return self.wire.settles_at(first, self._torque_per_ampere(second))

    def swings(self, swing: Swing, first_current, second_current, seconds) -> Swing:
        """The wires' motion after `seconds` (0 or more) with constant currents, amperes, as `HungRod.swings`."""
        first, second = number("first_current", first_current), number("second_current", second_current)
        return self.wire.swings(swing, first, self._torque_per_ampere(second), seconds)

    def _torque_per_ampere(self, other_current) -> Callable:
        """The torque on one wire for each ampere in it, N m, as a function of the angle of both."""
        def torque(angle):
            spacing = np.maximum(self.spacing_at(angle), self.thickness)  # nearer they cannot come
            push = force_between(1.0, other_current, spacing, self.length)
            return push * self.leads * np.cos(angle)

        return torque


def _spacing(value) -> np.ndarray:
    spacing = numbers("spacing", value)
    if np.any(spacing <= 0):
        raise ValueError("spacing must be greater than 0")
    return spacing
