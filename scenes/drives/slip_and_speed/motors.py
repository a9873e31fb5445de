"""The motors that stand on the bench for slip and speed: one of our own, or one that a nameplate describes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from physics.induction import EquivalentCircuit, OperatingPoint
from physics.induction.motion import settled_slip
from physics.nameplate import Nameplate
from physics.nameplate.fit import fit_circuit
from scenes.machines.cage_rotor import motor as small_motor
from scenes.machines.cage_rotor.motor import FREQUENCY, NO_LOAD_FIELD, RATED_SLIP, SUPPLY, VOLTAGE

USUAL_FIELD = 0.8  # T, peak of the gap's fundamental without load: common practice, no source
RUN_UP = 0.1  # s in which rated torque alone would bring the shaft to synchronous speed: a light load


@dataclass(frozen=True)
class BenchMotor:
    """A motor as it is supplied now. `words` says which; rated values are those at its rated frequency.

    lost: N m per rev/s that the motor itself takes from what its circuit gives. assumed: what its nameplate does not say and
    was taken as usual, a phrase each; unknown: which of the catalogue's figures are among it. no_load_field: T, peak in the gap
    without load as it is supplied now; rated_field: the same on rated voltage and frequency; field_note: where it is from.
    """

    words: str
    note: str
    circuit: EquivalentCircuit
    rated_torque: float
    rated_current: float
    rated_slip: float
    rated_field: float
    no_load_field: float
    field_note: str
    lost: float = 0.0
    assumed: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    plate: Nameplate | None = None

    def rests_on_assumption(self, slip: float) -> bool:
        """Whether current, torque and heat at this slip rest on what was assumed: on the plate stands the rated point alone."""
        return bool(self.unknown) and abs(slip) > 1.5 * self.rated_slip

    def field(self, point: OperatingPoint) -> float:
        """T, peak in the gap at that point: in proportion to the voltage that it induces."""
        return self.no_load_field * float(abs(point.gap_voltage) / abs(self.circuit.at(0.0).gap_voltage))

    @cached_property
    def breakdown(self) -> tuple[float, float]:
        """Slip and torque, N m, of the most that it gives at the shaft."""
        slip, torque = self.circuit.breakdown()
        return slip, torque - self.lost * (1 - slip) * self.circuit.synchronous_speed

    @property
    def inertia(self) -> float:
        """kg m2 of rotor and load."""
        return self.rated_torque * RUN_UP / (2 * np.pi * self.circuit.synchronous_speed)


@lru_cache(maxsize=64)
def own_motor(frequency: float, poles: int) -> BenchMotor:
    """Our own motor at that frequency, that of the cage scene, with volts per hertz held up to 50 Hz and 400 V above."""
    rated = small_motor.circuit(poles).at(RATED_SLIP)
    volts, circuit = float(SUPPLY.voltage(frequency)), small_motor.circuit(poles, frequency)
    unloaded = small_motor.on_supply(poles, frequency, "none", 1.0).peak_of(complex(circuit.at(0.0).gap_voltage))
    return BenchMotor(
        f"a small motor, {poles} poles, on {volts:.0f} V and {frequency:g} Hz",
        f"rated at a slip of {RATED_SLIP:.0%} on {VOLTAGE:.0f} V, {FREQUENCY:g} Hz; volts per hertz held up to {FREQUENCY:g} Hz",
        circuit,
        float(rated.torque),
        float(abs(rated.stator_current)),
        RATED_SLIP,
        NO_LOAD_FIELD,
        unloaded,
        "by its turns and its bore",
    )


@lru_cache(maxsize=64)
def motor_of(plate: Nameplate) -> BenchMotor:
    """The motor with that plate."""
    fit = fit_circuit(plate)
    return BenchMotor(
        f"{plate.power / 1000:g} kW, {plate.line_voltage:g} V, {plate.frequency:g} Hz, {60 * plate.speed:g} r/min: {plate.poles} poles",
        f"{plate.current:g} A, cos φ {plate.power_factor:g}, efficiency {plate.efficiency:.1%}. {fit.sentence}",
        fit.circuit,
        plate.torque,
        plate.current,
        plate.slip,
        USUAL_FIELD,
        USUAL_FIELD,
        "taken as usual: it is on no nameplate",
        fit.loss_torque / plate.speed,
        tuple(fit.assumed),
        tuple(name for name in ("starting_current", "starting_torque", "breakdown_torque") if getattr(plate, name) is None),
        plate,
    )


@lru_cache(maxsize=256)
def runs_at(motor: BenchMotor, load: float) -> float:
    """Slip at which it carries `load`, N m, come to it from running without load; 1 where it stalls."""
    return settled_slip(motor.circuit, load, motor.lost)
