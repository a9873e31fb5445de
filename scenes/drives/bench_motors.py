"""The motors that stand on the bench for slip and speed: one of our own, or one that a nameplate describes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from physics.induction import EquivalentCircuit
from physics.induction.motion import settled_slip
from physics.nameplate import Nameplate
from physics.nameplate.fit import fit_circuit
from scenes.machines import demonstration_cage
from scenes.machines.demonstration_cage import FREQUENCY, RATED_SLIP, SUPPLY, VOLTAGE

RUN_UP = 0.1  # s in which rated torque alone would bring the shaft to synchronous speed: a light load


@dataclass(frozen=True)
class BenchMotor:
    """A motor as it is supplied now. `words` says which; rated values are those at its rated frequency.

    lost: N m per rev/s that the motor itself takes from what its circuit gives. assumed: what its nameplate does not say and
    was taken as usual, a phrase each; unknown: which of the catalogue's figures are among it.
    """

    words: str
    note: str
    circuit: EquivalentCircuit
    rated_torque: float
    rated_current: float
    rated_slip: float
    lost: float = 0.0
    assumed: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()

    def rests_on_assumption(self, slip: float) -> bool:
        """Whether current, torque and heat at this slip rest on what was assumed: on the plate stands the rated point alone."""
        return bool(self.unknown) and abs(slip) > 1.5 * self.rated_slip

    @property
    def inertia(self) -> float:
        """kg m2 of rotor and load."""
        return self.rated_torque * RUN_UP / (2 * np.pi * self.circuit.synchronous_speed)


@lru_cache(maxsize=64)
def own_motor(frequency: float, poles: int) -> BenchMotor:
    """Our own motor at that frequency, that of the cage scene, with volts per hertz held up to 50 Hz and 400 V above."""
    rated = demonstration_cage.circuit(poles).at(RATED_SLIP)
    volts = float(SUPPLY.voltage(frequency))
    return BenchMotor(
        f"a small motor, {poles} poles, on {volts:.0f} V and {frequency:g} Hz",
        f"rated at a slip of {RATED_SLIP:.0%} on {VOLTAGE:.0f} V, {FREQUENCY:g} Hz; volts per hertz held up to {FREQUENCY:g} Hz",
        demonstration_cage.circuit(poles, frequency), float(rated.torque), float(abs(rated.stator_current)), RATED_SLIP,
    )


@lru_cache(maxsize=64)
def motor_of(plate: Nameplate) -> BenchMotor:
    """The motor with that plate."""
    fit = fit_circuit(plate)
    return BenchMotor(
        f"{plate.power / 1000:g} kW, {plate.line_voltage:g} V, {plate.frequency:g} Hz, {60 * plate.speed:g} r/min: {plate.poles} poles",
        f"{plate.current:g} A, cos φ {plate.power_factor:g}, efficiency {plate.efficiency:.1%}. {fit.sentence}",
        fit.circuit, plate.torque, plate.current, plate.slip, fit.loss_torque / plate.speed, tuple(fit.assumed),
        tuple(name for name in ("starting_current", "starting_torque", "breakdown_torque") if getattr(plate, name) is None),
    )


@lru_cache(maxsize=256)
def runs_at(motor: BenchMotor, load: float) -> float:
    """Slip at which it carries `load`, N m, come to it from running without load; 1 where it stalls."""
    return settled_slip(motor.circuit, load, motor.lost)
