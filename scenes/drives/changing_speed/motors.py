"""The motors of the scene: one core and one cage, with an ordinary winding or with two tapped ones (series star /
parallel star)."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from physics.cage import Cage
from physics.constants import VACUUM_PERMEABILITY
from physics.induction import EquivalentCircuit
from physics.induction.wound_motor import MotorCore, circuit_of
from physics.pole_changing import FourSpeedWinding, PoleConnection, TappedWinding
from physics.starting.stages import Feed
from physics.supply.supplies import Inverter
from physics.windings import Winding
from physics.windings.coils_in_slots import BALANCED, CoilsInSlots
from visual.machines.stator import SLOT_SHARE, StatorShape

VOLTAGE, FREQUENCY, RATED_SLIP = 400.0, 50.0, 0.08
SUPPLY = Inverter(VOLTAGE, FREQUENCY, boost=7.0, highest_frequency=100.0)
SHAPE = StatorShape()  # the core as drawn
TOOTH_SHARE = 1 - SLOT_SHARE
SLOTS = 36
# turns per coil that keep the drawn teeth and yoke at or below 1.8 T in every connection
ORDINARY = Winding(SLOTS, 4, 40, layers=2)
TURNS_OF_TAPPED = (66, 140)
CORE = MotorCore(radius=SHAPE.bore, length=2 * SHAPE.half_length, gap=0.35e-3, turn_resistance=0.010, turn_leakage=1.3e-6)
CAGE = Cage(28, 0.9e-4, 0.36e-6, 3.6e-6, 0.24e-7, SHAPE.bore - 0.4e-3, 2 * SHAPE.half_length)


@lru_cache(maxsize=1)
def connections() -> dict[int, PoleConnection]:
    """The four connections of the two tapped windings, by number of poles, counted in the computed field."""
    return {connection.poles: connection for connection in FourSpeedWinding(SLOTS, (2, 6), TURNS_OF_TAPPED).speeds}


@lru_cache(maxsize=2)
def tapped_alone(leads: str = "alike") -> dict[int, PoleConnection]:
    """The two connections of the first of them as the only winding, with its terminals numbered accordingly; with `leads`
    "exchanged", two leads are swapped at the low speed, contrary to the marking."""
    slow, fast = TappedWinding(SLOTS, 2, TURNS_OF_TAPPED[0]).speeds
    return {joined.poles: joined for joined in (slow.with_leads_exchanged("V", "W") if leads == "exchanged" else slow, fast)}


@lru_cache(maxsize=4)
def joined_motor(poles: int) -> EquivalentCircuit:
    """The tapped winding connected for that number of poles, on 400 V and 50 Hz; swapped leads change only its direction."""
    return circuit_of(connections()[poles].coils, CORE, CAGE, VOLTAGE, FREQUENCY)


@lru_cache(maxsize=128)
def motor_at(frequency: float) -> EquivalentCircuit:
    """The ordinary winding on the inverter at that frequency."""
    built = circuit_of(ORDINARY, CORE, CAGE, VOLTAGE, FREQUENCY)
    return Feed(float(SUPPLY.voltage(frequency)) / VOLTAGE, frequency / FREQUENCY).circuit(built)


RATED_TORQUE = float(motor_at(FREQUENCY).at(RATED_SLIP).torque)
INERTIA = RATED_TORQUE * 0.1 / (2 * np.pi * motor_at(FREQUENCY).synchronous_speed)  # kg m2: up to speed in 0.1 s at rated torque


def gap_wave(coils: CoilsInSlots, circuit: EquivalentCircuit, slip: float, angle: float, lines: Sequence[str]) -> tuple[float, float]:
    """Peak flux density in the gap, T, and the angle of an outward peak, mechanical rad, with the voltage of L1 at `angle` in
    its cycle and `lines` on the phases U, V, W of the coils.

    The field is that of the magnetising current, which is the gap voltage over j X_m: so it is the resultant field of stator
    and rotor.
    """
    magnetising = np.sqrt(2) * circuit.at(slip).gap_voltage / (1j * circuit.magnetising_reactance)
    order = [("L1", "L2", "L3").index(line) for line in lines]
    currents = np.real(magnetising * BALANCED[order] * np.exp(1j * angle))
    amplitude = VACUUM_PERMEABILITY / CORE.gap * float(coils.fundamental_amplitude(currents))
    return amplitude, float(coils.field_axis(currents)) / coils.pole_pairs


@lru_cache(maxsize=8)
def full_field(poles: int) -> float:
    """Flux density for the longest arrow, T: the strongest no-load gap field of the motors with that number of poles."""
    fed: list[tuple[CoilsInSlots, EquivalentCircuit]] = [(ORDINARY, motor_at(FREQUENCY))] if poles == ORDINARY.poles else []
    fed += [(connections()[poles].coils, joined_motor(poles))] if poles in connections() else []
    return max(gap_wave(coils, circuit, 0.0, 0.0, ["L1", "L2", "L3"])[0] for coils, circuit in fed)
