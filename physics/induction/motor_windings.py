"""The induction motor's windings and shaft, as the model from moment to moment needs them (see `transient`).

Space vectors of currents and flux linkages are at rest with the stator; rotor values are referred to the stator winding.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Protocol

from physics import arguments
from physics.arguments import NumberOrArray
from physics.induction import saturation

if TYPE_CHECKING:
    from physics.induction.circuit import EquivalentCircuit


class Fluxes(Protocol):
    """What the currents follow from: a MotorState, or a History with arrays."""

    @property
    def stator_flux(self) -> NumberOrArray: ...

    @property
    def rotor_flux(self) -> NumberOrArray: ...

    @property
    def running_flux(self) -> NumberOrArray: ...


# Long, half of it docstrings and checks: fluxes, currents and torque follow from the same inductances.
@dataclass(frozen=True)
class Motor:
    """Windings and shaft. Ohm and H of one winding phase, rotor referred; self-inductances include the leakage.

    Of a rotor with two cages `rotor_resistance` is the running cage's, `running_cage_inductance` the leakage that it alone
    links, `starting_cage_resistance` the other's, and `rotor_inductance` what both have.

    `saturable_inductance` is leakage of the stator besides, that saturates: half of it is left where the space vector of the
    winding currents is `saturation_current`, A peak, long (see `saturation`).

    `inertia` kg m^2 of everything on the shaft; math.inf holds the speed it has (locked, or driven by something
    stronger). `frequency` Hz that it is built for, of which only the length of the computing steps is taken.
    """

    stator_resistance: float
    stator_inductance: float
    rotor_resistance: float
    rotor_inductance: float
    magnetising_inductance: float
    pole_pairs: int
    inertia: float
    frequency: float
    starting_cage_resistance: float = math.inf
    running_cage_inductance: float = 0.0
    saturable_inductance: float = 0.0
    saturation_current: float = math.inf

    def __post_init__(self) -> None:
        arguments.not_negative("stator_resistance", self.stator_resistance)
        arguments.positive("rotor_resistance", self.rotor_resistance)
        arguments.whole("pole_pairs", self.pole_pairs)
        arguments.positive("frequency", self.frequency)
        if self.inertia != math.inf:
            arguments.positive("inertia", self.inertia)
        magnetising = arguments.positive("magnetising_inductance", self.magnetising_inductance)
        for name in ("stator_inductance", "rotor_inductance"):
            if arguments.positive(name, getattr(self, name)) < magnetising:
                raise ValueError(f"{name} must be at least the magnetising_inductance, of which it is part")
        arguments.not_negative("running_cage_inductance", self.running_cage_inductance)
        if self.two_cages:
            arguments.positive("starting_cage_resistance", self.starting_cage_resistance)
        if self.two_cages != (self.running_cage_inductance > 0.0):
            raise ValueError("starting_cage_resistance and running_cage_inductance must be given together, the latter above 0")
        arguments.not_negative("saturable_inductance", self.saturable_inductance)
        if self.saturates:
            arguments.positive("saturation_current", self.saturation_current)
        if self.saturates != (self.saturable_inductance > 0.0):
            raise ValueError("saturable_inductance and saturation_current must be given together, the former above 0")
        if self.stator_inductance * self.rotor_inductance <= magnetising**2:
            raise ValueError("stator_inductance or rotor_inductance must be above the magnetising_inductance: leakage")

    @property
    def two_cages(self) -> bool:
        """Whether the rotor has a starting cage beside its running cage."""
        return self.starting_cage_resistance != math.inf

    @property
    def saturates(self) -> bool:
        """Whether part of the leakage falls as the current rises."""
        return self.saturation_current != math.inf

    @property
    def sent_over(self) -> float:
        """The part of the rotor's flux linkage that a stator without current links: Lm / L2."""
        return self.magnetising_inductance / self.rotor_inductance

    @cached_property
    def inverse_inductances(self) -> tuple[float, float, float]:
        """1/H: of the stator, mutual (taken off) and of the rotor: i1 = a F1 - b F2, i2 = c F2 - b F1. Where leakage
        saturates, those without any of what does."""
        mutual = self.magnetising_inductance
        determinant = self.stator_inductance * self.rotor_inductance - mutual**2
        return self.rotor_inductance / determinant, mutual / determinant, self.stator_inductance / determinant

    @cached_property
    def longest_step(self) -> float:
        """s; computing steps no longer than this follow currents and speed to about one part in a million."""
        a, _, c = self.inverse_inductances
        rotor_decay = self.rotor_resistance * c
        if self.two_cages:
            between = 1.0 / self.running_cage_inductance
            rotor_decay = self.starting_cage_resistance * (c + between) + self.rotor_resistance * between
        fastest = max(2.0 * math.pi * self.frequency, self.stator_resistance * a + rotor_decay)
        return 0.08 / fastest

    def stator_current_per_linkage(self, linkage: NumberOrArray) -> NumberOrArray:
        """1/H: the length of the stator's current over `linkage`, Wb, that of the stator less what the rotor sends over."""
        transient = 1.0 / self.inverse_inductances[0]
        return saturation.current_per_linkage(linkage, transient, self.saturable_inductance, self.saturation_current)

    def _inverse_inductances(self, of: Fluxes) -> tuple[NumberOrArray, NumberOrArray, NumberOrArray]:
        """`inverse_inductances`, of what does not saturate and what is left of the rest: the current lies along the
        linkage that drives it, so the equations stay and a, b, c change with its length."""
        if not self.saturates:
            return self.inverse_inductances
        over = self.sent_over
        a = self.stator_current_per_linkage(abs(of.stator_flux - over * of.rotor_flux))
        return a, over * a, 1.0 / self.rotor_inductance + over * over * a

    def stator_current(self, of: Fluxes) -> NumberOrArray:
        """Space vector of the winding currents, A peak."""
        a, b, _ = self._inverse_inductances(of)
        return a * of.stator_flux - b * of.rotor_flux

    def rotor_current(self, of: Fluxes) -> NumberOrArray:
        """Space vector of the rotor currents, referred, A peak; of both cages together."""
        _, b, c = self._inverse_inductances(of)
        return c * of.rotor_flux - b * of.stator_flux

    def running_cage_current(self, of: Fluxes) -> NumberOrArray:
        """The part of it in the running cage; with one cage all of it."""
        if not self.two_cages:
            return self.rotor_current(of)
        return (of.running_flux - of.rotor_flux) / self.running_cage_inductance

    def rotor_loss(self, of: Fluxes) -> NumberOrArray:
        """W, heat in the rotor."""
        running = self.running_cage_current(of)
        loss = 1.5 * self.rotor_resistance * abs(running) ** 2
        if self.two_cages:
            loss = loss + 1.5 * self.starting_cage_resistance * abs(self.rotor_current(of) - running) ** 2
        return loss

    def gap_flux(self, of: Fluxes) -> NumberOrArray:
        """Space vector of the flux that crosses the gap, linked with one stator phase, Wb peak."""
        return self.magnetising_inductance * (self.stator_current(of) + self.rotor_current(of))

    def torque(self, of: Fluxes) -> NumberOrArray:
        """N m in the air gap."""
        _, b, _ = self._inverse_inductances(of)
        return 1.5 * self.pole_pairs * b * (of.stator_flux * of.rotor_flux.conjugate()).imag


def star_wound(circuit: EquivalentCircuit, inertia: float) -> Motor:
    """The motor whose windings, in star, are this circuit."""
    return _wound(circuit, inertia, 1.0)


def delta_wound(circuit: EquivalentCircuit, inertia: float) -> Motor:
    """The motor whose windings, in delta, are this circuit, which describes the star that would draw the same."""
    return _wound(circuit, inertia, 3.0)


def _wound(circuit: EquivalentCircuit, inertia: float, winding_to_star: float) -> Motor:
    per_ohm = winding_to_star / (2.0 * math.pi * circuit.frequency)
    return Motor(
        stator_resistance=winding_to_star * circuit.stator_resistance,
        stator_inductance=per_ohm * (circuit.stator_reactance + circuit.magnetising_reactance),
        rotor_resistance=winding_to_star * circuit.rotor_resistance,
        rotor_inductance=per_ohm * (circuit.rotor_reactance + circuit.magnetising_reactance),
        magnetising_inductance=per_ohm * circuit.magnetising_reactance,
        pole_pairs=circuit.pole_pairs,
        inertia=inertia,
        frequency=circuit.frequency,
        starting_cage_resistance=winding_to_star * circuit.starting_cage_resistance,
        running_cage_inductance=per_ohm * circuit.running_cage_reactance,
        saturable_inductance=per_ohm * circuit.saturable_reactance,
        saturation_current=math.sqrt(2.0 / winding_to_star) * circuit.saturation_current,
    )
