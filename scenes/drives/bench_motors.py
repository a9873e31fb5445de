"""The motors that stand on the bench for slip and speed: one of our own, or one that a nameplate describes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from physics.induction import EquivalentCircuit
from physics.nameplate import Nameplate, fit_circuit
from physics.starting.stages import Feed
from physics.supply.supplies import Inverter

VOLTAGE, FREQUENCY, RATED_SLIP = 400.0, 50.0, 0.05
# of our own: a small one with deep bars, which slips enough to be counted; ohms a phase in star, the same for any number of poles
_OHMS = {
    "stator_resistance": 5.0, "stator_reactance": 6.0, "rotor_resistance": 8.0, "rotor_reactance": 6.0, "magnetising_reactance": 150.0,
    "starting_cage_resistance": 14.0, "running_cage_reactance": 8.0,
}
SUPPLY = Inverter(VOLTAGE, FREQUENCY, boost=10.0, highest_frequency=100.0)
RUN_UP = 0.1  # s in which rated torque alone would bring the shaft to synchronous speed: a light load


@dataclass(frozen=True)
class BenchMotor:
    """A motor as it is supplied now. `words` says which; rated values are those at its rated frequency.

    lost: N m per rev/s that the motor itself takes from what its circuit gives; assumed: the names of the figures among
    its starting and breakdown values that its plate does not tell.
    """

    words: str
    note: str
    circuit: EquivalentCircuit
    rated_torque: float
    rated_current: float
    rated_slip: float
    lost: float = 0.0
    assumed: tuple[str, ...] = ()

    def assuming(self, *names: str) -> str:
        """A clause that says so, after a figure that rests on one of `names`."""
        unknown = [name for name in names if name in self.assumed]
        return f"; not on the plate, assumed: {' and '.join(unknown)}" if unknown else ""

    @property
    def inertia(self) -> float:
        """kg m2 of rotor and load."""
        return self.rated_torque * RUN_UP / (2 * np.pi * self.circuit.synchronous_speed)


@lru_cache(maxsize=64)
def own_motor(frequency: float, poles: int) -> BenchMotor:
    """Our own motor at that frequency, with volts per hertz held up to 50 Hz and 400 V above."""
    built = EquivalentCircuit(**_OHMS, line_voltage=VOLTAGE, frequency=FREQUENCY, poles=poles)
    rated = built.at(RATED_SLIP)
    volts = float(SUPPLY.voltage(frequency))
    fed = Feed(volts / VOLTAGE, frequency / FREQUENCY).circuit(built)
    return BenchMotor(
        f"a small motor, {poles} poles, on {volts:.0f} V and {frequency:g} Hz",
        f"rated at a slip of {RATED_SLIP:.0%} on {VOLTAGE:.0f} V, {FREQUENCY:g} Hz; volts per hertz held up to {FREQUENCY:g} Hz",
        fed, float(rated.torque), float(abs(rated.stator_current)), RATED_SLIP,
    )


@lru_cache(maxsize=64)
def motor_of(plate: Nameplate) -> BenchMotor:
    """The motor with that plate."""
    fit = fit_circuit(plate)
    return BenchMotor(
        f"{plate.power / 1000:g} kW, {plate.line_voltage:g} V, {plate.frequency:g} Hz, {60 * plate.speed:g} r/min: {plate.poles} poles",
        f"{plate.current:g} A, cos φ {plate.power_factor:g}, efficiency {plate.efficiency:.1%}. {fit.sentence} {fit.assumption}".strip(),
        fit.circuit, plate.torque, plate.current, plate.slip, fit.loss_torque / plate.speed, _not_on(plate),
    )


def _not_on(plate: Nameplate) -> tuple[str, ...]:
    values = {
        "starting current": plate.starting_current,
        "starting torque": plate.starting_torque,
        "breakdown torque": plate.breakdown_torque,
    }
    return tuple(name for name, value in values.items() if value is None)
