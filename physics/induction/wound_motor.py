"""The equivalent circuit of a motor from what it is built of: coils in slots, a bore with its gap, and a cage.

So that one core with one winding, joined in different ways, becomes different motors: turns in series, winding factor,
poles and parallel paths all have their part. Iron takes no MMF here, and coils have one leakage each.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from physics import arguments
from physics.cage import Cage
from physics.cage.bars_and_rings import turns_in_effect
from physics.constants import VACUUM_PERMEABILITY
from physics.induction.circuit import EquivalentCircuit
from physics.windings.coils_in_slots import CoilsInSlots


@dataclass(frozen=True)
class MotorCore:
    """`radius` and `length` of the bore and width of its `gap`, m; of one turn the `turn_resistance`, ohm, and the
    `turn_leakage`, H: that of a coil is as many times as it has turns, and as their square."""

    radius: float
    length: float
    gap: float
    turn_resistance: float
    turn_leakage: float

    def __post_init__(self) -> None:
        for name in ("radius", "length", "gap", "turn_leakage"):
            arguments.positive(name, getattr(self, name))
        arguments.not_negative("turn_resistance", self.turn_resistance)


def series_turns(coils: CoilsInSlots) -> float:
    """Turns in series of one phase: those of all its coils over the parallel paths."""
    return sum(coil.phase == "U" for coil in coils.coils) * coils.turns / coils.paths


def winding_factor(coils: CoilsInSlots) -> float:
    """Of the working wave, of phase U."""
    return float(abs(coils.slot_star()[0]))


def magnetising_inductance(coils: CoilsInSlots, core: MotorCore) -> float:
    """H of a phase with all three fed: L = 6 mu0 r l (N k_w)^2 / (pi p^2 g).

    Three phases make a wave with the peak 3 N k_w i / (pi p), it drives mu0 / g times that across the gap, and a phase
    links N k_w times the flux of a pole, 2 B r l / p. Standard handbook result.
    """
    turns = turns_in_effect(series_turns(coils), winding_factor(coils))
    geometry = VACUUM_PERMEABILITY * core.radius * core.length / core.gap
    return 6.0 * geometry * turns**2 / (math.pi * coils.pole_pairs**2)


def circuit_of(coils: CoilsInSlots, core: MotorCore, cage: Cage, line_voltage: float, frequency: float) -> EquivalentCircuit:
    """The motor with these coils in star on `line_voltage`, V, at `frequency`, Hz; three phases alike are taken."""
    angular_frequency = 2.0 * math.pi * arguments.positive("frequency", frequency)
    in_phase = sum(coil.phase == "U" for coil in coils.coils)
    rotor = cage.referred_rotor(series_turns(coils), winding_factor(coils), frequency, coils.pole_pairs)
    return EquivalentCircuit(
        # coils in series in a path, and paths in parallel
        stator_resistance=in_phase * coils.turns * core.turn_resistance / coils.paths**2,
        stator_reactance=angular_frequency * in_phase * coils.turns**2 * core.turn_leakage / coils.paths**2,
        **rotor,
        magnetising_reactance=angular_frequency * magnetising_inductance(coils, core),
        line_voltage=line_voltage,
        frequency=frequency,
        poles=2 * coils.pole_pairs,
    )
